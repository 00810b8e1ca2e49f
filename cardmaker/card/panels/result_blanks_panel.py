"""What a record is filled in with: blanks for what really came off the loom."""

from __future__ import annotations

from typing import Final, NamedTuple

from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import BLACK, RULE, SOFT
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part
from cardmaker.layout.type_setting import cap_height, figure, side_by_side, tail_depth, words_group
from cardmaker.model.marks import Box, Face, Line, Mark, Words
from cardmaker.wording import length_words

LEAST_LINE: Final = 5.6  # mm: a pencil's line
MOST_LINE: Final = 8.0
BETWEEN: Final = 3.0  # mm from one blank to the next
AFTER_LABEL: Final = 1.2  # mm
LEAST_BLANKS: Final = {"date": 15.0, "loom": 14.0, "note": 18.0}  # mm to write on; figures take less
LEAST_FIGURE: Final = 11.0


class _Blank(NamedTuple):
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


RESULTS = Panel("results", _parts)
