"""The stripes of a small card in their colours and true widths, each with its count and its letters.

One rule for their widths: so many millimetres for every end of a card, for all of its stripes alike, so that they are
read as the tape is. The figures stand in their cells; those of a stripe that is too narrow hang straight under it. Only
where labels find no room under narrow stripes do all figures stand under a low band, in their order and each with a
leader from its stripe, and where they do not stand side by side the band goes on in a row below, as an arrow says. A
cell with figures has a band of its yarn with the hatching over a clean ground for them; what is counted in turn shows
end beside end, as they lie.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.card.stripe_figures import (
    APART,
    BESIDE_FIGURES,
    LEAST_APART,
    LEAST_BESIDE,
    StripeFigures,
    figures_of_stripes,
    held_in_cells,
    hung_in_place,
)
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.type_setting import cap_height, leading, tail_depth
from cardmaker.model.record_class import record, replace

BAND, LOW_BAND, LEAST_BAND = 3.0, 1.8, 1.2  # mm, over the figures in a cell; on a crowded card
BARE_BAND, LOW_BARE_BAND = 4.0, 1.8  # mm, of a band that has its figures under it, at least; on a crowded card
LEADER, SHORT_LEADER = 2.0, 0.9  # mm, how far figures hang under it, likewise
SHORTEST_LEADER, CLOSEST_LEADER = 0.8, 0.45  # mm, from a cell to its label, on a crowded card; on the closest one
HANGING: Final = frozenset("/Qgjpqy")  # what reaches below a line
LABEL_TAILS: Final = 0.3  # of the depth of tails, under labels that have none
TIER: Final = 0.92  # from one line of labels to the next, in leadings
GROWS: Final = 3.0  # mm, that a band and its leaders are higher together where there is room
TO_BAND: Final = 0.7  # of these
BELOW_LEADER: Final = 0.4  # mm to a count
ABOVE_COUNT, FLAT_ABOVE_COUNT, CLOSE_ABOVE_COUNT = 1.0, 0.8, 0.6  # mm, in a cell; where all figures are in one line
ABOVE_LETTERS, CLOSE_LETTERS = 1.3, 0.9  # mm; on the closest card
BELOW_LETTERS, CLOSE_BELOW_LETTERS = 0.5, 0.3  # mm under their tails
BETWEEN_ROWS: Final = 1.2  # mm
CALM: Final = 0.75  # of the size of a count: what it shrinks to on a crowded card
LARGER: Final = 1.1  # a count, at least, in sizes of its letters
ARROW: Final = 3.4  # mm, at the right of a row that goes on below


@record
class StripeCells:
    """The stripes in rows, measured."""

    rows: tuple[tuple[StripeFigures, ...], ...]
    count_size: float
    letter_size: float
    pitch: float  # mm for one end, on every row
    inside: bool  # whether figures stand in their cells, or hang as labels under those that are too narrow
    apart: float  # mm between figures under a band
    close: bool  # on a crowded card
    closest: bool  # on one that has more to tell: of two heddles, or labels under the cells
    tells_turns: bool  # whether letters tell in words that yarns are in turn, or by the stroke between them alone
    flat: bool = False  # whether what stands in cells is in one line
    higher: float = 0.0  # mm, that each band with its leaders is than it must be
    taller: StripeCells | None = None  # the same with figures over one another, for where there is room

    @property
    def heights(self) -> HeightRange:
        """Of all rows: bands grow, and cells whose figures can stand over one another."""
        if self.taller:
            return HeightRange(self.height, self.taller.height)
        return HeightRange(self.height, self.height + (GROWS * len(self.rows) if not self.inside or self.is_bar else 0))

    def in_height(self, height: float) -> StripeCells:
        """As they are drawn in so many mm."""
        if self.taller and height >= self.taller.height - 1e-6:
            return self.taller
        return replace(self, higher=max(0.0, height - self.height) / len(self.rows))

    @property
    def height(self) -> float:
        return self.row_height * len(self.rows) + BETWEEN_ROWS * (len(self.rows) - 1)

    @property
    def row_height(self) -> float:
        """From the top of a row of cells to the foot of its figures, in mm."""
        return self.cell_height + self.labels_height if self.inside else self._figures_foot

    @property
    def _figures_foot(self) -> float:
        """From the top of a row to below the tails of figures that stand over one another."""
        figures = cap_height(self.count_size) + self.above_letters + cap_height(self.letter_size)
        return self.above_figures + figures + tail_depth(self.letter_size)

    @property
    def cell_height(self) -> float:
        """Of the cells alone, in mm."""
        if not self.inside or self.is_bar:
            return self.band
        if self.flat:
            return self.above_figures + cap_height(self.count_size) + tail_depth(self.letter_size) + self.below_letters
        return self._figures_foot + self.below_letters

    @property
    def is_bar(self) -> bool:
        """Whether no cell holds its figures."""
        return all(each.is_hung for row in self.rows for each in row)

    @property
    def tiers(self) -> int:
        """How many lines of labels hang under the cells."""
        return max((each.tier + 1 for row in self.rows for each in row if each.is_hung and self.inside), default=0)

    @property
    def labels_height(self) -> float:
        if not self.tiers:
            return 0.0
        lowest = [each.letters for row in self.rows for each in row if each.is_hung and each.tier == self.tiers - 1]
        tails = 1.0 if set("".join(lowest)) & HANGING else LABEL_TAILS
        return self.label_baseline(self.tiers - 1) + tails * tail_depth(self.letter_size)

    def label_baseline(self, tier: int) -> float:
        """From the foot of the cells to the words of a line of labels, in mm."""
        return self.leader + BELOW_LEADER + cap_height(self.count_size) + tier * leading(self.letter_size) * TIER

    @property
    def leader(self) -> float:
        """How far the first figures hang below their stripes, in mm."""
        if self.inside:
            return CLOSEST_LEADER if self.closest else SHORTEST_LEADER if self.close else SHORT_LEADER
        return (SHORT_LEADER if self.close else LEADER) + (1 - TO_BAND) * self.higher

    @property
    def band(self) -> float:
        """The height of what has the colours, in mm."""
        if self.inside and not self.is_bar:
            return (LEAST_BAND if self.closest else LOW_BAND if self.close else BAND) + self.higher
        return (LOW_BARE_BAND if self.close else BARE_BAND) + TO_BAND * self.higher

    @property
    def above_figures(self) -> float:
        """From the top of a row to its counts, in mm."""
        if self.inside:
            return self.band + (CLOSE_ABOVE_COUNT if self.closest else FLAT_ABOVE_COUNT if self.flat else ABOVE_COUNT)
        return self.band + self.leader + BELOW_LEADER

    @property
    def above_letters(self) -> float:
        return CLOSE_LETTERS if self.closest else ABOVE_LETTERS

    @property
    def below_letters(self) -> float:
        return CLOSE_BELOW_LETTERS if self.closest else BELOW_LETTERS

    def edges(self, row: int) -> list[float]:
        """Where the stripes of a row begin, and where the last ends, in mm from its left."""
        return [0.0, *accumulate(self.pitch * each.segment.ends for each in self.rows[row])]


def stripes_in_cells(sheet: Sheet, width: float, *, only_band: bool = False) -> StripeCells:
    """The stripes with their figures in their cells and, of those that are too narrow, under them; where that cannot
    be, all under them in as few rows as ``width`` mm allow. With counts as large as that holds. Told so, ``only_band``
    under all of them, which is lowest."""
    sizes = sheet.sizes
    least = min(sizes.count, sizes.small * LARGER)
    largest = max(least, sizes.count * CALM) if sheet.is_crowded else sizes.count
    counts = [max(least, largest - step) for step in range(int(largest - least) + 2)]
    if only_band:
        return _under_a_band(sheet, width, counts)
    pitch = width / sum(each.ends for each in sheet.segments)
    for beside in (BESIDE_FIGURES, LEAST_BESIDE):
        for size in counts:
            for tells_turns in (True, False):
                figures = figures_of_stripes(sheet, size, tells_turns=tells_turns)
                held = held_in_cells(figures, pitch, beside, flat=False)
                if not any(each.is_hung for each in held):
                    return _cells(sheet, [held], size, pitch, inside=True, tells_turns=tells_turns)
    return _with_labels(sheet, width, counts[-1]) or _under_a_band(sheet, width, counts)


def _with_labels(sheet: Sheet, width: float, size: float) -> StripeCells | None:
    """What its cells hold in them and the rest as labels, of which there are as few as can be, in as few lines; on a
    crowded card as low as that allows. None where the labels find no room."""
    pitch = width / sum(each.ends for each in sheet.segments)
    tries: list[StripeCells] = []
    for tells_turns in (True, False):
        figures = figures_of_stripes(sheet, size, tells_turns=tells_turns)
        for flat in (False, True):
            for beside in (BESIDE_FIGURES, LEAST_BESIDE):
                if placed := hung_in_place(held_in_cells(figures, pitch, beside, flat=flat), pitch, width):
                    cells = _cells(sheet, [placed], size, pitch, inside=True, tells_turns=tells_turns, flat=flat)
                    tries.append(cells)
    if not tries:
        return None
    best = min(tries, key=lambda cells: _rank(sheet, cells))
    alike = [each for each in tries if _rank(sheet, each)[:2] == _rank(sheet, best)[:2]]
    taller = next((each for each in alike if not each.flat and each.tells_turns == best.tells_turns), None)
    return replace(best, taller=taller) if best.flat else best


def _rank(sheet: Sheet, cells: StripeCells) -> tuple[float, ...]:
    labels = sum(each.is_hung for row in cells.rows for each in row)
    return (labels, cells.tiers, cells.height if sheet.is_crowded else -cells.height)


def _under_a_band(sheet: Sheet, width: float, counts: Sequence[float]) -> StripeCells:
    """In as few rows as the least counts take; of these first those whose letters tell of turns in words, then with
    most between figures, then with the largest counts."""
    tries = [(tells_turns, apart) for tells_turns in (True, False) for apart in (APART, LEAST_APART)]

    def rows_of(tells_turns: bool, apart: float, size: float) -> list[list[StripeFigures]]:
        return _even_rows(figures_of_stripes(sheet, size, tells_turns=tells_turns), apart, width)

    tells_turns, apart = min(tries, key=lambda each: len(rows_of(each[0], each[1], counts[-1])))
    fewest = len(rows_of(tells_turns, apart, counts[-1]))
    size = next(size for size in counts if len(rows_of(tells_turns, apart, size)) == fewest)
    rows = rows_of(tells_turns, apart, size)
    most = max(sum(each.segment.ends for each in row) for row in rows)
    pitch = (width - (ARROW if len(rows) > 1 else 0.0)) / most
    return _cells(sheet, rows, size, pitch, inside=False, apart=apart, tells_turns=tells_turns)


def _cells(
    sheet: Sheet,
    rows: Sequence[Sequence[StripeFigures]],
    size: float,
    pitch: float,
    *,
    inside: bool,
    tells_turns: bool,
    apart: float = 0.0,
    flat: bool = False,
) -> StripeCells:
    in_rows, small = tuple(tuple(row) for row in rows), sheet.sizes.small
    told = tells_turns or not any_in_turn(sheet)
    hung = inside and any(each.is_hung for row in in_rows for each in row)
    closest = sheet.is_closest or (sheet.is_crowded and (sheet.is_terse or hung))
    return StripeCells(in_rows, size, small, pitch, inside, apart, sheet.is_crowded, closest, told, flat)


def any_in_turn(sheet: Sheet) -> bool:
    """Whether any stripe is counted in turn."""
    return any(segment.in_turn for segment in sheet.segments)


def _even_rows(figures: Sequence[StripeFigures], apart: float, width: float) -> list[list[StripeFigures]]:
    """As few rows as the figures need, and of these those whose longest has the fewest ends."""
    ends = sum(each.segment.ends for each in figures)
    if len(one := _rows(figures, apart, width, ends)) == 1:
        return one
    fewest = len(_rows(figures, apart, width - ARROW, ends))
    tries = (_rows(figures, apart, width - ARROW, most) for most in range(ends // fewest, ends + 1))
    return next(rows for rows in tries if len(rows) == fewest)


def _rows(figures: Sequence[StripeFigures], apart: float, width: float, most: int) -> list[list[StripeFigures]]:
    """Filled one after the other with no more than so many ends."""
    rows: list[list[StripeFigures]] = []
    wide, ends = width, most
    for each in figures:
        wide, ends = wide + apart + each.wide, ends + each.segment.ends
        if not rows or wide > width or ends > most:
            rows.append([])
            wide, ends = each.wide, each.segment.ends
        rows[-1].append(each)
    return rows
