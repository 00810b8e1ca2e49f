"""Warp lengths against the mills' piece lists, and measured take-up.

The books add a per cent of the cloth; each is turned into a share of the warp before our sum does it.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardmaker.model.loom import Heddles, Loom, Space
from cardmaker.model.pattern import Measurement, Pattern, Stripe, WantedLength, Yarn
from cardmaker.model.units import MM_PER_INCH, MM_PER_YARD
from cardmaker.reckoning.amounts.lengths import warp_lengths
from cardmaker.reckoning.amounts.measured_tapes import learned_figures
from tests.helpers.crimp import take_up_from_crimp
from tests.helpers.published_sources import BROOKS, TAYLOR, WEAVERS, WOLFENSBERGER, case

NONE = Fraction(0)


def loom(waste_mm: Fraction = NONE) -> Loom:
    return Loom("Loom", "loom", Heddles.ONE, slots=12, holes=11, outer=Space.SLOT, waste_mm=waste_mm)


def pattern(wish: WantedLength, *measured: Measurement) -> Pattern:
    return Pattern(
        "Band", "band", (Yarn("grey", "linen", "16/2"),), (Stripe("grey", 21),), length=wish, measured=measured
    )


@pytest.mark.parametrize(
    ("cloth_yards", "contraction", "warp_yards", "tolerance"),
    [
        case(BROOKS, "p.149: 38 yd for 36 at 6 %", 36, Fraction(6, 100), 38, 0.17),
        case(WOLFENSBERGER, "p.76: 110 yd for 100, 10 % for take up", 100, Fraction(10, 100), 110, 0),
        case(WOLFENSBERGER, "p.80: 54 yd for 50, 8 %", 50, Fraction(8, 100), 54, 0),
        case(TAYLOR, "p.311: 95 yd for 90, a little over 5 %", 90, Fraction(5, 90), 95, 0),
        case(TAYLOR, "p.328: 98 yd for 94 at 4 %", 94, Fraction(4, 100), 98, 0.25),
    ],
)
def test_warps_of_the_mills(cloth_yards: int, contraction: Fraction, warp_yards: int, tolerance: float) -> None:
    take_up = take_up_from_crimp(contraction)
    wish = WantedLength(finished_mm=cloth_yards * MM_PER_YARD, take_up=take_up, shrinkage=NONE)
    assert float(warp_lengths(pattern(wish), loom()).warp_mm / MM_PER_YARD) == pytest.approx(warp_yards, abs=tolerance)


@pytest.mark.parametrize(
    ("warp_inches", "waste_inches", "tape_inches", "take_up"),
    [
        case(WEAVERS, "a 5/2 perle band before washing, 2021", 60, 7, 43, 18.9),
        case(WEAVERS, "a wool scarf, not warp-faced, relaxed, 2025", 90, 7 + 10, 65, 11.0),
    ],
)
def test_take_up_that_weavers_measured(warp_inches: int, waste_inches: int, tape_inches: int, take_up: float) -> None:
    record = Measurement(
        "2021",
        warp_mm=warp_inches * MM_PER_INCH,
        tape_mm=tape_inches * MM_PER_INCH,
        leftover_mm=waste_inches * MM_PER_INCH,
    )
    lesson = learned_figures(pattern(WantedLength(shrinkage=NONE), record), loom(), 21)
    assert lesson is not None
    assert lesson.take_up is not None
    assert float(100 * lesson.take_up) == pytest.approx(take_up, abs=0.05)
