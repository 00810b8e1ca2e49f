"""What a record is filled in with: blanks for what really came off the loom."""

from __future__ import annotations

from typing import Final

from cardmaker.card.parts import heading_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import RULE, SOFT
from cardmaker.layout.stacking import HeightRange, Part
from cardmaker.layout.type_setting import cap_height, figure, side_by_side, tail_depth
from cardmaker.model.marks import Box, Face, Line, Mark, Words
from cardmaker.wording import length_words

LEAST_LINE: Final = 5.6  # mm: a pencil's line
MOST_LINE: Final = 8.0
BETWEEN: Final = 3.0  # mm from one blank to the next
AFTER_LABEL: Final = 1.2  # mm
LEAST_BLANKS: Final = {"date": 15.0, "loom": 14.0, "note": 18.0}  # mm to write on; figures take less
LEAST_FIGURE: Final = 11.0


def _least_width(sheet: Sheet, blank: str) -> float:
    label = sheet.wide(blank, Face.SANS, sheet.sizes.small)
    return label + AFTER_LABEL + LEAST_BLANKS.get(blank, LEAST_FIGURE)


def _rows(sheet: Sheet, width: float) -> list[list[str]]:
    return side_by_side(length_words.RESULT_BLANKS, lambda blank: _least_width(sheet, blank), BETWEEN, width)


def _draw(sheet: Sheet, box: Box) -> list[Mark]:
    """Blank lines to write on, named like the keys of `measured` in the file; spare width makes them longer."""
    rows = _rows(sheet, box.width)
    step, size = box.height / len(rows), sheet.sizes.small
    marks: list[Mark] = []
    for number, row in enumerate(rows, start=1):
        spare = box.width - sum(_least_width(sheet, blank) for blank in row) - BETWEEN * (len(row) - 1)
        x, y = box.left, box.top + number * step - tail_depth(size)
        for blank in row:
            right = x + _least_width(sheet, blank) + spare / len(row)
            start = x + sheet.wide(blank, Face.SANS, size) + AFTER_LABEL
            marks += [Words(x, y, blank, Face.SANS, size, SOFT), Line(start, y + 0.5, right, y + 0.5, RULE)]
            x = right + BETWEEN
    return [figure("blanks", box, marks, length_words.RESULTS_ALT_TEXT)]


def _parts(sheet: Sheet, width: float) -> list[Part]:
    rows = len(_rows(sheet, width))
    least = max(LEAST_LINE, cap_height(sheet.sizes.small) + 2.5)
    blanks = Part(HeightRange(rows * least, rows * MOST_LINE), lambda box: _draw(sheet, box), facts=("results",))
    return [heading_part(sheet, width, length_words.RESULTS, length_words.TYPE_IT_IN), blanks]


RESULTS = Panel("results", _parts)
