"""Step 3 drawn: from the mark, space by space, to the first one, where end 1 is taken through.

The board is this loom's: its holes and slots as they alternate, an edge only where it really is so near, else wood
that is torn off. What lies far between mark and first space is left out at a break. End 2 waits before the next space.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil, floor
from typing import Final, Literal, NamedTuple

from cardmaker.card.dressing.act_drawing import (
    DARK,
    EDGE,
    LIGHT,
    THREAD,
    arrow,
    end_on,
    label,
    stroke,
    thread,
)
from cardmaker.card.dressing.act_figures import ActFigures, Board
from cardmaker.card.dressing.act_loom_parts import needle, plank
from cardmaker.card.dressing.curves import Curve, straight, through
from cardmaker.layout.ink import ACCENT, BLACK, WHITE
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Dot, Face, Mark, Path, Rectangle

TOP, BOTTOM = 12.0, 25.0  # mm: of the board
SLOT_TOP, SLOT_BOTTOM = 13.9, 23.1
EYE: Final = 18.5  # mm: the height of the holes
SLOT_WIDE, HOLE_RADIUS = 1.7, 1.05
LEFT, RIGHT = 1.2, 43.8  # mm: between these stands the board
WIDEST: Final = 4.6  # mm from space to space
MOST: Final = 9  # spaces that are drawn; more lie between mark and first space: the board is broken
GAP: Final = 1.4  # spaces that a break takes
CHEEK: Final = 0.35  # spaces of wood beyond the outermost one that is drawn
HOP: Final = 2.6  # mm: how high a step of the count is
LANDING: Final = TOP - 2.3  # clear of the mark, which the count begins on
MARK: Final = (1.1, 1.7)  # mm: half as wide, and how high the mark is


class _Columns(NamedTuple):
    """Where the spaces stand that are drawn: one row of neighbours, or two with a break between."""

    board: Board
    groups: tuple[range, ...]

    @property
    def pitch(self) -> float:
        wide = sum(map(len, self.groups)) + GAP * (len(self.groups) - 1) + 2 * CHEEK
        return min(WIDEST, (RIGHT - LEFT) / wide)

    @property
    def wood(self) -> tuple[float, float]:
        """Its left and its right end."""
        aside = (CHEEK + 0.5) * self.pitch
        return self.x(self.groups[0].start) - aside, self.x(self.groups[-1].stop - 1) + aside

    @property
    def spaces(self) -> list[int]:
        return [space for group in self.groups for space in group]

    def x(self, space: float) -> float:
        """The middle of a space; of half a space the middle between two."""
        gap = GAP if self.groups[-1].start <= space + 0.5 and len(self.groups) > 1 else 0.0
        start = self.groups[-1].start - gap - len(self.groups[0]) if gap else self.groups[0].start
        wide = sum(map(len, self.groups)) + GAP * (len(self.groups) - 1)
        return (LEFT + RIGHT) / 2 + (space - start + 0.5 - wide / 2) * self.pitch

    @property
    def breaks(self) -> list[float]:
        return [(self.x(before.stop - 1) + self.x(after.start)) / 2 for before, after in pairwise(self.groups)]


def _columns(board: Board) -> _Columns:
    """From one space beyond the first to one beyond the mark, and no less than two more for the next ends."""
    first, near, far = board.first_space, floor(board.mark), ceil(board.mark)
    low, high = max(1, min(first, near) - 1), min(len(board.kinds), max(first + 1, far) + 1)
    if high - low < MOST:
        return _Columns(board, (range(low, high + 1),))
    return _Columns(board, (range(low, low + 4), range(high - 3, high + 1)))


def first_space_picture(act: ActFigures) -> tuple[Mark, ...]:
    """The board with its mark, the count from there, and end 1 on its way through its space."""
    columns = _columns(act.front)
    way: Literal[-1, 1] = 1 if act.front.first_space > act.front.mark else -1
    x = columns.x(act.front.first_space)
    lean = 1.0 if act.counts_from_mark else 2.4
    behind, before = _end_drawn_near(x, way, lean) if act.needle_comes_near else _end(x, way, lean)
    return (
        *thread(behind, DARK, round_ends=False),
        *(() if act.needle_comes_near else needle(behind)),
        *_wood(columns),
        *(mark for space in columns.spaces for mark in _opening(columns, space, act)),
        *end_on(x, EYE, (THREAD + EDGE) / 2, DARK),
        *thread(before, DARK, round_ends=False),
        *(needle(before) if act.needle_comes_near else ()),
        *_next_end(columns, act),
        *_pencil_mark(columns.x(act.front.mark)),
        *_count(columns, act),
    )


def _end(x: float, way: int, lean: float) -> tuple[Curve, Curve]:
    """End 1 behind the board, up to its needle, and before it, on its way in; ``lean`` keeps it clear of the mark."""
    behind = through((x, EYE), (x + way * 0.3 * lean, TOP), (x + way * 1.4 * lean, 8.2))
    return behind, through((x + way * 3.2, 34.3), (x + way * 2.6, 31.0), (x, EYE))


def _end_drawn_near(x: float, way: int, lean: float) -> tuple[Curve, Curve]:
    """The same where it is drawn through towards the weaver: it comes over from behind, and down before the board."""
    behind = through((x + way * (3.0 + lean), 0.9), (x + way * 2.4 * lean, 5.6), (x + way * 0.5 * lean, TOP), (x, EYE))
    return behind, through((x, EYE), (x + way * 0.2, 24.0), (x + way * 1.4, 28.0))


def _wood(columns: _Columns) -> list[Mark]:
    """The board: rounded where it ends, torn where it goes on, with a gap where spaces are left out."""
    left, right = columns.wood
    middles = columns.breaks
    half = GAP * columns.pitch * 0.3
    starts, stops = [left, *(x + half for x in middles)], [*(x - half for x in middles), right]
    ends_left = columns.groups[0].start == 1
    ends_right = columns.groups[-1].stop - 1 == len(columns.board.kinds)
    marks: list[Mark] = []
    for number, (start, stop) in enumerate(zip(starts, stops, strict=True)):
        whole = ends_left and number == 0, ends_right and number == len(starts) - 1
        marks += plank(Box(start, TOP, stop - start, BOTTOM - TOP), ends_left=whole[0], ends_right=whole[1])
    return marks


def _opening(columns: _Columns, space: int, act: ActFigures) -> list[Mark]:
    """A hole or a slot; through the slot of end 1 it is seen on its way behind the board."""
    x = columns.x(space)
    if columns.board.kinds[space - 1] is Space.HOLE:
        return [Dot(x, EYE, HOLE_RADIUS, WHITE, BLACK, 0.28)]
    box = Box(x - SLOT_WIDE / 2, SLOT_TOP, SLOT_WIDE, SLOT_BOTTOM - SLOT_TOP)
    opening = Rectangle(box, WHITE, BLACK, 0.28, SLOT_WIDE / 2)
    if space != act.front.first_space:
        return [opening]
    seen = straight((x, EYE), (x, SLOT_TOP + 0.2))
    return [opening, *thread(seen, DARK, THREAD - 0.1, EDGE - 0.05, round_ends=False), opening._replace(fill=None)]


def _next_end(columns: _Columns, act: ActFigures) -> list[Mark]:
    """End 2, which waits before the space beside."""
    if act.ends < 2:
        return []
    x = columns.x(act.front.first_space + 1)
    if act.needle_comes_near:
        return []
    end = through((x + 1.6, 34.2), (x + 1.4, 32.4), (x + 0.8, 29.8))
    return [*thread(end, LIGHT), *stroke(straight((x + 0.7, 29.0), (x, EYE + 1.6)), 0.35, BLACK, (0.9, 0.8))]


def _pencil_mark(x: float) -> list[Mark]:
    """The mark: a triangle that stands on the board's upper edge."""
    half, high = MARK
    corners = straight((x - half, TOP - 0.3 - high), (x + half, TOP - 0.3 - high), (x, TOP - 0.3))
    return [Path((*corners.steps(), ("close",)), fill=BLACK)]


def _count(columns: _Columns, act: ActFigures) -> list[Mark]:
    """Hop by hop from the mark to the first space, with what is said there and on the mark."""
    board, size = columns.board, act.type_size
    mark, first = columns.x(board.mark), columns.x(board.first_space)
    way = 1 if first > mark else -1
    beside = mark - way * (2.2 + act.ruler.width_mm(act.mark_says, Face.SANS_BOLD, size) / 2)
    marks: list[Mark] = [label(beside, TOP - 0.9, act.mark_says, size, bold=True)]
    if not act.counts_from_mark:
        return marks
    stations = [mark, *(columns.x(space) for space in _told(columns, board))]
    hops = list(pairwise(stations))
    top = 0.0
    for number, (start, stop) in enumerate(hops):
        wide = abs(start - stop) > 1.4 * columns.pitch
        height = HOP * (1.5 if wide else 1.0)
        top = max(top, height)
        hop = _hop(start, stop, height)
        if number == len(hops) - 1:
            marks += arrow(hop, 0.5, 1.7)
        else:
            marks += stroke(hop, 0.5, ACCENT, (1.0, 0.7) if wide else ())
    middle = (mark + first) / 2
    return [*marks, label(middle, LANDING - top - 0.6, act.count, size * 1.4, ACCENT, bold=True)]


def _told(columns: _Columns, board: Board) -> list[int]:
    """The spaces on which a number is said, from beside the mark to the first one, as far as they are drawn."""
    first = board.first_space
    if first < board.mark:
        return [space for space in reversed(columns.spaces) if first <= space < board.mark]
    return [space for space in columns.spaces if board.mark < space <= first]


def _hop(start: float, stop: float, height: float) -> Curve:
    top = LANDING - height * 4 / 3
    lean = (stop - start) * 0.12
    return Curve((((start, LANDING), (start + lean, top), (stop - lean, top), (stop, LANDING)),))
