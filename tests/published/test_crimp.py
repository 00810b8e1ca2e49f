"""Crimp of plain weave against Peirce's figures, a table worked out beforehand, and the path measured along."""

from __future__ import annotations

from math import asin, cos, degrees, hypot, sin, sqrt

import pytest
from scipy.integrate import quad

from cardmaker.reckoning.amounts.weave_geometry import TAKE_UP_OF_TAPES, warp_faced_take_up
from tests.helpers.crimp import (
    crimp_from_take_up,
    jammed_curve,
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


def test_square_cloth_jams_at_60_degrees_and_20_9_per_cent() -> None:
    """The textbook figure for Peirce's square jammed cloth."""
    jammed = jammed_curve(0.5, 1)
    assert degrees(jammed.angle_radians) == pytest.approx(60)
    assert jammed.crimp * 100 == pytest.approx(20.9, abs=0.05)
    assert jammed.spacing_mm == pytest.approx(sqrt(3) / 2)
    loose = 1.001 * jammed.spacing_mm
    warp, weft = plain_weave(loose, loose, 1, weave_curve(loose, 0.5, 1).crimp)
    assert warp.crimp == pytest.approx(weft.crimp, abs=1e-6)
    assert warp.crimp == pytest.approx(jammed.crimp, abs=0.001)


@pytest.mark.parametrize("spacing", [0.95, 1.3, 2.0])
@pytest.mark.parametrize("height", [0.2, 0.5, 0.9])
def test_peirces_own_two_equations_hold(spacing: float, height: float) -> None:
    try:
        curve = weave_curve(spacing, height, 1)
    except ValueError:
        assert spacing < sqrt(1 - (1 - height) ** 2)  # jammed: D·sin θ with cos θ = 1 − h/D
        return
    angle, length = curve.angle_radians, curve.length_mm
    assert (length - angle) * cos(angle) + sin(angle) == pytest.approx(spacing)
    assert (length - angle) * sin(angle) + 1 - cos(angle) == pytest.approx(height)


def test_a_measured_band() -> None:
    """60 in of warp, 7 in of waste, 43 in of tape (one weaver's band, 2021): 18.9 % take-up, 23.3 % crimp."""
    take_up = 1 - 43 / 53
    assert take_up * 100 == pytest.approx(18.9, abs=0.05)
    assert crimp_from_take_up(take_up) * 100 == pytest.approx(23.3, abs=0.05)
    assert warp_faced_crimp(1.5, 1) == pytest.approx(crimp_from_take_up(take_up), abs=0.002)


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
