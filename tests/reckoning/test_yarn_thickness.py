"""Diameters, wraps and the width model: sums of our own."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardmaker.model.pattern import CountSystem, Fibre, Pattern, Stripe, Yarn
from cardmaker.reckoning.amounts.width import tape_width
from cardmaker.reckoning.amounts.yarn_thickness import ENDS_PER_DIAMETER, ENDS_PER_WRAP, diameter_mm, diameters_per_inch


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
    """0.90 times the root of the yards in a pound, and 25.4 mm over that. By hand calculator."""
    of = Yarn("grey", fibre, count, system)
    across, diameter = diameters_per_inch(of), diameter_mm(of)
    assert across is not None
    assert diameter is not None
    assert float(across) == pytest.approx(per_inch, abs=0.05)
    assert float(diameter) == pytest.approx(across_mm, abs=0.0006)


@pytest.mark.parametrize(
    ("of", "ends", "expected"),
    [
        (Yarn("grey", "cotton", "8/2"), 21, (6.6, 8.5, 12.0)),
        (Yarn("grey", "linen", "16/2"), 21, (7.8, 10.1, 14.2)),
        (Yarn("grey", "cottolin", yards_per_pound=Fraction(3200)), 33, (10.6, 13.7, 19.4)),
    ],
)
def test_widths_of_warp_faced_bands(of: Yarn, ends: int, expected: tuple[float, float, float]) -> None:
    """Ends * diameter / k for k of 1.55, 1.20 and 0.85. By hand calculator."""
    found = tape_width(Pattern("Band", "band", (of,), (Stripe("grey", ends),)), ("grey",) * ends)
    assert [float(mm) for mm in (found.low_mm, found.likely_mm, found.high_mm)] == pytest.approx(expected, abs=0.05)
    assert found.basis == "count"


def test_nested_plies_wrap_at_most_86_in_a_hundred_diameters() -> None:
    """Two strands' mean projected width is (1 + 2/pi) strands, of the same mass in one thread the root of 2: 0.86."""
    assert float(ENDS_PER_WRAP[0]) == pytest.approx(float(ENDS_PER_DIAMETER[0]) / 0.86, abs=0.02)
