"""The number in the corner of a page, and the way back from it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal, NamedTuple

from cardmaker.composing import binder_words as words
from cardmaker.composing.ink import POINT, SOFT
from cardmaker.composing.pages import Block, Running
from cardmaker.geometry import Box
from cardmaker.nouns.card_layout import Paper
from cardmaker.nouns.marks import Face, Group, Link, Mark, Words
from cardmaker.nouns.ruler import Ruler

SIZE: Final = 9.0
FROM_EDGE: Final = 7.5  # mm: the baseline above the lower edge, and the figure within the outer one


class Text(NamedTuple):
    """What is to be set on as many pages as it needs, under one name, in so many columns."""

    blocks: Sequence[Block]
    running: Running
    columns: int = 1


def unnumbered(number: int, of: int) -> str:
    """For a run whose pages have their numbers in the corner already."""
    return ""


def folio(page: int, paper: Paper, side: Literal["left", "right"], ruler: Ruler, back: tuple[str, int]) -> Mark:
    """The page's number in the lower corner on ``side``. It leads ``back`` to the contents (anchor and page number)."""
    told = words.folio(page)
    wide = ruler.width_mm(told, Face.SANS, SIZE)
    x = FROM_EDGE + 4.5 if side == "left" else paper.width_mm - FROM_EDGE - 4.5
    y = paper.height_mm - FROM_EDGE
    left = x if side == "left" else x - wide
    box = Box(left, y - SIZE * POINT, wide, SIZE * POINT * 1.3)
    anchor, at = back
    seen = Group("running foot", "page number", box, (Words(x, y, told, Face.SANS, SIZE, SOFT, align=side),))
    if not anchor:
        return seen
    return Group("paragraph", "page number", box, (Link(box, anchor, (seen,), words.back_to(at)),))
