"""Pages as a PDF, in one call: drawn and put together in this process."""

from __future__ import annotations

from collections.abc import Iterable

from cardmaker.model.carried_file import About, Carried
from cardmaker.model.marks import Page
from cardmaker.pdf.draft import draft_of
from cardmaker.pdf.painter import paint_drafts


def paint(
    pages: Iterable[Page],
    *,
    title: str,
    subject: str = "",
    keywords: str = "",
    author: str = "",
    carried: Iterable[Carried] = (),
) -> bytes:
    """The PDF of ``pages``, one sheet each, in the language of the first."""
    return paint_drafts(map(draft_of, pages), About(title, subject, keywords, author), carried)
