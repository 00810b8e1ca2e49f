"""A box to tick, alike on cards and on sheets of several pages."""

from __future__ import annotations

from typing import Final

from cardmaker.layout.ink import BLACK, OUTLINE, WHITE
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Colour, Mark, Rectangle

CORNER: Final = 0.5  # mm, the radius of a box's corners


def tick_side(size: float) -> float:
    """The side of a box beside words of ``size`` points, in mm: a little more than their capitals."""
    return cap_height(size) + 0.6


def tick_box(box: Box, colour: Colour = BLACK) -> Rectangle:
    """The outline of a box to tick."""
    return Rectangle(box, WHITE, colour, OUTLINE * 1.3, CORNER)


def tick_square(x: float, top: float, side: float, colour: Colour = BLACK) -> list[Mark]:
    """The box alone, its left edge at ``x``."""
    return [tick_box(Box(x, top, side, side), colour)]


def tick_square_beside(x: float, baseline: float, size: float) -> list[Mark]:
    """The box before words of ``size`` points on ``baseline``, its middle where that of their capitals is."""
    side = tick_side(size)
    return tick_square(x, baseline - (cap_height(size) + side) / 2, side)
