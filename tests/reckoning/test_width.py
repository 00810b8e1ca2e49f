"""Widths of the demonstration tapes, the range and what it rests on, and ends for a wanted width."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from cardmaker.model.pattern import Measurement, Pattern, Stripe, Yarn
from cardmaker.model.problems import Refusal
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.amounts.measured_tapes import Learned
from cardmaker.reckoning.amounts.width import end_edges, tape_width, width_refusals
from cardmaker.reckoning.amounts.yarn_thickness import ends_per_inch_range

THIN = Yarn("white", "linen", "20/2", ends_per_inch=Fraction("49.3"))
THICK = Yarn("red", "linen", "12/2", ends_per_inch=Fraction("38.2"))


def pattern(*yarns: Yarn) -> Pattern:
    return Pattern("Three Paths", "three-paths", yarns, (Stripe(yarns[0].name, 31),))


TAPE = pattern(THIN, THICK)


def ends(thin: int, thick: int = 0) -> tuple[str, ...]:
    return ("white",) * thin + ("red",) * thick


@pytest.mark.parametrize(
    ("thin", "thick", "expected"),
    [(8, 0, 4.1), (13, 0, 6.7), (31, 0, 16.0), (32, 0, 16.5), (60, 0, 30.9), (26, 5, 16.7)],
    ids=["T01", "T03", "T08", "T14", "T24", "T21"],
)
def test_demonstration_widths(thin: int, thick: int, expected: float) -> None:
    found = tape_width(TAPE, ends(thin, thick))
    assert round(float(found.likely_mm), 1) == expected
    assert found.basis == "sample"


def test_a_sample_of_the_yarn_is_trusted_to_fifteen_per_cent() -> None:
    found = tape_width(TAPE, ends(31))
    assert found.likely_mm == Fraction(31 * 254, 493)
    assert found.low_mm == found.likely_mm / Fraction("1.15")
    assert found.high_mm == found.likely_mm / Fraction("0.85")
    assert found.ends_per_inch == Fraction("49.3")


def test_wraps_come_before_the_count_and_a_sample_before_both() -> None:
    counted = replace(THIN, ends_per_inch=None)
    wrapped = replace(counted, wraps_per_inch=Fraction(34))
    assert ends_per_inch_range(counted).basis == "count"
    found = ends_per_inch_range(wrapped)
    assert [found.low, found.likely, found.high] == [34, 51, Fraction("74.8")]
    assert found.basis == "wraps"
    assert ends_per_inch_range(replace(wrapped, ends_per_inch=Fraction(50))).basis == "sample"


def test_the_whole_rests_on_its_weakest_yarn() -> None:
    wrapped = replace(THICK, ends_per_inch=None, wraps_per_inch=Fraction(25))
    counted = replace(THICK, ends_per_inch=None)
    assert tape_width(pattern(THIN, wrapped), ends(5, 5)).basis == "wraps"
    assert tape_width(pattern(THIN, counted), ends(5, 5)).basis == "count"
    assert tape_width(pattern(THIN, counted), ends(5)).basis == "sample"


def test_a_measured_width_comes_first() -> None:
    measured = replace(TAPE, width_mm=Fraction(15), measured=(Measurement("2026-10-03", width_mm=Fraction(14)),))
    found = tape_width(measured, ends(31))
    assert [found.low_mm, found.likely_mm, found.high_mm] == [Fraction("13.3"), 14, Fraction("14.7")]
    assert found.basis == "measured"
    assert found.ends_per_inch == 31 / (14 / MM_PER_INCH)
    assert tape_width(replace(measured, measured=()), ends(31)).likely_mm == 15


def test_the_latest_record_with_a_width_is_used() -> None:
    records = (
        Measurement("2026-10-03", width_mm=Fraction(15)),
        Measurement("2026-09-12", width_mm=Fraction(14)),
        Measurement("2026-11-01", tape_mm=Fraction(900)),
    )
    assert tape_width(replace(TAPE, measured=records), ends(31)).likely_mm == 15


def test_what_was_learned_gives_the_width_of_other_counts_too() -> None:
    lesson = Learned(("2026-10-03",), ends_per_inch=Fraction("52.5"))
    found = tape_width(TAPE, ends(21), lesson)
    assert found.likely_mm == Fraction(21 * 254 * 10, 5250)
    assert (found.basis, found.ends_per_inch) == ("measured", Fraction("52.5"))


def test_a_yarn_of_no_known_thickness_is_refused_unless_the_width_is_measured() -> None:
    unknown = pattern(Yarn("white", "linen"))
    with pytest.raises(Refusal) as refused:
        tape_width(unknown, ends(31))
    assert refused.value.path == ("yarns", "white")
    assert str(refused.value) == (
        "Nothing tells how thick this yarn is, so the width cannot be reckoned. "
        "Give its count, yards_per_pound, metres_per_kg, wraps_per_inch or ends_per_inch."
    )
    assert tape_width(replace(unknown, width_mm=Fraction(15)), ends(31)).likely_mm == 15


def test_a_width_that_its_ends_cannot_have_is_refused_at_its_key() -> None:
    """31 ends across 500 mm are 1.57 to the inch, and across 2 mm 394; 31 across 262 mm are 3.005, which is let be."""
    wide = replace(
        TAPE, width_mm=Fraction(500), measured=(Measurement("x", width_mm=Fraction(2)),), warp=(Stripe("white", 31),)
    )
    refused = list(width_refusals(wide))
    assert [refusal.path for refusal in refused] == [("width",), ("measured", 0, "width")]
    assert str(refused[0]) == (
        "31 ends across 500 mm are 1.57 to the inch; 3 is the least. Check the width and its unit, and the stripes."
    )
    assert "394 to the inch; 300 is the most" in str(refused[1])
    assert list(width_refusals(replace(wide, width_mm=Fraction(262), measured=()))) == []


@given(some.integers(1, 60), some.integers(1, 60))
def test_yarns_add_up_and_the_range_holds_the_likely_width(thin: int, thick: int) -> None:
    together = tape_width(TAPE, ends(thin, thick))
    alone = tape_width(TAPE, ends(thin)), tape_width(TAPE, ends(0, thick))
    assert together.likely_mm == sum(part.likely_mm for part in alone)
    assert together.low_mm < together.likely_mm < together.high_mm


def test_a_thick_end_is_wider_by_as_much_as_fewer_lie_in_an_inch() -> None:
    """1/40 and 1/20 of an inch: shares of 1, 1 and 2 of 4; alike where nothing tells how thick they are."""
    thin, thick = Yarn("thin", "linen", ends_per_inch=Fraction(40)), Yarn("thick", "linen", ends_per_inch=Fraction(20))
    assert end_edges(pattern(thin, thick), ("thin", "thin", "thick")) == pytest.approx((0, 0.25, 0.5, 1))
    assert end_edges(pattern(thin), ("thin",) * 4) == (0, 0.25, 0.5, 0.75, 1)
    unknown = pattern(Yarn("thin", "linen"), thick)
    assert end_edges(unknown, ("thin", "thick")) == (0, 0.5, 1)
