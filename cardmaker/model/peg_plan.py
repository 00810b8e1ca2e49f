"""Where a warp is wound, and how to set the pegs: the route of one end, its length round them, and what a panel draws.

Points and angles are floats in the pegs' own frame: millimetres to the right of and below the top left corner, seen
from above; angles in radians, clockwise from "to the right", since y grows downwards. They are good to 1e-6 mm. Lengths
to print are Fractions, taken from those floats to the sixth decimal of a millimetre.
"""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from math import cos, sin
from typing import Literal

from cardmaker.model.problems import NOWHERE, Places
from cardmaker.model.record_class import record, uncompared

Point = tuple[float, float]


@record
class Peg:
    """One peg's centre: millimetres to the right of and below the top left corner of the board, seen from above."""

    name: str
    x_mm: Fraction
    y_mm: Fraction


@record
class Pegs:
    """Where a warp is wound. A board or table has ``pegs``; a span has a shortest and a longest distance.

    A thread starts at ``home``, passes the ``cross`` pegs as over and under (the reverse on the way back), and may then
    visit the pegs of ``order`` in that order, turning at the last one it reaches.
    """

    title: str
    stem: str
    kind: Literal["board", "table", "span"]
    pegs: tuple[Peg, ...] = ()
    diameter_mm: Fraction = Fraction(0)
    height_mm: Fraction | None = None
    home: str = ""
    cross: tuple[str, ...] = ()  # two names, or three where a second, false cross appears
    order: tuple[str, ...] = ()
    shortest_mm: Fraction | None = None
    longest_mm: Fraction | None = None
    surface_mm: tuple[Fraction, Fraction] | None = None  # width and depth of the board or table top
    about: str = ""
    marked_as: str = ""
    places: Places = uncompared(default=NOWHERE)


class Bend(StrEnum):
    """Which way a travelling thread bends round a peg: the peg lies on that side of the thread, seen from above."""

    LEFT = "left"  # counter-clockwise
    RIGHT = "right"  # clockwise

    @property
    def sign(self) -> int:
        """+1 where angles grow along the bend, -1 where they shrink."""
        return 1 if self is Bend.RIGHT else -1

    @property
    def opposite(self) -> Bend:
        return Bend.LEFT if self is Bend.RIGHT else Bend.RIGHT


@record
class PassedPeg:
    """One peg as the thread passes it. ``radius_mm`` is half the peg and half the yarn: to the middle of the thread."""

    name: str
    x_mm: float
    y_mm: float
    radius_mm: float
    bend: Bend


@record
class Leg:
    """The straight thread between two pegs, from tangent point to tangent point."""

    start: Point
    stop: Point
    length_mm: float
    heading: float  # radians


@record
class Arc:
    """The thread lying on a peg. ``sweep`` is positive where it runs clockwise."""

    peg: PassedPeg
    start_angle: float  # radians, from the peg's centre to where the thread arrives
    sweep: float  # radians

    @property
    def length_mm(self) -> float:
        return self.peg.radius_mm * abs(self.sweep)

    @property
    def start(self) -> Point:
        return self._at(self.start_angle)

    @property
    def stop(self) -> Point:
        return self._at(self.start_angle + self.sweep)

    def _at(self, angle: float) -> Point:
        return self.peg.x_mm + self.peg.radius_mm * cos(angle), self.peg.y_mm + self.peg.radius_mm * sin(angle)


@record
class ThreadPath:
    """A taut thread: leg ``i`` leaves peg ``i`` of ``passed``, and ``arcs`` lie on the pegs in the same order.

    An open thread begins where it leaves its first peg and stops where it reaches its last, so it has no arc on either;
    a closed thread returns to its first peg and has an arc on every one.
    """

    passed: tuple[PassedPeg, ...]
    legs: tuple[Leg, ...]
    arcs: tuple[Arc, ...]

    @property
    def length_mm(self) -> float:
        return sum(leg.length_mm for leg in self.legs) + sum(arc.length_mm for arc in self.arcs)

    @property
    def wrap(self) -> float:
        """All the bending together, in radians."""
        return sum(abs(arc.sweep) for arc in self.arcs)


@record
class Dimension:
    """A distance to measure when the pegs are set: between two centres, and clear between the two pegs' faces."""

    start: Peg
    stop: Peg
    centres_mm: Fraction
    clear_mm: Fraction


@record
class PegPlan:
    """Where the thread goes on these pegs, how long one end of it is, and what to measure.

    ``length_mm`` is half of one round trip, so an end reaches from the middle of the home loop, where it will be cut,
    to the middle of the turn at the far peg. ``round_trip`` is that round trip: its first pegs are the way out, and
    the rest, from ``turning`` on, the way back. A cross peg that one of the two ways passes without touching is not
    in it.
    """

    title: str
    kind: Literal["board", "table", "span"]
    pegs: tuple[Peg, ...]  # all that stand there, visited or not; of a span with the far post in its place
    diameter_mm: Fraction
    surface_mm: tuple[Fraction, Fraction] | None
    route: tuple[str, ...]  # home, the cross pegs, then the rest to the far peg
    cross: tuple[str, ...]
    skipped: tuple[str, ...]  # pegs of the order that the route passes by before its far peg
    wanted_mm: Fraction
    length_mm: Fraction  # of one end, round the real pegs
    centres_mm: Fraction  # of one end, from centre to centre
    distance_mm: Fraction | None  # of a span: home to far, centre to centre
    dimensions: tuple[Dimension, ...]
    guide_string_mm: Fraction  # laid along the route it must not reach past the far peg
    walking_mm: Fraction  # ends times length
    stack_mm: Fraction  # height of all ends side by side on a cross peg, in one layer
    stack_limit_mm: Fraction | None  # the peg's height, where it is known
    pile_up_mm: tuple[Fraction, Fraction]  # how much longer the last end is: ends well spread, ends heaped up
    round_trip: ThreadPath
    turning: int  # index of the far peg in the round trip

    @property
    def spare_mm(self) -> Fraction:
        return max(Fraction(0), self.length_mm - self.wanted_mm)

    @property
    def round_pegs_mm(self) -> Fraction:
        """What the way round the pegs is longer than the one from centre to centre."""
        return self.length_mm - self.centres_mm

    @property
    def home(self) -> str:
        return self.route[0]

    @property
    def far(self) -> str:
        return self.route[-1]

    @property
    def stack_is_too_high(self) -> bool:
        return self.stack_limit_mm is not None and self.stack_mm > self.stack_limit_mm

    @property
    def has_false_cross(self) -> bool:
        """With three cross pegs a second X appears that is not made by single ends (needs no source: a drawing)."""
        return len(self.cross) > 2
