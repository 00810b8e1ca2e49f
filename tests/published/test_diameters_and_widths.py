"""Yarn diameters against Taylor's table, and the width model against recomputed and measured bands."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardmaker.model.pattern import CountSystem, Fibre, Pattern, Stripe, Yarn
from cardmaker.reckoning.amounts.width import tape_width
from cardmaker.reckoning.amounts.yarn_thickness import ENDS_PER_DIAMETER, ENDS_PER_WRAP, diameter_mm, diameters_per_inch

TAYLORS_K = Fraction(95, 100)  # "the square root of yards per lb less 5 per cent", Taylor 1909 pp.334-337


@pytest.mark.parametrize(
    ("count", "printed"),
    [
        ("1", 27.5), ("4", 55.5), ("8", 78), ("10", 87.5), ("16", 110), ("20", 123.5), ("32", 156), ("40", 174.5),
        ("60", 213), ("100", 275.5), ("200", 390),
    ],
)  # fmt: skip
def test_taylors_table_of_diameters(count: str, printed: float) -> None:
    """Taylor 1909 pp.334-335: threads of cotton laid side by side in an inch."""
    found = diameters_per_inch(Yarn("grey", "cotton", count), TAYLORS_K)
    assert found is not None
    assert float(found) == pytest.approx(printed, rel=0.01)


def test_ashenhursts_diameter() -> None:
    """Taylor 1909 p.334 tells Ashenhurst's 32's cotton as 1/148 in: our K of 0.90 to a third of a per cent."""
    found = diameters_per_inch(Yarn("grey", "cotton", "32"))
    assert found is not None
    assert float(found) == pytest.approx(148, rel=0.0035)


@pytest.mark.parametrize(
    ("fibre", "system", "count", "per_inch", "across_mm"),
    [
        ("cotton", None, "8/2", 52.2, 0.487),
        ("cotton", None, "10/2", 58.3, 0.435),
        ("linen", None, "16/2", 44.1, 0.576),
        ("cottolin", "linen", "22/2", 51.7, 0.491),
        ("cotton", None, "5/2", 41.2, 0.616),
    ],
)
def test_diameters_of_weaving_yarns(
    fibre: Fibre, system: CountSystem | None, count: str, per_inch: float, across_mm: float
) -> None:
    """Recomputed with K = 0.90; a hand-weaving page prints 52 for 8/2 cotton."""
    of = Yarn("grey", fibre, count, system)
    across, diameter = diameters_per_inch(of), diameter_mm(of)
    assert across is not None
    assert diameter is not None
    assert float(across) == pytest.approx(per_inch, abs=0.05)
    assert float(diameter) == pytest.approx(across_mm, abs=0.0006)


BANDS: list[tuple[Yarn, int, tuple[float, float, float], tuple[float, float] | None]] = [
    (Yarn("grey", "cotton", "8/2"), 21, (6.6, 8.5, 12.0), None),
    (Yarn("grey", "linen", "16/2"), 21, (7.8, 10.1, 14.2), (7.9, 7.9)),  # measured 5/16 in
    (Yarn("grey", "cottolin", yards_per_pound=Fraction(3200)), 33, (10.6, 13.7, 19.4), (12.7, 15)),  # measured 2014
]


@pytest.mark.parametrize(("of", "ends", "expected", "measured"), BANDS)
def test_widths_of_warp_faced_bands(
    of: Yarn, ends: int, expected: tuple[float, float, float], measured: tuple[float, float] | None
) -> None:
    """Ends * diameter / k for k of 1.55, 1.20 and 0.85, and bands that hand weavers measured."""
    found = tape_width(Pattern("Band", "band", (of,), (Stripe("grey", ends),)), ("grey",) * ends)
    low, likely, high = (float(mm) for mm in (found.low_mm, found.likely_mm, found.high_mm))
    assert [low, likely, high] == pytest.approx(expected, abs=0.05)
    assert found.basis == "count"
    if measured:
        assert low <= measured[0] <= measured[1] <= high


def test_wraps_are_diameters_less_what_the_plies_hold_apart() -> None:
    """A wrapped ruler shows 0.70 to 0.86 of the diameters, so the k range over those is the range on wraps."""
    low, _, high = ENDS_PER_DIAMETER
    assert float(ENDS_PER_WRAP[0]) == pytest.approx(float(low) / 0.86, abs=0.02)
    assert float(ENDS_PER_WRAP[2]) == pytest.approx(float(high) / 0.70, abs=0.02)
