"""The stripes of a small card in their colours and true widths, each with its count and its letters.

One rule for their widths: so many millimetres for every end of a card, for all of its stripes alike, so that they are
read as the tape is. Where every cell holds its figures these stand in it; else all stand under the band, in their order
and each with a leader from its stripe, moved aside where it would meet its neighbour. Where the figures do not find
room side by side the band goes on in a row below, as an arrow says. A cell with figures has a band of its yarn with the
hatching over a clean ground for them; the band of what is counted in turn shows end beside end, as they lie.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, pairwise
from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, OUTLINE, WHITE, hatching
from cardmaker.layout.lettering import hatch_width, hatched_cell
from cardmaker.layout.spreading import spread
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.type_setting import cap_height, tail_depth
from cardmaker.model.marks import Box, Colour, Face, Line, Mark, Path, Rectangle, Step, Words
from cardmaker.model.record_class import record, replace
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import stripe_words

BESIDE_FIGURES: Final = 0.6  # mm from the edge of a cell to its figures, at least
APART: Final = 1.3  # mm from figures under a band to the next
LEAST_APART: Final = 0.9  # mm, where that saves a row
SECOND_LINE: Final = 1.55  # from letters to words under them, in capitals
BAND, LOW_BAND, LEAST_BAND = 3.0, 1.8, 1.2  # mm, over the figures in a cell; on a crowded card
BARE_BAND, LOW_BARE_BAND = 4.0, 1.8  # mm, of a band that has its figures under it, at least; on a crowded card
LEADER, SHORT_LEADER = 2.0, 0.9  # mm, how far figures hang under it, likewise
GROWS: Final = 3.0  # mm, that a band and its leaders are higher together where there is room
TO_BAND: Final = 0.7  # of these
BELOW_LEADER: Final = 0.4  # mm to a count
ABOVE_COUNT: Final = 1.0  # mm, in a cell
ABOVE_LETTERS, CLOSE_LETTERS = 1.3, 0.9  # mm; on the closest card
BELOW_LETTERS: Final = 0.5  # mm under their tails
BETWEEN_ROWS: Final = 1.2  # mm
CALM: Final = 0.75  # of the size of a count: what it shrinks to on a crowded card
LARGER: Final = 1.1  # a count, at least, in sizes of its letters
SLIVER: Final = 0.8  # mm: no end of a band is drawn narrower, so of many ends fewer are drawn
ARROW: Final = 3.4  # mm, at the right of a row that goes on below
HEAD: Final = 1.5  # mm, of the arrow
STROKE: Final = 3 * OUTLINE  # of it


@record
class _Figures:
    """What is written of a stripe, and how wide that is."""

    segment: Segment
    number: str
    letters: str
    wide: float
    below: str = ""  # what stands under the letters, where these and it are too wide for one line


@record
class StripeCells:
    """The stripes in rows, measured."""

    rows: tuple[tuple[_Figures, ...], ...]
    count_size: float
    letter_size: float
    pitch: float  # mm for one end, on every row
    inside: bool  # whether figures stand in their cells
    apart: float  # mm between figures under a band
    close: bool  # on a crowded card
    closest: bool  # on one with two heddles to tell of as well
    higher: float = 0.0  # mm, that each band with its leaders is than it must be

    @property
    def heights(self) -> HeightRange:
        """Of all rows: bands grow, cells do not."""
        return HeightRange(self.height, self.height + (0.0 if self.inside else GROWS * len(self.rows)))

    @property
    def height(self) -> float:
        return self.row_height * len(self.rows) + BETWEEN_ROWS * (len(self.rows) - 1)

    @property
    def row_height(self) -> float:
        """From the top of a row of cells to the foot of its figures, in mm."""
        figures = cap_height(self.count_size) + self.above_letters + cap_height(self.letter_size)
        return self.above_figures + figures + self.second_line + tail_depth(self.letter_size) + self.below_letters

    @property
    def band(self) -> float:
        """The height of what has the colours, in mm."""
        if self.inside:
            return LEAST_BAND if self.closest else LOW_BAND if self.close else BAND
        return (LEAST_BAND if self.closest else LOW_BARE_BAND if self.close else BARE_BAND) + TO_BAND * self.higher

    @property
    def above_figures(self) -> float:
        """From the top of a row to its counts, in mm."""
        if self.inside:
            return self.band + ABOVE_COUNT
        leader = (SHORT_LEADER if self.close else LEADER) + (1 - TO_BAND) * self.higher
        return self.band + leader + BELOW_LEADER

    @property
    def above_letters(self) -> float:
        return CLOSE_LETTERS if self.closest else ABOVE_LETTERS

    @property
    def below_letters(self) -> float:
        return BELOW_LETTERS if self.inside else 0.0

    @property
    def second_line(self) -> float:
        """From the letters to what stands under them of any stripe, in mm."""
        return SECOND_LINE * cap_height(self.letter_size) if any(each.below for row in self.rows for each in row) else 0

    def edges(self, row: int) -> list[float]:
        """Where the stripes of a row begin, and where the last ends, in mm from its left."""
        return [0.0, *accumulate(self.pitch * each.segment.ends for each in self.rows[row])]


def stripes_in_cells(sheet: Sheet, width: float) -> StripeCells:
    """The stripes with their figures in their cells or, where that cannot be, under them in as few rows as ``width`` mm
    allow; with counts as large as that holds."""
    sizes = sheet.sizes
    least = min(sizes.count, sizes.small * LARGER)
    largest = max(least, sizes.count * CALM) if sheet.is_crowded else sizes.count
    counts = [max(least, largest - step) for step in range(int(largest - least) + 2)]
    pitch = width / sum(each.ends for each in sheet.segments)
    for size in counts:
        for in_one_line in (True, False):
            figures = _all_figures(sheet, size, in_one_line=in_one_line)
            if all(each.wide + 2 * BESIDE_FIGURES <= pitch * each.segment.ends for each in figures):
                return _cells(sheet, [figures], size, pitch, inside=True)
    return _under_a_band(sheet, width, counts)


def _under_a_band(sheet: Sheet, width: float, counts: Sequence[float]) -> StripeCells:
    """In as few rows as the least counts take; of these first those in which fewer lines stand, then with most between
    figures, then with the largest counts."""
    tries = [(one_line, apart) for one_line in (True, False) for apart in (APART, LEAST_APART)]

    def rows_of(one_line: bool, apart: float, size: float) -> list[list[_Figures]]:
        return _even_rows(_all_figures(sheet, size, in_one_line=one_line), apart, width)

    one_line, apart = min(tries, key=lambda each: len(rows_of(each[0], each[1], counts[-1])))
    fewest = len(rows_of(one_line, apart, counts[-1]))
    size = next(size for size in counts if len(rows_of(one_line, apart, size)) == fewest)
    rows = rows_of(one_line, apart, size)
    most = max(sum(each.segment.ends for each in row) for row in rows)
    pitch = (width - (ARROW if len(rows) > 1 else 0.0)) / most
    return _cells(sheet, rows, size, pitch, inside=False, apart=apart)


def _cells(
    sheet: Sheet, rows: Sequence[Sequence[_Figures]], size: float, pitch: float, *, inside: bool, apart: float = 0.0
) -> StripeCells:
    in_rows = tuple(tuple(row) for row in rows)
    return StripeCells(in_rows, size, sheet.sizes.small, pitch, inside, apart, sheet.is_crowded, sheet.is_closest)


def _all_figures(sheet: Sheet, count_size: float, *, in_one_line: bool) -> list[_Figures]:
    return [_figures(sheet, segment, count_size, in_one_line=in_one_line) for segment in sheet.segments]


def _figures(sheet: Sheet, segment: Segment, count_size: float, *, in_one_line: bool) -> _Figures:
    """That the yarns are in turn stands behind their letters or, where these are in two lines, under them."""
    count = str(segment.ends)
    letters = stripe_words.letters_of([sheet.letters(yarn) for yarn in segment.yarns])
    face, small, below = Face.SANS_SEMIBOLD, sheet.sizes.small, ""
    if segment.in_turn and in_one_line:
        letters = stripe_words.in_turn(letters)
    elif segment.in_turn:
        below = stripe_words.IN_TURN
    texts = ((count, Face.SANS_BOLD, count_size), (letters, face, small), (below, face, small))
    return _Figures(segment, count, letters, max(sheet.wide(*text) for text in texts), below)


def _even_rows(figures: Sequence[_Figures], apart: float, width: float) -> list[list[_Figures]]:
    """As few rows as the figures need, and of these those whose longest has the fewest ends."""
    ends = sum(each.segment.ends for each in figures)
    if len(one := _rows(figures, apart, width, ends)) == 1:
        return one
    fewest = len(_rows(figures, apart, width - ARROW, ends))
    tries = (_rows(figures, apart, width - ARROW, most) for most in range(ends // fewest, ends + 1))
    return next(rows for rows in tries if len(rows) == fewest)


def _rows(figures: Sequence[_Figures], apart: float, width: float, most: int) -> list[list[_Figures]]:
    """Filled one after the other with no more than so many ends."""
    rows: list[list[_Figures]] = []
    wide, ends = width, most
    for each in figures:
        wide, ends = wide + apart + each.wide, ends + each.segment.ends
        if not rows or wide > width or ends > most:
            rows.append([])
            wide, ends = each.wide, each.segment.ends
        rows[-1].append(each)
    return rows


def draw_stripe_cells(sheet: Sheet, cells: StripeCells, box: Box) -> list[Mark]:
    """The stripes from the top left of ``box``; for a left hand from its right, as the tape lies before her."""
    cells = replace(cells, higher=max(0.0, box.height - cells.height) / len(cells.rows))
    marks: list[Mark] = []
    for number in range(len(cells.rows)):
        top = box.top + number * (cells.row_height + BETWEEN_ROWS)
        marks += _row(sheet, cells, number, box._replace(top=top, height=cells.row_height))
    return list(sheet.as_mirrored(marks, box))


def _row(sheet: Sheet, cells: StripeCells, number: int, box: Box) -> Iterator[Mark]:
    row, edges, is_last = cells.rows[number], cells.edges(number), number == len(cells.rows) - 1
    height = cells.row_height if cells.inside else cells.band
    stripes = [Box(box.left + left, box.top, right - left, height) for left, right in pairwise(edges)]
    for figures, stripe in zip(row, stripes, strict=True):
        yield from _stripe(sheet, cells, figures, stripe)
    middles = _middles(cells, row, stripes, box, is_last=is_last)
    for figures, stripe, middle in zip(row, stripes, middles, strict=True):
        ink = sheet.inks[figures.segment.yarns[0]]
        yield from _written(cells, figures, middle, box.top, ink.on if _on_yarn(cells, figures) else BLACK)
        if not cells.inside:
            foot = box.top + cells.above_figures - BELOW_LEADER
            yield Line(stripe.middle, stripe.bottom, middle, foot, OUTLINE)
    if not is_last:
        yield from _goes_on(stripes[-1].right, box.right - ARROW, box.top + cells.band / 2)


def _middles(
    cells: StripeCells, row: Sequence[_Figures], stripes: Sequence[Box], box: Box, *, is_last: bool
) -> list[float]:
    """Where figures stand: over their stripes or, under a band, as near to them as their neighbours let them."""
    wanted = [stripe.middle - box.left for stripe in stripes]
    if cells.inside:
        return [box.left + x for x in wanted]
    room = box.width - (0.0 if is_last else ARROW)
    gaps = [cells.apart] * (len(row) - 1)
    return [box.left + x for x in spread(wanted, [each.wide for each in row], gaps, room)]


def _on_yarn(cells: StripeCells, figures: _Figures) -> bool:
    return cells.inside and not figures.segment.in_turn


def _goes_on(start: float, left: float, middle: float) -> Iterator[Mark]:
    """An arrow from the end of a band that turns down and back: the row goes on below."""
    right, foot = left + ARROW - HEAD / 2 - OUTLINE, middle + 2 * HEAD
    yield Line(start + HEAD / 2, middle, right + STROKE / 2, middle, STROKE)
    yield Line(right, middle, right, foot, STROKE)
    base, half = foot - 0.1, HEAD / 2
    point: list[Step] = [("move", right - half, base), ("line", right + half, base), ("line", right, foot + HEAD)]
    yield Path((*point, ("close",)), fill=BLACK)


def _stripe(sheet: Sheet, cells: StripeCells, figures: _Figures, cell: Box) -> Iterator[Mark]:
    """The band, over a ground that has the yarn's colour without its hatching; white where yarns are in turn."""
    segment = figures.segment
    yield Rectangle(cell, sheet.inks[segment.yarns[0]].fill if not segment.in_turn else WHITE)
    band = cell._replace(height=cells.band)
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


def _written(cells: StripeCells, figures: _Figures, middle: float, top: float, on: Colour) -> Iterator[Mark]:
    """The count over its letters."""
    count, letters = cells.count_size, cells.letter_size
    first = top + cells.above_figures + cap_height(count)
    second = first + cells.above_letters + cap_height(letters)
    yield Words(middle, first, figures.number, Face.SANS_BOLD, count, on, "middle")
    yield Words(middle, second, figures.letters, Face.SANS_SEMIBOLD, letters, on, "middle")
    if figures.below:
        yield Words(middle, second + cells.second_line, figures.below, Face.SANS_SEMIBOLD, letters, on, "middle")
