"""The stripes of a small card drawn: cells or a band, and their figures in them, hung from them or under them.

A cell with figures has a band of its yarn with the hatching over a clean ground for them; what is counted in turn shows
end beside end, as they lie.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.card.stripe_cells import ARROW, BELOW_LEADER, BETWEEN_ROWS, StripeCells
from cardmaker.card.stripe_figures import StripeFigures
from cardmaker.layout.ink import BLACK, OUTLINE, WHITE, hatching
from cardmaker.layout.lettering import hatch_width, hatched_cell
from cardmaker.layout.spreading import spread
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Colour, Face, Line, Mark, Path, Rectangle, Step, Words
from cardmaker.reckoning.stripes.segments import Segment

SLIVER: Final = 0.8  # mm: no end of a band is drawn narrower, so of many ends fewer are drawn
HEAD: Final = 1.5  # mm, of the arrow
STROKE: Final = 3 * OUTLINE  # of it


def draw_stripe_cells(sheet: Sheet, cells: StripeCells, box: Box) -> list[Mark]:
    """The stripes from the top left of ``box``; for a left hand from its right, as the tape lies before her."""
    cells = cells.in_height(box.height)
    marks: list[Mark] = []
    for number in range(len(cells.rows)):
        top = box.top + number * (cells.row_height + BETWEEN_ROWS)
        marks += _row(sheet, cells, number, box._replace(top=top, height=cells.row_height))
    return list(sheet.as_mirrored(marks, box))


def _row(sheet: Sheet, cells: StripeCells, number: int, box: Box) -> Iterator[Mark]:
    row, edges, is_last = cells.rows[number], cells.edges(number), number == len(cells.rows) - 1
    stripes = [Box(box.left + left, box.top, right - left, cells.cell_height) for left, right in pairwise(edges)]
    for figures, stripe in zip(row, stripes, strict=True):
        yield from _stripe(sheet, cells, figures, stripe)
    if cells.inside:
        for figures, stripe in zip(row, stripes, strict=True):
            if figures.is_hung:
                yield from _hung(sheet, cells, figures, stripe, box.left + figures.middle)
            else:
                yield from _held(sheet, cells, figures, stripe)
        return
    middles = _middles(cells, row, stripes, box, is_last=is_last)
    for figures, stripe, middle in zip(row, stripes, middles, strict=True):
        yield from _written(cells, figures, middle, box.top, BLACK)
        yield Line(stripe.middle, stripe.bottom, middle, stripe.bottom + cells.leader, OUTLINE)
    if not is_last:
        yield from _goes_on(stripes[-1].right, box.right - ARROW, box.top + cells.band / 2)


def _held(sheet: Sheet, cells: StripeCells, figures: StripeFigures, cell: Box) -> Iterator[Mark]:
    """The figures in their cell, on its yarn."""
    on = BLACK if figures.segment.in_turn else sheet.inks[figures.segment.yarns[0]].on
    if cells.flat:
        baseline = cell.top + cells.above_figures + cap_height(cells.count_size)
        yield from _in_line(sheet, cells, figures, cell.middle, baseline, on)
    else:
        yield from _written(cells, figures, cell.middle, cell.top, on)


def _hung(sheet: Sheet, cells: StripeCells, figures: StripeFigures, cell: Box, middle: float) -> Iterator[Mark]:
    """The label of a stripe, and the leader straight down to it."""
    baseline = cell.bottom + cells.label_baseline(figures.tier)
    yield from _in_line(sheet, cells, figures, middle, baseline, BLACK)
    foot = baseline - cap_height(cells.count_size) - BELOW_LEADER
    yield Line(cell.middle, cell.bottom, cell.middle, foot, OUTLINE)


def _in_line(
    sheet: Sheet, cells: StripeCells, figures: StripeFigures, middle: float, baseline: float, on: Colour
) -> Iterator[Words]:
    """The count and, after it, its letters; drawn the other way round where the drawing is mirrored."""
    size, face = cells.letter_size, Face.SANS_SEMIBOLD
    left, right = middle - figures.in_line / 2, middle + figures.in_line / 2
    number, letters = left, right - sheet.wide(figures.letters, face, size)
    if sheet.plan.view.left_hand:
        number, letters = right - sheet.wide(figures.number, Face.SANS_BOLD, cells.count_size), left
    yield Words(number, baseline, figures.number, Face.SANS_BOLD, cells.count_size, on)
    yield Words(letters, baseline, figures.letters, face, size, on)


def _middles(
    cells: StripeCells, row: Sequence[StripeFigures], stripes: Sequence[Box], box: Box, *, is_last: bool
) -> list[float]:
    """Where figures stand under a band, as near to their stripes as their neighbours let them."""
    wanted = [stripe.middle - box.left for stripe in stripes]
    room = box.width - (0.0 if is_last else ARROW)
    gaps = [cells.apart] * (len(row) - 1)
    return [box.left + x for x in spread(wanted, [each.wide for each in row], gaps, room)]


def _goes_on(start: float, left: float, middle: float) -> Iterator[Mark]:
    """An arrow from the end of a band that turns down and back: the row goes on below."""
    right, foot = left + ARROW - HEAD / 2 - OUTLINE, middle + 2 * HEAD
    yield Line(start + HEAD / 2, middle, right + STROKE / 2, middle, STROKE)
    yield Line(right, middle, right, foot, STROKE)
    base, half = foot - 0.1, HEAD / 2
    point: list[Step] = [("move", right - half, base), ("line", right + half, base), ("line", right, foot + HEAD)]
    yield Path((*point, ("close",)), fill=BLACK)


def _stripe(sheet: Sheet, cells: StripeCells, figures: StripeFigures, cell: Box) -> Iterator[Mark]:
    """The band, over a ground that has the yarn's colour without its hatching, white where yarns are in turn; the band
    is all of a cell without figures."""
    segment = figures.segment
    yield Rectangle(cell, sheet.inks[segment.yarns[0]].fill if not segment.in_turn else WHITE)
    band = cell if cells.inside and figures.is_hung else cell._replace(height=cells.band)
    if segment.in_turn:
        yield from _end_beside_end(sheet, segment, band)
    else:
        yield from _hatched(sheet, segment.yarns[0], band)
    yield Rectangle(cell, stroke=BLACK, width=OUTLINE)


def _hatched(sheet: Sheet, yarn: str, band: Box) -> Iterable[Mark]:
    ink = sheet.ink_to_mirror(yarn)
    return hatching(band, ink, hatch_width(ink))


def _end_beside_end(sheet: Sheet, segment: Segment, band: Box) -> Iterator[Mark]:
    """The ends in turn as slivers, as many as there are; of very many whole turns, as many as can be told apart."""
    yarns = segment.yarns
    most = max(len(yarns), int(band.width / SLIVER))
    count = segment.ends if segment.ends <= most else most - (most - segment.ends) % len(yarns)
    wide = band.width / count
    for number in range(count):
        yarn = yarns[number % len(yarns)]
        sliver = Box(band.left + number * wide, band.top, wide, band.height)
        yield from hatched_cell(sliver, sheet.ink_to_mirror(yarn), outline=OUTLINE / 2)
    yield Line(band.left, band.bottom, band.right, band.bottom, OUTLINE)


def _written(cells: StripeCells, figures: StripeFigures, middle: float, top: float, on: Colour) -> Iterator[Mark]:
    """The count over its letters."""
    count, letters = cells.count_size, cells.letter_size
    first = top + cells.above_figures + cap_height(count)
    second = first + cells.above_letters + cap_height(letters)
    yield Words(middle, first, figures.number, Face.SANS_BOLD, count, on, "middle")
    yield Words(middle, second, figures.letters, Face.SANS_SEMIBOLD, letters, on, "middle")
