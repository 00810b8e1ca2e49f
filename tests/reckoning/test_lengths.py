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
from cardmaker.reckoning.amounts.allowances import commonest_fibre
from cardmaker.reckoning.amounts.lengths import is_short, warp_lengths
from cardmaker.reckoning.amounts.measured_tapes import Learned

INCH = MM_PER_INCH
LOOM = Loom("Small box", "small-box", Heddles.ONE, slots=12, holes=11, outer=Space.SLOT, waste_mm=20 * INCH)


def share(per_cent: float) -> Fraction:
    return Fraction(str(per_cent)) / 100


def pattern(wish: WantedLength, fibre: Fibre = "linen") -> Pattern:
    return Pattern("Three Paths", "three-paths", (Yarn("white", fibre, "20/2"),), (Stripe("white", 31),), length=wish)


TEN_TO_25 = (share(10), share(18), share(25))
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


def test_a_warp_that_gives_some_of_the_pieces_tells_how_many() -> None:
    """492 mm to weave; a bookmark takes 200/0.9/0.8 = 277.8 and 100 of fringes: one comes, and 114.2 mm are left."""
    take, lost = share(20), share(10)
    wish = WantedLength(pieces=(Piece("bookmark", Fraction(200), 4, Fraction(50)),), take_up=take, shrinkage=lost)
    found = warp_lengths(pattern(wish), LOOM, warp_mm=Fraction(1000))
    assert [(piece.wanted, piece.come) for piece in found.pieces] == [(4, 1)]
    assert float(found.pieces[0].warp_mm) == pytest.approx(377.78, abs=0.01)
    assert found.tape_from_warp_mm == found.tape_at_least_mm == 200
    assert found.fringes_mm == 100
    assert float(found.pieces_spare_mm) == pytest.approx((492 - 377.78) * 0.8 * 0.9, abs=0.01)
    assert float(found.woven_mm) == pytest.approx(200 / 0.9)


def test_a_warp_too_short_for_one_piece_is_reckoned_as_tape() -> None:
    wish = WantedLength(pieces=(Piece("tie", Fraction(2000)),), take_up=share(20), shrinkage=share(10))
    found = warp_lengths(pattern(wish), LOOM, warp_mm=Fraction(1508))
    assert (found.pieces_come, found.pieces_wanted) == (0, 1)
    assert found.tape_from_warp_mm == found.pieces_spare_mm == 1000 * share(80) * share(90)


def test_a_kind_that_does_not_fit_leaves_its_room_to_a_shorter_one() -> None:
    wish = WantedLength(
        pieces=(Piece("tie", Fraction(300), 2), Piece("belt", Fraction(900)), Piece("mark", Fraction(100), 9)),
        take_up=share(0),
        shrinkage=share(0),
    )
    found = warp_lengths(pattern(wish), LOOM, warp_mm=Fraction(508 + 950))
    assert [piece.come for piece in found.pieces] == [2, 0, 3]
    assert found.pieces_spare_mm == 50


def test_what_to_wind_covers_the_long_case_and_the_tape_is_told_twice() -> None:
    """1800 mm of linen, 10 to 25 % and 3 to 10 %: 1800/0.9/0.75 + 508 = 3174.7 mm, so 3.5 yd; at least, and about."""
    found = warp_lengths(pattern(WantedLength(finished_mm=Fraction(1800))), LOOM, usual_take_up=TEN_TO_25)
    assert float(found.warp_mm) == pytest.approx(3174.67, abs=0.01)
    assert found.wind_mm == Fraction(7, 2) * MM_PER_YARD
    to_weave = 3200.4 - 508
    assert float(found.tape_at_least_mm) == pytest.approx(to_weave * 0.75 * 0.9)
    assert float(found.tape_from_warp_mm) == pytest.approx(to_weave * 0.82 * 0.95)
    assert float(found.woven_mm) == pytest.approx(to_weave * 0.82)
    assert found.tape_at_least_mm >= 1800
    assert found.take_up_range == (share(10), share(25))
    assert found.shrinkage_range == (share(3), share(10))


def test_all_pieces_come_from_a_warp_that_was_reckoned_for_them() -> None:
    wish = WantedLength(pieces=(Piece("mark", Fraction(200), 12, Fraction(75)), Piece("tie", Fraction(900), 2)))
    found = warp_lengths(pattern(wish), LOOM, usual_take_up=TEN_TO_25)
    assert [piece.come for piece in found.pieces] == [12, 2]
    assert float(found.pieces[0].on_loom_mm) == pytest.approx(200 / 0.9)
    assert found.fringes_mm == 12 * 2 * 75


def test_pegs_that_give_more_give_more_tape_unless_the_warp_is_given() -> None:
    longer = warp_lengths(pattern(SEVENTY_TWO), LOOM, wound_mm=Fraction(3100))
    assert [longer.wind_mm, longer.wound_mm] == [3 * MM_PER_YARD, 3100]
    assert float(longer.tape_from_warp_mm) == pytest.approx((3100 - 508) * 0.88 * 0.97)
    given_warp = warp_lengths(pattern(SEVENTY_TWO), LOOM, warp_mm=Fraction(3000), wound_mm=Fraction(3100))
    assert [given_warp.wind_mm, given_warp.wound_mm] == [3000, 3100]
    assert float(given_warp.tape_from_warp_mm) == pytest.approx((3000 - 508) * 0.88 * 0.97)


def test_the_waste_lies_in_two_parts() -> None:
    """A third in front where one figure is given (common practice, no source); else as the loom's file has it."""
    assert warp_lengths(pattern(SEVENTY_TWO), LOOM).waste_front_mm == Fraction(508, 3)
    found = warp_lengths(pattern(SEVENTY_TWO), replace(LOOM, waste_front_mm=Fraction(127)))
    assert [found.waste_front_mm, found.waste_back_mm] == [127, 381]


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
    assert (found.take_up, found.take_up_basis) == (share(15), "default")
    assert found.take_up_range == (share(8), share(25))
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
    assert commonest_fibre(mixed) == "wool"  # 10 wool, 4 cotton
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


def test_take_up_of_a_washed_tape_goes_with_the_shrinkage_that_it_was_reckoned_with() -> None:
    """A tape that came off so long comes off so long again: 5 % is the likely shrinkage of linen, and taken alone."""
    learned = Learned(("2026-11-20",), take_up=share(14))
    found = warp_lengths(pattern(WantedLength(finished_mm=Fraction(1000))), LOOM, learned=learned)
    assert found.shrinkage_range == (share(5), share(5))
    assert found.tape_at_least_mm == found.tape_from_warp_mm
