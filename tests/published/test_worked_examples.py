"""Worked examples of the old textile schools, done by our own functions.

The works stand in ``tests/helpers/published_sources.py``. Printed figures are kept as
printed; a tolerance says how far the printer rounded.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from cardmaker.model.loom import Heddles, Loom, Space
from cardmaker.model.pattern import CountSystem, Package, Pattern, Stripe, WantedLength, Yarn
from cardmaker.model.plan import Weft, YarnAmount
from cardmaker.model.units import GRAMS_PER_POUND, MM_PER_INCH, MM_PER_YARD
from cardmaker.reckoning.amounts.lengths import warp_lengths
from cardmaker.reckoning.amounts.weft import weft_needed
from cardmaker.reckoning.amounts.width import tape_width
from cardmaker.reckoning.amounts.yarn_amounts import ball_length_mm, grams, yarn_needed
from cardmaker.reckoning.amounts.yarn_counts import metres_per_kg, metres_per_kg_of, resultant
from cardmaker.reckoning.amounts.yarn_thickness import diameters_per_inch
from tests.helpers.published_sources import ACST, BROOKS, DAVIS, DOOLEY, TAYLOR, WOLFENSBERGER, case, source
from tests.helpers.yarn_numbers import number_in

LB, OZ, GRAIN = GRAMS_PER_POUND, GRAMS_PER_POUND / 16, GRAMS_PER_POUND / 7000
YARD, INCH = MM_PER_YARD, MM_PER_INCH
HANK = 840 * YARD
NONE = Fraction(0)
LOOM = Loom("Power loom", "power-loom", Heddles.ONE, slots=2, holes=1, outer=Space.SLOT, waste_mm=NONE)


def yarn(system: CountSystem, count: str) -> Yarn:
    return Yarn(name="grey", fibre="other", count=count, system=system)


def pattern(of: Yarn, warp_yards: int, inches_wide: str = "1", picks_per_inch: int = 1) -> Pattern:
    """A warp as the mills reckon it: no take-up, no shrinkage, no waste unless the example says so."""
    return Pattern(
        title="Example",
        stem="example",
        yarns=(of,),
        warp=(Stripe("grey", 1),),
        width_mm=Fraction(inches_wide) * INCH,
        picks_per_inch=Fraction(picks_per_inch),
        length=WantedLength(warp_mm=warp_yards * YARD, take_up=NONE, shrinkage=NONE),
    )


@pytest.mark.parametrize(
    ("numbers", "printed"),
    [
        case(TAYLOR, "p.309", [60, 40], 24),
        case(TAYLOR, "p.309, three threads", [10, 20, 60], 6),
        case(BROOKS, "p.145", [40, 20], 13 + 1 / 3),
        case(BROOKS, "p.145, three threads", [40, 80, 120], 21.81),
        case(DAVIS, "on folded yarns", [48, 24], 16),
    ],
)
def test_yarns_twisted_together(numbers: list[int], printed: float) -> None:
    assert float(resultant([Fraction(number) for number in numbers])) == pytest.approx(printed, abs=0.01)


@pytest.mark.parametrize(
    ("system", "number", "other", "printed"),
    [
        case(BROOKS, "p.144 worsted", "cotton", 20, "worsted", 30),
        case(BROOKS, "p.144 linen", "cotton", 20, "linen", 56),
        case(DAVIS, "on cotton and worsted", "cotton", 10, "worsted", 15),
    ],
)
def test_one_yarn_in_two_systems(system: CountSystem, number: int, other: CountSystem, printed: int) -> None:
    assert number_in(other, metres_per_kg_of(system, Fraction(number))) == printed


@source(BROOKS, "p.144: 20's is 16.93's French")
def test_french_cotton_number() -> None:
    """It counts kilometres in half a kilogram."""
    assert float(number_in("metric", metres_per_kg_of("cotton", Fraction(20))) / 2) == pytest.approx(16.93, abs=0.005)


@pytest.mark.parametrize(
    ("system", "count", "weight", "yards"),
    [
        case(TAYLOR, "ch. XII, a pound of 30's", "cotton", "30", LB, 25_200),
        case(BROOKS, "ch. IX, 44's", "cotton", "44", LB / 4, 9240),
        case(ACST, "Part IV: 5 1/2-run", "woollen run", "5.5", 16 * OZ, 8800),
        case(ACST, "Part IV: 3-run", "woollen run", "3", Fraction(35, 2) * OZ, 5250),
        case(DOOLEY, "ch. V, 5 run", "woollen run", "5", LB, 8000),
        case(DOOLEY, "ch. V, 3 1/4 run", "woollen run", "3.25", LB, 5200),
        case(DOOLEY, "ch. V, 30 cut: the same hank of 300 yd", "linen", "30", LB, 9000),
        case(DOOLEY, "ch. V, 30 worsted", "worsted", "30", LB, 16_800),
        case(DOOLEY, "ch. V, 130's worsted", "worsted", "130", LB, 72_800),
    ],
)
def test_length_of_a_weight(system: CountSystem, count: str, weight: Fraction, yards: int) -> None:
    assert ball_length_mm(yarn(system, count), weight) == yards * YARD
    assert grams(yarn(system, count), yards * YARD) == weight


@source(TAYLOR, "ch. XII: 4-dram silk, of which 1000 yd weigh 4 drams, has 4000 yd in an ounce")
def test_silk_by_drams() -> None:
    silk = Yarn("grey", "silk", package=Package(length_mm=1000 * YARD, weight_g=4 * OZ / 16))
    assert ball_length_mm(silk, OZ) == 4000 * YARD


@source(TAYLOR, "ch. XII: 2200 ends of 40's weighing 50 lb are 763.6 yd long")
def test_length_of_the_ends_in_a_warp() -> None:
    found = ball_length_mm(yarn("cotton", "40"), 50 * LB)
    assert found is not None
    assert float(found / 2200 / YARD) == pytest.approx(763.6, abs=0.05)


@source(TAYLOR, "ch. XII: 16 yd of 20's are 6.67 grains (printed 6.6)")
def test_weight_of_a_wrap_reel_length() -> None:
    found = grams(yarn("cotton", "20"), 16 * YARD)
    assert found is not None
    assert float(found / GRAIN) == pytest.approx(6.67, abs=0.005)


@pytest.mark.parametrize(
    ("system", "yards", "weight", "printed", "tolerance"),
    [
        case(TAYLOR, "ch. XII, 34 yd in 8 grains", "cotton", 34, 8 * GRAIN, 35.41, 0.01),
        case(TAYLOR, "ch. XII, 2000 ends of 500 yd in 60 lb", "cotton", 2000 * 500, 60 * LB, 19.84, 0.005),
        case(TAYLOR, "ch. XII, a lea in 20 grains", "cotton", 120, 20 * GRAIN, 50, 0),
        case(ACST, "Part IV: 4000 yd in 5 oz", "woollen run", 4000, 5 * OZ, 8, 0),
        case(ACST, "Part IV: 200 000 yd in 15 lb", "woollen run", 200_000, 15 * LB, 8.33, 0.005),
        case(
            BROOKS,
            "ch. IX: 504 ends of 14 256 yd in 301 lb, printed cut short",
            "cotton",
            14_256 * 504,
            301 * LB,
            28.41,
            0.01,
        ),
    ],
)
def test_number_of_a_length_that_was_weighed(
    system: CountSystem, yards: int, weight: Fraction, printed: float, tolerance: float
) -> None:
    skein = Yarn("grey", "other", package=Package(length_mm=yards * YARD, weight_g=weight))
    metres = metres_per_kg(skein)
    assert metres is not None
    assert float(number_in(system, metres)) == pytest.approx(printed, abs=tolerance)


def warp_amount(of: Yarn, ends: int, warp_yards: int, extra: Fraction = NONE) -> YarnAmount:
    tape = pattern(of, warp_yards)
    found = warp_lengths(tape, LOOM)
    no_weft = replace(weft_needed(tape, ("grey",), tape_width(tape, ("grey",)), found), yarn="none", buy_mm=NONE)
    with_none = replace(tape, yarns=(of, Yarn("none", "other")))
    return yarn_needed(with_none, ("grey",) * ends, found, no_weft, extra=extra, spare_ends=0)[0]


@pytest.mark.parametrize(
    ("of", "ends", "yards", "extra", "pounds", "tolerance"),
    [
        case(TAYLOR, "ch. XII: 7 lb 14 2/3 oz", yarn("cotton", "30"), 30 * 70, 95, NONE, 7 + 14.667 / 16, 1e-4),
        case(BROOKS, "ch. IX: 3 lb 7 oz", yarn("cotton", "30"), 2280, 38, NONE, 3 + 7 / 16, 1e-3),
        case(BROOKS, "ch. IX: 3.407 lb, printed cut short", yarn("cotton", "30"), 2260, 38, NONE, 3.407, 1e-3),
        case(
            WOLFENSBERGER,
            "pp.68-81: 1.47 dram to 1000 yd, 4 % more",
            Yarn("grey", "silk", yards_per_pound=256_000 / Fraction("1.47")),
            4032,
            110,
            Fraction(4, 100),
            2.65,
            0.005,
        ),
        case(
            WOLFENSBERGER,
            "pp.68-81: 1.30 dram to 1000 yd, 4 % more",
            Yarn("grey", "silk", yards_per_pound=256_000 / Fraction("1.30")),
            3864,
            54,
            Fraction(4, 100),
            1.10,
            0.005,
        ),
    ],
)
def test_weight_of_a_warp(of: Yarn, ends: int, yards: int, extra: Fraction, pounds: float, tolerance: float) -> None:
    found = warp_amount(of, ends, yards, extra).grams
    assert found is not None
    assert float(found / LB) == pytest.approx(pounds, abs=tolerance)


@pytest.mark.parametrize(
    ("ends", "yards", "hanks"),
    [
        case(TAYLOR, "ch. XII: 237.5 hanks", 30 * 70, 95, Fraction(475, 2)),
        case(BROOKS, "ch. IX: 103 1/7 hanks", 2280, 38, 103 + Fraction(1, 7)),
    ],
)
def test_hanks_in_a_warp(ends: int, yards: int, hanks: Fraction) -> None:
    assert warp_amount(yarn("cotton", "30"), ends, yards).warp_mm == hanks * HANK


def plain_weft(of: Yarn, inches_wide: str, yards: int, picks_per_inch: int) -> Weft:
    """The books' sum: straight picks from edge to edge."""
    cloth = pattern(of, yards, inches_wide, picks_per_inch)
    return weft_needed(cloth, ("grey",), tape_width(cloth, ("grey",)), warp_lengths(cloth, LOOM), crimp=NONE, turn=NONE)


@pytest.mark.parametrize(
    ("count", "inches_wide", "yards", "picks_per_inch", "pounds"),
    [
        case(TAYLOR, "ch. XII: 6 lb 6 6/7 oz", "40", "30", 90, 80, 6 + Fraction(48, 7) / 16),
        case(BROOKS, "ch. IX: 2.857 lb", "36", "37.5", 36, 64, Fraction(20, 7)),
    ],
)
def test_weight_of_the_weft(count: str, inches_wide: str, yards: int, picks_per_inch: int, pounds: Fraction) -> None:
    of = yarn("cotton", count)
    found = grams(of, plain_weft(of, inches_wide, yards, picks_per_inch).used_mm)
    assert found == pounds * LB


@source(TAYLOR, "ch. XII: 34 in wide, 84 yd, 60 picks take 204 hanks")
def test_hanks_of_weft() -> None:
    assert plain_weft(yarn("cotton", "30"), "34", 84, 60).used_mm == 204 * HANK


@source(WOLFENSBERGER, "pp.68-81: 50 yd, 24 in, 120 picks of 120/2 cotton, 10 % more, are 3.14 lb")
def test_weft_with_a_tenth_for_waste() -> None:
    of = yarn("cotton", "120/2")
    found = grams(of, plain_weft(of, "24", 50, 120).buy_mm)
    assert found is not None
    assert float(found / LB) == pytest.approx(3.14, abs=0.005)


@source(BROOKS, "p.149: width in inches times picks per inch is yards of weft per yard of cloth")
@source(TAYLOR, "p.312: the same")
@given(some.integers(1, 60), some.integers(1, 150), some.integers(1, 200))
def test_inches_times_picks_are_yards_of_weft_in_a_yard(inches_wide: int, picks_per_inch: int, yards: int) -> None:
    found = plain_weft(yarn("cotton", "30"), str(inches_wide), yards, picks_per_inch)
    assert found.used_mm / YARD == inches_wide * picks_per_inch * yards


@pytest.mark.parametrize(
    ("first", "first_printed", "second", "second_printed"),
    [
        case(TAYLOR, "ch. XII: 16's 1/110 in, so 36's 1/165", "16", 110, "36", 165),
        case(TAYLOR, "ch. XII: 32's 1/156 in, so 50's 1/195", "32", 156, "50", 195),
    ],
)
def test_diameters_go_as_the_roots(first: str, first_printed: int, second: str, second_printed: int) -> None:
    one, other = diameters_per_inch(yarn("cotton", first)), diameters_per_inch(yarn("cotton", second))
    assert one is not None
    assert other is not None
    assert float(other / one) == pytest.approx(second_printed / first_printed, rel=1e-12)
