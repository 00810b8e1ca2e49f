"""The order, for a layout that has no board: every end beside its neighbours, hole ends above slot ends."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from cardmaker.card.bracket_drawing import BracketRow, bracket_rows
from cardmaker.card.brackets import brackets_over
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import heading_part, picture_part, words_part
from cardmaker.card.rows_of_ends import TotalLabel, end_pitch, ends_in_rows, label_lines
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import ACCENT, FAINT, HAIRLINE, SOFT
from cardmaker.layout.lettering import cell_holds, hatched_cell, plate_under
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part
from cardmaker.layout.type_setting import Span, cap_height
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Face, Line, Mark, Path, Words
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import stripe_words

NARROWEST_CELL: Final = 2.4  # mm; ends that would be drawn narrower take another row
WIDEST_CELL: Final = 7.4
LEAST_CELL, MOST_CELL = 5.0, 8.5  # the height of a cell
ABOVE_CELLS: Final = 0.5  # mm from the brackets
ROW_GAP: Final = 3.5
FLAG: Final = 1.3  # half the height of the flag at end 1
BESIDE_NAMES: Final = 2.0 + 1.5 * FLAG  # mm from the names of the levels to the cells: the flag stands there


@record
class _Row:
    """Some of the ends, measured: their brackets, and on which line each running total stands."""

    ends: range
    brackets: BracketRow
    totals: dict[int, int]


@record
class _Order:
    """The whole drawing, measured; ``column`` is the width left of the cells."""

    sheet: Sheet
    rows: tuple[_Row, ...]
    column: float
    pitch: float

    @property
    def lines(self) -> int:
        """On how many lines totals stand."""
        return 1 + max(line for row in self.rows for line in row.totals.values())

    def heights(self) -> HeightRange:
        fixed = sum(row.brackets.height for row in self.rows) + (len(self.rows) - 1) * ROW_GAP
        fixed += len(self.rows) * (ABOVE_CELLS + self.totals_height)
        least, most = (1.5 * len(self.rows) * cell for cell in (LEAST_CELL * self.sheet.picture_share, MOST_CELL))
        return HeightRange(fixed + least, fixed + most)

    @property
    def totals_height(self) -> float:
        """From the foot of the cells to that of the totals."""
        return 1.6 + self.lines * (cap_height(self.sheet.sizes.small) + 1.0)

    def draw(self, box: Box) -> tuple[Mark, ...]:
        cell = (box.height - self.heights().least) / (1.5 * len(self.rows)) + LEAST_CELL * self.sheet.picture_share
        marks: list[Mark] = []
        top = box.top
        for row in self.rows:
            marks += _draw_row(self, row, box, top, cell)
            top += row.brackets.height + ABOVE_CELLS + 1.5 * cell + self.totals_height + ROW_GAP
        return self.sheet.as_mirrored(marks, box)


def _column(sheet: Sheet) -> float:
    names = (stripe_words.HOLE, stripe_words.SLOT, stripe_words.TOTAL)
    return max(sheet.wide(name, Face.SANS, sheet.sizes.smallest) for name in names) + BESIDE_NAMES


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    column = _column(sheet)
    heading = heading_part(sheet, width, stripe_words.ORDER, stripe_words.spaces_of(sheet.plan))
    alt = partial(stripe_words.order_alt_text, sheet.plan, sheet.segments)
    if width - column < NARROWEST_CELL:
        return heading, picture_part("stripes", NO_ROOM, lambda box: [], alt, facts=("stripes",))
    order = _order(sheet, column, width - column)
    picture = picture_part("stripes", order.heights(), order.draw, alt, facts=("stripes",))
    below = [_words(sheet)] if _words(sheet) else []
    facts = ("legend",) if sheet.brief else ()
    return heading, picture, *(words_part(sheet, width, [each], sheet.sizes.small, facts=facts) for each in below)


def _order(sheet: Sheet, column: float, free: float) -> _Order:
    ranges = ends_in_rows(sheet.segments, int(free / NARROWEST_CELL))
    pitch = end_pitch(ranges, free, WIDEST_CELL)
    over = [brackets_over(sheet.segments, ends, _middles(ends, pitch), pitch) for ends in ranges]
    brackets = bracket_rows(sheet, over, free)
    totals = [_total_lines(sheet, ends, pitch) for ends in ranges]
    rows = tuple(_Row(*row) for row in zip(ranges, brackets, totals, strict=True))
    return _Order(sheet, rows, column, pitch)


def _middles(ends: range, pitch: float) -> Callable[[int], float]:
    return lambda end_number: (end_number - ends.start + 0.5) * pitch


def _total_lines(sheet: Sheet, ends: range, pitch: float) -> dict[int, int]:
    """On which line below the cells each total stands, so that neighbours do not run into each other."""
    labels = []
    for total in (total for segment in sheet.segments for total in segment.checkpoints if total in ends):
        x, half = _middles(ends, pitch)(total), sheet.wide(str(total), Face.SANS, sheet.sizes.small) / 2
        labels.append(TotalLabel(total, x - half, x + half))
    return label_lines(labels, 0.9)


def _words(sheet: Sheet) -> Paragraph:
    """Below the stripes: where they begin if not at the left, what the letters mean where no table tells, and the
    other way in words for a tape whose edges differ."""
    plan = sheet.plan
    spans = [Span(begins, Face.SANS_SEMIBOLD)] if (begins := stripe_words.begins_at(plan)) else []
    if sheet.brief:
        spans.append(Span(stripe_words.legend(plan)))
    if not plan.same_both_ways:
        spans.append(Span(stripe_words.other_way(sheet.segments, plan), colour=SOFT))
    return spans


def _draw_row(order: _Order, row: _Row, box: Box, top: float, cell: float) -> list[Mark]:
    sheet, left = order.sheet, box.left + order.column
    cells = top + row.brackets.height + ABOVE_CELLS
    marks = [*_level_names(sheet, box.left, cells, cell), *row.brackets.marks(left, top)]
    for end_number in row.ends:
        lower = cell / 2 if sheet.plan.placement.kinds[end_number - 1] is Space.SLOT else 0.0
        x = left + (end_number - row.ends.start) * order.pitch
        marks += _cell(sheet, end_number, Box(x, cells + lower, order.pitch, cell))
    marks += _totals(order, row, left, cells + 1.5 * cell)
    if row.ends.start == 1:
        marks.append(_start_here(left - 0.7, cells + cell / 2))
    return marks


def _level_names(sheet: Sheet, x: float, cells: float, cell: float) -> list[Mark]:
    size = sheet.sizes.smallest
    cap = cap_height(size)
    hole, slot = cells + cell / 2, cells + cell
    apart = max(0.0, cap + 0.8 - (slot - hole)) / 2
    levels = ((hole - apart, stripe_words.HOLE), (slot + apart, stripe_words.SLOT))
    marks: list[Mark] = [Words(x, y + cap / 2, name, Face.SANS, size, SOFT) for y, name in levels]
    below = cells + 1.5 * cell + 1.6 + cap_height(sheet.sizes.small)
    return [*marks, Words(x, below, stripe_words.TOTAL, Face.SANS, size, SOFT)]


def _cell(sheet: Sheet, end_number: int, cell: Box) -> list[Mark]:
    """One end; of ends in turn each with its letters where they find room."""
    yarn = sheet.plan.end_yarns[end_number - 1]
    ink, letters, size = sheet.ink_to_mirror(yarn), sheet.letters(yarn), sheet.sizes.smallest
    marks = hatched_cell(cell, ink)
    segment = _segment_of(sheet, end_number)
    if segment.in_turn and cell_holds(cell, letters, sheet.ruler, Face.SANS_SEMIBOLD, size):
        y = cell.top + (cell.height + cap_height(size)) / 2
        words = Words(cell.middle, y, letters, Face.SANS_SEMIBOLD, size, align="middle")
        marks += plate_under(words, ink, sheet.ruler, cell)
    return marks


def _segment_of(sheet: Sheet, end_number: int) -> Segment:
    return next(each for each in sheet.segments if each.first_end <= end_number <= each.last_end)


def _totals(order: _Order, row: _Row, left: float, foot: float) -> list[Mark]:
    """The running total under the last end of the stripe; long alternations are counted in tens as well."""
    sheet, size = order.sheet, order.sheet.sizes.small
    marks: list[Mark] = []
    for total, line in row.totals.items():
        right = left + (total - row.ends.start + 1) * order.pitch
        y = foot + 1.6 + cap_height(size) + line * (cap_height(size) + 1.0)
        free = left + len(row.ends) * order.pitch - sheet.wide(str(total), Face.SANS, size) / 2
        marks.append(Line(right, foot + 0.3, right, foot + 1.3, HAIRLINE, FAINT))
        marks.append(Words(min(right - order.pitch / 2, free), y, str(total), Face.SANS, size, align="middle"))
    return marks


def _start_here(x: float, y: float) -> Path:
    """A small flag at end 1: begin on this side."""
    left = x - FLAG * 1.5
    return Path((("move", x, y), ("line", left, y - FLAG), ("line", left, y + FLAG), ("close",)), fill=ACCENT)


ORDER = Panel("order", _parts)
