"""The warp from the tape, the tape from the warp, and what is lost between them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from cardmaker.model.loom import Heddles, Loom, Space
from cardmaker.model.pattern import Fibre, Pattern, Piece, Stripe, WantedLength, Yarn
from cardmaker.model.problems import Refusal
from cardmaker.model.units import MM_PER_INCH, MM_PER_YARD, QUARTER_YARD, rounded_up
from cardmaker.reckoning.amounts.allowances import USUAL_TAKE_UP, commonest_yarn
from cardmaker.reckoning.amounts.lengths import is_short, warp_lengths

INCH = MM_PER_INCH
LOOM = Loom("Small box", "small-box", Heddles.ONE, slots=12, holes=11, outer=Space.SLOT, waste_mm=20 * INCH)


def share(per_cent: float) -> Fraction:
    return Fraction(str(per_cent)) / 100


def pattern(wish: WantedLength, fibre: Fibre = "linen") -> Pattern:
    return Pattern("Three Paths", "three-paths", (Yarn("white", fibre, "20/2"),), (Stripe("white", 31),), length=wish)


SEVENTY_TWO = WantedLength(finished_mm=72 * INCH, take_up=share(12), shrinkage=share(3))


def in_inches(length: Fraction) -> float:
    return round(float(length / INCH), 1)


def test_seventy_two_inches_take_a_three_yard_warp() -> None:
    found = warp_lengths(pattern(SEVENTY_TWO), LOOM)
    assert in_inches(found.on_loom_mm) == 74.2  # 72 / 0.97
    assert in_inches(found.warp_mm) == 104.3  # 74.227 / 0.88 + 20
    assert found.wind_mm == 3 * MM_PER_YARD
    assert in_inches(found.tape_from_warp_mm) == 75.1  # (108 - 20) * 0.88 * 0.97
    assert in_inches(found.woven_mm) == 77.4
    assert found.request == "finished"
    assert (found.take_up_basis, found.shrinkage_basis, found.waste_basis) == ("pattern", "pattern", "loom")
    assert not is_short(found)


def test_adding_the_percentages_would_wind_too_little() -> None:
    found = warp_lengths(pattern(SEVENTY_TWO), LOOM)
    added = 72 * INCH * (1 + share(12) + share(3)) + 20 * INCH  # 102.8 in, a published mistake
    back = warp_lengths(pattern(SEVENTY_TWO), LOOM, warp_mm=added)
    assert added < found.warp_mm
    assert in_inches(back.tape_from_warp_mm) == 70.7


def test_a_yard_and_a_half_is_a_short_warp() -> None:
    found = warp_lengths(pattern(SEVENTY_TWO), LOOM, warp_mm=54 * INCH)
    assert in_inches(found.tape_from_warp_mm) == 29.0
    assert found.wind_mm == found.warp_mm == 54 * INCH
    assert found.request == "warp"
    assert found.finished_mm == found.tape_from_warp_mm
    assert in_inches(found.on_loom_mm) == in_inches(found.woven_mm) == 29.9  # (54 - 20) * 0.88
    assert is_short(found)


def test_a_warp_in_the_file_is_wound_exactly() -> None:
    wish = WantedLength(warp_mm=Fraction(2710), take_up=share(15), shrinkage=share(5))
    found = warp_lengths(pattern(wish), LOOM)
    assert found.wind_mm == 2710
    assert found.request == "warp"


@pytest.mark.parametrize("warp_inches", [0, 12, 20])
def test_a_warp_no_longer_than_the_waste_is_refused_with_the_numbers(warp_inches: int) -> None:
    with pytest.raises(Refusal) as refused:
        warp_lengths(pattern(WantedLength()), LOOM, warp_mm=warp_inches * INCH)
    assert refused.value.path == ("length", "warp")
    assert f"{warp_inches} in" in refused.value.message
    assert "20 in (508 mm) is lost on Small box" in refused.value.message
    assert "more than 20 in" in refused.value.remedy


def test_a_warp_that_goes_into_fringes_gives_no_tape_but_no_less_either() -> None:
    wish = WantedLength(pieces=(Piece("bookmark", Fraction(200), 4, Fraction(100)),))
    found = warp_lengths(pattern(wish), LOOM, warp_mm=Fraction(1000))  # 508 waste, 800 fringes
    assert found.tape_from_warp_mm == 0


def test_pieces_and_their_fringes() -> None:
    wish = WantedLength(
        pieces=(Piece("bookmark", Fraction(200), 3, Fraction(50)), Piece("tie", Fraction(400))),
        take_up=share(20),
        shrinkage=share(0),
    )
    found = warp_lengths(pattern(wish), replace(LOOM, waste_mm=Fraction(500)))
    assert found.finished_mm == 1000  # 3 * 200 + 400
    assert found.fringes_mm == 300  # 2 * 3 * 50: at both ends of three pieces
    assert found.warp_mm == 2050  # 1000 / 0.8 + 300 + 500
    assert found.request == "pieces"


@pytest.mark.parametrize(
    ("fibre", "expected"),
    [("linen", 5), ("cotton", 8), ("cottolin", 6), ("wool", 10), ("silk", 3), ("hemp", 5), ("other", 5)],
)
def test_usual_figures_when_the_file_is_silent(fibre: Fibre, expected: int) -> None:
    found = warp_lengths(pattern(WantedLength(), fibre), replace(LOOM, waste_mm=None))
    assert found.finished_mm == 1800
    assert found.request == "default"
    assert (found.take_up, found.take_up_basis) == (USUAL_TAKE_UP, "default") == (share(15), "default")
    assert (found.shrinkage, found.shrinkage_basis) == (share(expected), "default")
    assert found.waste_mm == 450
    assert found.waste_basis == "default"


def test_two_heddles_waste_more() -> None:
    assert warp_lengths(pattern(WantedLength()), replace(LOOM, waste_mm=None, heddles=Heddles.TWO)).waste_mm == 600


def test_the_commonest_fibre_decides_the_usual_shrinkage() -> None:
    mixed = replace(
        pattern(WantedLength()),
        yarns=(Yarn("white", "cotton"), Yarn("edge", "wool")),
        warp=(Stripe("edge", 5), Stripe("white", 4)),
        mirror="last stripe",
    )
    assert commonest_yarn(mixed) == "edge"  # 10 wool, 4 cotton
    assert warp_lengths(mixed, LOOM).shrinkage == share(10)
    assert warp_lengths(replace(mixed, warp=(Stripe("edge", 3), Stripe("white", 8))), LOOM).shrinkage == share(8)


def test_a_warp_is_short_when_less_than_sixty_per_cent_of_it_becomes_tape() -> None:
    plain = pattern(WantedLength(take_up=share(0), shrinkage=share(0)))
    loom = replace(LOOM, waste_mm=Fraction(400))
    assert not is_short(warp_lengths(plain, loom, warp_mm=Fraction(1000)))  # 600 of 1000
    assert is_short(warp_lengths(plain, loom, warp_mm=Fraction(999)))  # 599 of 999


@pytest.mark.parametrize(
    ("wish", "key"),
    [
        (WantedLength(finished_mm=Fraction(0)), "finished"),
        (WantedLength(pieces=(Piece("tie", Fraction(0)),)), "pieces"),
    ],
)
def test_no_tape_at_all_is_refused(wish: WantedLength, key: str) -> None:
    with pytest.raises(Refusal) as refused:
        warp_lengths(pattern(wish), LOOM)
    assert refused.value.path == ("length", key)
    assert str(refused.value) == "This asks for no tape at all. Give a length, as in 72 in or 1.8 m."


def test_rounding_up_to_what_is_wound() -> None:
    assert rounded_up(Fraction("2651"), QUARTER_YARD) == 3 * MM_PER_YARD  # 104.3 in is 2.90 yd
    assert rounded_up(3 * MM_PER_YARD, QUARTER_YARD) == 3 * MM_PER_YARD
    assert rounded_up(Fraction("2.1") * MM_PER_YARD, QUARTER_YARD) == Fraction("2.25") * MM_PER_YARD
    assert rounded_up(Fraction("2.26") * MM_PER_YARD, QUARTER_YARD) == Fraction("2.5") * MM_PER_YARD


shares = some.fractions(min_value=0, max_value="2/5", max_denominator=1000)
millimetres = some.fractions(min_value=1, max_value=50_000, max_denominator=100)


@given(millimetres, shares, shares, millimetres, some.integers(1, 6), millimetres)
def test_there_and_back_is_the_same_tape(
    tape: Fraction, take_up: Fraction, shrinkage: Fraction, waste: Fraction, pieces: int, fringe: Fraction
) -> None:
    wish = WantedLength(pieces=(Piece("tie", tape, pieces, fringe),), take_up=take_up, shrinkage=shrinkage)
    loom = replace(LOOM, waste_mm=waste)
    there = warp_lengths(pattern(wish), loom)
    back = warp_lengths(pattern(wish), loom, warp_mm=there.warp_mm)
    assert back.tape_from_warp_mm == there.finished_mm == tape * pieces
    assert back.on_loom_mm == there.on_loom_mm


@given(millimetres, shares, shares, millimetres)
def test_what_is_wound_is_never_short(tape: Fraction, take_up: Fraction, shrinkage: Fraction, waste: Fraction) -> None:
    wish = WantedLength(finished_mm=tape, take_up=take_up, shrinkage=shrinkage)
    found = warp_lengths(pattern(wish), replace(LOOM, waste_mm=waste))
    assert found.warp_mm <= found.wind_mm < found.warp_mm + MM_PER_YARD / 4
    assert found.tape_from_warp_mm >= tape


@given(some.integers(1, 400), shares, shares)
def test_an_inch_and_its_millimetres_ask_for_the_same_warp(count: int, take_up: Fraction, shrinkage: Fraction) -> None:
    wish = WantedLength(finished_mm=count * INCH, take_up=take_up, shrinkage=shrinkage)
    metric = replace(wish, finished_mm=Fraction(count * 254, 10))
    assert warp_lengths(pattern(wish), LOOM) == warp_lengths(pattern(metric), LOOM)
