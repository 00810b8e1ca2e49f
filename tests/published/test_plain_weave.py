"""Crimp of plain weave against Peirce's equations and figures, and a band that a weaver measured."""

from __future__ import annotations

from math import cos, degrees, sin, sqrt

import pytest

from tests.helpers.crimp import crimp_from_take_up, jammed_curve, plain_weave, warp_faced_crimp, weave_curve
from tests.helpers.published_sources import PEIRCE, WEAVERS, source


@source(PEIRCE, "T45 on square jammed cloth")
def test_square_cloth_jams_at_60_degrees_and_20_9_per_cent() -> None:
    jammed = jammed_curve(0.5, 1)
    assert degrees(jammed.angle_radians) == pytest.approx(60)
    assert jammed.crimp * 100 == pytest.approx(20.9, abs=0.05)
    assert jammed.spacing_mm == pytest.approx(sqrt(3) / 2)
    loose = 1.001 * jammed.spacing_mm
    warp, weft = plain_weave(loose, loose, 1, weave_curve(loose, 0.5, 1).crimp)
    assert warp.crimp == pytest.approx(weft.crimp, abs=1e-6)
    assert warp.crimp == pytest.approx(jammed.crimp, abs=0.001)


@source(PEIRCE, "T45 on plain weave: p = (l − Dθ)·cos θ + D·sin θ, h = (l − Dθ)·sin θ + D·(1 − cos θ)")
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


@source(WEAVERS, "a 5/2 perle band before washing: 60 in of warp, 7 in of waste, 43 in of tape, 2021")
def test_a_measured_band() -> None:
    """18.9 % take-up, 23.3 % crimp: what a straight weft gives at picks of one and a half diameters."""
    take_up = 1 - 43 / 53
    assert take_up * 100 == pytest.approx(18.9, abs=0.05)
    assert crimp_from_take_up(take_up) * 100 == pytest.approx(23.3, abs=0.05)
    assert warp_faced_crimp(1.5, 1) == pytest.approx(crimp_from_take_up(take_up), abs=0.002)
