"""Whether a route can be wound: the room that the pegs leave for the thread.

A route can be wound when the thread really touches each peg it visits, runs clear of all others, and crosses itself
nowhere but at the cross: ends with a second crossing lock into one another as the warp is lifted off. Common practice,
no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import hypot
from typing import Final

from cardmaker.model.peg_plan import Bend, Leg, PassedPeg, Pegs, Point, ThreadPath
from cardmaker.reckoning.winding.thread_path import NO_BEND, signed_bend

EXACT_MM: Final = 1e-6  # what is nearer than this is the same length, and no closer is touching (ours)

_Key = tuple[str, Bend, str, Bend]


@dataclass(slots=True)
class Clearance:
    """The pegs that stand in the way, and what is known of legs already tried: many routes share them."""

    pegs: Pegs
    radius_mm: float
    clear: dict[_Key, bool] = field(init=False, default_factory=dict)
    cut: dict[tuple[_Key, _Key], bool] = field(init=False, default_factory=dict)
    points: dict[str, Point] = field(init=False)

    def __post_init__(self) -> None:
        self.points = {peg.name: (float(peg.x_mm), float(peg.y_mm)) for peg in self.pegs.pegs}

    def first_fault(self, path: ThreadPath, turning: int, visited: int) -> int | None:
        """How many of the visited pegs it takes to show that this round trip cannot be wound; None if it can.

        A leg depends on the two pegs it joins and on the one after them, which settles the bend at its end; only the
        legs to and from the far peg depend on where the thread turns. So all routes that begin alike fail alike.
        """
        before: list[tuple[Leg, _Key, bool]] = []
        for shown_by, leg, key, at_cross in sorted(self._legs(path, turning, visited), key=lambda item: item[0]):
            if not self._runs_clear(leg, key):
                return shown_by
            if any(not (at_cross and earlier[2]) and self._cut(leg, key, *earlier[:2]) for earlier in before):
                return shown_by
            before.append((leg, key, at_cross))
        return None if _touches_first(path, turning, visited) else min(visited, 3)

    def _legs(self, path: ThreadPath, turning: int, visited: int) -> Iterator[tuple[int, Leg, _Key, bool]]:
        """The legs, each with the number of visited pegs that settle it and whether it belongs to the cross.

        Where the way back lies on the way out it is left out.
        """
        passed, first = path.passed, turning - visited + 1
        for index, leg in enumerate(path.legs):
            start, stop = passed[index], passed[(index + 1) % len(passed)]
            key = (start.name, start.bend, stop.name, stop.bend)
            nearer, further = sorted(_visits(i, turning, first) for i in (index, (index + 1) % len(passed)))
            shown_by = visited if further == visited - 1 else max(further, 0) + 2
            if index < turning or nearer < 0 or further == visited - 1:
                yield shown_by, leg, key, nearer < 0

    def _runs_clear(self, leg: Leg, key: _Key) -> bool:
        if key not in self.clear:
            self.clear[key] = all(
                name in (key[0], key[2]) or _distance(leg, point) > self.radius_mm - EXACT_MM
                for name, point in self.points.items()
            )
        return self.clear[key]

    def _cut(self, leg: Leg, key: _Key, earlier: Leg, earlier_key: _Key) -> bool:
        """Whether two legs cross properly; touching or lying together is no crossing."""
        keys = (key, earlier_key)
        if keys not in self.cut:
            self.cut[keys] = _parts(leg, earlier) and _parts(earlier, leg)
        return self.cut[keys]


def can_be_wound(pegs: Pegs, path: ThreadPath, turning: int, visited: int) -> bool:
    """Whether a round trip that turns at that peg, after so many visited ones, can be wound on these pegs."""
    return Clearance(pegs, path.passed[0].radius_mm).first_fault(path, turning, visited) is None


def _visits(index: int, turning: int, first: int) -> int:
    """The number from 0 of the visited peg at this index of the round trip; negative for home and the cross."""
    return (index if index <= turning else 2 * turning - index) - first


def _touches_first(path: ThreadPath, turning: int, visited: int) -> bool:
    """Whether the thread touches the cross pegs that it is laid round, and the first visited one unless it turns there.

    The others it always does: the bend follows the corner, and between like pegs the tangents only add to it.
    """
    passed, first = path.passed, turning - visited + 1
    around = (index for index in range(1, len(passed)) if index != turning and _visits(index, turning, first) <= 0)
    return all(_bend_at(passed, index) > -NO_BEND for index in around)


def _bend_at(passed: tuple[PassedPeg, ...], index: int) -> float:
    return signed_bend(passed[index - 1], passed[index], passed[(index + 1) % len(passed)])


def _distance(leg: Leg, point: Point) -> float:
    """From a point to the nearest place on a leg."""
    (x, y), (along_x, along_y) = leg.start, (leg.stop[0] - leg.start[0], leg.stop[1] - leg.start[1])
    square = along_x * along_x + along_y * along_y
    share = ((point[0] - x) * along_x + (point[1] - y) * along_y) / square if square else 0.0
    share = min(1.0, max(0.0, share))
    return hypot(point[0] - x - share * along_x, point[1] - y - share * along_y)


def _parts(leg: Leg, crossing: Leg) -> bool:
    """Whether the ends of ``crossing`` lie on different sides of the line of ``leg``."""
    (x, y), (stop_x, stop_y) = leg.start, leg.stop
    along = ((stop_x - x) / leg.length_mm, (stop_y - y) / leg.length_mm)
    first = along[0] * (crossing.start[1] - y) - along[1] * (crossing.start[0] - x)
    second = along[0] * (crossing.stop[1] - y) - along[1] * (crossing.stop[0] - x)
    return min(first, second) < -EXACT_MM and max(first, second) > EXACT_MM
