"""The walk: winding as a line walked between two posts, home above and far below, one stroke for every end.

A colour change falls where it falls, above or below, so that a change at the far post is seen, not read.
"""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.panels.order_panel import rows_of
from cardmaker.card.paragraphs import paragraph
from cardmaker.card.sheet import NO_ROOM, Drawing, HeightRange, Panel, Sheet, beside, margin_column
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, HEAVY, OUTLINE, WHITE
from cardmaker.layout.lines_of_type import Span, cap_height, text_height
from cardmaker.layout.palette import Ink
from cardmaker.layout.roles import figure
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Rectangle, Words
from cardmaker.model.plan import Post
from cardmaker.model.records import record
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.reckoning.winding.walk import Stroke, Walk, walk_of
from cardmaker.wording import winding_words

LEAST_STROKE = 1.65
WIDEST_STROKE = 7.4
LEAST_TICK_BOX = 2.8
ROW_GAP = 3.0


@record
class _Row:
    """One row of the walk on paper: where its posts run and how far apart the strokes are. Positions count strokes."""

    left: float
    home: float
    far: float
    pitch: float
    first_end: int

    def x(self, position: int) -> float:
        """Where the stroke at a position ends, left to right."""
        return self.left + (position - self.first_end + 1) * self.pitch

    def y(self, post: Post) -> float:
        return self.far if post is Post.FAR else self.home


def _tick(sheet: Sheet) -> float:
    """The side of a box to tick: as high as the figures beside it."""
    return max(LEAST_TICK_BOX, cap_height(sheet.sizes.body) + 0.3)


def _label_height(sheet: Sheet) -> float:
    return _tick(sheet) + 1.4


def _walk(sheet: Sheet) -> Walk:
    return walk_of(sheet.plan.runs, sheet.plan.winding.method)


def _rows(sheet: Sheet, width: float) -> list[list[Segment]]:
    return rows_of(_walk(sheet).stretches, int(_free(sheet, width) / LEAST_STROKE))


def _margin(sheet: Sheet) -> float:
    return margin_column(sheet, winding_words.WALK, winding_words.HOME, winding_words.FAR)


def _free(sheet: Sheet, width: float) -> float:
    """The width that is left for strokes: beside the margin column, with room for the last label."""
    return width - _margin(sheet) - _label_width(sheet, sheet.plan.ends) + _tick(sheet) / 2 - 0.4


def _pitch(sheet: Sheet, rows: Sequence[Sequence[Segment]], width: float) -> float:
    most = max(row[-1].last_end - row[0].first_end + 1 for row in rows)
    return min(WIDEST_STROKE, _free(sheet, width) / most)


def _labels(sheet: Sheet, found: Walk, row: Sequence[Segment], pitch: float) -> dict[int, int]:
    """On which line outside its post each checkpoint's label stands, so that none meets another."""
    lines: dict[int, int] = {}
    taken: dict[tuple[Post, int], float] = {}
    for at, total in found.totals.items():
        if not row[0].first_end <= at <= row[-1].last_end:
            continue
        x, post, line = at * pitch, found.stop_of(at), 0
        while taken.get((post, line), -99.0) > x - _tick(sheet) / 2 - 0.5:
            line += 1
        lines[at] = line
        taken[post, line] = x + _label_width(sheet, total) - _tick(sheet) / 2
    return lines


def _label_width(sheet: Sheet, total: int) -> float:
    return _tick(sheet) + 0.9 + sheet.wide(str(total), Face.SANS_BOLD, sheet.sizes.body) + 0.8


def _spans(sheet: Sheet) -> list[Span]:
    plan = sheet.plan
    spans = [
        Span(winding_words.trips(plan), Face.SANS_SEMIBOLD),
        Span(winding_words.method(plan)),
    ]
    if plan.winding.changes and plan.winding.method == "order" and not sheet.brief:
        spans.append(Span(winding_words.TAILS))
    return spans


def _words_height(sheet: Sheet, width: float) -> float:
    return 2.0 + text_height(len(sheet.lines(_spans(sheet), sheet.sizes.body, width)), sheet.sizes.body)


def _outside(sheet: Sheet, width: float) -> list[tuple[float, float]]:
    """For every row, the height of the labels above home and below far."""
    found, rows = _walk(sheet), _rows(sheet, width)
    pitch = _pitch(sheet, rows, width)
    heights: list[tuple[float, float]] = []
    for row in rows:
        labels = _labels(sheet, found, row, pitch)
        above = cap_height(sheet.sizes.heading) + 3.2 if not heights else 0.0  # the heading stands here
        lines = dict.fromkeys(Post, 0)
        for at, line in labels.items():
            lines[found.stop_of(at)] = max(lines[found.stop_of(at)], line + 1)
        heights.append((max(above, lines[Post.HOME] * _label_height(sheet)), lines[Post.FAR] * _label_height(sheet)))
    return heights


def _room(sheet: Sheet, width: float) -> HeightRange:
    if _free(sheet, width) < LEAST_STROKE:
        return NO_ROOM
    outside = _outside(sheet, width)
    fixed = sum(map(sum, outside)) + (len(outside) - 1) * ROW_GAP + _words_height(sheet, width)
    return HeightRange(fixed + len(outside) * 12.0 * sheet.give + 2.0, fixed + len(outside) * 24.0 + 2.0)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks: list[Mark] = []
    body = box
    rows, outside = _rows(sheet, box.width), _outside(sheet, box.width)
    pitch = _pitch(sheet, rows, box.width)
    words = _words_height(sheet, box.width)
    free = body.height - words - sum(map(sum, outside)) - (len(rows) - 1) * ROW_GAP - 2.0
    span = free / len(rows)
    y = body.top + 1.0
    for segments, (above, below) in zip(rows, outside, strict=True):
        row = _Row(body.left + _margin(sheet), y + above, y + above + span, pitch, segments[0].first_end)
        marks += _row(sheet, segments, row)
        y = row.far + below + ROW_GAP
    drawn = figure("walk", body.inset(bottom=words), marks, winding_words.winding_alt_text(sheet.plan))
    seen = sheet.as_seen([beside(sheet, box, winding_words.WALK), drawn], box)
    size = sheet.sizes.body
    first = body.bottom - words + 2.0 + cap_height(size)
    lines = sheet.lines(_spans(sheet), size, body.width)
    return Drawing((*seen, *paragraph(sheet, lines, body.left, first, size, body.width)))


def _row(sheet: Sheet, stretches: Sequence[Segment], row: _Row) -> list[Mark]:
    found = _walk(sheet)
    last = stretches[-1].last_end
    marks = _posts(sheet, row, row.x(last) + 4)
    for position in range(row.first_end, last + 1):
        stroke = found.strokes[position - 1]
        marks += _stroke(sheet.inks[stroke.yarn], row, position, stroke)
    if sheet.plan.winding.method == "carry":
        marks += _waiting_balls(sheet, found, row, last)
    labels = _labels(sheet, found, stretches, row.pitch)
    for at, line in sorted(labels.items(), key=lambda each: -each[1]):  # the outer ones' stems lie below the others
        marks += _checkpoint(sheet, row, at, found.stop_of(at), found.totals[at], line)
    if row.first_end == 1:
        marks.append(Dot(row.x(0), row.home, 1.3, ACCENT))
    return marks


def _posts(sheet: Sheet, row: _Row, right: float) -> list[Mark]:
    size = sheet.sizes.body
    drop = cap_height(size) / 2
    left = row.left - _margin(sheet)
    return [
        Line(row.left - 1.8, row.home, right, row.home, HEAVY, BLACK),
        Line(row.left - 1.8, row.far, right, row.far, HEAVY, ACCENT),
        Words(left, row.home + drop, winding_words.HOME, Face.SANS_SEMIBOLD, size),
        Words(left, row.far + drop, winding_words.FAR, Face.SANS_SEMIBOLD, size, ACCENT),
    ]


def _stroke(ink: Ink, row: _Row, position: int, stroke: Stroke) -> list[Mark]:
    """One end, from one post to the other: cased in black, and hatched along its length by lightness."""
    x1, y1, x2, y2 = row.x(position - 1), row.y(stroke.start), row.x(position), row.y(stroke.stop)
    thick = min(1.2, row.pitch * 0.34)
    marks: list[Mark] = [
        Line(x1, y1, x2, y2, thick + 2 * OUTLINE, BLACK, round_ends=True),
        Line(x1, y1, x2, y2, thick, ink.fill, round_ends=True),
    ]
    if ink.slopes:
        dash = (ink.spacing * len(ink.slopes), ink.spacing * 0.7)
        marks.append(Line(x1, y1, x2, y2, max(thick * 0.28, HAIRLINE), ink.on, dash))
    return marks


def _waiting_balls(sheet: Sheet, found: Walk, row: _Row, last: int) -> list[Mark]:
    """Where each ball waits after its stripe: a dot at the post."""
    marks: list[Mark] = []
    radius = min(1.25, row.pitch * 0.32)
    for run in sheet.plan.runs:
        if row.first_end <= run.total <= last:
            ink = sheet.inks[run.yarn]
            marks.append(Dot(row.x(run.total), row.y(found.stop_of(run.total)), radius, ink.fill, BLACK, OUTLINE))
    return marks


def _checkpoint(sheet: Sheet, row: _Row, at: int, post: Post, total: int, line: int) -> list[Mark]:
    """The running total with a box to tick, outside the post where the winder then stands."""
    far = post is Post.FAR
    outwards = 1 if far else -1
    colour = ACCENT if far else BLACK
    x, y = row.x(at), row.y(post)
    middle = y + outwards * (1.4 + line * _label_height(sheet) + _tick(sheet) / 2)
    size = sheet.sizes.body
    marks: list[Mark] = []
    if line:  # two short ticks lead the eye; a line all the way would run through the label between
        edge = middle - outwards * _tick(sheet) / 2
        marks += [Line(x, y, x, y + outwards * 1.1, HAIRLINE), Line(x, edge, x, edge - outwards * 0.8, HAIRLINE)]
    away = _tick(sheet) / 2 + 0.9
    box = Box(x - _tick(sheet) / 2, middle - _tick(sheet) / 2, _tick(sheet), _tick(sheet))
    words = Words(x + away, middle + cap_height(size) / 2, str(total), Face.SANS_BOLD, size, colour)
    wide = sheet.wide(str(total), Face.SANS_BOLD, size)
    plate = Box(words.x, middle - _tick(sheet) / 2, wide, _tick(sheet))
    return [*marks, Rectangle(plate, WHITE), Rectangle(box, WHITE, colour, OUTLINE * 1.3, 0.4), words]


WALK = Panel("walk", _room, _draw)
