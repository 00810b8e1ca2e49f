"""The walk: winding as a line walked between two posts, home above and far below, one stroke for every end.

A colour change falls where it falls, above or below, so that a change at the far post is seen, not read.
"""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.paragraphs import Paragraph, body, paragraph, paragraph_height, paragraphs_panel
from cardmaker.card.rows_of_ends import TotalLabel, end_pitch, label_lines, segments_in_rows
from cardmaker.card.sheet import Drawing, Sheet, margin_column, margin_heading, whole_panel
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, HEAVY, OUTLINE, WHITE, Ink
from cardmaker.layout.stacking import NO_ROOM, HeightRange
from cardmaker.layout.thread_line import thread_line
from cardmaker.layout.type_setting import Span, cap_height, figure
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Rectangle, Words
from cardmaker.model.plan import Post
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.reckoning.winding.walk import Stroke, Walk, walk_of
from cardmaker.wording import winding_words

LEAST_STROKE = 1.65
WIDEST_STROKE = 7.4
LEAST_TICK_BOX = 2.8
ROW_GAP = 3.0
LEAST_ROW, MOST_ROW = 12.0, 24.0  # from home to far on paper
ABOVE_WORDS = 2.0


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


def _rows(sheet: Sheet, width: float) -> tuple[list[list[Segment]], float]:
    """The strokes in rows, and how far apart they are."""
    free = _free(sheet, width)
    rows = segments_in_rows(_walk(sheet).stretches, int(free / LEAST_STROKE))
    return rows, end_pitch(rows, free, WIDEST_STROKE)


def _margin(sheet: Sheet) -> float:
    return margin_column(sheet, winding_words.WALK, winding_words.HOME, winding_words.FAR)


def _free(sheet: Sheet, width: float) -> float:
    """The width that is left for strokes: beside the margin column, with room for the last label."""
    return width - _margin(sheet) - _label_width(sheet, sheet.plan.ends) + _tick(sheet) / 2 - 0.4


def _labels(sheet: Sheet, walk: Walk, row: Sequence[Segment], pitch: float) -> dict[int, int]:
    """On which line outside its post each checkpoint's label stands, so that none meets another."""
    labels = []
    for at, total in walk.totals.items():
        if row[0].first_end <= at <= row[-1].last_end:
            x, half = at * pitch, _tick(sheet) / 2
            labels.append(TotalLabel(at, x - half, x + _label_width(sheet, total) - half, walk.stop_of(at)))
    return label_lines(labels, 0.5)


def _label_width(sheet: Sheet, total: int) -> float:
    return _tick(sheet) + 0.9 + sheet.wide(str(total), Face.SANS_BOLD, sheet.sizes.body) + 0.8


def _words(sheet: Sheet) -> Paragraph:
    plan = sheet.plan
    spans = [Span(winding_words.trips(plan), Face.SANS_SEMIBOLD), Span(winding_words.method(plan, brief=sheet.brief))]
    if plan.winding.changes and plan.winding.method == "order" and not sheet.brief:
        spans.append(Span(winding_words.TAILS))
    return spans


def _words_height(sheet: Sheet, width: float) -> float:
    return ABOVE_WORDS + paragraph_height(sheet, _words(sheet), sheet.sizes.body, width)


def _outside(sheet: Sheet, rows: Sequence[Sequence[Segment]], pitch: float) -> list[tuple[float, float]]:
    """For every row, the height of the labels above home and below far."""
    walk = _walk(sheet)
    heights: list[tuple[float, float]] = []
    for row in rows:
        above = cap_height(sheet.sizes.heading) + 3.2 if not heights else 0.0  # the heading stands here
        lines = dict.fromkeys(Post, 0)
        for at, line in _labels(sheet, walk, row, pitch).items():
            post = walk.stop_of(at)
            lines[post] = max(lines[post], line + 1)
        heights.append((max(above, lines[Post.HOME] * _label_height(sheet)), lines[Post.FAR] * _label_height(sheet)))
    return heights


def _fixed_height(sheet: Sheet, outside: Sequence[tuple[float, float]], width: float) -> float:
    """Everything but the strokes."""
    return sum(map(sum, outside)) + (len(outside) - 1) * ROW_GAP + _words_height(sheet, width)


def _heights(sheet: Sheet, width: float) -> HeightRange:
    if _free(sheet, width) < LEAST_STROKE:
        return NO_ROOM
    outside = _outside(sheet, *_rows(sheet, width))
    fixed, rows = _fixed_height(sheet, outside, width), len(outside)
    return HeightRange(fixed + rows * LEAST_ROW * sheet.picture_share + 2.0, fixed + rows * MOST_ROW + 2.0)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks: list[Mark] = []
    rows, pitch = _rows(sheet, box.width)
    outside = _outside(sheet, rows, pitch)
    span = (box.height - _fixed_height(sheet, outside, box.width) - 2.0) / len(rows)
    y = box.top + 1.0
    for segments, (above, below) in zip(rows, outside, strict=True):
        row = _Row(box.left + _margin(sheet), y + above, y + above + span, pitch, segments[0].first_end)
        marks += _row(sheet, segments, row)
        y = row.far + below + ROW_GAP
    words = _words_height(sheet, box.width)
    drawn = figure("walk", box.inset(bottom=words), marks, winding_words.winding_alt_text(sheet.plan))
    mirrored = sheet.as_mirrored([margin_heading(sheet, box, winding_words.WALK), drawn], box)
    below_picture = Box(box.left, box.bottom - words + ABOVE_WORDS, box.width, 0.0)
    return Drawing((*mirrored, *paragraph(sheet, _words(sheet), sheet.sizes.body, below_picture)))


def _row(sheet: Sheet, stretches: Sequence[Segment], row: _Row) -> list[Mark]:
    walk = _walk(sheet)
    last = stretches[-1].last_end
    marks = _posts(sheet, row, row.x(last) + 4)
    for position in range(row.first_end, last + 1):
        stroke = walk.strokes[position - 1]
        marks += _stroke(sheet.inks[stroke.yarn], row, position, stroke)
    if sheet.plan.winding.method == "carry":
        marks += _waiting_balls(sheet, walk, row, last)
    labels = _labels(sheet, walk, stretches, row.pitch)
    for at, line in sorted(labels.items(), key=lambda each: -each[1]):  # the outer ones' stems lie below the others
        marks += _checkpoint(sheet, row, at, walk.stop_of(at), walk.totals[at], line)
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
    """One end, from one post to the other: cased in black, and hatched along its length."""
    x1, y1, x2, y2 = row.x(position - 1), row.y(stroke.start), row.x(position), row.y(stroke.stop)
    return [*thread_line(ink, x1, y1, x2, y2, min(1.2, row.pitch * 0.34))]


def _waiting_balls(sheet: Sheet, walk: Walk, row: _Row, last: int) -> list[Mark]:
    """Where each ball waits after its stripe: a dot at the post."""
    marks: list[Mark] = []
    radius = min(1.25, row.pitch * 0.32)
    for run in sheet.plan.runs:
        if row.first_end <= run.total <= last:
            ink = sheet.inks[run.yarn]
            marks.append(Dot(row.x(run.total), row.y(walk.stop_of(run.total)), radius, ink.fill, BLACK, OUTLINE))
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
    tick = _tick(sheet)
    top = middle - tick / 2
    words = Words(x + (tick / 2 + 0.9), middle + cap_height(size) / 2, str(total), Face.SANS_BOLD, size, colour)
    plate = Box(words.x, top, sheet.wide(str(total), Face.SANS_BOLD, size), tick)
    box = Box(x - tick / 2, top, tick, tick)
    return [*marks, Rectangle(plate, WHITE), Rectangle(box, WHITE, colour, OUTLINE * 1.3, 0.4), words]


WALK = whole_panel("walk", _heights, _draw)
TRIPS = paragraphs_panel(
    "trips", lambda sheet: [[Span(winding_words.trips_and_walking(sheet.plan, sheet.units))]], size_of=body
)
