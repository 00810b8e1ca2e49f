"""Paragraphs one below the other."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.type_setting import Span, cap_height, text_height
from cardmaker.model.marks import Box, Group, Mark

Paragraph = list[Span]
BETWEEN: Final = 1.2  # mm from one to the next


def paragraph_height(sheet: Sheet, spans: Paragraph, size: float, width: float) -> float:
    """The height of one paragraph set at ``size`` points in ``width`` mm; none when there are no words."""
    return text_height(len(sheet.lines(spans, size, width)), size)


def paragraph(sheet: Sheet, spans: Paragraph, size: float, box: Box) -> list[Mark]:
    """The words from the top of ``box`` down, ranged left, as one paragraph; nothing when there are none."""
    lines = sheet.lines(spans, size, box.width)
    if not lines:
        return []
    place = Box(box.left, box.top, box.width, text_height(len(lines), size))
    return [Group("paragraph", "", place, tuple(sheet.set(lines, box.left, box.top + cap_height(size), size)))]


def paragraphs_height(sheet: Sheet, paragraphs: Sequence[Paragraph], size: float, width: float) -> float:
    """The height of the paragraphs set at ``size`` points in ``width`` mm."""
    heights = [paragraph_height(sheet, spans, size, width) for spans in paragraphs]
    return sum(heights) + BETWEEN * max(0, len(heights) - 1)


def set_paragraphs(
    sheet: Sheet, paragraphs: Sequence[Paragraph], size: float, box: Box, between: float = BETWEEN
) -> list[Mark]:
    """The paragraphs from the top of ``box`` down, ``between`` mm from one to the next."""
    marks: list[Mark] = []
    top = box.top
    for spans in paragraphs:
        marks += paragraph(sheet, spans, size, Box(box.left, top, box.width, 0.0))
        top += paragraph_height(sheet, spans, size, box.width) + between
    return marks
