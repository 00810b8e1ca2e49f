"""Smooth curves through points, and parts of them: what threads, cords and outlines of hands are drawn along.

A place on a curve is the number of a point that it was laid through, from 0, with what lies beyond it as a fraction:
1.5 is half-way between the second point and the third. So a thread that dives under another and comes up again is one
curve, drawn once, and drawn again in part where it lies on top.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import cos, hypot, radians, sin
from typing import NamedTuple

from cardmaker.model.marks import Step

Point = tuple[float, float]
Cubic = tuple[Point, Point, Point, Point]


class Curve(NamedTuple):
    """Cubic Bézier pieces, each beginning where the one before ends."""

    pieces: tuple[Cubic, ...]

    def steps(self) -> tuple[Step, ...]:
        """The steps of a path along it."""
        curves: list[Step] = [("curve", *second, *third, *end) for _, second, third, end in self.pieces]
        return (("move", *self.pieces[0][0]), *curves)

    def at(self, place: float) -> Point:
        """The point at this place."""
        number = min(int(place), len(self.pieces) - 1)
        return _split(self.pieces[number], place - number)[0][3]

    def part(self, start: float, stop: float) -> Curve:
        """From one place to another further on."""
        first, last = min(int(start), len(self.pieces) - 1), max(0, min(int(stop - 1e-9), len(self.pieces) - 1))
        pieces = list(self.pieces[first : last + 1])
        pieces[-1] = _split(pieces[-1], stop - last)[0]
        gone = start - first
        pieces[0] = _split(pieces[0], gone / (stop - first) if first == last else gone)[1]
        return Curve(tuple(pieces))

    def where(self, y: float) -> float:
        """The place at which a curve that only goes down is so far down."""
        low, high = 0.0, float(len(self.pieces))
        for _ in range(40):
            middle = (low + high) / 2
            low, high = (middle, high) if self.at(middle)[1] < y else (low, middle)
        return low

    def where_x(self, x: float, after: float = 0.0) -> float:
        """The first place from ``after`` on at which the curve passes this far to the right, to 1/100 of a piece."""
        places = [after + each / 100 for each in range(int((len(self.pieces) - after) * 100) + 1)]
        return next(b for a, b in pairwise(places) if (self.at(a)[0] - x) * (self.at(b)[0] - x) <= 0)

    def then(self, other: Curve) -> Curve:
        """This curve and after it another one that begins at its end."""
        return Curve(self.pieces + other.pieces)

    def mirrored_about(self, x: float) -> Curve:
        """Its mirror image about the upright through ``x``."""
        return Curve(tuple(tuple((2 * x - a, b) for a, b in piece) for piece in self.pieces))  # type: ignore[misc]

    def mirrored_over(self, y: float) -> Curve:
        """Its mirror image about the level line through ``y``."""
        return Curve(tuple(tuple((a, 2 * y - b) for a, b in piece) for piece in self.pieces))  # type: ignore[misc]

    def backwards(self) -> Curve:
        """The same from its end to its start."""
        return Curve(tuple((d, c, b, a) for a, b, c, d in reversed(self.pieces)))


def through(*points: Point) -> Curve:
    """Smooth through all points (Catmull and Rom's spline with the chords as its measure: from memory)."""
    return _laid(points, [_bent(points, at) for at in range(len(points))])


def round_through(*points: Point) -> Curve:
    """Smooth through all points and back to the first."""
    ring = (points[-1], *points, points[0], points[1])
    bends = [_bent(ring, at) for at in range(len(ring))]
    return _laid(ring[1:-1], bends[1:-1])


def straight(*points: Point) -> Curve:
    """From point to point without a bend."""
    return Curve(tuple((a, _between(a, b, 1 / 3), _between(a, b, 2 / 3), b) for a, b in pairwise(points)))


def arc(x: float, y: float, radius: float, start: float, stop: float) -> Curve:
    """A part of a circle, from one angle to another: degrees, clockwise on paper, from the right."""
    pieces = max(1, round(abs(stop - start) / 30))
    angles = [radians(start + (stop - start) * each / pieces) for each in range(pieces + 1)]
    points = [(x + radius * cos(angle), y + radius * sin(angle)) for angle in angles]
    turn = radius * radians(stop - start) / pieces
    return Curve(
        tuple(
            (
                p,
                (p[0] - sin(a) * turn / 3, p[1] + cos(a) * turn / 3),
                (q[0] + sin(b) * turn / 3, q[1] - cos(b) * turn / 3),
                q,
            )
            for (p, a), (q, b) in pairwise(zip(points, angles, strict=True))
        )
    )


def _laid(points: Sequence[Point], bends: Sequence[Point]) -> Curve:
    pieces = []
    for (a, bend_a), (b, bend_b) in pairwise(zip(points, bends, strict=True)):
        far = hypot(b[0] - a[0], b[1] - a[1]) / 3
        second, third = (
            (a[0] + bend_a[0] * far, a[1] + bend_a[1] * far),
            (b[0] - bend_b[0] * far, b[1] - bend_b[1] * far),
        )
        pieces.append((a, second, third, b))
    return Curve(tuple(pieces))


def _bent(points: Sequence[Point], at: int) -> Point:
    """The direction at a point, as long as one mm on the way."""
    if at in (0, len(points) - 1):
        return _slope(*(points[:2] if at == 0 else points[-2:]))
    before, here, after = points[at - 1 : at + 2]
    one, other = _slope(before, here), _slope(here, after)
    back, ahead = hypot(here[0] - before[0], here[1] - before[1]), hypot(after[0] - here[0], after[1] - here[1])
    whole = back + ahead
    return ((one[0] * ahead + other[0] * back) / whole, (one[1] * ahead + other[1] * back) / whole)


def _slope(start: Point, stop: Point) -> Point:
    far = hypot(stop[0] - start[0], stop[1] - start[1])
    return ((stop[0] - start[0]) / far, (stop[1] - start[1]) / far) if far else (0.0, 0.0)


def _between(a: Point, b: Point, share: float) -> Point:
    return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)


def _split(piece: Cubic, share: float) -> tuple[Cubic, Cubic]:
    """Both halves of a piece (de Casteljau: from memory)."""
    a, b, c, d = piece
    ab, bc, cd = _between(a, b, share), _between(b, c, share), _between(c, d, share)
    abc, bcd = _between(ab, bc, share), _between(bc, cd, share)
    middle = _between(abc, bcd, share)
    return (a, ab, abc, middle), (middle, bcd, cd, d)
