"""What a record is filled in with: blanks for what really came off the loom."""

from __future__ import annotations

from cardmaker.composing import wording
from cardmaker.composing.ink import RULE, SOFT
from cardmaker.composing.sheet import Drawing, Panel, Room, Sheet, headed, heading_height
from cardmaker.geometry import Box
from cardmaker.nouns.marks import Face, Line, Words

LEAST_LINE, MOST_LINE = 5.8, 8.0  # a pencil's line


def _rows(sheet: Sheet, width: float) -> int:
    return -(-len(wording.RESULT_BLANKS) // _across(width))


def _across(width: float) -> int:
    return max(1, int((width + 4) // 31))


def _results_room(sheet: Sheet, width: float) -> Room:
    rows = _rows(sheet, width)
    return Room(heading_height(sheet) + rows * LEAST_LINE, heading_height(sheet) + rows * MOST_LINE)


def _results(sheet: Sheet, box: Box) -> Drawing:
    """Blank lines to write on, named like the keys of `measured` in the file."""
    marks, body = headed(sheet, box, wording.RESULTS)
    across, rows = _across(box.width), _rows(sheet, box.width)
    column = (body.width - (across - 1) * 4) / across
    step = body.height / rows
    size = sheet.sizes.small
    for number, blank in enumerate(wording.RESULT_BLANKS):
        x = body.left + number % across * (column + 4)
        y = body.top + (number // across + 1) * step - 1.2
        start = x + sheet.wide(blank, Face.SANS, size) + 1.2
        marks += [Words(x, y, blank, Face.SANS, size, SOFT), Line(start, y + 0.5, x + column, y + 0.5, RULE)]
    return Drawing(tuple(marks))


RESULTS = Panel("results", _results_room, _results)
