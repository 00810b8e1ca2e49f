"""Boards for the tests: a plain zigzag of two columns, and pegs strewn at random."""

from __future__ import annotations

import random
from fractions import Fraction
from math import hypot

from cardmaker.model.peg_plan import Peg, Pegs
from cardmaker.reckoning.winding.routes import Route, _ranked_routes, _route


def allowed_lengths(pegs: Pegs, radius_mm: float) -> list[Route]:
    """Every allowed route with its length, whether or not it can be wound; equal lengths with the plainer one first.

    Raises ValueError where two pegs leave no room for a thread between them.
    """
    return [_route(pegs, ranked) for ranked in _ranked_routes(pegs, radius_mm)]


def board(places: dict[str, tuple[int, int]], *, cross: tuple[str, ...] = ("A", "B")) -> Pegs:
    """Pegs 19 mm thick; the first is home, and those that are not in the cross follow in order."""
    pegs = tuple(Peg(name, Fraction(x), Fraction(y)) for name, (x, y) in places.items())
    home, *others = places
    order = tuple(name for name in others if name not in cross)
    return Pegs("Test board", "test-board", "board", pegs, Fraction(19), Fraction(100), home, cross, order)


def zigzag(pegs: int, *, pitch: int = 75) -> Pegs:
    """Two columns 914 mm apart, the thread going down between them; ``pegs`` in all, home and cross with them."""
    places = {"H": (50, 50), "A": (200, 50), "B": (350, 50)}
    places |= {
        f"{'RL'[row % 2]}{row // 2 + 1}": (964 if row % 2 == 0 else 50, 50 + pitch * row) for row in range(pegs - 3)
    }
    return board(places)


def strewn(pegs: int, seed: int) -> Pegs:
    """Home and cross in line at the top, all others anywhere below, at least 45 mm apart."""
    chance = random.Random(seed)
    places = {"H": (50, 50), "A": (150, 50), "B": (250, chance.choice([50, 50, 60, 90]))}
    while len(places) < pegs:
        x, y = chance.randrange(50, 1500), chance.randrange(50, 1000)
        if all(hypot(x - other_x, y - other_y) > 45 for other_x, other_y in places.values()):
            places[f"p{len(places)}"] = (x, y)
    return board(places)
