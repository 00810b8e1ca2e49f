"""Pages to a PDF in one call: tests draw pages that belong to no card."""

from __future__ import annotations

from collections.abc import Iterable

from cardmaker.model.carried import About, Carried
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
    digest_inputs: Iterable[bytes] = (),
) -> bytes:
    """The PDF of ``pages``, one sheet each, in the language of the first.

    ``digest_inputs`` are further contents that tell two files apart, for the file's identity.
    Raises ValueError when there is no page, when a face lacks a character, and for marks that cannot be drawn.
    """
    drafts, about = map(draft_of, pages), About(title, subject, keywords, author)
    return paint_drafts(drafts, about, carried, digest_inputs)
