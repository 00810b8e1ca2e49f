"""What is seen at a point of a drawing: the colour of the last mark that covers it. Outlines are followed in short
straight bits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import pairwise
from math import hypot

from cardmaker.card.dressing.curves import Curve
from cardmaker.model.marks import Box, Dot, Line, Mark, Path, Rectangle, Step, Words

BITS = 24  # of one curve
Point = tuple[float, float]


def colour_at(marks: Sequence[Mark], x: float, y: float) -> str | None:
    """The colour on top; None on bare paper. Words are looked through."""
    for mark in reversed(marks):
        if colour := _covers(mark, x, y):
            return colour
    return None


def is_on_top(marks: Sequence[Mark], curve: Curve, place: float, ink: str, width: float) -> bool:
    """Whether a thread shows here with both its black edges, so that nothing lies over it.

    A place is a number of a point of the curve. The edge tells a light thread from the paper of a hand.
    """
    x, y = curve.at(place)
    (x1, y1), (x2, y2) = curve.at(max(place - 0.01, 0)), curve.at(min(place + 0.01, len(curve.pieces)))
    far = hypot(x2 - x1, y2 - y1)
    aside = (-(y2 - y1) / far, (x2 - x1) / far)
    edge = width / 2 + 0.1
    return colour_at(marks, x, y) == ink and all(
        colour_at(marks, x + way * aside[0] * edge, y + way * aside[1] * edge) == "#000000" for way in (1, -1)
    )


def sampled(curve: Curve) -> list[Point]:
    """Points along a curve, so many for each of its pieces."""
    return [curve.at(each / BITS) for each in range(len(curve.pieces) * BITS + 1)]


def crossings(one: Curve, other: Curve) -> list[tuple[float, float]]:
    """The places on both curves where they cross, in the order of the first."""
    found = []
    for at, (a, b) in enumerate(pairwise(sampled(one))):
        for beside, (c, d) in enumerate(pairwise(sampled(other))):
            if (shares := _meet(a, b, c, d)) is not None:
                found.append(((at + shares[0]) / BITS, (beside + shares[1]) / BITS))
    return found


def points_of(mark: Mark) -> list[list[Point]]:
    """The outlines of a path, or the two ends of a line."""
    if isinstance(mark, Line):
        return [[(mark.x1, mark.y1), (mark.x2, mark.y2)]]
    return _outlines(mark.steps) if isinstance(mark, Path) else []


def stroked(marks: Iterable[Mark], colour: str) -> list[Path]:
    """The paths stroked in this colour."""
    return [mark for mark in marks if isinstance(mark, Path) and mark.stroke == colour]


def _meet(a: Point, b: Point, c: Point, d: Point) -> tuple[float, float] | None:
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    under = ux * vy - uy * vx
    if abs(under) < 1e-12:
        return None
    t = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / under
    s = ((c[0] - a[0]) * uy - (c[1] - a[1]) * ux) / under
    return (t, s) if 0 <= t < 1 and 0 <= s < 1 else None


def _covers(mark: Mark, x: float, y: float) -> str | None:
    if isinstance(mark, Dot):
        far = hypot(x - mark.x, y - mark.y)
        if mark.stroke and abs(far - mark.radius) <= mark.width / 2:
            return mark.stroke
        return mark.fill if far <= mark.radius else None
    if isinstance(mark, Rectangle):
        return _in_rectangle(mark, x, y)
    if isinstance(mark, Line | Path):
        stroke = mark.colour if isinstance(mark, Line) else mark.stroke
        for points in points_of(mark):
            if stroke and any(_off(a, b, x, y) <= mark.width / 2 for a, b in pairwise(points)):
                return stroke
        if isinstance(mark, Path) and mark.fill and any(_inside(points, x, y) for points in points_of(mark)):
            return mark.fill
    return None


def _in_rectangle(mark: Rectangle, x: float, y: float) -> str | None:
    box, half = mark.box, mark.width / 2 if mark.stroke else 0.0
    if not (box.left - half <= x <= box.right + half and box.top - half <= y <= box.bottom + half):
        return None
    within = box.left + half < x < box.right - half and box.top + half < y < box.bottom - half
    return mark.fill if within else mark.stroke


def _off(a: Point, b: Point, x: float, y: float) -> float:
    """How far a point lies from a straight bit; beyond its flat ends, very far."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = hypot(dx, dy)
    if not long:
        return 1e9
    along = ((x - a[0]) * dx + (y - a[1]) * dy) / long
    return abs((x - a[0]) * dy - (y - a[1]) * dx) / long if -0.02 <= along <= long + 0.02 else 1e9


def _inside(points: Sequence[Point], x: float, y: float) -> bool:
    crossed = 0
    for (x1, y1), (x2, y2) in pairwise([*points, points[0]]):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1):
            crossed += 1
    return crossed % 2 == 1


@cache
def _outlines(steps: tuple[Step, ...]) -> list[list[Point]]:
    outlines: list[list[Point]] = []
    for step in steps:
        if step[0] == "move":
            outlines.append([(step[1], step[2])])
        elif step[0] == "line":
            outlines[-1].append((step[1], step[2]))
        elif step[0] == "curve":
            a = outlines[-1][-1]
            outlines[-1] += _bezier(a, (step[1], step[2]), (step[3], step[4]), (step[5], step[6]))
        else:
            outlines[-1].append(outlines[-1][0])
    return outlines


def _bezier(a: Point, b: Point, c: Point, d: Point) -> Iterator[Point]:
    for number in range(1, BITS + 1):
        t = number / BITS
        k = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        yield tuple(sum(k[i] * p[axis] for i, p in enumerate((a, b, c, d))) for axis in (0, 1))  # type: ignore[misc]


def without_words(marks: Iterable[Mark]) -> list[Mark]:
    """The drawing alone."""
    return [mark for mark in marks if not isinstance(mark, Words)]


def stroke_reach(path: Path) -> Box:
    """What a path's ink fills; strokes with flat ends reach no further along than their way."""
    half = path.width / 2 if path.stroke else 0.0
    reach: list[Point] = []
    for points in points_of(path):
        for (x1, y1), (x2, y2) in pairwise(points):
            far = hypot(x2 - x1, y2 - y1) or 1.0
            dx, dy = -(y2 - y1) / far * half, (x2 - x1) / far * half
            reach += [(x + way * dx, y + way * dy) for x, y in ((x1, y1), (x2, y2)) for way in (1, -1)]
        if path.round_ends:
            reach += [(x + dx, y + dy) for x, y in points for dx, dy in ((half, half), (-half, -half))]
    left, top = (min(point[axis] for point in reach) for axis in (0, 1))
    right, bottom = (max(point[axis] for point in reach) for axis in (0, 1))
    return Box(left, top, right - left, bottom - top)
