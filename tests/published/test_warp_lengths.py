"""Warp lengths against the mills' piece lists, the two percentages, and measured take-up.

The books add a per cent of the cloth; each is turned into a share of the warp before our sum does it.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardmaker.model.loom import Heddles, Loom, Space
from cardmaker.model.pattern import Measurement, Pattern, Piece, Stripe, WantedLength, Yarn
from cardmaker.model.units import MM_PER_INCH, MM_PER_YARD
from cardmaker.reckoning.amounts.lengths import warp_lengths
from cardmaker.reckoning.amounts.measured_tapes import learned_figures
from cardmaker.reckoning.amounts.weft import weft_needed
from cardmaker.reckoning.amounts.width import tape_width
from cardmaker.reckoning.amounts.yarn_amounts import yarn_needed
from tests.helpers.crimp import crimp_from_take_up, take_up_from_crimp

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
        pytest.param(36, Fraction(6, 100), 38, 0.17, id="Brooks p.149: 38 yd for 36 at 6 %"),
        pytest.param(100, Fraction(10, 100), 110, 0, id="Wolfensberger p.76: 110 yd for 100, 10 % for take up"),
        pytest.param(50, Fraction(8, 100), 54, 0, id="Wolfensberger p.80: 54 yd for 50, 8 %"),
        pytest.param(90, Fraction(5, 90), 95, 0, id="Taylor p.311: 95 yd for 90, a little over 5 %"),
        pytest.param(94, Fraction(4, 100), 98, 0.25, id="Taylor p.328: 98 yd for 94 at 4 %"),
    ],
)
def test_warps_of_the_mills(cloth_yards: int, contraction: Fraction, warp_yards: int, tolerance: float) -> None:
    take_up = take_up_from_crimp(contraction)
    wish = WantedLength(finished_mm=cloth_yards * MM_PER_YARD, take_up=take_up, shrinkage=NONE)
    assert float(warp_lengths(pattern(wish), loom()).warp_mm / MM_PER_YARD) == pytest.approx(warp_yards, abs=tolerance)


@pytest.mark.parametrize(
    ("contraction", "take_up"),
    [("23.3", 18.9), ("57.08", 36.34), ("34.18", 25.48), ("23.18", 18.82), ("12.78", 11.33), ("8.11", 7.50)],
)
def test_per_cent_of_the_cloth_and_of_the_warp(contraction: str, take_up: float) -> None:
    """C = (l - p)/p and T = (l - p)/l for the same crimp; the pairs are those of Peirce's warp-faced limit."""
    found = take_up_from_crimp(Fraction(contraction) / 100)
    assert float(100 * found) == pytest.approx(take_up, abs=0.05)
    assert crimp_from_take_up(found) == Fraction(contraction) / 100


def test_fifteen_and_ten_per_cent_divide() -> None:
    """On 100 units dividing gives 130.7, multiplying 126.5, adding 125: the sum is the one that divides."""
    wish = WantedLength(finished_mm=Fraction(100), take_up=Fraction(15, 100), shrinkage=Fraction(10, 100))
    assert float(warp_lengths(pattern(wish), loom()).warp_mm) == pytest.approx(130.7, abs=0.05)


def test_a_tape_of_a_metre_and_a_half() -> None:
    """5 % shrinkage, 15 % take-up, 0.10 m fringes, 0.45 m waste: 2.508 m; 21 ends 52.66 m; in 16/2 linen 10.9 g."""
    wish = WantedLength(
        pieces=(Piece("tie", Fraction(1500), 1, Fraction(100)),),
        take_up=Fraction(15, 100),
        shrinkage=Fraction(5, 100),
    )
    tape, ends = pattern(wish), ("grey",) * 21
    warp_mm = warp_lengths(tape, loom(Fraction(450))).warp_mm
    found = warp_lengths(tape, loom(Fraction(450)), warp_mm=warp_mm)
    picks = weft_needed(tape, ends, tape_width(tape, ends), found)
    (amount,) = yarn_needed(tape, ends, found, picks, spare_ends=0)
    assert amount.grams is not None
    assert float(warp_mm) == pytest.approx(2508, abs=0.5)
    assert float(amount.warp_mm) == pytest.approx(52_660, abs=5)
    assert float(amount.grams * amount.warp_mm / amount.total_mm) == pytest.approx(10.9, abs=0.05)


@pytest.mark.parametrize(
    ("warp_inches", "waste_inches", "tape_inches", "take_up"),
    [
        pytest.param(60, 7, 43, 18.9, id="a 5/2 perle band, 2021"),
        pytest.param(90, 7 + 10, 65, 11.0, id="a wool scarf, not warp-faced, 2025"),
    ],
)
def test_take_up_that_weavers_measured(warp_inches: int, waste_inches: int, tape_inches: int, take_up: float) -> None:
    """Hand weavers' own published measurements, before washing."""
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
