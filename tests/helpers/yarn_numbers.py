"""The way back from metres per kilogram to a number in a system, which no card goes."""

from __future__ import annotations

from fractions import Fraction

from cardmaker.model.pattern import CountSystem
from cardmaker.reckoning.amounts.yarn_counts import metres_per_kg_of


def number_in(system: CountSystem, metres: Fraction) -> Fraction:
    """The number that a yarn of so many metres per kilogram has in ``system``, the inverse of ``metres_per_kg_of``."""
    of_one = metres_per_kg_of(system, Fraction(1))
    return of_one / metres if system in ("tex", "denier") else metres / of_one
