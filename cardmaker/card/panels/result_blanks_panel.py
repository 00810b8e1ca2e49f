"""What a record is filled in with: blanks for what really came off the loom."""

from __future__ import annotations

from math import ceil

from cardmaker.card.sheet import Drawing, Sheet, whole_panel
from cardmaker.layout.ink import RULE, SOFT
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.type_setting import figure, words_group
from cardmaker.model.marks import Box, Face, Line, Mark, Words
from cardmaker.wording import length_words

LEAST_LINE, MOST_LINE = 5.8, 8.0  # a pencil's line
NARROWEST, GAP = 27.0, 3.0  # of a blank with its label, and between blanks


def _across(width: float) -> int:
    return max(1, int((width + GAP) // (NARROWEST + GAP)))


def _heading_cells(sheet: Sheet, width: float) -> int:
    """How many blanks' room the heading takes at the start of the first line; a whole line where that is narrow."""
    across = _across(width)
    column = (width - (across - 1) * GAP) / across
    wide = sheet.wide(length_words.RESULTS, Face.SERIF_SEMIBOLD, sheet.sizes.heading) + 2
    return min(across, ceil((wide + GAP) / (column + GAP)))


def _rows(sheet: Sheet, width: float) -> int:
    return ceil((len(length_words.RESULT_BLANKS) + _heading_cells(sheet, width)) / _across(width))


def _heights(sheet: Sheet, width: float) -> HeightRange:
    rows = _rows(sheet, width)
    return HeightRange(rows * LEAST_LINE, rows * MOST_LINE)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    """Blank lines to write on, named like the keys of `measured` in the file, after their heading."""
    across, step = _across(box.width), box.height / _rows(sheet, box.width)
    column = (box.width - (across - 1) * GAP) / across
    size, heading = sheet.sizes.small, sheet.sizes.heading
    name = Words(box.left, box.top + step - 1.2, length_words.RESULTS, Face.SERIF_SEMIBOLD, heading)
    marks: list[Mark] = []
    for cell, blank in enumerate(length_words.RESULT_BLANKS, start=_heading_cells(sheet, box.width)):
        x = box.left + cell % across * (column + GAP)
        y = box.top + (cell // across + 1) * step - 1.2
        start = x + sheet.wide(blank, Face.SANS, size) + 1.2
        marks += [Words(x, y, blank, Face.SANS, size, SOFT), Line(start, y + 0.5, x + column, y + 0.5, RULE)]
    first = Box(box.left, box.top, box.width, step)
    return Drawing((words_group("heading", first, name), figure("blanks", box, marks, length_words.RESULTS_ALT_TEXT)))


RESULTS = whole_panel("results", _heights, _draw)
