"""Levels, coin stacks and refusals. Statics and the string formula are checked in ``test_statics``."""

from __future__ import annotations

from collections.abc import Callable
from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.reckoning.on_loom.tension import held_press_n, level_cn_per_tex, pressed_dip_mm, pulls
from tests.helpers.statics import (
    dip_mm,
    least_energy_dip_mm,
    level_from_pitch_cn_per_tex,
    pitch_hz,
    pressed_tension_n,
    rest_tension_n,
    short_form_error,
    short_tension_n,
    tension_from_pitch_n,
    tension_n,
)

ABOVE_NOUGHT = r"^every weight, length, count and pull must be above nought$"


def test_three_levels_with_what_they_rest_on() -> None:
    """31 ends of 165.35 tex (20/2 linen): 0.3, 0.5 and 1.0 cN/tex are 0.496, 0.827 and 1.6535 N an end."""
    low, working, high = pulls(165.35, 31)
    assert [each.newtons_per_end for each in (low, working, high)] == pytest.approx([0.49605, 0.82675, 1.6535])
    assert working.newtons == pytest.approx(31 * 0.827, abs=0.02)
    assert [each.status for each in (low, working, high)] == [
        "common practice, no source",
        "published",
        "common practice, no source",
    ]
    assert [each.cn_per_tex for each in (low, working, high)] == [0.3, 0.5, 1.0]
    assert pulls(165.35, 31, 20)[2].cn_per_tex == pytest.approx(2.0)


def test_a_standard_moves_all_three_levels() -> None:
    """A warp that wove well at 0.8 cN/tex: slack from 0.6 and tight from 2 of that, as 0.3 and 1 stand to 0.5."""
    low, working, high = pulls(100, 10, standard_cn_per_tex=0.8)
    assert [each.cn_per_tex for each in (low, working, high)] == pytest.approx([0.48, 0.8, 1.6])
    assert [each.newtons for each in (low, working, high)] == pytest.approx([4.8, 8, 16])
    assert working.status == "measured"


def test_a_narrow_linen_warp_under_two_hundred_grams() -> None:
    """13 ends of 20/2 linen, 165.35 tex, have 21.496 N for each cN/tex; 200 g are 1.96133 N. On 40 cm of 60 cm at 500
    cN/tex a warp without any pull is stretched by 2 * 13^2 / 200 / 2 / 600 = 0.141 %, pulls 15.1 N and dips 1.96133 *
    400 / (4 * 15.1) = 13.0 mm; a right one dips 10 mm. As if nothing stretched, a right one would dip 1.96133 * 400 /
    (4 * 10.748) = 18 mm: with that mark, a warp that hangs in loops reads too tight."""
    limp, right = (pressed_dip_mm(level * 21.496, 1.96133, 400, 500 * 21.496, 600) for level in (0, 0.5))
    assert limp == pytest.approx(13.0, abs=0.05)
    assert right == pytest.approx(10.0, abs=0.05)
    assert dip_mm(1.96133, 10.748, 400) == pytest.approx(18.3, abs=0.1)


@given(
    press=st.floats(0.05, 20), rest=st.floats(0, 80), stiffness=st.floats(100, 1e5), span=st.floats(100, 3000),
    more=st.floats(1, 3),
)  # fmt: skip
def test_the_dip_has_the_least_energy(press: float, rest: float, stiffness: float, span: float, more: float) -> None:
    if held_press_n(span / 2.1, rest, span, stiffness, more * span) < press:
        return
    dip = pressed_dip_mm(rest, press, span, stiffness, more * span)
    assert dip == pytest.approx(least_energy_dip_mm(rest, press, span, stiffness, more * span), rel=0.005, abs=1e-4)
    assert held_press_n(dip, rest, span, stiffness, more * span) == pytest.approx(press, rel=1e-6)


@given(level=st.floats(0.05, 5), whole=st.floats(20, 50_000), stiffness=st.floats(50, 1000), dip=st.floats(1, 20))
def test_the_level_is_read_off_the_dip(level: float, whole: float, stiffness: float, dip: float) -> None:
    press = held_press_n(dip, level * whole / 100, 400, stiffness * whole / 100, 700)
    assert level_cn_per_tex(press, dip, 400, whole, stiffness, 700) == pytest.approx(level, rel=1e-6)


@given(press=st.floats(0.01, 5), rest=st.floats(0, 50), stiffness=st.floats(10, 1e5), free=st.floats(500, 5000))
def test_a_press_only_adds_tension_and_balances(press: float, rest: float, stiffness: float, free: float) -> None:
    most = rest + stiffness * (2 * (250**2 + 250**2) ** 0.5 - 500) / free  # at a dip of half the span
    if 2 * most / 2**0.5 < press:
        with pytest.raises(ValueError, match="half the span"):
            pressed_tension_n(rest, press, 500, stiffness, free)
        return
    pressed = pressed_tension_n(rest, press, 500, stiffness, free)
    assert pressed >= rest
    dip = dip_mm(press, pressed, 500)
    longer = 2 * (dip**2 + 250**2) ** 0.5 - 500
    assert pressed - rest == pytest.approx(stiffness * longer / free, rel=1e-3, abs=1e-6 * stiffness)


@given(dip=st.floats(0.1, 200), span=st.floats(50, 2000), press=st.floats(0.01, 20))
def test_the_short_form_is_always_low(dip: float, span: float, press: float) -> None:
    assert short_tension_n(press, dip, span) < tension_n(press, dip, span)
    assert dip_mm(press, tension_n(press, dip, span), span) == pytest.approx(dip, rel=1e-6)


def test_a_press_that_dips_the_warp_to_a_right_angle() -> None:
    """A warp of 500 mm pressed down 250 mm: each half is 250·√2 mm, and the weight is √2 times the pull.

    Slack yarn of 10 N stiffness, all of it in the span, then pulls 10·(√2 − 1) = 4.1421 N and carries 5.8579 N.
    """
    pull = pressed_tension_n(0, 5.857, 500, 10, 500)
    assert pull == pytest.approx(10 * (sqrt(2) - 1), abs=0.001)
    with pytest.raises(ValueError, match=r"^the weight would dip by more than half the span: too heavy for this warp$"):
        pressed_tension_n(0, 5.859, 500, 10, 500)


def test_yarn_that_gives_easily_still_carries_the_weight() -> None:
    """1 N of stiffness over 500 mm: at 20 N and a weight of 2 N the dip is 500·2/4·20 = 12.5 mm, 0.6 mm of stretch."""
    assert pressed_tension_n(20, 2, 500, 1, 500) == pytest.approx(20.00125, abs=0.00005)


def test_a_whole_metre_that_sounds() -> None:
    """1 m of 1000 tex (a gram a metre) at 4·50²/1000 = 10 N sounds at 50 Hz, and that is 1 cN/tex."""
    assert tension_from_pitch_n(50, 1000, 1000) == pytest.approx(10)
    assert pitch_hz(10, 1000, 1000) == pytest.approx(50)
    assert level_from_pitch_cn_per_tex(50, 1000) == pytest.approx(1)
    assert pitch_hz(pi, 1000, 100 * pi) == pytest.approx(50)


@pytest.mark.parametrize(
    ("answer", "sound"),
    [
        (tension_n, (1, 10, 500)),
        (dip_mm, (1, 10, 500)),
        (level_cn_per_tex, (1, 10, 500, 2000, 500, 500)),
        (short_tension_n, (1, 10, 500)),
        (short_form_error, (10, 500)),
        (tension_from_pitch_n, (50, 500, 200)),
        (pitch_hz, (1, 500, 200)),
        (level_from_pitch_cn_per_tex, (50, 500)),
        (pulls, (200, 31, 20)),
    ],
)
def test_every_figure_must_be_above_nought(answer: Callable[..., object], sound: tuple[int, ...]) -> None:
    assert answer(*sound)
    for place in range(len(sound)):
        for wrong in (0, -1):
            with pytest.raises(ValueError, match=ABOVE_NOUGHT):
                answer(*sound[:place], wrong, *sound[place + 1 :])


@pytest.mark.parametrize("place", [1, 2, 4])
def test_a_press_a_span_and_the_yarn_must_be_above_nought(place: int) -> None:
    figures = [20, 1, 500, 1000, 500]
    figures[place] = 0
    with pytest.raises(ValueError, match=ABOVE_NOUGHT):
        pressed_tension_n(*figures)
    with pytest.raises(ValueError, match=ABOVE_NOUGHT):
        pressed_dip_mm(*figures)


@pytest.mark.parametrize("figures", [(-1, 1, 500, 1000, 500), (20, 1, 500, 0, 500), (20, 1, 500, 1000, 499)])
def test_a_warp_that_cannot_be_is_refused(figures: tuple[int, int, int, int, int]) -> None:
    told = "rest tension cannot be negative, stiffness is above nought, and all the yarn is the span or more"
    with pytest.raises(ValueError, match=f"^{told}$"):
        pressed_tension_n(*figures)


def test_a_pull_that_cannot_hold_the_weight_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^a warp at half the weight's pull or less cannot hold it up$"):
        dip_mm(2, 1, 500)  # straight down, both legs: the limit
    assert dip_mm(2, 1.01, 500) > 1500


@pytest.mark.parametrize("readings", [[], [(0.5, 10)], [(0.5, 10), (0.6, 10)]])
def test_one_dip_alone_tells_no_rest_tension(readings: list[tuple[float, float]]) -> None:
    with pytest.raises(ValueError, match=r"^two or more readings with different dips are needed$"):
        rest_tension_n(readings, 500)
