"""What a record is filled in with: blanks for what really came off the loom."""

from __future__ import annotations

from itertools import accumulate
from typing import Final

from cardmaker.card.parts import heading_part, picture_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import BLACK, HAIRLINE, RULE, SOFT
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part
from cardmaker.layout.type_setting import cap_height, figure, side_by_side, tail_depth, words_group
from cardmaker.model.marks import Box, Face, Line, Mark, Words
from cardmaker.model.record_class import record
from cardmaker.wording import length_words

LEAST_LINE: Final = 5.6  # mm: a pencil's line
LEAST_LINE_CROWDED: Final = 5.0
MOST_LINE: Final = 8.0
BETWEEN: Final = 3.0  # mm from one blank to the next
AFTER_LABEL: Final = 1.2  # mm
LEAST_BLANKS: Final = {"date": 15.0, "loom": 14.0, "note": 18.0}  # mm to write on; figures take less
LEAST_FIGURE: Final = 11.0


@record
class _Blank:
    """A label with the least room to write beside it; the first of all is the heading, with none."""

    label: str
    face: Face
    size: float
    room: float


def _blanks(sheet: Sheet) -> list[_Blank]:
    heading = _Blank(length_words.RESULTS, Face.SERIF_SEMIBOLD, sheet.sizes.heading, 0.0)
    return [
        heading,
        *(
            _Blank(label, Face.SANS, sheet.sizes.small, LEAST_BLANKS.get(label, LEAST_FIGURE))
            for label in length_words.RESULT_BLANKS
        ),
    ]


def _label_width(sheet: Sheet, blank: _Blank) -> float:
    return sheet.wide(blank.label, blank.face, blank.size) + AFTER_LABEL


def _rows(sheet: Sheet, width: float) -> list[list[_Blank]]:
    return side_by_side(_blanks(sheet), lambda blank: _label_width(sheet, blank) + blank.room, BETWEEN, width)


def _draw(sheet: Sheet, box: Box) -> list[Mark]:
    """Blank lines to write on, named like the keys of `measured` in the file; spare width makes them longer."""
    rows = _rows(sheet, box.width)
    step = box.height / len(rows)
    lines = [mark for number, row in enumerate(rows, start=1) for mark in _draw_row(sheet, row, box, number * step)]
    first, *labels = (mark for mark in lines if isinstance(mark, Words))
    heading = words_group("heading", Box(box.left, box.top, box.width, step), first)
    rules = [mark for mark in lines if isinstance(mark, Line)]
    return [heading, figure("blanks", box, [*labels, *rules], length_words.RESULTS_ALT_TEXT)]


def _draw_row(sheet: Sheet, row: list[_Blank], box: Box, foot: float) -> list[Words | Line]:
    written = sum(1 for blank in row if blank.room)
    used = sum(_label_width(sheet, blank) + blank.room for blank in row) + BETWEEN * (len(row) - 1)
    x, y = box.left, box.top + foot - tail_depth(sheet.sizes.small)
    marks: list[Words | Line] = []
    for blank in row:
        start = x + _label_width(sheet, blank)
        right = start + blank.room + ((box.width - used) / written if blank.room else 0.0)
        marks.append(Words(x, y, blank.label, blank.face, blank.size, SOFT if blank.room else BLACK))
        if blank.room:
            marks.append(Line(start, y + 0.5, right, y + 0.5, RULE))
        x = right + BETWEEN
    return marks


def _parts(sheet: Sheet, width: float) -> list[Part]:
    if max(_label_width(sheet, blank) + blank.room for blank in _blanks(sheet)) > width:
        return [Part(NO_ROOM, lambda box: (), facts=("results",))]
    rows = len(_rows(sheet, width))
    least = max(LEAST_LINE, cap_height(sheet.sizes.small) + 2.5)
    return [Part(HeightRange(rows * least, rows * MOST_LINE), lambda box: _draw(sheet, box), facts=("results",))]


TABLE_ROWS: Final = 5  # tapes of this pattern, one after the other
MOST_ROW: Final = 8.5  # mm
UNDER_HEADS: Final = 1.4  # mm from the tails of the heads to the rule below them
BELOW_TABLE: Final = 0.8  # mm that the last line stands clear of what follows
BESIDE_HEAD: Final = 2.0  # mm that a column is wider than its head
SHARES: Final = {"date": 3.0, "loom": 3.5, "picks per inch": 2.2, "note": 6.0}  # of the width; of a figure 2


def _columns(sheet: Sheet, width: float) -> list[tuple[str, float]] | None:
    """The heads with their left edges: each column as wide as its share, and not narrower than its head; None where
    these do not fit."""
    size = sheet.sizes.small
    least = [sheet.wide(label, Face.SANS, size) + BESIDE_HEAD for label in length_words.RESULT_BLANKS]
    spare = width - sum(least)
    if spare < 0:
        return None
    shares = [SHARES.get(label, 2.0) for label in length_words.RESULT_BLANKS]
    widths = [wide + spare * share / sum(shares) for wide, share in zip(least, shares, strict=True)]
    return list(zip(length_words.RESULT_BLANKS, accumulate(widths[:-1], initial=0.0), strict=True))


def _table_parts(sheet: Sheet, width: float) -> list[Part]:
    """Heads, and lines to write on under them; the columns are told apart by short strokes, as nothing is filled in."""
    columns = _columns(sheet, width)
    heading = heading_part(sheet, width, length_words.RESULTS, length_words.RECKONS_WITH_IT)
    if columns is None:
        return [heading, Part(NO_ROOM, lambda box: (), facts=("results", "results table"))]
    head = cap_height(sheet.sizes.small) + tail_depth(sheet.sizes.small) + UNDER_HEADS
    rest = head + BELOW_TABLE
    line = LEAST_LINE_CROWDED if sheet.is_crowded else LEAST_LINE
    heights = HeightRange(rest + TABLE_ROWS * line, rest + TABLE_ROWS * MOST_ROW)

    def draw(box: Box) -> list[Mark]:
        return _draw_table(sheet, columns, box.top + head, box.inset(bottom=BELOW_TABLE))

    alt = length_words.RESULTS_TABLE_ALT_TEXT
    return [heading, picture_part("blanks", heights, draw, alt, above=0.0, facts=("results", "results table"))]


def _draw_table(sheet: Sheet, columns: list[tuple[str, float]], top: float, box: Box) -> list[Mark]:
    y, step = top - UNDER_HEADS - tail_depth(sheet.sizes.small), (box.bottom - top) / TABLE_ROWS
    marks: list[Mark] = [
        Words(box.left + left, y, label, Face.SANS, sheet.sizes.small, SOFT) for label, left in columns
    ]
    marks.append(Line(box.left, top, box.right, top, RULE))
    for number in range(1, TABLE_ROWS + 1):
        foot = top + number * step
        marks.append(Line(box.left, foot, box.right, foot, HAIRLINE))
        marks += [
            Line(box.left + left - 1.0, foot - TICK, box.left + left - 1.0, foot, HAIRLINE) for _, left in columns[1:]
        ]
    return marks


TICK: Final = 1.6  # mm: the strokes between the columns
RESULTS = Panel("results", _parts)
RESULTS_TABLE: Final = Panel("results-table", _table_parts)
