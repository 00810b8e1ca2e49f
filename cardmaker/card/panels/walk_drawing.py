"""The walk as a drawing: rows of strokes between home and far, brackets over them, running totals to tick at the posts.

A colour change falls where it falls, above or below, so that a change at the far post is seen, not read.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Final

from cardmaker.card.bracket_drawing import BracketRow, bracket_rows
from cardmaker.card.brackets import Bracket, brackets_over
from cardmaker.card.panels.walk_columns import GAP_COLUMNS, LEAST_STROKE, WalkGrid, columns_in_rows, walk_grid
from cardmaker.card.panels.walk_ticks import BETWEEN_LINES, WalkTick, room_past_last, storey, ticks_of_row
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, HEAVY, OUTLINE, Ink
from cardmaker.layout.single_threads import thread_line, thread_widths
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Words
from cardmaker.model.plan import Post
from cardmaker.model.record_class import record
from cardmaker.reckoning.amounts.width import relative_thickness
from cardmaker.reckoning.winding.walk import Walk, walk_of
from cardmaker.wording import winding_words

NARROWEST: Final = 18.0  # mm for the strokes of a row: no stripe with a break is then wider than a row
THICKEST, THICKNESS = 1.2, 0.34  # of a stroke, in mm and as a share of the way to the next
MOST_STROKE, MOST_STROKE_SHARE = 2.0, 0.6  # of one of a thick yarn with its edges, likewise
BESIDE_POST: Final = 3.4  # mm from the names of the posts to the first stroke: the dot at home stands there
PAST_LAST: Final = 1.2  # mm, at the least, that the posts go on beyond the last stroke
ROW_GAP: Final = 3.0
LEAST_SPAN, MOST_SPAN = 11.0, 20.0  # from home to far on paper
LEAST_OF_MANY, MOST_OF_MANY = 8.0, 14.0  # the same where there are several rows
NAMES_APART: Final = 2.35  # from home to far, at the least, in capitals of their names
OUTSIDE_POST: Final = 1.05  # mm from a post, and the balls on it, to the box to tick beyond it
UNDER_BRACKETS: Final = 0.8  # mm
UNDER_FAR: Final = 1.2  # mm under the name of the far post, so that the sentence below is not read as a third name
START_DOT, BALL_DOT = 1.3, 1.25  # radii
MOST_ROWS, MOST_ROWS_BRIEF = 2, 1  # before long stripes are drawn with a break
BREAK_DOT, BREAK_STEP = 0.27, 0.8  # radius, and from dot to dot, as shares of the way from stroke to stroke
MOST_BREAK: Final = 1.7  # mm of that way
EMPTY_WALK, EMPTY_WALK_DOT = (0.5, 0.6), 0.5  # on and off, and how thick, in mm: dots that a copier keeps


@record
class _Row:
    """One row of the walk: its columns, and what stands above and below them."""

    columns: range
    brackets: BracketRow
    ticks: tuple[WalkTick, ...]

    def lines(self, post: Post) -> int:
        """How many lines of boxes stand outside a post."""
        return max((tick.line + 1 for tick in self.ticks if tick.post is post), default=0)


@record
class WalkDrawing:
    """The drawing, measured at a width."""

    sheet: Sheet
    walk: Walk
    grid: WalkGrid
    rows: tuple[_Row, ...]
    names: float  # the width for the names of the posts, in mm

    def heights(self) -> HeightRange:
        """The height that it needs, and the most that it can use."""
        rows = len(self.rows)
        least, most = (LEAST_SPAN, MOST_SPAN) if rows == 1 else (LEAST_OF_MANY, MOST_OF_MANY)
        fixed, named = self._fixed_height, NAMES_APART * cap_height(self.sheet.sizes.body)
        least = max(least * self.sheet.picture_share, named)
        return HeightRange(fixed + rows * least, fixed + rows * max(least, most))

    def marks(self, box: Box) -> tuple[Mark, ...]:
        """The drawing in its box, mirrored for a left hand."""
        span = (box.height - self._fixed_height) / len(self.rows)
        marks: list[Mark] = []
        top, start, widths = box.top, box.left + self.names, _stroke_widths(self.sheet, self.grid.pitch)
        for row in self.rows:
            home = top + self._above(row)
            marks += row.brackets.marks(start, top)
            marks += _Strokes(self, row, widths, box.left, home, home + span).marks()
            top = home + span + self._below(row) + ROW_GAP
        return self.sheet.as_mirrored(marks, box)

    @property
    def _fixed_height(self) -> float:
        """Everything but the strokes."""
        return sum(self._above(row) + self._below(row) for row in self.rows) + (len(self.rows) - 1) * ROW_GAP

    def _above(self, row: _Row) -> float:
        return row.brackets.height + UNDER_BRACKETS + self._outside(row.lines(Post.HOME))

    def _below(self, row: _Row) -> float:
        under_name = cap_height(self.sheet.sizes.body) / 2 + (0.0 if self.sheet.is_crowded else UNDER_FAR)
        return max(self._outside(row.lines(Post.FAR)), under_name)

    def _outside(self, lines: int) -> float:
        return self.outside_post + lines * (storey(self.sheet) + BETWEEN_LINES) - BETWEEN_LINES if lines else 0.0

    @property
    def outside_post(self) -> float:
        """From a post to the first box beyond it, which stands clear of the balls that wait there."""
        return OUTSIDE_POST + (self.ball if self.sheet.plan.winding.method == "carry" else 0.0)

    @property
    def ball(self) -> float:
        """The radius of a ball that waits."""
        return min(BALL_DOT, self.grid.pitch * 0.32)


def measured_walk(sheet: Sheet, width: float) -> WalkDrawing | None:
    """The walk by the method that the card recommends, in as many rows as the width asks for; None in too little."""
    walk = walk_of(sheet.plan.runs, sheet.plan.winding.method)
    names = _post_names_width(sheet) + BESIDE_POST
    past_last = _past_last(sheet)
    free = width - names - past_last
    if free < NARROWEST:
        return None
    columns, rows = columns_in_rows(walk, int(free / LEAST_STROKE), MOST_ROWS_BRIEF if sheet.brief else MOST_ROWS)
    grid = walk_grid(walk, columns, rows, free)
    brackets = bracket_rows(sheet, [_brackets(walk, row, grid) for row in rows], free + past_last)
    ticks = [ticks_of_row(sheet, walk, row, grid) for row in rows]
    measured = tuple(_Row(*row) for row in zip(rows, brackets, ticks, strict=True))
    return WalkDrawing(sheet, walk, grid, measured, names)


def _stroke_widths(sheet: Sheet, pitch: float) -> dict[str, float]:
    """Thick yarns have thicker strokes, none so thick that it comes near the boxes beyond the posts."""
    thickness = relative_thickness(sheet.plan.pattern, sheet.plan.end_yarns)
    most = max(min(MOST_STROKE, pitch * MOST_STROKE_SHARE), min(THICKEST, pitch * THICKNESS) + 2 * OUTLINE)
    return thread_widths(thickness, min(THICKEST, pitch * THICKNESS), OUTLINE, most)


def _past_last(sheet: Sheet) -> float:
    """How far the posts go on beyond the last stroke: the half of the box at its end finds room there."""
    return max(PAST_LAST, room_past_last(sheet))


def _post_names_width(sheet: Sheet) -> float:
    names = (winding_words.HOME, winding_words.FAR)
    return max(sheet.wide(name, Face.SANS_SEMIBOLD, sheet.sizes.body) for name in names)


def _brackets(walk: Walk, row: range, grid: WalkGrid) -> list[Bracket]:
    drawn = grid.drawn(row)
    strokes = range(drawn[0], drawn[-1] + 1)
    return brackets_over(walk.stretches, strokes, lambda at: grid.stop(row, at) - grid.pitch / 2, grid.pitch)


@record
class _Strokes:
    """The strokes of a row and what stands at their posts, at heights on the page."""

    drawing: WalkDrawing
    row: _Row
    widths: Mapping[str, float]  # of the strokes of each yarn, in mm without its edges
    left: float  # of the drawing
    home: float
    far: float

    def marks(self) -> list[Mark]:
        """All of it, what lies above last."""
        walk, strokes = self.drawing.walk, self.drawing.grid.drawn(self.row.columns)
        marks = self._posts()
        marks += [self._empty_walk(*pair) for pair in pairwise(strokes) if walk.walks_empty_before(pair[1])]
        for at in strokes:
            marks += self._stroke(at)
        marks += self._breaks()
        if self.drawing.sheet.plan.winding.method == "carry":
            marks += self._waiting_balls(strokes)
        for tick in sorted(self.row.ticks, key=lambda tick: -tick.line):  # an outer one's stem lies below the others
            marks += tick.marks(self.drawing.sheet, self._start, self._y(tick.post), self.drawing.outside_post)
        if strokes[0] == 1:
            marks.append(Dot(self._start, self.home, START_DOT, ACCENT))
        return marks

    @property
    def _start(self) -> float:
        """Where the first stroke begins."""
        return self.left + self.drawing.names

    def _x(self, at: int) -> float:
        """Where a stroke ends."""
        return self._start + self.drawing.grid.stop(self.row.columns, at)

    def _y(self, post: Post) -> float:
        return self.far if post is Post.FAR else self.home

    def _ink(self, yarn: str) -> Ink:
        return self.drawing.sheet.inks[yarn]

    def _posts(self) -> list[Mark]:
        size, left = self.drawing.sheet.sizes.body, self._start - START_DOT
        right = self._start + self.drawing.grid.width(self.row.columns) + _past_last(self.drawing.sheet)
        marks: list[Mark] = []
        for y, name, colour in ((self.home, winding_words.HOME, BLACK), (self.far, winding_words.FAR, ACCENT)):
            marks.append(Line(left, y, right, y, HEAVY, colour))
            marks.append(Words(self.left, y + cap_height(size) / 2, name, Face.SANS_SEMIBOLD, size, colour))
        return marks

    def _stroke(self, at: int) -> Sequence[Mark]:
        """One end, from one post to the other."""
        stroke, pitch = self.drawing.walk.strokes[at - 1], self.drawing.grid.pitch
        x, thick = self._x(at), self.widths[stroke.yarn]
        return thread_line(self._ink(stroke.yarn), x - pitch, self._y(stroke.start), x, self._y(stroke.stop), thick)

    def _empty_walk(self, before: int, at: int) -> Line:
        """The way from where a stroke ended to where the ball of the next one waits, which makes no end."""
        walk, start = self.drawing.walk, self._x(at) - self.drawing.grid.pitch
        stop_of_last, start_of_next = self._y(walk.stop_of(before)), self._y(walk.strokes[at - 1].start)
        return Line(self._x(before), stop_of_last, start, start_of_next, EMPTY_WALK_DOT, BLACK, EMPTY_WALK)

    def _breaks(self) -> list[Mark]:
        """Three dots where strokes of a long stripe are left out."""
        grid, row = self.drawing.grid, self.row.columns
        gaps = [self._start + grid.right(row, at) + (GAP_COLUMNS / 2 - 1) * grid.pitch for at in grid.columns.gaps(row)]
        middle = (self.home + self.far) / 2
        pitch = min(grid.pitch, MOST_BREAK)
        return [
            Dot(x + aside * BREAK_STEP * pitch, middle, BREAK_DOT * pitch, BLACK) for x in gaps for aside in (-1, 0, 1)
        ]

    def _waiting_balls(self, strokes: Sequence[int]) -> list[Mark]:
        """Where each ball waits after its stripe: a dot at the post."""
        walk, radius = self.drawing.walk, self.drawing.ball
        stops = [(run.total, self._ink(run.yarn)) for run in self.drawing.sheet.plan.runs if run.total in strokes]
        return [Dot(self._x(at), self._y(walk.stop_of(at)), radius, ink.fill, BLACK, OUTLINE) for at, ink in stops]
