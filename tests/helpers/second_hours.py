"""The hours of the second calculator: "every step is rounded up to whole minutes, and the sum is that of the steps"."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Any

from tests.helpers.second_sizes import Tree


def hours_of(pattern: Tree, loom: Tree, ends: int, picks: int) -> dict[str, Any] | None:
    """The keys of ``pace``; nothing where the loom's file tells no pace.

    "The rows that lift or drop something go at ``picked_rows_per_minute``, or at a quarter of ``picks_per_minute``";
    "the rows begin with the first pick and go on to the last".
    """
    pace = loom.get("pace")
    if pace is None:
        return None
    rows = pattern.get("pickup", {}).get("rows", [{}])
    by_hand = [bool(row.get("lift") or row.get("drop")) for row in (rows[pick % len(rows)] for pick in range(picks))]
    plain = Fraction(pace["picks_per_minute"])
    picked = Fraction(pace.get("picked_rows_per_minute", plain / 4))
    weaving = ceil(sum((1 / picked if each else 1 / plain for each in by_hand), Fraction(0)))
    steps = [ceil(ends * Fraction(pace[step]) / 60) for step in ("winding", "threading")]
    needed = sum(steps) + ceil(Fraction(pace["fixed_minutes"])) + weaving
    return {"picks": picks, "picked_rows": sum(by_hand), "minutes": weaving, "needed_minutes": needed}
