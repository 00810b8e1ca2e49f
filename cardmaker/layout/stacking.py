"""The stack: the parts of a panel one below the other, each declared once, measured and drawn by one mechanism."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import inf
from typing import TYPE_CHECKING, Final

from cardmaker.model.marks import Box, Mark
from cardmaker.model.record_class import record

if TYPE_CHECKING:
    from cardmaker.layout.type_setting import Span


@record
class HeightRange:
    """The height that something needs, and the most that it can use well, at a given width; in mm."""

    least: float
    most: float


NO_ROOM: Final = HeightRange(inf, inf)  # of what cannot be drawn so narrow, however high


def exactly(height: float) -> HeightRange:
    """For what is as high as it is."""
    return HeightRange(height, height)


@record
class Part:
    """One part of a panel: how high it may be, and its marks in a box of such a height.

    ``above`` is free space over it in mm, but not at the top of its panel. ``facts`` names what it tells.
    A part with a ``priority`` finds a place only where there is room, the lowest number first; 0 always has one.
    Below nought it comes before all that may be left out of the card. One that ``follows`` is shown only where
    the part before it is, as lines below their heading. A part that is nothing but words has them as paragraphs too,
    so that they can be set elsewhere.
    """

    heights: HeightRange
    draw: Callable[[Box], Sequence[Mark]]
    above: float = 0.0
    facts: tuple[str, ...] = ()
    priority: int = 0
    words: tuple[Sequence[Span], ...] = ()
    follows: bool = False


def stack_heights(parts: Sequence[Part]) -> HeightRange:
    """The height of all parts one below the other; none of no parts."""
    spaces = sum([part.above for part in parts[1:]])
    least = sum([part.heights.least for part in parts]) + spaces
    return HeightRange(least, max(least, sum([part.heights.most for part in parts]) + spaces))


def draw_stack(parts: Sequence[Part], box: Box) -> list[Mark]:
    """The marks of all parts from the top of ``box`` down; height to spare goes to the parts that can use it."""
    heights = stack_heights(parts)
    usable = heights.most - heights.least
    share = min(1.0, max(0.0, box.height - heights.least) / usable) if usable > 0 else 0.0
    marks: list[Mark] = []
    top = box.top
    for number, part in enumerate(parts):
        height = part.heights.least + share * (part.heights.most - part.heights.least)
        top += part.above if number else 0.0
        marks += part.draw(Box(box.left, top, box.width, height))
        top += height
    return marks
