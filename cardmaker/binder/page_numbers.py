"""The number in the corner of a page, and the way back from it."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Final, Literal, NamedTuple

from cardmaker.binder import binder_words
from cardmaker.layout.ink import POINT, SOFT
from cardmaker.layout.pages.blocks import Block
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running, settled_leaf
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Face, Group, Link, Mark, Words

SIZE: Final = 9.0
FROM_EDGE: Final = 7.5  # mm: the baseline above the lower edge; less where the margin is narrow
FROM_OUTER: Final = 12.0  # mm: the figure within the outer edge
CLEAR: Final = 0.5  # mm: between the figure and the margin's edge, where the card may begin


class Text(NamedTuple):
    """What is to be set on as many pages as it needs, under one name, in so many columns.

    ``on_one_page``: tightened until it fits one, in ``most_columns`` at the most, where that helps.
    """

    blocks: Sequence[Block]
    running: Running
    columns: int = 1
    on_one_page: bool = False
    most_columns: int = 1

    def settled(self, leaf: Leaf) -> Leaf:
        """The leaf that it is set on. Raises TooWide."""
        leaf = dataclasses.replace(leaf, columns=self.columns)
        most = max(self.columns, self.most_columns)
        return settled_leaf(self.blocks, leaf, self.running, on_one_page=self.on_one_page, most_columns=most)


def unnumbered(number: int, of: int) -> str:
    """For a run whose pages have their numbers in the corner already."""
    return ""


def page_number(number: str, leaf: Leaf, side: Literal["left", "right"], back: tuple[str, str]) -> Mark:
    """The page's number in the lower corner on ``side``. It leads ``back`` to the contents (anchor and page number).

    It keeps within the lower margin, so that it never stands among the figures of a card.
    """
    paper = leaf.paper
    wide = leaf.wide(number, Face.SANS, SIZE)
    x = FROM_OUTER if side == "left" else paper.width_mm - FROM_OUTER
    y = paper.height_mm - min(FROM_EDGE, leaf.margin_mm - CLEAR - cap_height(SIZE))
    left = x if side == "left" else x - wide
    box = Box(left, y - SIZE * POINT, wide, SIZE * POINT * 1.3)
    anchor, at = back
    foot = Group("running foot", "page number", box, (Words(x, y, number, Face.SANS, SIZE, SOFT, align=side),))
    if not anchor:
        return foot
    return Group("paragraph", "page number", box, (Link(box, anchor, (foot,), binder_words.back_to(at)),))
