"""Boxes to tick, each with its words, side by side in rows that wrap: under one another where columns find room."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.tick_squares import tick_side, tick_square
from cardmaker.layout.type_setting import SetLine, Span, cap_height, leading, side_by_side, tail_depth, words_group
from cardmaker.model.marks import Box, Colour, Face, Mark, Rectangle, Words
from cardmaker.model.record_class import record

BETWEEN_BOXES: Final = 4.0  # mm from one box with its words to the next
BEFORE_WORDS: Final = 1.2  # mm from a box to its words
BETWEEN_ROWS: Final = 0.4  # mm more than the leading
UNDERLINE: Final = 0.7  # mm, the bar under a box that is marked, and its number
ABOVE_UNDERLINE: Final = 0.5  # mm
BELOW_UNDERLINE: Final = 0.8  # mm more between rows where there are bars, half of it on a crowded card
MOST_UNLIKE: Final = 7.0  # mm by which boxes that stand under one another may differ


@record
class TickBox:
    """One box and what is ticked off; ``marked`` puts a bar under both, as at the far post."""

    text: str
    colour: Colour = BLACK
    face: Face = Face.SANS_SEMIBOLD
    marked: bool = False


def tick_box_width(sheet: Sheet, box: TickBox, size: float) -> float:
    """A box with its words, in mm."""
    return tick_side(size) + BEFORE_WORDS + sheet.wide(box.text, box.face, size)


def tick_boxes_height(
    sheet: Sheet, boxes: Sequence[TickBox], size: float, width: float, *, behind: float = 0.0
) -> float:
    """How high the rows are in ``width`` mm, if they can with so many left ``behind`` the last box."""
    rows = _rows(sheet, boxes, size, width, behind) if boxes else []
    lines = sum(max(len(_lines(sheet, box, size, width)) for box in row) - 1 for row in rows)
    one_each = (len(rows) - 1) * _row_step(sheet, boxes, size) + tick_side(size) + _below(boxes, size)
    return one_each + lines * leading(size) if rows else 0.0


def _below(boxes: Sequence[TickBox], size: float) -> float:
    """What hangs below the last row of boxes: tails, or a bar under one of them."""
    bar = ABOVE_UNDERLINE + UNDERLINE if any(box.marked for box in boxes) else 0.0
    return max(bar, tail_depth(size) - 0.3)


def draw_tick_boxes(
    sheet: Sheet, boxes: Sequence[TickBox], size: float, box: Box, *, behind: float = 0.0
) -> list[Mark]:
    """The boxes and their words as bare marks, for a drawing that has an alternative text."""
    places = _places(sheet, boxes, size, box, behind)
    return [mark for place in places for mark in (*_square(place, size), *_words(sheet, place, size))]


def space_over_boxes(sheet: Sheet, boxes: Sequence[TickBox], size: float) -> float:
    """Between the tails of a sentence and boxes below it whose words are to stand as far from its last line as rows of
    boxes from one another."""
    return _row_step(sheet, boxes, size) - (tick_side(size) + cap_height(size)) / 2 - tail_depth(size)


def end_of_tick_boxes(
    sheet: Sheet, boxes: Sequence[TickBox], size: float, box: Box, *, behind: float = 0.0
) -> tuple[float, float]:
    """Where the words of the last box end, and their baseline: what may stand behind them begins there."""
    area = _places(sheet, boxes, size, box, behind)[-1].area
    return area.right, area.top + (tick_side(size) + cap_height(size)) / 2


def tick_boxes_part(
    sheet: Sheet,
    width: float,
    boxes: Sequence[TickBox],
    size: float,
    *,
    above: float = 1.8,
    facts: tuple[str, ...] = (),
    priority: int = 0,
    lead: str = "",
) -> Part:
    """Boxes whose words are read aloud one after the other; ``lead`` is said before the first, to whoever does not see
    where they stand."""
    height = tick_boxes_height(sheet, boxes, size, width)
    return Part(exactly(height), lambda box: _spoken(sheet, boxes, size, box, lead), above, facts, priority)


@record
class _Place:
    """Where a box with its words stands."""

    box: TickBox
    area: Box
    lines: Sequence[SetLine]


def _spoken(sheet: Sheet, boxes: Sequence[TickBox], size: float, box: Box, lead: str) -> list[Mark]:
    marks: list[Mark] = []
    for place in _places(sheet, boxes, size, box):
        alt = f"{lead}{place.box.text}" if lead and not marks else ""
        marks += [*_square(place, size), words_group("paragraph", place.area, *_words(sheet, place, size), alt=alt)]
    return marks


def _square(place: _Place, size: float) -> list[Mark]:
    """A marked one with a bar under it and its words, as long as both."""
    box, area, side = place.box, place.area, tick_side(size)
    marks = tick_square(area.left, area.top, side, box.colour)
    if box.marked:
        marks.append(Rectangle(Box(area.left, area.bottom + ABOVE_UNDERLINE, area.width, UNDERLINE), box.colour))
    return marks


def _words(sheet: Sheet, place: _Place, size: float) -> list[Words]:
    side = tick_side(size)
    baseline = place.area.top + (side + cap_height(size)) / 2
    return sheet.set(place.lines, place.area.left + side + BEFORE_WORDS, baseline, size)


def _lines(sheet: Sheet, box: TickBox, size: float, width: float) -> Sequence[SetLine]:
    """The words beside a box: in one line, unless they are wider than all that there is."""
    span = Span(box.text, box.face, box.colour)
    if tick_box_width(sheet, box, size) <= width:
        return [(span,)]
    return sheet.lines([span], size, width - tick_side(size) - BEFORE_WORDS)


def _row_step(sheet: Sheet, boxes: Sequence[TickBox], size: float) -> float:
    """From the words of a row of boxes to those of the next, in mm: farther where a bar could be read as the row's
    below."""
    bars = BELOW_UNDERLINE * (0.5 if sheet.is_crowded else 1.0) if any(box.marked for box in boxes) else 0.0
    return max(leading(size), tick_side(size)) + bars + (0.0 if sheet.is_crowded else BETWEEN_ROWS)


def _rows(
    sheet: Sheet, boxes: Sequence[TickBox], size: float, width: float, behind: float = 0.0
) -> list[list[TickBox]]:
    """As few rows as the width allows, and these about even, so that no box stands alone below many; less even where
    that leaves the room ``behind`` the last."""
    fewest = side_by_side(boxes, lambda box: tick_box_width(sheet, box, size), BETWEEN_BOXES, width)
    if len(fewest) == 1:
        return fewest
    counts = range(-(-len(boxes) // len(fewest)), max(map(len, fewest)) + 1)
    tries = [[list(boxes[start : start + count]) for start in range(0, len(boxes), count)] for count in counts]
    fitting = [rows for rows in tries if all(_row_width(sheet, row, size) <= width for row in rows)] or [fewest]
    return next((rows for rows in fitting if _row_width(sheet, rows[-1], size) + behind <= width), fitting[0])


def _row_width(sheet: Sheet, row: Sequence[TickBox], size: float) -> float:
    return sum(tick_box_width(sheet, box, size) for box in row) + BETWEEN_BOXES * (len(row) - 1)


def _columns(sheet: Sheet, rows: Sequence[Sequence[TickBox]], size: float, width: float) -> list[float] | None:
    """Where columns begin in which the boxes of all rows stand under one another; None where they are too wide, or
    too unlike, so that holes would gape between them."""
    if len(rows) < 2:
        return None
    starts = [0.0]
    for column in range(max(map(len, rows))):
        widths = [tick_box_width(sheet, row[column], size) for row in rows if column < len(row)]
        if max(widths) - min(widths) > MOST_UNLIKE:
            return None
        starts.append(starts[-1] + max(widths) + BETWEEN_BOXES)
    return starts if starts[-1] - BETWEEN_BOXES <= width else None


def _places(sheet: Sheet, boxes: Sequence[TickBox], size: float, box: Box, behind: float = 0.0) -> list[_Place]:
    rows = _rows(sheet, boxes, size, box.width, behind) if boxes else []
    columns = _columns(sheet, rows, size, box.width)
    places: list[_Place] = []
    top = box.top
    for row in rows:
        x, most = box.left, 1
        for column, each in enumerate(row):
            x = box.left + columns[column] if columns else x
            wide, lines = tick_box_width(sheet, each, size), _lines(sheet, each, size, box.width)
            height = tick_side(size) + (len(lines) - 1) * leading(size)
            places.append(_Place(each, Box(x, top, min(wide, box.width), height), lines))
            x, most = x + wide + BETWEEN_BOXES, max(most, len(lines))
        top += _row_step(sheet, boxes, size) + (most - 1) * leading(size)
    return places
