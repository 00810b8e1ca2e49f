"""Crimp as laws, and refusals outside the range. The figures are checked in ``published``."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.reckoning.crimp import (
    crimp_from_take_up,
    jammed_curve,
    pick_spacing_for_crimp,
    plain_weave,
    rough_crimp,
    take_up_from_crimp,
    tallest_mm,
    warp_faced_crimp,
    weave_curve,
)


@given(st.fractions(0, 5))
def test_the_two_percentages_turn_into_each_other_exactly(crimp: Fraction) -> None:
    assert crimp_from_take_up(take_up_from_crimp(crimp)) == crimp
    assert take_up_from_crimp(crimp) <= crimp


@given(st.floats(1.0, 50))
def test_closer_picks_crimp_the_warp_more(spacing: float) -> None:
    crimp = warp_faced_crimp(spacing, 1)
    assert warp_faced_crimp(spacing * 1.01, 1) < crimp
    assert pick_spacing_for_crimp(crimp, 1) == pytest.approx(spacing, rel=1e-5)
    assert weave_curve(spacing, 1, 1).crimp == pytest.approx(crimp, abs=1e-9)
    assert -0.015 < rough_crimp(1, spacing) / crimp - 1 < 0.126


@given(st.floats(1.0, 3.0), st.floats(0.7, 3.0), st.floats(0, 0.05))
def test_the_heights_of_warp_and_weft_add_up(pick: float, end: float, weft_crimp: float) -> None:
    try:
        warp, weft = plain_weave(end, pick, 1, weft_crimp)
    except ValueError:
        assert weave_curve(end, tallest_mm(end, 1), 1).crimp < weft_crimp
        return
    assert warp.height_mm + weft.height_mm == pytest.approx(1)
    assert weft.crimp == pytest.approx(weft_crimp, abs=1e-6)
    assert warp.crimp <= warp_faced_crimp(pick, 1) + 1e-12  # a bent weft takes crimp off the warp


def test_a_straight_weft_is_the_general_form_without_crimp() -> None:
    warp, weft = plain_weave(0.5, 1.5, 1, 0)
    assert (weft.height_mm, weft.crimp) == (0, 0)
    assert warp.take_up == pytest.approx(take_up_from_crimp(warp_faced_crimp(1.5, 1)))


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: warp_faced_crimp(0.99, 1),
        lambda: take_up_from_crimp(-0.1),
        lambda: crimp_from_take_up(1),
        lambda: pick_spacing_for_crimp(0.58, 1),
        lambda: weave_curve(0.8, 0.9, 1),
        lambda: weave_curve(1, 1.1, 1),
        lambda: jammed_curve(0, 1),
        lambda: plain_weave(0.4, 1.5, 1, 0.5),
        lambda: rough_crimp(1, 0),
    ],
)
def test_outside_its_range_it_is_refused(wrong: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"."):
        wrong()
