"""Thread lengths against closed formulas, a convex hull and a string pulled taut by a numerical minimiser.

The belt formulas are those of any handbook of machine elements (open and crossed belt), from memory.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from math import asin, atan2, cos, hypot, pi, sin, sqrt, tau

import pytest
from scipy.optimize import minimize
from shapely import MultiPoint, Point

from cardmaker.model.peg_plan import Bend, PassedPeg
from cardmaker.reckoning.winding.routes import corner_bend
from cardmaker.reckoning.winding.thread_path import path_round_pegs
from tests.helpers.published_sources import HANDBOOK, SCIPY, SHAPELY, source

LEFT, RIGHT = Bend.LEFT, Bend.RIGHT


def belt(first: float, second: float, distance: float, *, crossed: bool) -> float:
    pegs = PassedPeg("a", 0, 0, first, RIGHT), PassedPeg("b", distance, 0, second, LEFT if crossed else RIGHT)
    return path_round_pegs(pegs, closed=True).length_mm


@source(HANDBOOK, "the open and the crossed belt: by hand calculator from the formulas")
def test_open_and_crossed_belt() -> None:
    """r 20 and 8, centres 300 apart: 688.445 open, 690.580 crossed."""
    assert belt(20, 8, 300, crossed=False) == pytest.approx(688.445, abs=5e-4)
    assert belt(20, 8, 300, crossed=True) == pytest.approx(690.580, abs=5e-4)


@source(HANDBOOK, "the open and the crossed belt")
@pytest.mark.parametrize(("r1", "r2", "c"), [(20, 8, 300), (8, 20, 29), (0.5, 30, 100), (12, 12, 25)])
def test_belts_against_the_closed_formulas(r1: float, r2: float, c: float) -> None:
    lean = asin((r1 - r2) / c)
    open_belt = 2 * sqrt(c**2 - (r1 - r2) ** 2) + pi * (r1 + r2) + 2 * (r1 - r2) * lean
    crossed_belt = 2 * sqrt(c**2 - (r1 + r2) ** 2) + (r1 + r2) * (pi + 2 * asin((r1 + r2) / c))
    assert belt(r1, r2, c, crossed=False) == pytest.approx(open_belt, abs=1e-9)
    assert belt(r1, r2, c, crossed=True) == pytest.approx(crossed_belt, abs=1e-9)


@source(SHAPELY, "the hull of finely divided discs")
@pytest.mark.parametrize("seed", range(10))
def test_a_thread_round_all_pegs_is_the_hull_of_their_discs(seed: int) -> None:
    """Shapely's hull of finely divided discs: a polygon falls short of its circle by r pi^3 / (3 n^2), 1e-5 mm here."""
    chance = random.Random(seed)
    points = [(chance.uniform(0, 900), chance.uniform(0, 600)) for _ in range(9)]
    hull = MultiPoint(points).convex_hull
    corners = list(hull.exterior.coords)[:-1]
    if hull.exterior.is_ccw:  # in a frame whose y grows downwards the thread then bends to the right
        corners.reverse()
    passed = [PassedPeg(str(i), x, y, 15, LEFT) for i, (x, y) in enumerate(corners)]
    discs = MultiPoint([p for c in corners for p in Point(c).buffer(15, quad_segs=1024).exterior.coords])
    assert path_round_pegs(passed, closed=True).length_mm == pytest.approx(discs.convex_hull.length, abs=1e-4)
    assert path_round_pegs(passed, closed=True).length_mm == pytest.approx(hull.length + 2 * pi * 15, abs=1e-6)


def taut_string_mm(passed: list[PassedPeg]) -> float:
    """The length of a closed string pulled taut, found without any tangent.

    The unknowns are the angle at which the string meets each peg and how far it runs round it; the length is made least
    while no straight part may enter the discs at its ends. The first guess sits square to each line of centres; pegs
    four radii apart pull it off that by asin(1/2) at most.
    """
    count, turns = len(passed), [1.0 if peg.bend is RIGHT else -1.0 for peg in passed]
    lines = [_line(peg, passed[(i + 1) % count]) for i, peg in enumerate(passed)]
    guess = [lines[i - 1] - turns[i] * pi / 2 for i in range(count)]
    guess += [(turns[i] * (lines[i] - lines[i - 1])) % tau for i in range(count)]

    def at(i: int, angle: float) -> tuple[float, float]:
        peg = passed[i]
        return peg.x_mm + peg.radius_mm * cos(angle), peg.y_mm + peg.radius_mm * sin(angle)

    def straights(unknown: Sequence[float]) -> Iterator[tuple[float, float, float, float]]:
        """How far each runs to the right and down, and the angles at which it leaves one peg and meets the next."""
        for i in range(count):
            leaves, meets = unknown[i] + turns[i] * unknown[count + i], unknown[(i + 1) % count]
            (x, y), (to_x, to_y) = at(i, leaves), at((i + 1) % count, meets)
            yield to_x - x, to_y - y, leaves, meets

    def length(unknown: Sequence[float]) -> float:
        arcs = sum(peg.radius_mm * unknown[count + i] for i, peg in enumerate(passed))
        return arcs + sum(hypot(right, down) for right, down, _, _ in straights(unknown))

    def room(unknown: Sequence[float]) -> list[float]:
        """None of these may be negative where the straights lie outside the discs."""
        outside = []
        for right, down, leaves, meets in straights(unknown):
            slopes = right * cos(leaves) + down * sin(leaves), -right * cos(meets) - down * sin(meets)
            outside += [slope / hypot(right, down) for slope in slopes]
        return outside

    rules = {"type": "ineq", "fun": room}
    near = [(angle - 0.7, angle + 0.7) for angle in guess[:count]]
    near += [(max(0, sweep - 0.1), sweep + 1.4) for sweep in guess[count:]]
    found = minimize(
        length, guess, method="SLSQP", bounds=near, constraints=rules, options={"ftol": 1e-14, "maxiter": 500}
    )
    assert min(room(found.x)) > -1e-6
    return float(found.fun)


def _line(start: PassedPeg, stop: PassedPeg) -> float:
    return atan2(stop.y_mm - start.y_mm, stop.x_mm - start.x_mm)


def random_pegs(chance: random.Random) -> list[PassedPeg]:
    """Three to five pegs of one size, apart from one another, each passed on the inner side of its corner."""
    count, radius, points = chance.randint(3, 5), chance.uniform(4, 25), list[tuple[float, float]]()
    while len(points) < count:
        x, y = chance.uniform(0, 900), chance.uniform(0, 600)
        if all(hypot(x - other_x, y - other_y) > 4 * radius for other_x, other_y in points):
            points.append((x, y))
    bends = [corner_bend(points[i - 1], points[i], points[(i + 1) % count], LEFT) for i in range(count)]
    return [PassedPeg(str(i), *points[i], radius, bends[i]) for i in range(count)]


@source(SCIPY, "the shortest string, by sequential least squares programming")
@pytest.mark.parametrize("block", range(8))
def test_two_hundred_random_layouts_against_a_string_pulled_taut(block: int) -> None:
    for seed in range(25 * block, 25 * block + 25):
        passed = random_pegs(random.Random(seed))
        assert path_round_pegs(passed, closed=True).length_mm == pytest.approx(taut_string_mm(passed), abs=1e-6), seed


@source(SCIPY, "the shortest string, by sequential least squares programming")
def test_a_path_that_is_wrong_by_a_hair_would_be_noticed() -> None:
    passed = random_pegs(random.Random(0))
    moved = [PassedPeg(p.name, p.x_mm, p.y_mm, p.radius_mm + 1e-4, p.bend) for p in passed]
    assert path_round_pegs(moved, closed=True).length_mm != pytest.approx(taut_string_mm(passed), abs=1e-6)
