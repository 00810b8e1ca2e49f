"""The stripes of a small card as cells in their colours, each with its count and its letters, as wide as its ends.

One rule for their widths: so many millimetres for every end, and no cell narrower than its figures, with as little
beside these as keeps the others in proportion. So a stripe of one end may be wider than it ought to be; and where not
all find room side by side they stand in rows, with an arrow where a row goes on below. Every cell has a band of its
yarn with the hatching over a clean ground for the figures; the band of what is counted in turn shows end beside end, as
they lie.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, OUTLINE, WHITE, hatching
from cardmaker.layout.lettering import hatch_width, hatched_cell
from cardmaker.layout.type_setting import cap_height, side_by_side, tail_depth
from cardmaker.model.marks import Box, Colour, Face, Line, Mark, Path, Rectangle, Step, Words
from cardmaker.model.record_class import record, replace
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import stripe_words

BESIDE_FIGURES: Final = 0.65  # mm from the edge of a cell to its figures
BESIDE_AT_LEAST: Final = 0.45  # mm, on a crowded card that must also tell of a figure, where that saves a row
BESIDE_IN_CALM: Final = 1.1  # mm, where that takes no row more
BESIDE_WORDS: Final = 1.1  # mm to what is said of yarns in turn
SECOND_LINE: Final = 1.55  # from letters to words under them, in capitals
BAND, LOW_BAND = 3.0, 1.8  # mm, of the yarn or of those that are in turn; on a crowded card
ABOVE_COUNT: Final = 1.0  # mm
ABOVE_LETTERS: Final = 1.3  # mm
BELOW_LETTERS: Final = 0.5  # mm under their tails
BETWEEN_ROWS: Final = 1.2  # mm
CALM: Final = 0.75  # of the size of a count: what it shrinks to on a crowded card
LARGER: Final = 1.1  # a count, at least, in sizes of its letters
SLIVER: Final = 0.8  # mm: no end of a band is drawn narrower, so of many ends fewer are drawn
ARROW: Final = 3.4  # mm, beside the last cell of a row that goes on below
HEAD: Final = 1.5  # mm, of the arrow
STROKE: Final = 3 * OUTLINE  # of it


@record
class _Figures:
    """What is written in a cell, and how wide it must be."""

    segment: Segment
    number: str
    letters: str
    least: float
    below: str = ""  # what stands under the letters, where these and it are too wide for one line


@record
class StripeCells:
    """The cells in rows, measured."""

    rows: tuple[tuple[_Figures, ...], ...]
    count_size: float
    letter_size: float
    band: float  # mm
    pitches: tuple[float, ...]  # of each row, mm for one end, where its cell is wider than its figures

    @property
    def height(self) -> float:
        return self.row_height * len(self.rows) + BETWEEN_ROWS * (len(self.rows) - 1)

    @property
    def row_height(self) -> float:
        """From the top of a row of cells to its foot, in mm."""
        figures = cap_height(self.count_size) + ABOVE_LETTERS + cap_height(self.letter_size)
        return self.band + ABOVE_COUNT + figures + self.second_line + tail_depth(self.letter_size) + BELOW_LETTERS

    @property
    def second_line(self) -> float:
        """From the letters to what stands under them in any cell, in mm."""
        return SECOND_LINE * cap_height(self.letter_size) if any(each.below for row in self.rows for each in row) else 0

    def widths(self, row: int) -> list[float]:
        """Of the cells of a row, in mm."""
        return [max(each.least, self.pitches[row] * each.segment.ends) for each in self.rows[row]]


def stripes_in_cells(sheet: Sheet, width: float) -> StripeCells:
    """The cells in as few rows as ``width`` mm allow, with counts as large as so many rows hold."""
    sizes = sheet.sizes
    least = min(sizes.count, sizes.small * LARGER)
    fewest = len(_rows(sheet, least, width))
    size = max(least, sizes.count * CALM) if sheet.is_crowded else sizes.count
    while size > least and len(_rows(sheet, size, width)) > fewest:
        size = max(least, size - 1)
    rows = _rows(sheet, size, width)
    pitches = tuple(_pitch(row, width - _turn(rows, row)) for row in rows)
    return StripeCells(
        tuple(tuple(row) for row in rows), size, sizes.small, LOW_BAND if sheet.is_crowded else BAND, pitches
    )


def _turn(rows: Sequence[Sequence[_Figures]], row: Sequence[_Figures]) -> float:
    """What an arrow takes of the width of a row that goes on below."""
    return 0.0 if row is rows[-1] else ARROW


def draw_stripe_cells(sheet: Sheet, cells: StripeCells, box: Box) -> list[Mark]:
    """The cells from the top left of ``box``; for a left hand from its right, as the tape lies before her."""
    marks: list[Mark] = []
    top = box.top
    for number, row in enumerate(cells.rows):
        left, height = box.left, cells.row_height
        for figures, wide in zip(row, cells.widths(number), strict=True):
            marks += _cell(sheet, cells, figures, Box(left, top, wide, height))
            left += wide
        if row is not cells.rows[-1]:
            marks += _goes_on(left, top + height / 2)
        top += height + BETWEEN_ROWS
    return list(sheet.as_mirrored(marks, box))


def _goes_on(left: float, middle: float) -> Iterator[Mark]:
    """An arrow that turns down and back: the row goes on below."""
    right, foot = left + ARROW - HEAD / 2 - OUTLINE, middle + 2 * HEAD
    start, corner = left + HEAD / 2, middle - HEAD
    yield Line(start, corner, right + STROKE / 2, corner, STROKE)
    yield Line(right, corner, right, foot, STROKE)
    base, half = foot - 0.1, HEAD / 2
    point: list[Step] = [("move", right - half, base), ("line", right + half, base), ("line", right, foot + HEAD)]
    yield Path((*point, ("close",)), fill=BLACK)


def _rows(sheet: Sheet, count_size: float, width: float) -> list[list[_Figures]]:
    """As few rows as the width allows, and these about even; equal counts equally wide where that takes no row more.
    Of these the one whose widths are nearest to the ends, with more beside the figures where that costs nothing."""
    choices: list[tuple[tuple[int, bool, bool, int], list[list[_Figures]]]] = []
    margins = [BESIDE_IN_CALM, BESIDE_FIGURES]
    if sheet.is_crowded and sheet.plan.pickup:
        margins.append(BESIDE_AT_LEAST)
    for in_one_line in (True, False):
        each_own = [
            [_figures(sheet, segment, count_size, width, beside, in_one_line=in_one_line) for segment in sheet.segments]
            for beside in margins
        ]
        for is_own, every in ((False, map(_alike, each_own)), (True, each_own)):
            for figures in every:
                rows = _even_rows(figures, width)
                choices.append(((len(rows), not in_one_line, is_own, round(_out_of_proportion(rows, width))), rows))
    return min(choices, key=lambda choice: choice[0])[1]


def _out_of_proportion(rows: Sequence[Sequence[_Figures]], width: float) -> float:
    """How many millimetres cells are wider than their ends ask for, beside the widest ones."""
    wider = 0.0
    for row in rows:
        pitch = _pitch(row, width - _turn(rows, row))
        wider += sum(max(0.0, each.least - pitch * each.segment.ends) for each in row)
    return wider


def _alike(each_own: Sequence[_Figures]) -> list[_Figures]:
    """Cells of equal counts as wide as the widest of them."""
    widest: dict[int, float] = {}
    for each in each_own:
        widest[each.segment.ends] = max(each.least, widest.get(each.segment.ends, 0.0))
    return [replace(each, least=widest[each.segment.ends]) for each in each_own]


def _even_rows(figures: Sequence[_Figures], width: float) -> list[list[_Figures]]:
    one = side_by_side(figures, lambda each: each.least, 0.0, width)
    if len(one) == 1:
        return one
    rows = side_by_side(figures, lambda each: each.least, 0.0, max(width - ARROW, max(each.least for each in figures)))
    narrower = width - ARROW
    while len(rows) > 1 and narrower > width / 2:
        narrower -= 1.0
        even = side_by_side(figures, lambda each: each.least, 0.0, narrower)
        if len(even) > len(rows):
            break
        rows = even
    return rows


def _figures(
    sheet: Sheet, segment: Segment, count_size: float, width: float, beside: float, *, in_one_line: bool
) -> _Figures:
    """That the yarns are in turn stands beside their letters or, where that makes a row more, under them."""
    count = str(segment.ends)
    letters = stripe_words.letters_of([sheet.letters(yarn) for yarn in segment.yarns])
    face, small, around, below = Face.SANS_SEMIBOLD, sheet.sizes.small, 2 * beside, ""
    if segment.in_turn:
        together, in_turn = stripe_words.in_turn(letters), stripe_words.IN_TURN
        if in_one_line and sheet.wide(together, face, small) + 2 * BESIDE_WORDS <= width - ARROW:
            letters, around = together, 2 * BESIDE_WORDS
        elif not in_one_line and sheet.wide(in_turn, face, small) + around <= width - ARROW:
            below = in_turn
    texts = ((count, Face.SANS_BOLD, count_size), (letters, face, small), (below, face, small))
    wide = max(sheet.wide(text, text_face, size) for text, text_face, size in texts)
    return _Figures(segment, count, letters, wide + around, below)


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
    """The band over the ground, which has the yarn's colour without its hatching; white where yarns are in turn."""
    segment = figures.segment
    ink = sheet.inks[segment.yarns[0]]
    ground, on = (WHITE, BLACK) if segment.in_turn else (ink.fill, ink.on)
    yield Rectangle(cell, ground)
    band = cell._replace(height=cells.band)
    if segment.in_turn:
        yield from _end_beside_end(sheet, segment, band)
    else:
        yield from _hatched(sheet, segment.yarns[0], band)
    yield from _written(cells, figures, cell, on)
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


def _written(cells: StripeCells, figures: _Figures, cell: Box, on: Colour) -> Iterator[Mark]:
    """The count over its letters."""
    count, letters = cells.count_size, cells.letter_size
    last = cell.bottom - BELOW_LETTERS - tail_depth(letters)
    foot = last - cells.second_line
    first = foot - cap_height(letters) - ABOVE_LETTERS
    yield Words(cell.middle, first, figures.number, Face.SANS_BOLD, count, on, "middle")
    yield Words(cell.middle, foot, figures.letters, Face.SANS_SEMIBOLD, letters, on, "middle")
    if figures.below:
        yield Words(cell.middle, last, figures.below, Face.SANS_SEMIBOLD, letters, on, "middle")
