"""Picks and the weft they take."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import pi

import pytest

from cardmaker.model.loom import Heddles, Loom, Space
from cardmaker.model.pattern import Measurement, Pattern, Piece, Stripe, WantedLength, Yarn
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.amounts.lengths import warp_lengths
from cardmaker.reckoning.amounts.measured_tapes import Learned
from cardmaker.reckoning.amounts.weft import weft_needed
from cardmaker.reckoning.amounts.width import tape_width

LOOM = Loom("Small box", "small-box", Heddles.ONE, slots=12, holes=11, outer=Space.SLOT, waste_mm=Fraction(450))
TAPE = Pattern(
    "Worked",
    "worked",
    (Yarn("white", "cotton", "8/2"), Yarn("blue", "cotton", "8/2")),
    (Stripe("white", 20), Stripe("blue", 1)),
    width_mm=Fraction("8.5"),
    picks_per_inch=Fraction(18),
    length=WantedLength(
        pieces=(Piece("tie", Fraction(1500), 1, Fraction(100)),), take_up=Fraction(15, 100), shrinkage=Fraction(5, 100)
    ),
)
ENDS = ("white",) * 20 + ("blue",)
FOUND_WIDTH = tape_width(TAPE, ENDS)
WARP_MM = warp_lengths(TAPE, LOOM).warp_mm  # 2.508 m, not rounded up: 1.579 m off the loom
FOUND_LENGTHS = warp_lengths(TAPE, LOOM, warp_mm=WARP_MM)


def test_worked_example() -> None:
    found = weft_needed(TAPE, ENDS, FOUND_WIDTH, FOUND_LENGTHS)
    assert found.picks == 1118  # 18 * 1578.947 / 25.4 = 1118.94, whole picks
    assert found.per_pick_mm == pytest.approx(9.48, abs=0.005)  # 8.5 * 1.02 + 0.571 * 25.4 / 18
    assert found.per_pick_mm == pytest.approx(8.5 * 1.02 + (pi / 2 - 1) * 25.4 / 18, rel=1e-12)
    assert found.used_mm == pytest.approx(10_600, abs=50)
    assert found.used_mm == found.picks * found.per_pick_mm
    assert found.buy_mm == found.used_mm * Fraction(11, 10) + 300
    assert found.basis == "pattern"


def test_the_weft_follows_the_left_edge_unless_stated() -> None:
    assert weft_needed(TAPE, ENDS, FOUND_WIDTH, FOUND_LENGTHS).yarn == "white"
    assert weft_needed(TAPE, ENDS[::-1], FOUND_WIDTH, FOUND_LENGTHS).yarn == "blue"
    assert weft_needed(replace(TAPE, weft="blue"), ENDS, FOUND_WIDTH, FOUND_LENGTHS).yarn == "blue"


def test_a_third_of_the_ends_when_nothing_tells_the_picks() -> None:
    silent = replace(TAPE, picks_per_inch=None)
    found = weft_needed(silent, ENDS, FOUND_WIDTH, FOUND_LENGTHS)
    assert (found.picks_per_inch, found.basis) == (21 / (Fraction("8.5") / MM_PER_INCH) / 3, "default")


def test_a_record_comes_before_the_guess_and_a_lesson_before_the_wish() -> None:
    records = (Measurement("2026-10-03", picks_per_inch=Fraction(14)), Measurement("2026-09-12"))
    recorded = replace(TAPE, picks_per_inch=None, measured=records)
    found = weft_needed(recorded, ENDS, FOUND_WIDTH, FOUND_LENGTHS)
    assert found.picks_per_inch == 14
    assert found.basis == "measured"
    lesson = Learned(("2026-10-03",), picks_per_inch=Fraction(14))
    taught = weft_needed(TAPE, ENDS, FOUND_WIDTH, FOUND_LENGTHS, lesson)
    assert taught.picks_per_inch == 14
    assert taught.basis == "measured"


def test_no_woven_length_takes_no_picks() -> None:
    all_fringe = replace(FOUND_LENGTHS, woven_mm=Fraction(0))
    found = weft_needed(TAPE, ENDS, FOUND_WIDTH, all_fringe)
    assert found.picks == found.used_mm == 0
    assert found.buy_mm == 300
