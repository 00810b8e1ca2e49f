"""Wraps and fills."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.shuttle_wraps import ShuttleFill
from cardmaker.model.units import MM_PER_INCH, MM_PER_YARD
from cardmaker.reckoning.weaving.shuttle import shuttle_fill, wrap_mm


def test_seven_inches_and_twenty_four_yards_and_a_half() -> None:
    """24.5 yd at 14 in a turn are exactly 63 turns, in 3 fills of 21."""
    per_wrap = wrap_mm(7 * MM_PER_INCH)
    assert per_wrap == 14 * MM_PER_INCH
    weft = Fraction(49, 2) * MM_PER_YARD
    assert shuttle_fill(weft, per_wrap, 21) == ShuttleFill(float(per_wrap), 63, 3, 21)
    assert shuttle_fill(weft, per_wrap).fills == 1
    assert shuttle_fill(weft + Fraction(1, 1000), per_wrap, 21).fills == 4


def test_thickness_and_yarn_lengthen_a_wrap() -> None:
    """150 mm notch to notch: 0.30 m a wrap, 40 wraps are 12 m; 6 mm thick with 4 mm of yarn, 0.32 m."""
    assert 40 * wrap_mm(150) == 12_000
    assert wrap_mm(150, 6, 4) == 320


def test_nothing_to_wind() -> None:
    assert shuttle_fill(0, 300, 20) == ShuttleFill(300.0, 0, 0, 0)


@given(st.fractions(0, 100_000), st.integers(100, 800), st.integers(1, 200))
def test_fills_hold_the_wraps_and_none_is_too_many(weft: Fraction, per_wrap: int, capacity: int) -> None:
    fill = shuttle_fill(weft, per_wrap, capacity)
    assert (fill.wraps - 1) * per_wrap < weft <= fill.wraps * per_wrap or weft == 0
    assert fill.wraps_per_fill <= capacity
    assert fill.fills * fill.wraps_per_fill >= fill.wraps > (fill.fills - 1) * capacity or fill.wraps == 0


WRAP = "a shuttle has a length above nought and no negative thickness"
FILL = "weft is nought or more, a wrap above nought, and a shuttle holds one wrap or more"


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        (lambda: wrap_mm(0), WRAP),
        (lambda: wrap_mm(150, -1), WRAP),
        (lambda: wrap_mm(150, 0, -1), WRAP),
        (lambda: shuttle_fill(-1, 300), FILL),
        (lambda: shuttle_fill(100, 0), FILL),
        (lambda: shuttle_fill(100, 300, 0), FILL),
    ],
)
def test_nonsense_is_refused(wrong: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=f"^{told}$"):
        wrong()


def test_what_is_barely_sensible_is_wound() -> None:
    """A wrap of 1 mm on a shuttle of half that."""
    assert wrap_mm(Fraction(1, 2)) == 1
    assert shuttle_fill(3, 1, 1) == ShuttleFill(1.0, 3, 3, 1)
    assert shuttle_fill(1, Fraction(1, 2)) == ShuttleFill(0.5, 2, 1, 2)
