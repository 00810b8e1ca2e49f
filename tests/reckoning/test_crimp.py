"""Crimp over a straight weft: a table of our own from the closed form, and the path measured along by integration."""

from __future__ import annotations

from math import asin, degrees, hypot, sin, sqrt

import pytest
from scipy.integrate import quad

from cardmaker.reckoning.amounts.weave_geometry import TAKE_UP_OF_TAPES, warp_faced_take_up
from tests.helpers.crimp import (
    plain_weave,
    rough_crimp,
    take_up_from_crimp,
    warp_faced_crimp,
    weave_curve,
)


@pytest.mark.parametrize(
    ("spacing", "angle", "crimp", "take_up", "rough"),
    [
        (1.00, 90, 57.08, 36.34, 56.25),
        (1.25, 53.13, 34.18, 25.48, 36.00),
        (1.50, 41.81, 23.18, 18.82, 25.00),
        (1.75, 34.85, 16.82, 14.40, 18.37),
        (2.00, 30.00, 12.78, 11.33, 14.06),
        (2.50, 23.58, 8.11, 7.50, 9.00),
        (3.00, 19.47, 5.61, 5.31, 6.25),
    ],
)
def test_straight_weft(spacing: float, angle: float, crimp: float, take_up: float, rough: float) -> None:
    found = warp_faced_crimp(spacing, 1)
    assert found * 100 == pytest.approx(crimp, abs=0.006)
    assert take_up_from_crimp(found) * 100 == pytest.approx(take_up, abs=0.006)
    assert rough_crimp(1, spacing) * 100 == pytest.approx(rough, abs=0.006)
    assert degrees(weave_curve(spacing, 1, 1).angle_radians) == pytest.approx(angle, abs=0.006)
    assert weave_curve(spacing, 1, 1).crimp == pytest.approx(found)


def path_length(spacing: float, across: float) -> float:
    """Arc, tangent, arc from the top of one pick to the bottom of the next, as y over x, integrated numerically.

    The warp's axis lies on circles of radius D/2 about the picks at (0, 0) and (p, 0), over one and under the next.
    """
    radius, angle = across / 2, asin(across / spacing)
    touch = radius * sin(angle)

    def slope(x: float) -> float:
        near = min(x, spacing - x, touch)
        return near / sqrt(radius**2 - near**2)

    length, _ = quad(lambda x: hypot(1, slope(x)), 0, spacing, points=[touch, spacing - touch], limit=500)
    fall, _ = quad(slope, 0, spacing, points=[touch, spacing - touch], limit=500)
    assert fall == pytest.approx(across)  # from D/2 above the picks to D/2 below
    return float(length)


@pytest.mark.parametrize("spacing", [1.3, 1.5, 1.8, 2.2, 3.0])
def test_straight_weft_measured_along_the_path(spacing: float) -> None:
    assert warp_faced_crimp(spacing, 1) == pytest.approx(path_length(spacing, 1) / spacing - 1, abs=1e-6)


def test_eight_two_cotton_both_ways() -> None:
    """0.487 mm each, 20 picks an inch: 31.2 % and 23.8 %; with 2 % left in a weft of 62 ends an inch, about 27 %."""
    straight = warp_faced_crimp(25.4 / 20, 0.974)
    assert straight * 100 == pytest.approx(31.2, abs=0.05)
    assert take_up_from_crimp(straight) * 100 == pytest.approx(23.8, abs=0.05)
    warp, weft = plain_weave(25.4 / 62, 25.4 / 20, 0.974, 0.02)
    assert weft.crimp == pytest.approx(0.02)
    assert warp.height_mm + weft.height_mm == pytest.approx(0.974)
    assert weft.height_mm == pytest.approx(0.077, abs=0.006)  # the short form's figure
    assert warp.crimp * 100 == pytest.approx(26.7, abs=0.6)


def test_the_usual_take_up_is_that_of_picks_a_little_apart() -> None:
    """15 % lies between a straight weft's 18.8 % at picks of 1.5 diameters and its 11.3 % at picks of 2."""
    close, wide = (take_up_from_crimp(warp_faced_crimp(spacing, 1)) for spacing in (1.5, 2))
    assert (round(100 * close, 1), round(100 * wide, 1)) == (18.8, 11.3)
    assert wide < TAKE_UP_OF_TAPES[1] < close
    assert warp_faced_take_up(1.5, 1) == pytest.approx(close, abs=1e-12)
    assert warp_faced_take_up(2, 1) == pytest.approx(wide, abs=1e-12)
