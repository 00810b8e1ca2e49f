"""Step 4 drawn: two heddles from the seat, and the way of each end through a hole in one and a slot in the other.

The first ends of this warp, in the spaces that they have. Boards that are alike hang in line, so that every end slants
by one space; opposite ones let it run straight. The last end that is drawn has its hole and its slot ringed and named.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from cardmaker.card.dressing.act_drawing import EDGE, THREAD, hole, ink_of_end, slot, stroke, thread
from cardmaker.card.dressing.act_figures import ActFigures, Board
from cardmaker.card.dressing.act_loom_parts import needle, plank
from cardmaker.card.dressing.curves import Curve, straight
from cardmaker.layout.ink import ACCENT, BLACK
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Dot, Face, Mark, Words

MOST: Final = 5  # ends that are drawn
SPACES: Final = 7  # that each board shows: one beyond the ends at either side
PITCH: Final = 4.3  # mm from space to space in the nearer board
LEFT: Final = 2.2  # mm: where its spaces begin
FARTHER: Final = 0.86  # how much smaller the farther board is drawn
VANISHING: Final = 17.6  # mm: where one board hangs right behind the other
FAR_TOP, FAR_HIGH = 8.8, 8.0  # mm
NEAR_TOP, NEAR_HIGH = 21.4, 9.4
RING: Final = 2.0  # mm
NAMES_RIGHT: Final = 44.2  # mm: where the names end
CHEEK: Final = 0.3  # spaces of wood beyond the outermost one


class _Hung(NamedTuple):
    """A board as it hangs: the spaces that are drawn, and how large."""

    board: Board
    spaces: range
    top: float
    high: float
    scale: float

    @property
    def eye(self) -> float:
        """The height of its holes."""
        return self.top + self.high / 2

    def x(self, space: float) -> float:
        """The middle of a space."""
        return VANISHING + (LEFT + PITCH * (space - self.spaces.start + 0.5) - VANISHING) * self.scale

    def space_of(self, end_number: int) -> int:
        return self.board.first_space + end_number - 1

    def kind(self, end_number: int) -> Space:
        """What an end goes through here."""
        return self.board.kinds[self.space_of(end_number) - 1]

    def way(self, end_number: int) -> tuple[float, float]:
        """Where it goes through."""
        return self.x(self.space_of(end_number)), self.eye

    def marks(self) -> Iterator[Mark]:
        """The wood, and what is cut into it."""
        last = self.spaces.stop - 1
        left, right = self.x(self.spaces.start - 0.5 - CHEEK), self.x(last + 0.5 + CHEEK)
        wood = Box(left, self.top, right - left, self.high)
        yield from plank(wood, ends_left=self.spaces.start == 1, ends_right=last == len(self.board.kinds))
        for space in self.spaces:
            if self.board.kinds[space - 1] is Space.HOLE:
                yield from hole(self.x(space), self.eye, 1.05 * self.scale)
            else:
                inset = 1.1 * self.scale
                yield from slot(self.x(space), self.top + inset, self.top + self.high - inset, 1.7 * self.scale)


class _Way(NamedTuple):
    """One end's way: its number, and where it goes through the nearer board and the farther one."""

    number: int
    near: tuple[float, float]
    far: tuple[float, float]


def two_heddles_picture(act: ActFigures) -> tuple[Mark, ...]:
    """The nearer board below, the farther one above it, the ends through both, the last one just led through.

    From the seat the front heddle is the nearer one, from behind the back one.

    Raises ValueError on a loom with one heddle.
    """
    if act.back is None:
        raise ValueError("no second heddle hangs behind the only one")
    first = max(1, act.front.first_space - 1)
    spaces = range(first, min(len(act.front.kinds), first + SPACES - 1) + 1)
    boards = (act.back, act.front) if act.from_behind else (act.front, act.back)
    near = _Hung(boards[0], spaces, NEAR_TOP, NEAR_HIGH, 1.0)
    far = _Hung(boards[1], spaces, FAR_TOP, FAR_HIGH, FARTHER)
    ways = [_Way(number, near.way(number), far.way(number)) for number in range(1, min(act.ends, MOST) + 1)]
    led = ways[-1]
    return (
        *(mark for way in ways for mark in _beyond(act, way, led)),
        *far.marks(),
        *(mark for way in ways for mark in _between(way)),
        *near.marks(),
        *(mark for way in ways for mark in _before(act, way, led)),
        *_named(act, led, near, far),
    )


def _beyond(act: ActFigures, way: _Way, led: _Way) -> list[Mark]:
    """Behind the farther board."""
    (x, y), ink = way.far, ink_of_end(way.number)
    if way is not led or act.needle_comes_near:
        return [*thread(straight((x, y), (x * 0.97 + 0.5, 0.9)), ink, round_ends=False)]
    end = straight((x, y), (x, FAR_TOP), (x + 0.3, FAR_TOP - 1.7))
    return [*thread(end, ink, round_ends=False), *needle(end)]


def _between(way: _Way) -> list[Mark]:
    """From behind the nearer board into the farther one."""
    (x, y), (behind_x, behind_y) = way.near, way.far
    start = (x + (behind_x - x) * 0.1, y - 1)
    return _into(straight(start, (behind_x, behind_y)), way.number)


def _before(act: ActFigures, way: _Way, led: _Way) -> list[Mark]:
    """Before the nearer board, from below into it."""
    x, y = way.near
    if way is not led or not act.needle_comes_near:
        return _into(straight((x * 0.96 + 0.7, 34.3), (x, y)), way.number)
    end = straight((x, y), (x, y + 0.8))
    return [*thread(end, ink_of_end(way.number)), *needle(end)]


def _into(curve: Curve, number: int) -> list[Mark]:
    """An end that goes into a space where its curve stops."""
    x, y = curve.pieces[-1][3]
    ink = ink_of_end(number)
    return [Dot(x, y, THREAD / 2 + EDGE / 2, ink, BLACK, EDGE), *thread(curve, ink, round_ends=False)]


def _named(act: ActFigures, led: _Way, near: _Hung, far: _Hung) -> list[Mark]:
    """Rings round the hole and the slot of one end; their names, and which board is which, clear of the boards."""
    size, high = act.type_size, cap_height(act.type_size)
    names = ("front", "back") if act.from_behind else ("back", "front")
    marks: list[Mark] = []
    for board, (x, y), name, base, way in (
        (far, led.far, names[0], 0.9 + high, -1),
        (near, led.near, names[1], 33.7, 1),
    ):
        kind, reach, turn = board.kind(led.number), RING * 0.71, base - high / 2
        start = (x + reach, y + way * reach)
        stop = NAMES_RIGHT - act.ruler.width_mm(kind, Face.SANS_BOLD, size) - 0.9
        corner = min(start[0] + abs(turn - start[1]), stop - 0.8)
        marks.append(Dot(x, y, RING, stroke=ACCENT, width=0.5))
        marks += stroke(straight(start, (corner, turn), (stop, turn)), 0.3)
        marks.append(Words(NAMES_RIGHT, base, kind, Face.SANS_BOLD, size, BLACK, "right"))
        marks.append(Words(NAMES_RIGHT, base - way * high * 1.7, name, Face.SANS, size, BLACK, "right"))
    return marks
