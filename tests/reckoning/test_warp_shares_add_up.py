"""The parts of a warp in whole units: they add up, and what is told in words beside them is the same figure."""

from __future__ import annotations

from fractions import Fraction
from math import floor
from typing import Literal

import pytest

from cardmaker.reckoning.amounts.warp_shares import LengthShare, ShareName, in_whole_units

NAMES: tuple[ShareName, ...] = ("finished", "washing", "take-up", "waste")
UNIT_MM = {"metric": Fraction(10), "us": Fraction("25.4")}


@pytest.mark.parametrize("units", ["metric", "us"])
def test_they_add_up_and_what_is_told_is_to_the_nearest(units: Literal["metric", "us"]) -> None:
    for number in range(400):
        lengths = (1000 + 37 * number % 1900, 20 + 7 * number % 90, 100 + 13 * number % 310, 200 + 29 * number % 500)
        shares = tuple(LengthShare(name, Fraction(mm)) for name, mm in zip(NAMES, lengths, strict=True))
        exact = [Fraction(mm) / UNIT_MM[units] for mm in lengths]
        counts = in_whole_units(shares, units)
        assert sum(counts) == floor(sum(exact) + Fraction(1, 2))
        assert [counts[0], counts[3]] == [floor(exact[0] + Fraction(1, 2)), floor(exact[3] + Fraction(1, 2))]
        assert all(abs(count - value) < 2 for count, value in zip(counts, exact, strict=True))


def test_two_parts_add_up_too() -> None:
    shares = (LengthShare("finished", Fraction(1004)), LengthShare("waste", Fraction(204)))
    assert in_whole_units(shares, "metric") == (100, 21)
