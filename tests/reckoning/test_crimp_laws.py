"""Crimp as laws, and refusals outside the range."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import acos, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.helpers.crimp import (
    crimp_from_take_up,
    jammed_curve,
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
    assert take_up_from_crimp(warp.crimp) == pytest.approx(take_up_from_crimp(warp_faced_crimp(1.5, 1)))


OVERLAP = r"the threads would overlap: the crossings stand too close for this height"
TOO_CLOSE = r"picks over a straight weft cannot stand closer than warp and weft diameter together"
TAKE_UP = r"a take-up is a share of the warp, from nought to under one"
HEIGHT = r"the height lies between nought and both diameters together"
JAMMED = r"the height lies above nought and not above both diameters together"
ROUGH = r"a spacing must be above nought and a height not below"


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        (lambda: warp_faced_crimp(0.99, 1), TOO_CLOSE),
        (lambda: warp_faced_crimp(1, 0), TOO_CLOSE),
        (lambda: take_up_from_crimp(-0.1), "a crimp cannot be negative"),
        (lambda: crimp_from_take_up(1), TAKE_UP),
        (lambda: crimp_from_take_up(-0.1), TAKE_UP),
        (lambda: weave_curve(0.8, 0.9, 1), OVERLAP),
        (lambda: weave_curve(0.1, 0.5, 1), OVERLAP),
        (lambda: weave_curve(1, 1.1, 1), HEIGHT),
        (lambda: weave_curve(1, -0.1, 1), HEIGHT),
        (lambda: weave_curve(0, 0.5, 1), HEIGHT),
        (lambda: weave_curve(1, 0, 0), HEIGHT),
        (lambda: jammed_curve(0, 1), JAMMED),
        (lambda: jammed_curve(2, 1), JAMMED),
        (lambda: jammed_curve(1, 0), JAMMED),
        (lambda: plain_weave(0.4, 1.5, 1, 0.5), "the ends stand too close for this crimp of the weft"),
        (lambda: plain_weave(2, 1.5, 1, -0.1), "the ends stand too close for this crimp of the weft"),
        (lambda: rough_crimp(1, 0), ROUGH),
        (lambda: rough_crimp(-1, 1), ROUGH),
    ],
)
def test_outside_its_range_it_is_refused(wrong: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=f"^{told}$"):
        wrong()


def test_jammed_threads_in_millimetres() -> None:
    """Both diameters 2 mm, height 1 mm: cos θ = 1/2, so 60°, spacing √3 mm and length 2π/3 mm. By hand."""
    found = jammed_curve(1, 2)
    assert (found.spacing_mm, found.length_mm, found.height_mm) == pytest.approx((sqrt(3), 2 * pi / 3, 1))
    assert found.angle_radians == pytest.approx(pi / 3)
    assert found.crimp == pytest.approx(2 * pi / 3 / sqrt(3) - 1)
    assert jammed_curve(2, 2).crimp == pytest.approx(pi / 2 - 1)  # over a straight weft


def test_every_jammed_height_has_its_curve_and_rounding_is_no_overlap() -> None:
    """The angle is that of ``cos θ = 1 − h/D``, and nothing of the length is straight."""
    for hundredths in range(1, 101):
        found = jammed_curve(hundredths / 100, 1)
        assert found.angle_radians == pytest.approx(acos(1 - hundredths / 100), abs=1e-6)
        assert found.length_mm == pytest.approx(found.angle_radians, abs=1e-6)


def test_the_tallest_that_crossings_allow() -> None:
    """At 1.2 mm with 2 mm of diameters sin θ is 0.6, cos θ 0.8, and 2·(1 − 0.8) is 0.4 mm. By hand."""
    assert tallest_mm(1.2, 2) == pytest.approx(0.4)
    assert tallest_mm(2, 2) == tallest_mm(3, 2) == 2


def test_the_rough_form_by_hand() -> None:
    assert rough_crimp(2, 3) == 0.25  # 9·4 / (16·9)
    assert rough_crimp(0.5, 1) == 9 / 64
    assert rough_crimp(0, 1) == 0


def test_the_closest_picks_over_a_straight_weft() -> None:
    assert warp_faced_crimp(2, 2) == pytest.approx(pi / 2 - 1)


def test_the_most_that_a_weft_can_be_bent_by_ends_this_close() -> None:
    """Ends 1.2 mm apart with 2 mm of diameters let the weft be 0.4 mm high (jammed); the warp has the other 1.6."""
    warp, weft = plain_weave(1.2, 3, 2, jammed_curve(0.4, 2).crimp)
    assert (weft.height_mm, warp.height_mm) == pytest.approx((0.4, 1.6))
    assert warp.spacing_mm == 3
