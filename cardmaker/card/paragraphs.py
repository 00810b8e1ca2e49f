"""Paragraphs one below the other, and the panels that are nothing else."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from cardmaker.card.sheet import Drawing, HeightRange, Panel, Sheet, headed, heading_height
from cardmaker.layout.lines_of_type import Line, Span, cap_height, text_height
from cardmaker.model.marks import Box, Group, Mark

Paragraph = list[Span]
BETWEEN: Final = 1.2  # mm from one to the next


def paragraphs_height(sheet: Sheet, paragraphs: Sequence[Paragraph], size: float, width: float) -> float:
    """The height of the paragraphs set at ``size`` points in ``width`` mm."""
    heights = [text_height(len(sheet.lines(spans, size, width)), size) for spans in paragraphs]
    return sum(heights) + BETWEEN * max(0, len(heights) - 1)


def set_paragraphs(sheet: Sheet, paragraphs: Sequence[Paragraph], size: float, box: Box) -> list[Mark]:
    """The paragraphs from the top of ``box`` down, ranged left."""
    marks: list[Mark] = []
    top = box.top
    for spans in paragraphs:
        lines = sheet.lines(spans, size, box.width)
        marks += paragraph(sheet, lines, box.left, top + cap_height(size), size, box.width)
        top += text_height(len(lines), size) + BETWEEN
    return marks


def small(sheet: Sheet) -> float:
    """The size of asides and tables."""
    return sheet.sizes.small


def body(sheet: Sheet) -> float:
    """The size of sentences."""
    return sheet.sizes.body


def paragraphs_panel(
    name: str,
    said: Callable[[Sheet], list[Paragraph]],
    heading: str = "",
    size_of: Callable[[Sheet], float] = small,
    applies: Callable[[Sheet], bool] = lambda sheet: True,
) -> Panel:
    """A panel of paragraphs, with or without a heading."""

    def room(sheet: Sheet, width: float) -> HeightRange:
        top = heading_height(sheet) if heading else 0.0
        height = top + paragraphs_height(sheet, said(sheet), size_of(sheet), width)
        return HeightRange(height, height)

    def draw(sheet: Sheet, box: Box) -> Drawing:
        marks, inner = headed(sheet, box, heading) if heading else ([], box)
        return Drawing((*marks, *set_paragraphs(sheet, said(sheet), size_of(sheet), inner)))

    return Panel(name, room, draw, applies)


def paragraph(
    sheet: Sheet, lines: Sequence[Line], x: float, first_baseline: float, size: float, width: float
) -> list[Mark]:
    """The lines ranged left at ``x``, the first on ``first_baseline``, as one paragraph; nothing when there is none."""
    if not lines:
        return []
    room = Box(x, first_baseline - cap_height(size), width, text_height(len(lines), size))
    return [Group("paragraph", "", room, tuple(sheet.set(lines, x, first_baseline, size)))]
