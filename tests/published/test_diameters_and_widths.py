"""Yarn diameters against Taylor's table, and the width model against bands that hand weavers measured."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardmaker.model.pattern import Pattern, Stripe, Yarn
from cardmaker.reckoning.amounts.width import tape_width
from cardmaker.reckoning.amounts.yarn_thickness import ENDS_PER_DIAMETER, ENDS_PER_WRAP, diameters_per_inch
from tests.helpers.published_sources import TAYLOR, WEAVERS, WEAVING_PAGES, case, source

TAYLORS_K = Fraction(95, 100)  # "the square root of yards per lb less 5 per cent", Taylor 1909 pp.334-337


@source(TAYLOR, "pp.334-335, threads of cotton laid side by side in an inch")
@pytest.mark.parametrize(
    ("count", "printed"),
    [
        ("1", 27.5), ("4", 55.5), ("8", 78), ("10", 87.5), ("16", 110), ("20", 123.5), ("32", 156), ("40", 174.5),
        ("60", 213), ("100", 275.5), ("200", 390),
    ],
)  # fmt: skip
def test_taylors_table_of_diameters(count: str, printed: float) -> None:
    found = diameters_per_inch(Yarn("grey", "cotton", count), TAYLORS_K)
    assert found is not None
    assert float(found) == pytest.approx(printed, rel=0.01)


@source(TAYLOR, "p.334, Ashenhurst's 32's cotton is 1/148 in")
def test_ashenhursts_diameter() -> None:
    """Our K of 0.90 to a third of a per cent."""
    found = diameters_per_inch(Yarn("grey", "cotton", "32"))
    assert found is not None
    assert float(found) == pytest.approx(148, rel=0.0035)


@source(WEAVING_PAGES, "a hand-weaving page of 1999: 8/2 cotton is 52 diameters to the inch")
def test_the_diameters_of_eight_two_cotton() -> None:
    found = diameters_per_inch(Yarn("grey", "cotton", "8/2"))
    assert found is not None
    assert round(found) == 52


@pytest.mark.parametrize(
    ("of", "ends", "least_mm", "most_mm"),
    [
        case(WEAVERS, "a tape in 8/2 cotton, 1/4 in, 2025", Yarn("grey", "cotton", "8/2"), 11, 6.35, 6.35),
        case(WEAVERS, "a tape in 3/2 cotton, almost 3/4 in, 2009", Yarn("grey", "cotton", "3/2"), 26, 19, 19.05),
        case(
            WEAVERS, "a band in cottolin, about 0.5 in (15 mm), 2014",
            Yarn("grey", "cottolin", yards_per_pound=Fraction(3200)), 33, 12.7, 15,
        ),
        case(WEAVERS, "a damp band in 5/2 perle, 1.3 in, 2021", Yarn("grey", "cotton", "5/2"), 62, 33.02, 33.02),
        case(WEAVERS, "a tape in 16/2 linen, 5/16 in, 2009", Yarn("grey", "linen", "16/2"), 21, 7.9375, 7.9375),
    ],
)  # fmt: skip
def test_measured_bands_lie_in_the_range_that_is_guessed(of: Yarn, ends: int, least_mm: float, most_mm: float) -> None:
    """The narrowest cotton tape was read off to a quarter of an inch: it lies 1 % outside, and may."""
    found = tape_width(Pattern("Band", "band", (of,), (Stripe("grey", ends),)), ("grey",) * ends)
    assert found.basis == "count"
    assert float(found.low_mm) * 0.99 <= least_mm <= most_mm <= float(found.high_mm) * 1.01


@source(WEAVING_PAGES, "a weaving teacher's: divide what is wrapped round a ruler by 0.7")
def test_wraps_are_seven_tenths_of_the_diameters_where_plies_touch_at_the_widest() -> None:
    assert float(ENDS_PER_WRAP[2]) == pytest.approx(float(ENDS_PER_DIAMETER[2]) / 0.70, abs=0.02)
