"""One row of the order: counts and letters, cells and running totals."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.rows_of_ends import TotalLabel, label_lines
from cardmaker.card.sheet import Sheet, margin_column
from cardmaker.layout.ink import ACCENT, BLACK, FAINT, HAIRLINE, OUTLINE, SOFT
from cardmaker.layout.lettering import plate_under
from cardmaker.layout.type_setting import cap_height, leading, tail_depth
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Face, Line, Mark, Path, Rectangle, Words
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import stripe_words

LETTER_ROOM = 1.0  # a cell is wider than letters turned in it by this much


@record
class RowLevels:
    """Heights within one row, from its top: where counts, letters, cells and totals stand."""

    counts: float
    letters: float
    cells: float
    cell: float  # height of one cell
    step: float  # how much lower the slot ends lie
    totals: float
    height: float


def row_levels(sheet: Sheet, cell: float, lines: int = 1) -> RowLevels:
    """The levels of a row whose cells are so high, with so many lines of totals."""
    counts = cap_height(sheet.sizes.count)
    letters = counts + cap_height(sheet.sizes.small) + 1.5
    cells = letters + 1.3
    step = cell / 2
    totals = cells + cell + step + cap_height(sheet.sizes.small) + 2.2
    return RowLevels(counts, letters, cells, cell, step, totals, totals + (lines - 1) * _total_line(sheet) + 0.6)


def _total_line(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.small) + 1.0


def order_margin(sheet: Sheet) -> float:
    """The width of the column left of the cells."""
    return margin_column(sheet, stripe_words.ORDER)


def total_lines(sheet: Sheet, row: Sequence[Segment], pitch: float) -> dict[int, int]:
    """On which line below the cells each total stands, so that neighbours do not run into each other."""
    labels = []
    for total in (total for segment in row for total in segment.checkpoints):
        x, half = total * pitch, sheet.wide(str(total), Face.SANS, sheet.sizes.small) / 2
        labels.append(TotalLabel(total, x - half, x + half))
    return label_lines(labels, 0.6)


def draw_order_row(sheet: Sheet, row: Sequence[Segment], box: Box, levels: RowLevels, pitch: float) -> list[Mark]:
    """The names of the levels, and every stripe of the row."""
    marks = _level_names(sheet, box, levels)
    left = box.left + order_margin(sheet)
    first = row[0].first_end
    lines = total_lines(sheet, row, pitch)
    for segment in row:
        start = left + (segment.first_end - first) * pitch
        strip = Box(start, box.top, segment.ends * pitch, box.height)
        marks += _cells(sheet, segment, strip, levels, pitch, box.right)
        marks += _labels(sheet, segment, strip, levels, box.right, pitch)
        marks += _totals(sheet, segment, strip, levels, pitch, lines, box.right)
    if first == 1:
        marks.append(_start_here(left - 0.7, box.top + levels.cells + levels.cell / 2))
    return marks


def _level_names(sheet: Sheet, box: Box, levels: RowLevels) -> list[Mark]:
    size = sheet.sizes.smallest
    middle = levels.cells + levels.cell / 2 + cap_height(size) / 2
    two = sheet.plan.placement.back is not None
    names = ("front hole", "front slot") if two else ("hole", "slot")
    if sheet.wide(names[0], Face.SANS, size) > order_margin(sheet) - 2.5:
        names = ("hole", "slot")
    apart = max(levels.step + levels.cell * 0.24, leading(size))
    centre = box.top + middle + levels.step / 2
    lower = min(centre + apart / 2, box.top + levels.totals - leading(size))
    baselines = ((names[0], lower - apart), (names[1], lower), ("total", box.top + levels.totals))
    return [Words(box.left, y, name, Face.SANS, size, SOFT) for name, y in baselines]


def _cells(sheet: Sheet, segment: Segment, strip: Box, levels: RowLevels, pitch: float, edge: float) -> list[Mark]:
    marks: list[Mark] = []
    plan = sheet.plan
    upright, lettered = letters_upright(sheet, segment, pitch), cells_lettered(sheet, segment, pitch)
    for end_number in range(segment.first_end, segment.last_end + 1):
        yarn = plan.end_yarns[end_number - 1]
        lower = levels.step if plan.placement.kinds[end_number - 1] is Space.SLOT else 0.0
        left = strip.left + (end_number - segment.first_end) * pitch
        cell = Box(left, strip.top + levels.cells + lower, pitch, levels.cell)
        marks.append(Rectangle(cell, fill=sheet.inks[yarn].fill))
        marks += sheet.hatched(cell, yarn)
        marks.append(Rectangle(cell, stroke=BLACK, width=OUTLINE))
        if lettered:
            marks += _letters_inside(sheet, yarn, cell, upright, edge)
    return marks


def letters_upright(sheet: Sheet, segment: Segment, pitch: float) -> bool:
    """Whether the letters of all yarns of a segment find room across a cell."""
    size = sheet.sizes.smallest
    return all(sheet.wide(sheet.letters(yarn), Face.SANS_SEMIBOLD, size) + 0.6 <= pitch for yarn in segment.yarns)


def cells_lettered(sheet: Sheet, segment: Segment, pitch: float) -> bool:
    """Whether single ends bear their letters: in turn, or alone and too narrow for letters above.

    In cells too narrow even for turned letters the label above must do.
    """
    if not letters_upright(sheet, segment, pitch) and cap_height(sheet.sizes.smallest) + LETTER_ROOM > pitch:
        return False
    label = sheet.letters(segment.yarns[0])
    too_narrow = sheet.wide(label, Face.SANS_SEMIBOLD, sheet.sizes.small) > pitch + 0.3
    return segment.in_turn or (segment.ends == 1 and too_narrow)


def _letters_inside(sheet: Sheet, yarn: str, cell: Box, upright: bool, edge: float) -> list[Mark]:
    """The letters of a single end, in its cell, on a plate of its colour that keeps the hatching off them."""
    size, letters, face = sheet.sizes.smallest, sheet.letters(yarn), Face.SANS_SEMIBOLD
    wide, cap, y = sheet.wide(letters, face, size), cap_height(size), cell.top + cell.height / 2
    if upright:
        words = Words(cell.middle, y + cap / 2, letters, face, size, align="middle")
    else:
        x = min(cell.middle + cap / 2 - 0.15, edge - tail_depth(size))
        words = Words(x, y + wide / 2, letters, face, size, turned=90)
    return plate_under(words, sheet.inks[yarn], sheet.ruler, cell)


def _labels(sheet: Sheet, segment: Segment, strip: Box, levels: RowLevels, edge: float, pitch: float) -> list[Mark]:
    """The count in large figures and the letters below it, centred over the stripe."""
    label = " ".join(sheet.letters(yarn) for yarn in segment.yarns)
    if segment.in_turn:
        longer = stripe_words.in_turn(label)
        label = longer if sheet.wide(longer, Face.SANS_SEMIBOLD, sheet.sizes.small) <= strip.width - 1 else label
    y, figures = strip.top + levels.counts, str(segment.ends)
    count = Words(strip.middle, y, figures, Face.SANS_BOLD, sheet.sizes.count, align="middle")
    if not segment.in_turn and cells_lettered(sheet, segment, pitch):
        return [count]  # its letters stand in its cell
    size = sheet.sizes.small
    x = min(strip.middle, edge - sheet.wide(label, Face.SANS_SEMIBOLD, size) / 2)
    return [count, Words(x, strip.top + levels.letters, label, Face.SANS_SEMIBOLD, size, align="middle")]


def _totals(
    sheet: Sheet, segment: Segment, strip: Box, levels: RowLevels, pitch: float, lines: dict[int, int], edge: float
) -> list[Mark]:
    """The running total under the last end of the stripe; long alternations are counted in tens as well."""
    bottom = strip.top + levels.cells + levels.cell + levels.step
    size = sheet.sizes.small
    marks: list[Mark] = []
    for total in segment.checkpoints:
        right = strip.left + (total - segment.first_end + 1) * pitch
        down = lines[total] * _total_line(sheet)
        x = min(right - pitch / 2, edge - sheet.wide(str(total), Face.SANS, size) / 2)
        marks.append(Line(right, bottom + 0.3, right, bottom + 1.6, HAIRLINE, FAINT))
        marks.append(Words(x, strip.top + levels.totals + down, str(total), Face.SANS, size, align="middle"))
    return marks


def _start_here(x: float, y: float) -> Path:
    """A small flag at end 1: begin on this side."""
    size = 1.3
    left = x - size * 1.5
    return Path((("move", x, y), ("line", left, y - size), ("line", left, y + size), ("close",)), fill=ACCENT)
