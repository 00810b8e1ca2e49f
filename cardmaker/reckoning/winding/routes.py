"""Which pegs one end visits on a board or table, so that it is long enough with the least to spare.

A thread starts at home, passes the cross pegs by turns on one side and the other (the reverse on the way back), then
follows the board's ``order`` and turns at the last peg it reaches. *Allowed* is a route that a hand remembers: the
first peg of the order, which keeps the cross stretched, and then the next ones up to any of them, with at most one
shortcut on the way that leaves out a run of neighbouring pegs. On n pegs that is some n^3/6 routes. (With any number of
shortcuts there would be 2^n, and the least spare a riddle of sums with no quick answer and nothing gained.)

Every peg of the order is bent round on the inner side of the corner that the route makes there; one in a straight line
keeps the side of the peg before. A route can be *wound* when the room lets it be (see ``room``).

One end is half a round trip. All allowed lengths come from one another by adding a leg and an arc: after a shortcut, as
soon as the thread runs as it does without it, the lengths without it are used again, plus what the shortcut changed.
The lengths are exact to 1e-6 mm, so asking the room from the least spare upwards gives the same answer as trying every
allowed route. Common practice, no source; the choice of allowed routes is ours.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import hypot, inf, pi

from cardmaker.model.peg_plan import Bend, PassedPeg, Pegs, Point, ThreadPath
from cardmaker.model.record_class import record
from cardmaker.reckoning.winding.clearance import EXACT_MM, Clearance
from cardmaker.reckoning.winding.thread_path import NO_BEND, path_round_pegs, tangent, without_untouched, wrap


@record
class Route:
    """The pegs visited after the cross, the far peg last, and the length of one end.

    ``kept`` counts the pegs before the shortcut, and ``resumed`` is the index in the order of the first peg after it;
    both are nought without one.
    """

    visited: tuple[str, ...]
    length_mm: float
    kept: int = 0
    resumed: int = 0

    @property
    def has_shortcut(self) -> bool:
        return self.kept != self.resumed


@record
class _State:
    """A thread that has just reached a peg: length so far, its bend there, the headings on the way out and back.

    The way back is followed from home too, as if it were a second way out with the cross pegs on their other sides.
    """

    length: float
    sign: int
    headings: tuple[float, float]


def corner_bend(before: Point, here: Point, after: Point, straight: Bend) -> Bend:
    """The side on which a thread bends at a corner of the line of centres; ``straight`` where there is no corner."""
    first, second = (here[0] - before[0], here[1] - before[1]), (after[0] - here[0], after[1] - here[1])
    cross = first[0] * second[1] - first[1] * second[0]
    if abs(cross) <= NO_BEND * hypot(*first) * hypot(*second):
        return straight
    return Bend.RIGHT if cross > 0 else Bend.LEFT


def cross_bends(pegs: Pegs) -> tuple[Bend, ...]:
    """The bends at home and at each cross peg on the way out. Home loops the way of the first cross peg."""
    sides = tuple(Bend.LEFT if index % 2 == 0 else Bend.RIGHT for index in range(len(pegs.cross)))
    return (sides[:1] or (Bend.LEFT,)) + sides


def _points(pegs: Pegs) -> dict[str, Point]:
    return {peg.name: (float(peg.x_mm), float(peg.y_mm)) for peg in pegs.pegs}


def _visited_bends(pegs: Pegs, at: Mapping[str, Point], visited: Sequence[str]) -> tuple[Bend, ...]:
    """The bends at the visited pegs on the way out; the far peg keeps the bend of the one before."""
    bends, before = [cross_bends(pegs)[-1]], (pegs.home, *pegs.cross)[-1]
    for here, after in pairwise(visited):
        bends.append(corner_bend(at[before], at[here], at[after], bends[-1]))
        before = here
    return (*bends[1:], bends[-1])


def round_trip(pegs: Pegs, visited: Sequence[str], radius_mm: float) -> tuple[ThreadPath, int]:
    """Out along the cross and the visited pegs and back again, as one closed thread, and the index of the far peg.

    On the way back a visited peg is passed on the same side of the peg, a cross peg on the other one.
    """
    return _round_trip(pegs, _points(pegs), visited, radius_mm)


def _round_trip(
    pegs: Pegs, at: Mapping[str, Point], visited: Sequence[str], radius_mm: float
) -> tuple[ThreadPath, int]:
    def passed(names: Sequence[str], bends: Sequence[Bend]) -> list[PassedPeg]:
        return [PassedPeg(name, *at[name], radius_mm, bend) for name, bend in zip(names, bends, strict=True)]

    bends = _visited_bends(pegs, at, visited)
    out = passed(visited, bends)
    back = [out[-1], *passed(visited[-2::-1], [bend.opposite for bend in bends[-2::-1]])]
    home, *cross = passed((pegs.home, *pegs.cross), cross_bends(pegs))
    start = without_untouched([home, *cross, out[0]], pegs.cross)[:-1]
    finish = without_untouched([back[-1], *reversed(cross), home], pegs.cross)[1:-1]
    return path_round_pegs([*start, *out, *back[1:], *finish], closed=True), len(start) + len(out) - 1


@dataclass(slots=True)
class _Lengths:
    """The length of every allowed route, without measuring any stretch of them anew."""

    pegs: Pegs
    radius: float
    points: list[Point] = field(init=False)
    before_order: Point = field(init=False)
    at: dict[str, Point] = field(init=False)
    known_tangents: dict[tuple[int, int, int, int], tuple[float, float]] = field(init=False, default_factory=dict)
    known_heads: dict[tuple[int, int, int], _State] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.at = _points(self.pegs)
        self.points = [self.at[name] for name in self.pegs.order]
        self.before_order = self.at[(self.pegs.home, *self.pegs.cross)[-1]]

    def all(self) -> Iterator[tuple[float, int, int, int]]:
        """``(length, kept, resumed, far)`` of each: the first ``kept`` pegs, then those from ``resumed`` to ``far``."""
        count = len(self.points)
        plain = [self._reach(None, None, 0, 1)] if count > 1 else []
        for here in range(1, count - 1):
            plain.append(self._reach(plain[-1], here - 1, here, here + 1))
        whole = [self._turn(plain[far - 1] if far else None, far - 1 if far else None, far) for far in range(count)]
        yield from ((length, 0, 0, far) for far, length in enumerate(whole))
        for kept in range(1, count - 1):
            for resumed in range(kept + 1, count):
                yield from self._with_shortcut(kept, resumed, plain, whole)

    def _with_shortcut(
        self, kept: int, resumed: int, plain: list[_State], whole: list[float]
    ) -> Iterator[tuple[float, int, int, int]]:
        before, last = kept - 1, len(self.points) - 1
        state = self._reach(plain[before - 1] if before else None, before - 1 if before else None, before, resumed)
        for far in range(resumed, last + 1):
            yield self._turn(state, before, far), kept, resumed, far
            if far == last:
                return
            state, before = self._reach(state, before, far, far + 1), far
            if state.sign == plain[far].sign and state.headings == plain[far].headings:  # as without the shortcut
                saved = plain[far].length - state.length
                yield from ((whole[turn] - saved, kept, resumed, turn) for turn in range(far + 1, last + 1))
                return

    def _reach(self, state: _State | None, before: int | None, here: int, after: int) -> _State:
        """The thread at peg ``here`` that goes on to ``after``."""
        start = self.points[before] if before is not None else self.before_order
        straight = Bend.RIGHT if self._sign(state) > 0 else Bend.LEFT
        sign = corner_bend(start, self.points[here], self.points[after], straight).sign
        return self._step(state, before, here, sign, sign)

    def _turn(self, state: _State | None, before: int | None, far: int) -> float:
        """The length of an end that turns at ``far``."""
        sign = self._sign(state)
        arrived = self._step(state, before, far, sign, -sign)
        out, back = arrived.headings
        return arrived.length + self.radius * wrap(out, back + pi, sign) / 2

    def _sign(self, state: _State | None) -> int:
        return state.sign if state is not None else cross_bends(self.pegs)[-1].sign

    def _step(self, state: _State | None, before: int | None, here: int, out: int, back: int) -> _State:
        if state is None or before is None:
            if (here, out, back) not in self.known_heads:
                self.known_heads[here, out, back] = self._head(here, out, back)
            return self.known_heads[here, out, back]
        ways = self._tangent(before, state.sign, here, out), self._tangent(before, state.sign, here, back)
        length = state.length
        for (straight, heading), arriving in zip(ways, state.headings, strict=True):
            length += (straight + self.radius * wrap(arriving, heading, state.sign)) / 2
        return _State(length, out, (ways[0][1], ways[1][1]))

    def _tangent(self, start: int, start_sign: int, stop: int, stop_sign: int) -> tuple[float, float]:
        key = (start, start_sign, stop, stop_sign)
        if key not in self.known_tangents:
            (x, y), (stop_x, stop_y) = self.points[start], self.points[stop]
            offsets = start_sign * self.radius, stop_sign * self.radius
            self.known_tangents[key] = tangent((stop_x - x, stop_y - y), *offsets)
        return self.known_tangents[key]

    def _head(self, first: int, out: int, back: int) -> _State:
        """From the middle of the home loop, past the cross, to the first visited peg."""
        names, bends = (self.pegs.home, *self.pegs.cross), cross_bends(self.pegs)
        length, headings, leaving = 0.0, [], []
        for sign, flip in ((out, False), (back, True)):
            here = [bend.opposite if flip else bend for bend in bends]
            passed = [PassedPeg(n, *self.at[n], self.radius, bend) for n, bend in zip(names, here, strict=True)]
            last = PassedPeg("", *self.points[first], self.radius, Bend.RIGHT if sign > 0 else Bend.LEFT)
            way = path_round_pegs(without_untouched([*passed, last], self.pegs.cross))
            length += way.length_mm / 2
            headings.append(way.legs[-1].heading)
            leaving.append(way.legs[0].heading)
        loop = self.radius * wrap(leaving[1] + pi, leaving[0], bends[0].sign) / 2
        return _State(length + loop, out, (headings[0], headings[1]))


_RankedRoute = tuple[
    float, bool, int, int, int, int, float
]  # first by length; of equal ones the plainer, then the shorter


def _ranked_routes(pegs: Pegs, radius_mm: float) -> list[_RankedRoute]:
    return sorted(
        (round(length, 6), kept != resumed, kept - resumed + far, kept, resumed, far, length)
        for length, kept, resumed, far in _Lengths(pegs, radius_mm).all()
    )


def _route(pegs: Pegs, ranked: _RankedRoute) -> Route:
    kept, resumed, far, length = ranked[3:]
    return Route(pegs.order[:kept] + pegs.order[resumed : far + 1], length, kept, resumed)


@dataclass(slots=True)
class _Sieve:
    """Lets through the routes that can be wound, and remembers where others failed: all that begin alike fail too."""

    pegs: Pegs
    radius: float
    room: Clearance = field(init=False)
    faulty_order: float = inf  # so many pegs of the order, one after another, cannot be wound
    faulty_after: dict[tuple[int, int], int] = field(init=False, default_factory=dict)  # the same, by shortcut

    def __post_init__(self) -> None:
        self.room = Clearance(self.pegs, self.radius)

    def lets_through(self, route: Route) -> bool:
        shortcut, count = (route.kept, route.resumed), len(route.visited)
        in_order = route.kept if route.has_shortcut else count
        if in_order >= self.faulty_order or count >= self.faulty_after.get(shortcut, inf):
            return False
        path, turning = _round_trip(self.pegs, self.room.points, route.visited, self.radius)
        fault = self.room.first_fault(path, turning, count)
        if fault is None:
            return True
        if fault <= in_order and fault < count:
            self.faulty_order = min(self.faulty_order, fault)
        elif fault < count:
            self.faulty_after[shortcut] = fault
        return False


def nearest_routes(pegs: Pegs, wanted_mm: float, radius_mm: float) -> tuple[Route | None, Route | None]:
    """The longest route that is too short and the shortest that is long enough, of those that can be wound.

    Either is None where there is none. Raises ValueError where two pegs leave no room for a thread between them.
    """
    ranked, sieve = _ranked_routes(pegs, radius_mm), _Sieve(pegs, radius_mm)
    split = bisect_left(ranked, wanted_mm - EXACT_MM, key=lambda route: route[-1])

    def first_wound(routes: Iterable[_RankedRoute]) -> Route | None:
        return next(filter(sieve.lets_through, (_route(pegs, route) for route in routes)), None)

    return first_wound(reversed(ranked[:split])), first_wound(ranked[split:])
