"""Levels, coin stacks and refusals. Statics and the string formula are checked in ``published``."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.reckoning.tension import (
    coin_dips,
    dip_mm,
    pressed_tension_n,
    pulls,
    rest_tension_n,
    short_tension_n,
    stack_n,
    tension_n,
)


def test_three_levels_with_what_they_rest_on() -> None:
    """31 ends of 165.35 tex (20/2 linen): 0.3, 0.5 and 1.0 cN/tex are 0.496, 0.827 and 1.6535 N an end."""
    low, working, high = pulls(165.35, 31)
    assert [each.newtons_per_end for each in (low, working, high)] == pytest.approx([0.49605, 0.82675, 1.6535])
    assert working.newtons == pytest.approx(31 * 0.827, abs=0.02)
    assert (low.status, working.status) == ("common practice, no source", "published")
    assert high.cn_per_tex == 1.0
    assert pulls(165.35, 31, 20)[2].cn_per_tex == pytest.approx(2.0)


def test_a_stack_of_coins() -> None:
    """Four coins of 5 g: 20 g, 0.196 N. At 25.6 N over 400 mm they dip W·L/4T = 0.77 mm."""
    assert stack_n(4, 5) == pytest.approx(0.196133)
    dips = coin_dips(pulls(165.35, 31), 4, 5, 400)
    assert [each.pull.name for each in dips] == ["low", "working", "high"]
    assert dips[1].dip_mm == pytest.approx(0.196133 * 400 / (4 * dips[1].pull.newtons), rel=1e-3)
    assert dips[0].dip_mm > dips[1].dip_mm > dips[2].dip_mm
    assert dips[0].short_form_error < 0.001


def test_a_stack_too_heavy_for_a_level_is_left_out() -> None:
    """Two thin ends pull 2·0.3·20/100 = 0.12 N at the low level: they cannot hold 0.3 N up, the higher ones can."""
    dips = coin_dips(pulls(20, 2), 3, 10, 400)
    assert [each.pull.name for each in dips] == ["working", "high"]


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


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: tension_n(1, 0, 500),
        lambda: dip_mm(2, 1, 500),  # straight down, both legs: the limit
        lambda: pulls(0, 31),
        lambda: pulls(165, 0),
        lambda: pulls(165, 31, 0),
        lambda: stack_n(0, 5),
        lambda: rest_tension_n([(0.5, 10), (0.5, 10)], 500),
        lambda: pressed_tension_n(20, 1, 500, 1000, 400),
    ],
)
def test_nonsense_is_refused(wrong: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"."):
        wrong()
