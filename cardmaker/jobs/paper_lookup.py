"""Which of a layout's papers is meant: by its name, or by the paper that is usual."""

from __future__ import annotations

from typing import Final

from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.model.card_layout import CardLayout, Paper

_CUT_FROM_ONE: Final = (("a4", "a5", "a6"), ("letter", "half-letter", "4x6", "3x5"))  # what is sold side by side


def paper_of(layout: CardLayout, name: str | None, usual: str = "") -> Paper:
    """The paper named, in capitals or not; or the ``usual`` one where the layout has it, one cut from the same sheets,
    or its first. Raises WrongUsage."""
    paper = paper_named(layout, usual if name is None else name)
    if paper is None and name is None:
        same_sheets = next((each for each in _CUT_FROM_ONE if _folded(usual) in each), ())
        cut = (paper_named(layout, each) for each in same_sheets)
        paper = next((each for each in cut if each is not None), layout.papers[0])
    if paper is None:
        names = ", ".join(paper.name for paper in layout.papers)
        raise WrongUsage(f"{layout.title} has no paper '{name}'; it has {names}.")
    return paper


def paper_named(layout: CardLayout, name: str) -> Paper | None:
    """The layout's paper of a name, in capitals or not; None where it has none."""
    papers = {_folded(paper.name): paper for paper in layout.papers} | {paper.name: paper for paper in layout.papers}
    return papers.get(name) or papers.get(_folded(name))


def _folded(paper: str) -> str:
    """A paper's name as names of papers are compared: ``US Letter`` is letter, ``A4`` and ``DIN A4`` are a4."""
    words = paper.casefold().split()
    return " ".join(words[1:] if len(words) > 1 and words[0] in ("us", "din", "iso") else words)
