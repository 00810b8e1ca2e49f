"""Picks, hours, sessions."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardmaker.model.bench import Pace, SessionPlan
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.weaving.pace import picks_in, session_plan, weaving_pace


def test_picks_are_exact_where_floats_are_not() -> None:
    """4.4 in at 12.5 picks are 55; floats would make 56 of it."""
    assert picks_in(Fraction(44, 10) * MM_PER_INCH, Fraction(25, 2)) == 55
    assert picks_in(Fraction(44, 10) * MM_PER_INCH + Fraction(1, 100), Fraction(25, 2)) == 56
    assert picks_in(0, 14) == 0


def test_hours_at_her_pace() -> None:
    """75 in at 14 picks an inch are 1050; at 10 a minute an hour and three quarters."""
    plan = weaving_pace(picks_in(75 * MM_PER_INCH, 14), 10)
    assert plan == Pace(1050, 10.0, 105.0)
    assert plan.minutes == pytest.approx(105)


def planned(minutes: int, picks: int) -> SessionPlan:
    """31 ends at 20 s to wind and 30 s to thread (10 1/3 and 15 1/2 min), 34 1/6 min of fixed steps: an hour in all."""
    return session_plan(
        minutes,
        ends=31,
        winding_seconds_per_end=20,
        threading_seconds_per_end=30,
        fixed_minutes=Fraction(205, 6),
        picks=picks,
        picks_per_minute=10,
        picks_per_inch=14,
        take_up=Fraction(12, 100),
        waste_mm=20 * MM_PER_INCH,
    )


def test_a_session_that_fits_and_one_that_does_not() -> None:
    """Three hours leave 120 min, 1200 picks; 1050 picks take 105 of them. Two hours are 45 min too short."""
    good, short = planned(180, 1050), planned(120, 1050)
    assert good.winding_minutes == pytest.approx(31 / 3)
    assert good.threading_minutes == pytest.approx(15.5)
    assert good.fits
    assert good.spare_minutes == pytest.approx(15)
    assert not short.fits
    assert short.spare_minutes == pytest.approx(-45)


def test_the_sensible_warp_is_what_the_time_weaves() -> None:
    """Two hours leave 600 picks: 42 6/7 in on the loom, 48.7 in of warp and 20 in of waste."""
    plan = planned(120, 1050)
    assert plan.picks_in_session == 600
    assert plan.sensible_on_loom_mm == pytest.approx(float(600 / Fraction(14) * MM_PER_INCH))
    assert plan.sensible_warp_mm == pytest.approx((600 / 14 / 0.88 + 20) * 25.4)


def test_no_time_to_weave_is_no_warp() -> None:
    plan = planned(60, 0)
    assert plan.fits
    assert (plan.picks_in_session, plan.sensible_on_loom_mm, plan.sensible_warp_mm) == (0, 0, None)


def test_nonsense_is_refused() -> None:
    for picks, a_minute in ((10, 0), (-1, 10)):
        with pytest.raises(ValueError, match=r"^picks are nought or more, and the pace above nought$"):
            weaving_pace(picks, a_minute)
    for length, an_inch in ((-1, 14), (10, 0)):
        with pytest.raises(
            ValueError, match=r"^tape cannot be shorter than nothing, and picks per inch are above nought$"
        ):
            picks_in(length, an_inch)
    with pytest.raises(ValueError, match="times"):
        planned(-1, 10)


ONE_MINUTE = {
    "session_minutes": 1,
    "ends": 1,
    "winding_seconds_per_end": 0,
    "threading_seconds_per_end": 0,
    "fixed_minutes": 0,
    "picks": 0,
    "picks_per_minute": 1,
    "picks_per_inch": 1,
}


@pytest.mark.parametrize(
    ("key", "wrong"),
    [
        ("session_minutes", -1),
        ("ends", 0),
        ("winding_seconds_per_end", -1),
        ("threading_seconds_per_end", -1),
        ("fixed_minutes", -1),
        ("picks_per_inch", 0),
        ("take_up", -1),
        ("take_up", 1),
        ("waste_mm", -1),
    ],
)
def test_every_time_and_count_of_a_session_must_be_sensible(key: str, wrong: int) -> None:
    told = "times and waste are nought or more, ends and picks above nought, take-up a share of one"
    with pytest.raises(ValueError, match=f"^{told}$"):
        session_plan(**{**ONE_MINUTE, key: wrong})


def test_a_minute_to_weave_one_pick_in() -> None:
    """No take-up and no waste: one pick, an inch of tape, an inch of warp. By hand."""
    assert session_plan(**ONE_MINUTE) == SessionPlan(1, 0, 0, 0, 0, 1, 25.4, 25.4)


def test_one_pick_an_inch_and_slow_weaving() -> None:
    assert picks_in(MM_PER_INCH, 1) == 1
    assert picks_in(MM_PER_INCH, Fraction(1, 2)) == 1
    assert weaving_pace(1, Fraction(1, 2)).minutes == 2
    assert weaving_pace(0, 1).minutes == 0
