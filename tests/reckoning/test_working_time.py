"""Hours and sessions; and the minutes of one kit of a class, step by step."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from cardmaker.model.bench import Number, Pace, SessionPlan, WorkMinutes
from cardmaker.model.loom import WeaverPace
from cardmaker.model.pattern import WantedLength
from cardmaker.model.plan import Plan
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.weaving.working_time import (
    WeavingSpeed,
    kit_time,
    session_plan,
    weaving_pace,
    work_minutes,
)
from tests.helpers.warps import MIDDLE_BOX, RED, WHITE, pattern


def test_hours_at_her_pace() -> None:
    """75 in at 14 picks an inch are 1050; at 10 a minute an hour and three quarters."""
    assert weaving_pace(75 * 14, WeavingSpeed(10)) == Pace(1050, 10.0, 105)


FIGURE = (False, True, False, True, True, True, False, False)  # four rows of eight are picked up


def test_rows_picked_up_by_hand_are_timed_slower() -> None:
    """19 picks are two figures and three rows, plain, picked up, plain: 9 picked up and 10 plain. At 10 and at 2 a
    minute 4.5 + 1 minutes. Untold, four plain picks to a picked one, a guess: 9 * 4 + 10 = 46 tenths of a minute."""
    assert weaving_pace(19, WeavingSpeed(10, FIGURE, 2)) == Pace(19, 10.0, 6, 9, 2.0)
    assert weaving_pace(19, WeavingSpeed(10, FIGURE)) == Pace(19, 10.0, 5, 9, 2.5, picked_is_guess=True)
    assert weaving_pace(1, WeavingSpeed(10, FIGURE)) == Pace(1, 10.0, 1)  # the first row is plain


def test_the_picks_that_fit_into_minutes_are_counted_row_by_row() -> None:
    """At 10 and 2 a minute a figure takes 4 * 0.1 + 4 * 0.5 = 2.4 min. Five minutes hold two and 0.2 min more: a plain
    row, and no picked one. One more pick would never fit."""
    speed = WeavingSpeed(10, FIGURE, 2)
    assert speed.picks_in(5) == 17
    for minutes in range(40):
        picks = speed.picks_in(minutes)
        assert speed.minutes(picks) <= minutes < speed.minutes(picks + 1)


def planned(minutes: Number, picks: int) -> SessionPlan:
    """31 ends at 20 s to wind and 30 s to thread (10 1/3 and 15 1/2 min), 34 1/6 min of fixed steps: 11, 16 and 35 min,
    62 in all."""
    return session(
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


def session(session_minutes: Number, *, picks_per_minute: Number, **figures: Any) -> SessionPlan:
    """The work and the session that is to hold it, from all figures together."""
    speed = WeavingSpeed(picks_per_minute)
    of_cloth = {key: figures.pop(key) for key in ("picks_per_inch", "take_up", "waste_mm") if key in figures}
    return session_plan(session_minutes, work_minutes(**figures, speed=speed), speed, **of_cloth)


def test_a_session_that_fits_and_one_that_does_not() -> None:
    """Three hours leave 118 min; 1050 picks take 105 of them. Two hours are 47 min too short."""
    good, short = planned(180, 1050), planned(120, 1050)
    assert good.steps == (11, 16, 35, 105)
    assert good.fits
    assert (good.needed_minutes, good.spare_minutes) == (167, 13)
    assert not short.fits
    assert short.spare_minutes == -47


def test_the_printed_steps_decide_whether_it_fits() -> None:
    """10 1/3 + 15 1/2 + 34 1/6 + 105 are 165 min, but 11 + 16 + 35 + 105 are printed: 167. Rule of ours: steps are
    rounded up, the session down."""
    assert not planned(165, 1050).fits
    assert not planned(166, 1050).fits
    assert planned(167, 1050).fits
    assert not planned(Fraction(1669, 10), 1050).fits


def test_the_warp_that_is_said_to_fit_does() -> None:
    """At 7.5 picks a minute whole picks seldom fill whole minutes; rounded up they must still fit."""
    for minutes in range(63, 200, 7):
        steps = {"ends": 31, "winding_seconds_per_end": 20, "threading_seconds_per_end": 30, "fixed_minutes": 34.2}
        speed = {"picks_per_minute": Fraction(15, 2), "picks_per_inch": 14}
        plan = session(minutes, picks=0, **steps, **speed)  # type: ignore[arg-type]
        picks = plan.woven_mm / MM_PER_INCH * 14
        assert picks.denominator == 1
        assert session(minutes, picks=int(picks), **steps, **speed).fits  # type: ignore[arg-type]


def test_the_sensible_warp_is_what_the_time_weaves() -> None:
    """Two hours leave 58 min, 580 picks: 41 3/7 in on the loom, 47.1 in of warp and 20 in of waste."""
    plan = planned(120, 1050)
    assert plan.woven_mm == 580 / Fraction(14) * MM_PER_INCH
    assert plan.sensible_warp_mm == pytest.approx((580 / 14 / 0.88 + 20) * 25.4)


def test_no_time_to_weave_is_no_warp() -> None:
    plan = planned(62, 0)
    assert plan.fits
    assert (plan.woven_mm, plan.sensible_warp_mm) == (Fraction(0), None)


def test_nonsense_is_refused() -> None:
    for picks, a_minute in ((10, 0), (-1, 10)):
        with pytest.raises(ValueError, match=r"^picks are nought or more, and the pace above nought$"):
            weaving_pace(picks, WeavingSpeed(a_minute))
    with pytest.raises(ValueError, match=r"^the session and waste are nought or more"):
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
    of_work = "times are nought or more, and ends above nought"
    of_session = "the session and waste are nought or more, picks above nought, take-up a share of one"
    with pytest.raises(ValueError, match=f"^({of_work}|{of_session})$"):
        session(**{**ONE_MINUTE, key: wrong})


def test_a_minute_to_weave_one_pick_in() -> None:
    """No take-up and no waste: one pick, an inch of tape, an inch of warp. By hand."""
    assert session(**ONE_MINUTE) == SessionPlan(1, WorkMinutes(0, 0, 0, 0), MM_PER_INCH, MM_PER_INCH)


def test_slow_weaving() -> None:
    assert weaving_pace(1, WeavingSpeed(Fraction(1, 2))).minutes == 2
    assert weaving_pace(0, WeavingSpeed(1)).minutes == 0


# the kit of a class, with a pace and a plan whose sums are worked by hand

PACE = WeaverPace(
    winding_seconds=Fraction(20),
    threading_seconds=Fraction(25),
    picks_per_minute=Fraction(4),
    fixed_minutes=Fraction(61, 2),
    session_minutes=None,
)


def kit(picks: int = 401) -> Plan:
    """8 ends, so many picks at 16 to the inch, a quarter taken up, 300 mm of waste."""
    wish = WantedLength(take_up=Fraction(1, 4))
    made = replace(pattern("3 Re 5 Wh"), yarns=(RED, WHITE), length=wish)
    loom = replace(MIDDLE_BOX, pace=PACE, waste_mm=Fraction(300))
    plan = make_plan(made, loom, warp_mm=Fraction(3000), with_bench=False)
    return replace(plan, weft=replace(plan.weft, picks=picks, picks_per_inch=Fraction(16)))


def test_every_step_is_rounded_up_to_whole_minutes() -> None:
    """Winding 8 * 20 s = 2 min 40 s, threading 8 * 25 s = 3 min 20 s, dressing 30 min 30 s, 401 picks at 4 a minute
    100 min 15 s: 3, 4, 31 and 101 minutes, 139 in all.

    140 min 30 s are 140, which leave 102 min for 408 picks, 25.5 in or 647.7 mm on the loom; 647.7 / 0.75 + 300 mm of
    warp.
    """
    time = kit_time(kit(), Fraction(281, 2))
    assert time is not None
    assert (time.steps, time.session_minutes) == ((3, 4, 31, 101), 140)
    assert (time.needed_minutes, time.spare_minutes) == (139, 1)
    assert (time.woven_mm, time.sensible_warp_mm) == (Fraction("647.7"), Fraction("647.7") * 4 / 3 + 300)


def test_a_warp_wound_beforehand_takes_no_time_to_wind() -> None:
    """3 min more for weaving: 420 picks, 26.25 in or 666.75 mm."""
    time = kit_time(kit(), Fraction(281, 2), wound_beforehand=True)
    assert time is not None
    assert (time.steps, time.woven_mm) == ((0, 4, 31, 101), Fraction("666.75"))


def test_a_loom_threaded_beforehand_takes_no_time_to_thread() -> None:
    """3 and 4 min more for weaving, 4 picks a minute: 408 + 28 = 436 picks, at 16 to the inch 27.25 in or 692.15 mm."""
    time = kit_time(kit(), Fraction(281, 2), wound_beforehand=True, threaded_beforehand=True)
    assert time is not None
    assert (time.steps, time.woven_mm) == ((0, 0, 31, 101), Fraction("692.15"))


def test_done_with_the_last_minute_is_done() -> None:
    assert [
        SessionPlan(minutes, WorkMinutes(3, 4, 31, 101), Fraction(0), None).fits for minutes in (138, 139, 140)
    ] == [
        False,
        True,
        True,
    ]


def test_without_time_to_weave_no_warp_would_do() -> None:
    """Winding, threading and dressing take 38 min as they are printed."""
    for minutes in (38, 20):
        time = kit_time(kit(), Fraction(minutes))
        assert time is not None
        assert (time.woven_mm, time.sensible_warp_mm, time.session_minutes) == (Fraction(0), None, minutes)


def test_without_a_pace_nothing_is_told() -> None:
    plan = kit()
    assert kit_time(replace(plan, loom=replace(plan.loom, pace=None)), Fraction(165)) is None
