"""The walk as a drawing: rows of strokes between home and far, brackets over them, running totals to tick at the posts.

A colour change falls where it falls, above or below, so that a change at the far post is seen, not read.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from cardmaker.card.brackets import Bracket, BracketRow, bracket_rows, brackets_over
from cardmaker.card.rows_of_ends import TotalLabel, end_pitch, ends_in_rows, label_lines
from cardmaker.card.sheet import Sheet
from cardmaker.card.tick_boxes import BEFORE_WORDS, tick_side, tick_square
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, HEAVY, OUTLINE, WHITE
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.thread_line import thread_line
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Colour, Dot, Face, Line, Mark, Rectangle, Words
from cardmaker.model.plan import Post
from cardmaker.model.record_class import record
from cardmaker.reckoning.winding.walk import Walk, walk_of
from cardmaker.wording import winding_words

LEAST_STROKE: Final = 1.65  # mm from stroke to stroke: nearer ones are not told apart
WIDEST_STROKE: Final = 8.0
BESIDE_POST: Final = 3.4  # mm from the names of the posts to the first stroke: the dot at home stands there
PAST_LAST: Final = 1.2  # mm that the posts go on beyond the last stroke
ROW_GAP: Final = 3.0
LEAST_SPAN, MOST_SPAN = 12.0, 20.0  # from home to far on paper
LEAST_OF_MANY, MOST_OF_MANY = 9.0, 14.0  # the same where there are several rows
OUTSIDE_POST: Final = 1.2  # mm from a post to the box to tick beyond it
BETWEEN_LINES: Final = 1.2  # mm from one line of boxes to the next
BESIDE_TOTAL: Final = 1.0  # mm from a total to the next box
UNDER_BRACKETS: Final = 1.0  # mm
MOST_LINES: Final = 2  # of boxes to tick outside one post
START_DOT: Final = 1.3
EMPTY_WALK: Final = (0.5, 0.7)  # on and off, in mm


@record
class _Tick:
    """A box to tick with its total: after which stroke, and on which line outside the post it stands."""

    at: int
    total: int
    post: Post
    left: float  # of the box, from the left of the drawing
    line: int


@record
class _Row:
    """One row of strokes: their positions, and what stands above and below them."""

    strokes: range
    brackets: BracketRow
    ticks: tuple[_Tick, ...]

    def lines(self, post: Post) -> int:
        return max((tick.line + 1 for tick in self.ticks if tick.post is post), default=0)


@record
class WalkDrawing:
    """The drawing, measured at a width. Positions count strokes from 1; lengths are in mm from its left."""

    sheet: Sheet
    walk: Walk
    rows: tuple[_Row, ...]
    column: float  # for the names of the posts
    pitch: float
    in_tens: bool  # whether only tens and the last are ticked, since not every change finds room

    def heights(self) -> HeightRange:
        """The height that it needs, and the most that it can use."""
        fixed = sum(self._above(row) + self._below(row) for row in self.rows) + (len(self.rows) - 1) * ROW_GAP
        least, most = (LEAST_SPAN, MOST_SPAN) if len(self.rows) == 1 else (LEAST_OF_MANY, MOST_OF_MANY)
        return HeightRange(fixed + len(self.rows) * least * self.sheet.picture_share, fixed + len(self.rows) * most)

    def marks(self, box: Box) -> tuple[Mark, ...]:
        """The drawing in its box, mirrored for a left hand."""
        fixed = sum(self._above(row) + self._below(row) for row in self.rows) + (len(self.rows) - 1) * ROW_GAP
        span = (box.height - fixed) / len(self.rows)
        marks: list[Mark] = []
        top = box.top
        for row in self.rows:
            home = top + self._above(row)
            marks += row.brackets.marks(box.left + self.column, top)
            marks += _Strokes(self, row, box.left, home, home + span).marks()
            top = home + span + self._below(row) + ROW_GAP
        return self.sheet.as_mirrored(marks, box)

    def _above(self, row: _Row) -> float:
        return row.brackets.height + UNDER_BRACKETS + self._outside(row.lines(Post.HOME))

    def _below(self, row: _Row) -> float:
        return self._outside(row.lines(Post.FAR)) or OUTLINE

    def _outside(self, lines: int) -> float:
        return OUTSIDE_POST + lines * (self.tick + BETWEEN_LINES) - BETWEEN_LINES if lines else 0.0

    @property
    def tick(self) -> float:
        """The side of a box to tick."""
        return tick_side(self.sheet.sizes.body)


def measured_walk(sheet: Sheet, width: float) -> WalkDrawing | None:
    """The walk by the method that the card recommends, in as many rows as the width asks for; None in too little."""
    walk = walk_of(sheet.plan.runs, sheet.plan.winding.method)
    column = _post_names_width(sheet) + BESIDE_POST
    free = width - column - PAST_LAST
    if free < LEAST_STROKE:
        return None
    rows = ends_in_rows(walk.stretches, int(free / LEAST_STROKE))
    pitch = end_pitch(rows, free, WIDEST_STROKE)
    over = [_brackets(walk, row, pitch) for row in rows]
    brackets = bracket_rows(sheet, over, free + PAST_LAST)
    ticks, in_tens = _ticks(sheet, walk, rows, column, pitch, width)
    return WalkDrawing(
        sheet, walk, tuple(_Row(*row) for row in zip(rows, brackets, ticks, strict=True)), column, pitch, in_tens
    )


def _brackets(walk: Walk, row: range, pitch: float) -> list[Bracket]:
    return brackets_over(walk.stretches, row, lambda at: _x(row, at, pitch) - pitch / 2, pitch)


def _x(row: range, position: int, pitch: float) -> float:
    """Where the stroke at a position ends, from the first post on."""
    return (position - row.start + 1) * pitch


def _post_names_width(sheet: Sheet) -> float:
    names = (winding_words.HOME, winding_words.FAR)
    return max(sheet.wide(name, Face.SANS_SEMIBOLD, sheet.sizes.body) for name in names)


def _ticks(
    sheet: Sheet, walk: Walk, rows: Sequence[range], column: float, pitch: float, width: float
) -> tuple[list[tuple[_Tick, ...]], bool]:
    """The boxes to tick of every row; at tens and the last only, where those at all changes need too many lines."""
    choices = (walk.totals, walk.tens) if sheet.plan.winding.method != "bundle" else (walk.totals,)
    for totals in choices:
        ticks = [_row_ticks(sheet, walk, totals, row, column, pitch, width) for row in rows]
        if all(tick.line < MOST_LINES for row in ticks for tick in row):
            break
    return ticks, totals is not walk.totals


def _row_ticks(
    sheet: Sheet, walk: Walk, totals: Mapping[int, int], row: range, column: float, pitch: float, width: float
) -> tuple[_Tick, ...]:
    """Each box stands at its stroke's end; only that of the last moves so far in that its total finds room."""
    labels = []
    side = tick_side(sheet.sizes.body)
    for at, total in totals.items():
        if at in row:
            wide = side + BEFORE_WORDS + sheet.wide(str(total), Face.SANS_BOLD, sheet.sizes.body)
            left = min(column + _x(row, at, pitch) - side / 2, width - wide)
            labels.append(TotalLabel(at, left, left + wide, walk.stop_of(at)))
    lines = label_lines(labels, BESIDE_TOTAL)
    return tuple(_Tick(each.at, totals[each.at], walk.stop_of(each.at), each.left, lines[each.at]) for each in labels)


@record
class _Strokes:
    """The strokes of a row and what stands at their posts, at heights on the page."""

    drawing: WalkDrawing
    row: _Row
    left: float  # of the drawing
    home: float
    far: float

    def marks(self) -> list[Mark]:
        drawing, strokes = self.drawing, self.row.strokes
        marks = self._posts()
        for position in strokes:
            if position > strokes.start and drawing.walk.walks_empty_before(position):
                marks.append(self._empty_walk(position))
        for position in strokes:
            marks += self._stroke(position)
        if drawing.sheet.plan.winding.method == "carry":
            marks += self._waiting_balls()
        for tick in sorted(self.row.ticks, key=lambda tick: -tick.line):  # an outer one's stem lies below the others
            marks += self._tick(tick)
        if strokes.start == 1:
            marks.append(Dot(self._x(0), self.home, START_DOT, ACCENT))
        return marks

    def _x(self, position: int) -> float:
        return self.left + self.drawing.column + _x(self.row.strokes, position, self.drawing.pitch)

    def _y(self, post: Post) -> float:
        return self.far if post is Post.FAR else self.home

    def _posts(self) -> list[Mark]:
        size, right = self.drawing.sheet.sizes.body, self._x(self.row.strokes.stop - 1) + PAST_LAST
        names = ((self.home, winding_words.HOME, BLACK), (self.far, winding_words.FAR, ACCENT))
        left = self._x(self.row.strokes.start - 1) - START_DOT
        marks: list[Mark] = [Line(left, y, right, y, HEAVY, colour) for y, _, colour in names]
        drop = cap_height(size) / 2
        return marks + [Words(self.left, y + drop, name, Face.SANS_SEMIBOLD, size, colour) for y, name, colour in names]

    def _stroke(self, position: int) -> Sequence[Mark]:
        """One end, from one post to the other."""
        stroke, pitch = self.drawing.walk.strokes[position - 1], self.drawing.pitch
        x1, y1, x2, y2 = self._x(position - 1), self._y(stroke.start), self._x(position), self._y(stroke.stop)
        return thread_line(self.drawing.sheet.inks[stroke.yarn], x1, y1, x2, y2, min(1.2, pitch * 0.34))

    def _empty_walk(self, position: int) -> Line:
        """The way to where the next ball waits, which makes no end."""
        x = self._x(position - 1)
        return Line(x, self.home, x, self.far, HAIRLINE, BLACK, EMPTY_WALK)

    def _waiting_balls(self) -> list[Mark]:
        """Where each ball waits after its stripe: a dot at the post."""
        sheet, walk = self.drawing.sheet, self.drawing.walk
        radius = min(1.25, self.drawing.pitch * 0.32)
        ends = [(run.total, sheet.inks[run.yarn]) for run in sheet.plan.runs if run.total in self.row.strokes]
        return [Dot(self._x(at), self._y(walk.stop_of(at)), radius, ink.fill, BLACK, OUTLINE) for at, ink in ends]

    def _tick(self, tick: _Tick) -> list[Mark]:
        """The running total with a box to tick, outside the post where the winder then stands."""
        far = tick.post is Post.FAR
        outwards, colour = (1, ACCENT) if far else (-1, BLACK)
        sheet, side = self.drawing.sheet, self.drawing.tick
        x, y, size = self._x(tick.at), self._y(tick.post), sheet.sizes.body
        near = y + outwards * (OUTSIDE_POST + tick.line * (side + BETWEEN_LINES))
        top = min(near, near + outwards * side)
        left = self.left + tick.left
        words = Words(left + side + BEFORE_WORDS, top + (side + cap_height(size)) / 2, str(tick.total),
                      Face.SANS_BOLD, size, colour)  # fmt: skip
        plate = Box(words.x, top, sheet.wide(words.text, words.face, size), side)
        return [
            *self._stem(tick, x, y, near, outwards),
            Rectangle(plate, WHITE),
            *tick_square(left, top, side, colour),
            words,
        ]

    def _stem(self, tick: _Tick, x: float, y: float, near: float, outwards: int) -> list[Mark]:
        """Two short ticks lead the eye to a box on the second line: a whole line would run through one between."""
        if not tick.line:
            return [Line(x, y, x, near, HAIRLINE, _colour(tick))]
        return [
            Line(x, y, x, y + outwards * OUTSIDE_POST, HAIRLINE, _colour(tick)),
            Line(x, near, x, near - outwards * BETWEEN_LINES * 0.8, HAIRLINE, _colour(tick)),
        ]


def _colour(tick: _Tick) -> Colour:
    return ACCENT if tick.post is Post.FAR else BLACK
