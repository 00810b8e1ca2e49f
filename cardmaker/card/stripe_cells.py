"""The stripes of a small card as cells in their colours, each with its count and its letters, as wide as its ends.

No cell is narrower than its figures: so a stripe of one end is wider than it ought to be, and where not all find room
side by side they stand in rows. What is counted in turn is one cell, under a band that shows the turn once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, OUTLINE
from cardmaker.layout.lettering import hatched_cell, plate_under
from cardmaker.layout.type_setting import cap_height, side_by_side, tail_depth
from cardmaker.model.marks import Box, Face, Mark, Rectangle, Words
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import stripe_words

BESIDE_FIGURES: Final = 1.0  # mm from the edge of a cell to its figures
ABOVE_COUNT: Final = 1.5  # mm
ABOVE_LETTERS: Final = 1.3  # mm
BELOW_LETTERS: Final = 0.5  # mm under their tails
BETWEEN_ROWS: Final = 1.2  # mm
BAND: Final = 2.2  # mm, of the yarns that are in turn
CALM: Final = 0.7  # of the size of a count: what it shrinks to on a crowded card


class _Figures(NamedTuple):
    """What is written in a cell, and how wide it must be."""

    segment: Segment
    number: str
    letters: str
    least: float


@record
class StripeCells:
    """The cells in rows, measured."""

    rows: tuple[tuple[_Figures, ...], ...]
    count_size: float
    letter_size: float
    pitch: float  # mm for one end, where its cell is wider than its figures

    @property
    def height(self) -> float:
        return sum(self.row_height(row) for row in self.rows) + BETWEEN_ROWS * (len(self.rows) - 1)

    def row_height(self, row: Sequence[_Figures]) -> float:
        """From the top of a row of cells to its foot, in mm."""
        band = BAND if any(each.segment.in_turn for each in row) else 0.0
        figures = cap_height(self.count_size) + ABOVE_LETTERS + cap_height(self.letter_size)
        return band + ABOVE_COUNT + figures + tail_depth(self.letter_size) + BELOW_LETTERS

    def width_of(self, figures: _Figures) -> float:
        return max(figures.least, self.pitch * figures.segment.ends)


def stripes_in_cells(sheet: Sheet, width: float) -> StripeCells:
    """The cells in as few rows as ``width`` mm allow, with counts as large as so many rows hold."""
    sizes = sheet.sizes
    fewest = len(_rows(sheet, sizes.body, width))
    size = max(sizes.body, sizes.count * CALM) if sheet.is_crowded else sizes.count
    while size > sizes.body and len(_rows(sheet, size, width)) > fewest:
        size = max(sizes.body, size - 1)
    rows = _rows(sheet, size, width)
    pitch = min(_pitch(row, width) for row in rows)
    return StripeCells(tuple(tuple(row) for row in rows), size, sizes.small, pitch)


def draw_stripe_cells(sheet: Sheet, cells: StripeCells, box: Box) -> list[Mark]:
    """The cells from the top left of ``box``; for a left hand from its right, as the tape lies before her."""
    marks: list[Mark] = []
    top = box.top
    for row in cells.rows:
        left, height = box.left, cells.row_height(row)
        for figures in row:
            wide = cells.width_of(figures)
            marks += _cell(sheet, cells, figures, Box(left, top, wide, height))
            left += wide
        top += height + BETWEEN_ROWS
    return list(sheet.as_mirrored(marks, box))


def _rows(sheet: Sheet, count_size: float, width: float) -> list[list[_Figures]]:
    """As few rows as the width allows, and these about even."""
    all_figures = [_figures(sheet, segment, count_size, width) for segment in sheet.segments]
    rows = side_by_side(all_figures, lambda each: each.least, 0.0, width)
    narrower = width
    while len(rows) > 1 and narrower > width / 2:
        narrower -= 1.0
        even = side_by_side(all_figures, lambda each: each.least, 0.0, narrower)
        if len(even) > len(rows):
            break
        rows = even
    return rows


def _figures(sheet: Sheet, segment: Segment, count_size: float, width: float) -> _Figures:
    count = str(segment.ends)
    letters = " ".join(sheet.letters(yarn) for yarn in segment.yarns)
    face, small, around = Face.SANS_SEMIBOLD, sheet.sizes.small, 2 * BESIDE_FIGURES
    if segment.in_turn and sheet.wide(stripe_words.in_turn(letters), face, small) + around <= width:
        letters = stripe_words.in_turn(letters)
    wide = max(sheet.wide(count, Face.SANS_BOLD, count_size), sheet.wide(letters, face, small))
    return _Figures(segment, count, letters, wide + around)


def _pitch(row: Sequence[_Figures], width: float) -> float:
    """The most room for one end with which a row still fits: what its narrow cells take is not there for the others."""
    wide = list(row)
    while wide:
        narrow = sum(each.least for each in row if each not in wide)
        pitch = (width - narrow) / sum(each.segment.ends for each in wide)
        short = [each for each in wide if each.least > pitch * each.segment.ends + 1e-9]
        if not short:
            return pitch
        wide = [each for each in wide if each not in short]
    return 0.0


def _cell(sheet: Sheet, cells: StripeCells, figures: _Figures, cell: Box) -> Iterator[Mark]:
    """The cell in its yarn's colour and hatching; white under a band where yarns are in turn."""
    words = _written(cells, figures, cell)
    if figures.segment.in_turn:
        yield from (*_band(sheet, figures.segment, cell), *words, Rectangle(cell, stroke=BLACK, width=OUTLINE))
    else:
        ink = sheet.ink_to_mirror(figures.segment.yarns[0])
        over = (mark for word in words for mark in plate_under(word, ink, sheet.ruler, cell))
        yield from hatched_cell(cell, ink, over)


def _band(sheet: Sheet, segment: Segment, cell: Box) -> Iterator[Mark]:
    """The yarns that are in turn, once, in their order."""
    wide = cell.width / len(segment.yarns)
    for number, yarn in enumerate(segment.yarns):
        part = Box(cell.left + number * wide, cell.top, wide, BAND)
        yield from hatched_cell(part, sheet.ink_to_mirror(yarn), outline=OUTLINE / 2)


def _written(cells: StripeCells, figures: _Figures, cell: Box) -> Sequence[Words]:
    """The count over its letters, in the middle of what the band leaves."""
    count, letters = cells.count_size, cells.letter_size
    high = cap_height(count) + ABOVE_LETTERS + cap_height(letters)
    band = BAND if figures.segment.in_turn else 0.0
    free = cell.height - band - tail_depth(letters) - BELOW_LETTERS - high
    first = cell.top + band + free * 0.5 + 0.2 + cap_height(count)
    last = cell.bottom - BELOW_LETTERS - tail_depth(letters)
    return (
        Words(cell.middle, first, figures.number, Face.SANS_BOLD, count, align="middle"),
        Words(cell.middle, last, figures.letters, Face.SANS_SEMIBOLD, letters, align="middle"),
    )
