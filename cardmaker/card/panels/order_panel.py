"""The order: every end as it lies beside its neighbours, hole ends above slot ends."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from cardmaker.card.paragraphs import paragraph
from cardmaker.card.sheet import NO_ROOM, Drawing, HeightRange, Panel, Sheet, beside, margin_column
from cardmaker.layout.ink import ACCENT, FAINT, HAIRLINE, OUTLINE, POINT, SOFT
from cardmaker.layout.lines_of_type import Span, cap_height, leading, text_height
from cardmaker.layout.roles import figure
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Face, Line, Mark, Path, Rectangle, Words
from cardmaker.model.records import record
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import stripe_words

MOST_IN_A_ROW = 40  # more ends than this take a second row
LETTER_ROOM = 1.0  # a cell is wider than letters turned in it by this much
NARROWEST_CELL = 2.75  # and so do ends that would be drawn narrower than this
WIDEST_CELL = 7.4
ROW_GAP = 3.5


@record
class _Levels:
    """Heights within one row, from its top: where counts, letters, cells and totals stand."""

    counts: float
    letters: float
    cells: float
    cell: float  # height of one cell
    step: float  # how much lower the slot ends lie
    totals: float
    height: float


def _levels(sheet: Sheet, cell: float, lines: int = 1) -> _Levels:
    counts = cap_height(sheet.sizes.count)
    letters = counts + cap_height(sheet.sizes.small) + 1.5
    cells = letters + 1.3
    step = cell / 2
    totals = cells + cell + step + cap_height(sheet.sizes.small) + 2.2
    return _Levels(counts, letters, cells, cell, step, totals, totals + (lines - 1) * _total_line(sheet) + 0.6)


def _total_line(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.small) + 1.0


def rows_of(segments: Sequence[Segment], most: int) -> list[list[Segment]]:
    """The segments in rows of at most ``most`` ends, as even as colour changes allow; a longer segment is one row."""
    ends = segments[-1].last_end
    rows: list[list[Segment]] = [[]]
    wanted = ends / ceil(ends / most)
    for segment in segments:
        row = rows[-1]
        if row:
            so_far = segment.first_end - row[0].first_end
            after = segment.last_end - row[0].first_end + 1
            if after > most or (len(rows) < ceil(ends / most) and abs(so_far - wanted) <= abs(after - wanted)):
                rows.append(row := [])
        row.append(segment)
    return rows


def _margin(sheet: Sheet) -> float:
    return margin_column(sheet, stripe_words.ORDER)


def _most_in_a_row(sheet: Sheet, width: float) -> int:
    """How many ends a row can show; none where the panel is hardly wider than its margin."""
    narrowest = NARROWEST_CELL
    if any(segment.ends == 1 for segment in sheet.segments):  # their letters may have to stand turned in the cell
        narrowest = max(narrowest, cap_height(sheet.sizes.smallest) + LETTER_ROOM)
    return min(MOST_IN_A_ROW, int((width - _margin(sheet)) / narrowest))


def _rows(sheet: Sheet, width: float) -> list[list[Segment]]:
    return rows_of(sheet.segments, _most_in_a_row(sheet, width))


def _pitch(sheet: Sheet, rows: Sequence[Sequence[Segment]], width: float) -> float:
    most = max(row[-1].last_end - row[0].first_end + 1 for row in rows)
    return min(WIDEST_CELL, (width - _margin(sheet)) / most)


def _total_lines(sheet: Sheet, row: Sequence[Segment], pitch: float) -> dict[int, int]:
    """On which line below the cells each total stands, so that neighbours do not run into each other."""
    lines: dict[int, int] = {}
    taken: dict[int, float] = {}
    for total in (total for segment in row for total in segment.checkpoints):
        x, half = total * pitch, sheet.wide(str(total), Face.SANS, sheet.sizes.small) / 2
        line = 0
        while taken.get(line, -99.0) > x - half - 0.6:
            line += 1
        lines[total] = line
        taken[line] = x + half
    return lines


def _most_lines(sheet: Sheet, rows: Sequence[Sequence[Segment]], pitch: float) -> int:
    return 1 + max(line for row in rows for line in _total_lines(sheet, row, pitch).values())


def _least_cell(sheet: Sheet, rows: Sequence[Sequence[Segment]], pitch: float) -> float:
    """The least height of a cell: enough for letters that must stand turned in it."""
    least = (5.4 if len(rows) == 1 else 4.0) * (1 + sheet.give) / 2
    turned = [
        each for row in rows for each in row if _lettered(sheet, each, pitch) and not _upright(sheet, each, pitch)
    ]
    size = sheet.sizes.smallest
    letters = [sheet.wide(sheet.letters(yarn), Face.SANS_SEMIBOLD, size) for each in turned for yarn in each.yarns]
    return max([least, *(wide + 1.2 for wide in letters)])


def _room(sheet: Sheet, width: float) -> HeightRange:
    if _most_in_a_row(sheet, width) < 1:
        return NO_ROOM
    rows = _rows(sheet, width)
    pitch = _pitch(sheet, rows, width)
    lines, least = _most_lines(sheet, rows, pitch), _least_cell(sheet, rows, pitch)
    gaps = (len(rows) - 1) * ROW_GAP + _other_way_height(sheet, width)
    most = max(least, 8.5 if len(rows) == 1 else 6.5)
    return HeightRange(
        gaps + len(rows) * _levels(sheet, least, lines).height, gaps + len(rows) * _levels(sheet, most, lines).height
    )


def _other_way(sheet: Sheet) -> list[Span]:
    """Below the stripes: where a left hand begins, what the letters mean where no table tells, and the other way in
    words for a tape whose edges differ."""
    plan = sheet.plan
    spans = [Span(stripe_words.FROM_RIGHT, Face.SANS_SEMIBOLD)] if plan.loom.sides_swapped and not sheet.behind else []
    if sheet.brief:
        spans.append(Span(stripe_words.legend(plan)))
    if not plan.same_both_ways:
        spans.append(Span(stripe_words.other_way(sheet.segments, plan), colour=SOFT))
    return spans


def _other_way_height(sheet: Sheet, width: float) -> float:
    lines = len(sheet.lines(_other_way(sheet), sheet.sizes.small, width))
    return 1.8 + text_height(lines, sheet.sizes.small) if lines else 0.0


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks: list[Mark] = []
    other = _other_way_height(sheet, box.width)
    body = box.inset(bottom=other)
    rows = _rows(sheet, box.width)
    row_height = (body.height - (len(rows) - 1) * ROW_GAP) / len(rows)
    pitch = _pitch(sheet, rows, box.width)
    lines = _most_lines(sheet, rows, pitch)
    levels = _levels(sheet, 4.0, lines)
    levels = _levels(sheet, 4.0 + (row_height - levels.height) / 1.5, lines)
    for number, row in enumerate(rows):
        top = body.top + number * (levels.height + ROW_GAP)
        marks += _row(sheet, row, Box(body.left, top, body.width, levels.height), levels, pitch)
    drawn = figure("stripes", body, marks, stripe_words.order_alt_text(sheet.plan, sheet.segments))
    seen = sheet.as_seen([beside(sheet, box, stripe_words.ORDER), drawn], box)
    size = sheet.sizes.small
    other_lines = sheet.lines(_other_way(sheet), size, box.width)
    first = body.bottom + 1.8 + cap_height(size)
    return Drawing((*seen, *paragraph(sheet, other_lines, box.left, first, size, box.width)))


def _row(sheet: Sheet, row: Sequence[Segment], box: Box, levels: _Levels, pitch: float) -> list[Mark]:
    marks = _level_names(sheet, box, levels)
    left = box.left + _margin(sheet)
    first = row[0].first_end
    lines = _total_lines(sheet, row, pitch)
    for segment in row:
        start = left + (segment.first_end - first) * pitch
        strip = Box(start, box.top, segment.ends * pitch, box.height)
        marks += _cells(sheet, segment, strip, levels, pitch, box.right)
        marks += _labels(sheet, segment, strip, levels, box.right, pitch)
        marks += _total(sheet, segment, strip, levels, pitch, lines, box.right)
    if first == 1:
        marks += _start_here(left, box.top + levels.cells, levels)
    return marks


def _level_names(sheet: Sheet, box: Box, levels: _Levels) -> list[Mark]:
    size = sheet.sizes.smallest
    middle = levels.cells + levels.cell / 2 + cap_height(size) / 2
    two = sheet.plan.placement.back is not None
    names = ("front hole", "front slot") if two else ("hole", "slot")
    if sheet.wide(names[0], Face.SANS, size) > _margin(sheet) - 2.5:
        names = ("hole", "slot")
    apart = max(levels.step + levels.cell * 0.24, leading(size))
    centre = box.top + middle + levels.step / 2
    lower = min(centre + apart / 2, box.top + levels.totals - leading(size))
    return [
        Words(box.left, lower - apart, names[0], Face.SANS, size, SOFT),
        Words(box.left, lower, names[1], Face.SANS, size, SOFT),
        Words(box.left, box.top + levels.totals, "total", Face.SANS, size, SOFT),
    ]


def _cells(sheet: Sheet, segment: Segment, strip: Box, levels: _Levels, pitch: float, edge: float) -> list[Mark]:
    marks: list[Mark] = []
    plan = sheet.plan
    upright, lettered = _upright(sheet, segment, pitch), _lettered(sheet, segment, pitch)
    for end_number in range(segment.first_end, segment.last_end + 1):
        ink = sheet.inks[plan.end_yarns[end_number - 1]]
        lower = levels.step if plan.placement.kinds[end_number - 1] is Space.SLOT else 0.0
        left = strip.left + (end_number - segment.first_end) * pitch
        cell = Box(left, strip.top + levels.cells + lower, pitch, levels.cell)
        marks.append(Rectangle(cell, fill=ink.fill))
        marks += sheet.hatched(cell, plan.end_yarns[end_number - 1])
        marks.append(Rectangle(cell, stroke="#000000", width=OUTLINE))
        if lettered:
            marks += _letters_inside(sheet, plan.end_yarns[end_number - 1], cell, upright, edge)
    return marks


def _upright(sheet: Sheet, segment: Segment, pitch: float) -> bool:
    """Whether the letters of all yarns of a segment find room across a cell."""
    size = sheet.sizes.smallest
    return all(sheet.wide(sheet.letters(yarn), Face.SANS_SEMIBOLD, size) + 0.6 <= pitch for yarn in segment.yarns)


def _lettered(sheet: Sheet, segment: Segment, pitch: float) -> bool:
    """Whether single ends bear their letters: in turn, or alone and too narrow for letters above.

    In cells too narrow even for turned letters the label above must do.
    """
    room = _upright(sheet, segment, pitch) or cap_height(sheet.sizes.smallest) + LETTER_ROOM <= pitch
    return room and (segment.in_turn or _too_narrow(sheet, segment, pitch))


def _too_narrow(sheet: Sheet, segment: Segment, pitch: float) -> bool:
    label = sheet.letters(segment.yarns[0])
    return segment.ends == 1 and sheet.wide(label, Face.SANS_SEMIBOLD, sheet.sizes.small) > pitch + 0.3


def _letters_inside(sheet: Sheet, yarn: str, cell: Box, upright: bool, edge: float) -> list[Mark]:
    """The letters of a single end, in its cell, on a plate of its colour that keeps the hatching off them."""
    size, ink, letters = sheet.sizes.smallest, sheet.inks[yarn], sheet.letters(yarn)
    wide = sheet.wide(letters, Face.SANS_SEMIBOLD, size)
    cap = cap_height(size)
    y = cell.top + cell.height / 2
    if upright:
        plate = Box(cell.middle - wide / 2 - 0.2, y - cap / 2 - 0.5, wide + 0.4, cap + 1.0)
        words = Words(cell.middle, y + cap / 2, letters, Face.SANS_SEMIBOLD, size, ink.on, "middle")
    else:
        plate = Box(cell.middle - cap / 2 - 0.3, y - wide / 2 - 0.3, cap + 0.6, wide + 0.6)
        words = Words(
            min(cell.middle + cap / 2 - 0.15, edge - 0.25 * size * POINT),
            y + wide / 2,
            letters,
            Face.SANS_SEMIBOLD,
            size,
            ink.on,
            "left",
            90,
        )
    return [Rectangle(plate, fill=ink.fill), words] if ink.slopes else [words]


def _labels(sheet: Sheet, segment: Segment, strip: Box, levels: _Levels, edge: float, pitch: float) -> list[Mark]:
    """The count in large figures and the letters below it, centred over the stripe."""
    label = " ".join(sheet.letters(yarn) for yarn in segment.yarns)
    if segment.in_turn:
        longer = stripe_words.in_turn(label)
        label = longer if sheet.wide(longer, Face.SANS_SEMIBOLD, sheet.sizes.small) <= strip.width - 1 else label
    count = Words(strip.middle, strip.top + levels.counts, str(segment.ends), Face.SANS_BOLD, sheet.sizes.count)
    marks: list[Mark] = [count._replace(align="middle")]
    if not segment.in_turn and _lettered(sheet, segment, pitch):
        return marks  # its letters stand in its cell
    size = sheet.sizes.small
    x = min(strip.middle, edge - sheet.wide(label, Face.SANS_SEMIBOLD, size) / 2)
    return [*marks, Words(x, strip.top + levels.letters, label, Face.SANS_SEMIBOLD, size, align="middle")]


def _total(
    sheet: Sheet, segment: Segment, strip: Box, levels: _Levels, pitch: float, lines: dict[int, int], edge: float
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


def _start_here(x: float, top: float, levels: _Levels) -> list[Mark]:
    """A small flag at end 1: begin on this side."""
    y = top + levels.cell / 2
    size = 1.3
    return [
        Path(
            (
                ("move", x - 0.7, y),
                ("line", x - 0.7 - size * 1.5, y - size),
                ("line", x - 0.7 - size * 1.5, y + size),
                ("close",),
            ),
            fill=ACCENT,
        )
    ]


ORDER = Panel("order", _room, _draw)
