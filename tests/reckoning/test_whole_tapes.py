"""The two percentages, and a whole tape: sums of our own."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardmaker.model.loom import Heddles, Loom, Space
from cardmaker.model.pattern import Measurement, Pattern, Piece, Stripe, WantedLength, Yarn
from cardmaker.reckoning.amounts.lengths import warp_lengths
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
