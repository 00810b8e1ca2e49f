"""The walk as a drawing: rows of strokes between home and far, brackets over them, running totals to tick at the posts.

A colour change falls where it falls, above or below, so that a change at the far post is seen, not read.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from cardmaker.card.bracket_drawing import BracketRow, bracket_rows
from cardmaker.card.brackets import Bracket, brackets_over
from cardmaker.card.panels.walk_columns import GAP_COLUMNS, WalkGrid, columns_in_rows
from cardmaker.card.rows_of_ends import end_pitch
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, HEAVY, OUTLINE, WHITE, Ink
from cardmaker.layout.single_threads import thread_line
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.tick_squares import tick_side, tick_square
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Colour, Dot, Face, Line, Mark, Rectangle, Words
from cardmaker.model.plan import Post
from cardmaker.model.record_class import record, replace
from cardmaker.reckoning.winding.walk import Walk, ticked_totals, walk_of
from cardmaker.wording import winding_words

LEAST_STROKE: Final = 1.28  # mm from stroke to stroke: nearer ones are not told apart
WIDEST_STROKE: Final = 8.0
NARROWEST: Final = 18.0  # mm for the strokes of a row: no stripe with a break is then wider than a row
THICKEST, THICKNESS = 1.2, 0.34  # of a stroke, in mm and as a share of the way to the next
BESIDE_POST: Final = 3.4  # mm from the names of the posts to the first stroke: the dot at home stands there
PAST_LAST: Final = 1.2  # mm, at the least, that the posts go on beyond the last stroke
ROW_GAP: Final = 3.0
LEAST_SPAN, MOST_SPAN = 11.0, 20.0  # from home to far on paper
LEAST_OF_MANY, MOST_OF_MANY = 8.0, 14.0  # the same where there are several rows
OUTSIDE_POST: Final = 1.2  # mm from a post, and the balls on it, to the box to tick beyond it
BETWEEN_LINES: Final = 1.2  # mm from one line of boxes to the next
BESIDE_BOX: Final = 0.7  # mm from a total to its box
BESIDE_TOTAL: Final = 1.9  # mm from a box to the next total: well more than to its own
BESIDE_STEM: Final = 0.5  # mm
ASIDE: Final = (0.0, 0.5, 1.0)  # mm that a box may move on, its stem still under it, to stand on a nearer line
UNDER_BRACKETS: Final = 1.0  # mm
MOST_LINES, MOST_LINES_CROWDED = 5, 4  # of boxes to tick, outside both posts together
START_DOT, BALL_DOT = 1.3, 1.25  # radii
MOST_ROWS, MOST_ROWS_BRIEF = 2, 1  # before long stripes are drawn with a break
BREAK_DOT, BREAK_STEP = 0.27, 0.8  # radius, and from dot to dot, as shares of the way from stroke to stroke
MOST_BREAK: Final = 1.7  # mm of that way
EMPTY_WALK, EMPTY_WALK_DOT = (0.4, 0.9), 0.4  # on and off, and how thick, in mm: dots that a copier keeps


@record
class _Tick:
    """A box to tick with its total: after which stroke, and on which line outside the post it stands."""

    at: int
    total: int
    post: Post
    left: float  # of the total, in mm from where the strokes of its row begin
    box: float  # the left of its box, which stands at the end of the stroke
    stem: float  # where the stroke ends
    line: int

    @property
    def colour(self) -> Colour:
        return ACCENT if self.post is Post.FAR else BLACK


@record
class _Row:
    """One row of the walk: its columns, and what stands above and below them."""

    columns: range
    brackets: BracketRow
    ticks: tuple[_Tick, ...]

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
    in_tens: bool  # whether only tens and the last are ticked, since not every change finds room

    def heights(self) -> HeightRange:
        """The height that it needs, and the most that it can use."""
        rows = len(self.rows)
        least, most = (LEAST_SPAN, MOST_SPAN) if rows == 1 else (LEAST_OF_MANY, MOST_OF_MANY)
        fixed = self._fixed_height
        return HeightRange(fixed + rows * least * self.sheet.picture_share, fixed + rows * most)

    def marks(self, box: Box) -> tuple[Mark, ...]:
        """The drawing in its box, mirrored for a left hand."""
        span = (box.height - self._fixed_height) / len(self.rows)
        marks: list[Mark] = []
        top, start = box.top, box.left + self.names
        for row in self.rows:
            home = top + self._above(row)
            marks += row.brackets.marks(start, top)
            marks += _Strokes(self, row, box.left, home, home + span).marks()
            top = home + span + self._below(row) + ROW_GAP
        return self.sheet.as_mirrored(marks, box)

    @property
    def _fixed_height(self) -> float:
        """Everything but the strokes."""
        return sum(self._above(row) + self._below(row) for row in self.rows) + (len(self.rows) - 1) * ROW_GAP

    def _above(self, row: _Row) -> float:
        return row.brackets.height + UNDER_BRACKETS + self._outside(row.lines(Post.HOME))

    def _below(self, row: _Row) -> float:
        return max(self._outside(row.lines(Post.FAR)), cap_height(self.sheet.sizes.body) / 2)

    def _outside(self, lines: int) -> float:
        return self.outside_post + lines * (self.tick + BETWEEN_LINES) - BETWEEN_LINES if lines else 0.0

    @property
    def outside_post(self) -> float:
        """From a post to the first box beyond it, which stands clear of the balls that wait there."""
        return OUTSIDE_POST + (self.ball if self.sheet.plan.winding.method == "carry" else 0.0)

    @property
    def ball(self) -> float:
        """The radius of a ball that waits."""
        return min(BALL_DOT, self.grid.pitch * 0.32)

    @property
    def tick(self) -> float:
        """The side of a box to tick."""
        return tick_side(self.sheet.sizes.body)


def measured_walk(sheet: Sheet, width: float) -> WalkDrawing | None:
    """The walk by the method that the card recommends, in as many rows as the width asks for; None in too little."""
    walk = walk_of(sheet.plan.runs, sheet.plan.winding.method)
    names = _post_names_width(sheet) + BESIDE_POST
    past_last = _past_last(sheet)
    free = width - names - past_last
    if free < NARROWEST:
        return None
    columns, rows = columns_in_rows(walk, int(free / LEAST_STROKE), MOST_ROWS_BRIEF if sheet.brief else MOST_ROWS)
    grid = WalkGrid(columns, end_pitch(rows, free, WIDEST_STROKE))
    brackets = bracket_rows(sheet, [_brackets(walk, row, grid) for row in rows], free + past_last)
    ticks, in_tens = _ticks(sheet, walk, rows, grid)
    measured = tuple(_Row(*row) for row in zip(rows, brackets, ticks, strict=True))
    return WalkDrawing(sheet, walk, grid, measured, names, in_tens)


def _past_last(sheet: Sheet) -> float:
    """How far the posts go on beyond the last stroke: the half of the box at its end finds room there."""
    return max(PAST_LAST, tick_side(sheet.sizes.body) / 2 + OUTLINE + max(ASIDE))


def _post_names_width(sheet: Sheet) -> float:
    names = (winding_words.HOME, winding_words.FAR)
    return max(sheet.wide(name, Face.SANS_SEMIBOLD, sheet.sizes.body) for name in names)


def _brackets(walk: Walk, row: range, grid: WalkGrid) -> list[Bracket]:
    drawn = grid.drawn(row)
    strokes = range(drawn[0], drawn[-1] + 1)
    return brackets_over(walk.stretches, strokes, lambda at: grid.stop(row, at) - grid.pitch / 2, grid.pitch)


def _ticks(sheet: Sheet, walk: Walk, rows: Sequence[range], grid: WalkGrid) -> tuple[list[tuple[_Tick, ...]], bool]:
    """The boxes to tick of every row; at tens and the last only, where changes are very many or need too many lines."""
    method, is_broken = sheet.plan.winding.method, grid.columns.is_broken
    totals = walk.totals if is_broken else ticked_totals(walk, method)  # a ten may be among what is left out
    ticks = [_row_ticks(sheet, walk, totals, row, grid) for row in rows]
    most = MOST_LINES_CROWDED if sheet.is_crowded else MOST_LINES
    if method == "bundle" or is_broken or all(_line_count(row) <= most for row in ticks):
        return ticks, totals != walk.totals
    return [_row_ticks(sheet, walk, walk.tens, row, grid) for row in rows], True


def _line_count(ticks: Sequence[_Tick]) -> int:
    return len({(tick.post, tick.line) for tick in ticks})


def _row_ticks(sheet: Sheet, walk: Walk, totals: Mapping[int, int], row: range, grid: WalkGrid) -> tuple[_Tick, ...]:
    """Each box stands at its stroke's end, with its total before it, so that the last finds room at the edge too.

    Lines are dealt from the left: the stem of a box on an upper line then runs past the box before it.
    """
    side, size = tick_side(sheet.sizes.body), sheet.sizes.body
    ticks: list[_Tick] = []
    for at in (position for position in grid.drawn(row) if position in totals):
        box = grid.stop(row, at) - side / 2
        left = box - BESIDE_BOX - sheet.wide(str(totals[at]), Face.SANS_BOLD, size)
        tick = _Tick(at, totals[at], walk.stop_of(at), left, box, grid.stop(row, at), 0)
        before = [each for each in ticks if each.post is tick.post]
        moved = [replace(tick, left=left + aside, box=box + aside) for aside in ASIDE]
        placed = [replace(each, line=_free_line(each, before, side)) for each in moved]
        ticks.append(min(placed, key=lambda each: each.line))
    return tuple(ticks)


def _free_line(tick: _Tick, before: Sequence[_Tick], side: float) -> int:
    """The nearest line on which a box and its total meet neither a box before them nor the stem of one above."""

    def is_free(line: int) -> bool:
        return all(
            each.line < line
            or (each.line == line and each.box + side + BESIDE_TOTAL <= tick.left)
            or (each.line > line and each.stem + BESIDE_STEM <= tick.left)
            for each in before
        )

    return next(line for line in range(len(before) + 1) if is_free(line))


@record
class _Strokes:
    """The strokes of a row and what stands at their posts, at heights on the page."""

    drawing: WalkDrawing
    row: _Row
    left: float  # of the drawing
    home: float
    far: float

    def marks(self) -> list[Mark]:
        """All of it, what lies above last."""
        walk, strokes = self.drawing.walk, self.drawing.grid.drawn(self.row.columns)
        marks = self._posts()
        marks += [self._empty_walk(at) for at in strokes[1:] if walk.walks_empty_before(at)]
        for at in strokes:
            marks += self._stroke(at)
        marks += self._breaks()
        if self.drawing.sheet.plan.winding.method == "carry":
            marks += self._waiting_balls(strokes)
        for tick in sorted(self.row.ticks, key=lambda tick: -tick.line):  # an outer one's stem lies below the others
            marks += self._tick(tick)
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
        right = self._start + len(self.row.columns) * self.drawing.grid.pitch + _past_last(self.drawing.sheet)
        marks: list[Mark] = []
        for y, name, colour in ((self.home, winding_words.HOME, BLACK), (self.far, winding_words.FAR, ACCENT)):
            marks.append(Line(left, y, right, y, HEAVY, colour))
            marks.append(Words(self.left, y + cap_height(size) / 2, name, Face.SANS_SEMIBOLD, size, colour))
        return marks

    def _stroke(self, at: int) -> Sequence[Mark]:
        """One end, from one post to the other."""
        stroke, pitch = self.drawing.walk.strokes[at - 1], self.drawing.grid.pitch
        x, thick = self._x(at), min(THICKEST, pitch * THICKNESS)
        return thread_line(self._ink(stroke.yarn), x - pitch, self._y(stroke.start), x, self._y(stroke.stop), thick)

    def _empty_walk(self, at: int) -> Line:
        """The way to where the ball of this stroke waits, which makes no end."""
        x = self._x(at) - self.drawing.grid.pitch
        return Line(x, self.home, x, self.far, EMPTY_WALK_DOT, BLACK, EMPTY_WALK)

    def _breaks(self) -> list[Mark]:
        """Three dots where strokes of a long stripe are left out."""
        grid, row = self.drawing.grid, self.row.columns
        gaps = [self._start + (at - row.start + GAP_COLUMNS / 2) * grid.pitch for at in grid.columns.gaps(row)]
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

    def _tick(self, tick: _Tick) -> list[Mark]:
        """The running total with a box to tick, outside the post where the winder then stands."""
        sheet, side, size = self.drawing.sheet, self.drawing.tick, self.drawing.sheet.sizes.body
        outwards = 1 if tick.post is Post.FAR else -1
        near = self._y(tick.post) + outwards * (self.drawing.outside_post + tick.line * (side + BETWEEN_LINES))
        x, top = self._start + tick.left, min(near, near + outwards * side)
        words = Words(x, top + (side + cap_height(size)) / 2, str(tick.total), Face.SANS_BOLD, size, tick.colour)
        plate = Box(x, top, sheet.wide(words.text, words.face, size), side)
        square = tick_square(self._start + tick.box, top, side, tick.colour)
        stem = Line(self._start + tick.stem, self._y(tick.post), self._start + tick.stem, near, HAIRLINE, tick.colour)
        return [stem, Rectangle(plate, WHITE), *square, words]
