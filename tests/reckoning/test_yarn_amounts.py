"""Yarn for one warp and for many: multiplied first, rounded up once."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as some

from cardmaker.model.loom import Heddles, Loom, Space
from cardmaker.model.pattern import Pattern, Stripe, WantedLength, Yarn
from cardmaker.model.plan import Lengths, Weft, YarnAmount
from cardmaker.model.units import GRAMS_PER_POUND, MM_PER_YARD
from cardmaker.reckoning.amounts.lengths import warp_lengths
from cardmaker.reckoning.amounts.weft import weft_needed
from cardmaker.reckoning.amounts.width import tape_width
from cardmaker.reckoning.amounts.yarn_amounts import ball_length_mm, grams, yarn_needed
from cardmaker.wording.formatters import grams_up, metres_up, yards_up

LOOM = Loom("Middle box", "middle-box", Heddles.ONE, slots=16, holes=17, outer=Space.HOLE, waste_mm=Fraction(508))
STRIPES = (("red", 3), ("white", 5), ("blue", 3), ("white", 9), ("blue", 3), ("white", 5), ("red", 3))
THREE_PATHS = Pattern(
    "Three Paths",
    "three-paths",
    tuple(Yarn(name, "linen", "20/2") for name in ("white", "blue", "red")),
    tuple(Stripe(*stripe) for stripe in STRIPES),
    weft="white",
    length=WantedLength(warp_mm=3 * MM_PER_YARD, take_up=Fraction(12, 100), shrinkage=Fraction(3, 100)),
)
ENDS = tuple(name for name, ends in STRIPES for _ in range(ends))
LENGTHS: Lengths = warp_lengths(THREE_PATHS, LOOM)
WEFT: Weft = weft_needed(THREE_PATHS, ENDS, tape_width(THREE_PATHS, ENDS), LENGTHS)
FIVE = Fraction(5, 100)


def by_name(found: tuple[YarnAmount, ...]) -> dict[str, YarnAmount]:
    return {amount.yarn: amount for amount in found}


def warp_grams(name: str, length: Fraction) -> int:
    weight = grams(THREE_PATHS.yarn(name), length)
    assert weight is not None
    return ceil(weight)


@pytest.mark.parametrize(
    ("name", "yards", "metres", "weight"),
    [("red", 208, 191, 32), ("white", 659, 602, 100), ("blue", 208, 191, 32)],
)
def test_eleven_kits_and_five_per_cent(name: str, yards: int, metres: int, weight: int) -> None:
    # 11 kits * 3 yd * 1.05: 6 ends 207.9 yd, 19 ends 658.35 yd; the weft is a line of its own
    found = by_name(yarn_needed(THREE_PATHS, ENDS, LENGTHS, WEFT, kits=11, extra=FIVE, spare_ends=0))[name]
    assert ceil(found.warp_mm / MM_PER_YARD) == yards
    assert ceil(found.warp_mm / 1000) == metres
    assert warp_grams(name, found.warp_mm) == weight
    assert found.weft_mm == (11 * Fraction(105, 100) * WEFT.buy_mm if name == "white" else 0)
    assert found.grams == grams(THREE_PATHS.yarn(name), found.warp_mm + found.weft_mm)


def test_rounding_each_kit_would_buy_too_much() -> None:
    one = by_name(yarn_needed(THREE_PATHS, ENDS, LENGTHS, WEFT, extra=FIVE, spare_ends=0))["red"]
    assert ceil(one.warp_mm / MM_PER_YARD) * 11 == 209  # 18.9 yd is 19, eleven times over


def test_a_spare_end_of_each_colour_goes_with_the_warp() -> None:
    with_spare = by_name(yarn_needed(THREE_PATHS, ENDS, LENGTHS, WEFT))
    assert with_spare["red"].warp_mm == 7 * 3 * MM_PER_YARD
    two = replace(THREE_PATHS, length=replace(THREE_PATHS.length, spare_ends=2))
    assert by_name(yarn_needed(two, ENDS, LENGTHS, WEFT))["white"].warp_mm == 21 * 3 * MM_PER_YARD


def test_yarns_stand_in_the_order_of_the_ends_and_a_foreign_weft_last() -> None:
    assert [found.yarn for found in yarn_needed(THREE_PATHS, ENDS, LENGTHS, WEFT)] == ["red", "white", "blue"]
    green = replace(THREE_PATHS, yarns=(Yarn("green", "linen"), *THREE_PATHS.yarns))
    found = yarn_needed(green, ENDS, LENGTHS, replace(WEFT, yarn="green"))
    assert [amount.yarn for amount in found] == ["red", "white", "blue", "green"]
    assert found[-1] == YarnAmount("green", Fraction(0), WEFT.buy_mm, None)
    assert found[1].weft_mm == 0


def test_a_ball_and_its_length() -> None:
    red = THREE_PATHS.yarn("red")
    assert ball_length_mm(red, GRAMS_PER_POUND) == 3000 * MM_PER_YARD
    assert grams(red, 3000 * MM_PER_YARD) == GRAMS_PER_POUND
    assert ball_length_mm(Yarn("bare", "linen"), Fraction(50)) is None
    assert grams(Yarn("bare", "linen"), Fraction(50)) is None


@given(some.integers(1, 60), some.integers(1, 60), some.fractions(min_value=0, max_value=1, max_denominator=100))
def test_amounts_are_linear_in_kits(some_kits: int, more_kits: int, extra: Fraction) -> None:
    first, second, both = (
        yarn_needed(THREE_PATHS, ENDS, LENGTHS, WEFT, kits=kits, extra=extra)
        for kits in (some_kits, more_kits, some_kits + more_kits)
    )
    for one, other, whole in zip(first, second, both, strict=True):
        assert one.warp_mm + other.warp_mm == whole.warp_mm
        assert one.weft_mm + other.weft_mm == whole.weft_mm
        assert (one.grams or 0) + (other.grams or 0) == whole.grams


@given(some.fractions(min_value=0, max_value=10**7, max_denominator=1000))
def test_rounding_up_is_never_short_and_never_a_whole_one_over(length: Fraction) -> None:
    for rounded, unit in ((yards_up(length), MM_PER_YARD), (metres_up(length), Fraction(1000))):
        assert length <= int(rounded) * unit < length + unit
    tenths = Fraction(1, 10) if length < 10 else Fraction(1)
    assert length <= Fraction(grams_up(length).replace(",", "")) < length + tenths


@given(some.integers(1, 200), some.integers(1, 400))
def test_yards_and_metres_say_the_same_quantity(yards: int, size: int) -> None:
    by_yards = Yarn("red", "other", yards_per_pound=Fraction(size))
    by_metres = Yarn("red", "other", metres_per_kg=size * MM_PER_YARD / GRAMS_PER_POUND)
    assert grams(by_yards, yards * MM_PER_YARD) == grams(by_metres, yards * Fraction(9144, 10)) is not None
