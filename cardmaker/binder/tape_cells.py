"""Tapes side by side, each hanging above its name, all of it a link to its card: on dividers and among all faces."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from math import ceil
from typing import Final, NamedTuple

from cardmaker.layout.ink import SOFT
from cardmaker.layout.pages.blocks import Picture
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.type_setting import SetLine, Span, cap_height, leading, set_lines, tail_depth
from cardmaker.model.binder_contents import Entry, TapeFace
from cardmaker.model.marks import Again, Box, Face, Group, Link, Mark, Words
from cardmaker.wording import phrases

BETWEEN: Final = 4.0
BELOW_TAPE: Final = 1.6  # between a tape and the capitals of its name
BELOW_ROW: Final = 2.4
BEFORE_PAGE: Final = 2.0


class TapeCell(NamedTuple):
    """A tape and what stands under it: its name, facts line by line, and the page that it leads to."""

    entry: Entry
    facts: tuple[str, ...]
    page: str
    told: str


class Grid(NamedTuple):
    """Rows of cells of one width; ``hanging`` is how far the tapes hang, in mm.

    ``page_beside``: the page's number stands at the end of the last line, not on a line of its own.
    """

    leaf: Leaf
    columns: int
    width: float
    hanging: float
    page_beside: bool = True


def stamped(face: TapeFace, box: Box, widest: float) -> Again:
    """The face from the top of ``box`` to its foot; at life size, or as much smaller as it takes to be ``widest``."""
    scale = min(1.0, widest / face.width_mm)
    step = face.repeat_mm * scale
    clip = Box(box.left, box.top, face.width_mm * scale, box.height)
    return Again(face.name, ceil(box.height / step), step, clip, scale)


def tape_rows(cells: Sequence[TapeCell], grid: Grid, name: str) -> list[Picture]:
    """The cells in rows, each as high as its longest words ask."""
    return [
        Picture(f"{name} {number}", grid.hanging + words_height(row, grid), partial(_row, row, grid))
        for number, row in enumerate(_rows(cells, grid.columns), start=1)
    ]


def _rows(cells: Sequence[TapeCell], columns: int) -> list[Sequence[TapeCell]]:
    return [cells[at : at + columns] for at in range(0, len(cells), columns)]


def words_height(cells: Sequence[TapeCell], grid: Grid) -> float:
    """What a row of these cells takes below its tapes."""
    size = grid.leaf.sizes.smallest
    lines = max(len(_lines(cell, grid)) for cell in cells)
    return BELOW_TAPE + cap_height(size) + (lines - 1) * leading(size) + tail_depth(size) + BELOW_ROW


def _lines(cell: TapeCell, grid: Grid) -> list[SetLine]:
    """Name and facts, each beginning a line; at the end of the last there is room for the page, or it is empty."""
    leaf, size = grid.leaf, grid.leaf.sizes.smallest
    spans = [Span(cell.entry.title, Face.SANS_SEMIBOLD), *(Span(fact, colour=SOFT) for fact in cell.facts if fact)]
    lines = [line for span in spans for line in leaf.lines([span], size, grid.width)]
    if not grid.page_beside:
        return [*lines, ()]
    used = sum(leaf.wide(span.text, span.face, size) for span in lines[-1])
    alone = used + BEFORE_PAGE + leaf.wide(cell.page, Face.SANS, size) > grid.width
    return [*lines, ()] if alone else lines


def _row(row: Sequence[TapeCell], grid: Grid, box: Box) -> tuple[Mark, ...]:
    return tuple(
        _cell(cell, grid, Box(box.left + place * (grid.width + BETWEEN), box.top, grid.width, box.height))
        for place, cell in enumerate(row)
    )


def _cell(cell: TapeCell, grid: Grid, box: Box) -> Group:
    """The tape above its name and numbers, all of it one link; told are the words, then what the picture shows."""
    leaf, size = grid.leaf, grid.leaf.sizes.smallest
    lines = _lines(cell, grid)
    first = box.top + grid.hanging + BELOW_TAPE + cap_height(size)
    last = first + (len(lines) - 1) * leading(size)
    page = (
        Words(box.right, last, cell.page, Face.SANS, size, SOFT, align="right")
        if grid.page_beside
        else Words(box.left, last, phrases.page_in_words(cell.page), Face.SANS, size, SOFT)
    )
    picture = Box(box.left, box.top, box.width, grid.hanging)
    marks: tuple[Mark, ...] = (
        *set_lines(lines, box.left, first, size, leaf.ruler),
        Group("span", "page", box, (page,), phrases.page_in_words(cell.page)),
        Group("figure", "face", picture, (stamped(cell.entry.face, picture, box.width),), cell.entry.face.alt),
    )
    link = Link(box, cell.entry.anchor, marks, cell.told)
    return Group("paragraph", cell.entry.title, box, (link,))
