"""The working tension against the pull at which a standard exercises yarns."""

from __future__ import annotations

from fractions import Fraction

from cardmaker.reckoning.on_loom.tension import WORKING_CN_PER_TEX
from tests.helpers.published_sources import D1907, source


@source(D1907, "scope: yarns that stretch less than 5 % from 0.25 to 0.75 cN/tex")
def test_the_working_level_is_the_middle_of_the_standards() -> None:
    assert Fraction(WORKING_CN_PER_TEX) == (Fraction(1, 4) + Fraction(3, 4)) / 2
