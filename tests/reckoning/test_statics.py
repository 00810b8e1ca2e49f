"""Tension read by pressing and by plucking, against scipy's roots and sums of our own, worked out beforehand."""

from __future__ import annotations

from math import atan, sin

import pytest
from scipy.optimize import brentq

from cardmaker.reckoning.on_loom.tension import GRAVITY_N_PER_G, pressed_dip_mm, pulls
from tests.helpers.statics import (
    dip_mm,
    level_from_pitch_cn_per_tex,
    pitch_hz,
    pressed_tension_n,
    rest_tension_n,
    short_form_error,
    short_tension_n,
    tension_from_pitch_n,
    tension_n,
)

LINEN_16_2_TEX = 206.689  # 1653.515 / (16/2), ASTM D2260


@pytest.mark.parametrize(
    ("press", "span", "dip", "short", "exact"),
    [(0.5, 500, 10, 6.25, 6.255), (100 * GRAVITY_N_PER_G, 400, 20, 4.903, 4.928), (0.5, 500, 50, 1.250, 1.275)],
)
def test_press_at_mid_span(press: float, span: float, dip: float, short: float, exact: float) -> None:
    assert short_tension_n(press, dip, span) == pytest.approx(short, abs=0.0006)
    assert tension_n(press, dip, span) == pytest.approx(exact, abs=0.0006)
    assert short_tension_n(press, dip, span) / tension_n(press, dip, span) == pytest.approx(
        1 - short_form_error(dip, span)
    )


@pytest.mark.parametrize("press", [0.1, 0.5, 2.0])
@pytest.mark.parametrize("pull", [1.1, 6.0, 40.0])
def test_dip_is_the_root_of_the_exact_statics(press: float, pull: float) -> None:
    """Two legs at the angle atan(2δ/L) carry the weight between them: W = 2·T·sin(angle)."""
    root = brentq(lambda dip: 2 * pull * sin(atan(2 * dip / 500)) - press, 1e-9, 1e6, xtol=1e-12)
    assert dip_mm(press, pull, 500) == pytest.approx(root, rel=1e-9)
    assert tension_n(press, dip_mm(press, pull, 500), 500) == pytest.approx(pull, rel=1e-12)


def test_the_short_form_is_good_to_half_a_per_cent_up_to_a_twentieth() -> None:
    assert short_form_error(1, 20) < 0.005 < short_form_error(1, 19)
    assert short_form_error(1, 40) == pytest.approx(2 / 40**2, rel=0.01)


@pytest.mark.parametrize(
    ("press", "free", "reads"), [(1, 500, 24.4), (1, 2000, 21.4), (0.5, 500, 21.4), (0.5, 2000, 20.4)]
)
def test_pressing_stretches_stiff_linen(press: float, free: float, reads: float) -> None:
    """20 ends of 16/2 linen, 20 N at rest, half a metre; a modulus of 500 cN/tex is assumed (from memory)."""
    stiffness = 500 * LINEN_16_2_TEX * 20 / 100
    assert pressed_tension_n(20, press, 500, stiffness, free) == pytest.approx(reads, abs=0.06)
    assert tension_n(press, pressed_dip_mm(20, press, 500, stiffness, free), 500) == pytest.approx(reads, abs=0.06)


def test_two_weights_give_back_the_rest_tension() -> None:
    stiffness = 500 * LINEN_16_2_TEX * 20 / 100
    loads = (0.25, 0.5)
    readings = [(load, dip_mm(load, pressed_tension_n(20, load, 500, stiffness, 2000), 500)) for load in loads]
    assert tension_n(*readings[1], 500) > 20.3
    assert rest_tension_n(readings, 500) == pytest.approx(20, rel=1e-3)


@pytest.mark.parametrize(("hertz", "pull", "level"), [(50, 0.517, 0.25), (100, 2.067, 1.00)])
def test_plucked_linen(hertz: float, pull: float, level: float) -> None:
    assert tension_from_pitch_n(hertz, 500, LINEN_16_2_TEX) == pytest.approx(pull, abs=0.0006)
    assert level_from_pitch_cn_per_tex(hertz, 500) == pytest.approx(level)


def test_a_violin_string() -> None:
    assert tension_from_pitch_n(440, 325, 380) == pytest.approx(31.08, abs=0.01)


@pytest.mark.parametrize(("tex", "newtons"), [(147.64, 0.74), (118.11, 0.59), (206.69, 1.03)])
def test_working_level_of_common_yarns(tex: float, newtons: float) -> None:
    """0.5 cN/tex: 8/2 and 10/2 cotton, 16/2 linen. The level is the middle of ASTM D1907's 0.25 to 0.75."""
    assert pulls(tex, 1)[1].newtons_per_end == pytest.approx(newtons, abs=0.005)


@pytest.mark.parametrize(("tex", "tenacity", "newtons"), [(147.64, 15, 2.2), (206.69, 20, 4.1)])
def test_a_tenth_of_the_breaking_load(tex: float, tenacity: float, newtons: float) -> None:
    assert pulls(tex, 1, tenacity)[2].newtons_per_end == pytest.approx(newtons, abs=0.05)


@pytest.mark.parametrize("ends", [1, 31])
def test_pressing_and_plucking_agree_on_one_warp(ends: int) -> None:
    working = pulls(LINEN_16_2_TEX, ends)[1]
    dip = dip_mm(0.3, working.newtons, 400)
    hertz = pitch_hz(working.newtons_per_end, 400, LINEN_16_2_TEX)
    pressed, plucked = tension_n(0.3, dip, 400), ends * tension_from_pitch_n(hertz, 400, LINEN_16_2_TEX)
    assert pressed == pytest.approx(plucked, rel=1e-12)
    assert level_from_pitch_cn_per_tex(hertz, 400) == pytest.approx(0.5)
