"""The minutes of one kit, step by step, with a pace and a plan whose sums are worked by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardmaker.model.loom import WeaverPace
from cardmaker.model.plan import Plan
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.weaving.class_time import KitTime, kit_time
from tests.helpers.warps import MIDDLE_BOX, RED, WHITE, pattern

PACE = WeaverPace(
    winding_seconds=Fraction(20),
    threading_seconds=Fraction(25),
    picks_per_minute=Fraction(4),
    fixed_minutes=Fraction(61, 2),
    session_minutes=None,
)


def kit(picks: int = 401) -> Plan:
    """8 ends, so many picks at 16 to the inch, a quarter taken up, 300 mm of waste."""
    made = replace(pattern("3 Re 5 Wh"), yarns=(RED, WHITE))
    plan = make_plan(made, replace(MIDDLE_BOX, pace=PACE), warp_mm=Fraction(3000), with_bench=False)
    return replace(
        plan,
        weft=replace(plan.weft, picks=picks, picks_per_inch=Fraction(16)),
        lengths=replace(plan.lengths, take_up=Fraction(1, 4), waste_mm=Fraction(300)),
    )


def test_every_step_is_rounded_up_to_whole_minutes() -> None:
    """Winding 8 * 20 s = 2 min 40 s, threading 8 * 25 s = 3 min 20 s, dressing 30 min 30 s, 401 picks at 4 a minute
    100 min 15 s: 3, 4, 31 and 101 minutes, 139 in all.

    Of 140 min 30 s are left 104 min for 416 picks, 26 in or 660.4 mm on the loom; 660.4 / 0.75 + 300 mm of warp.
    """
    time = kit_time(kit(), Fraction(281, 2))
    assert time is not None
    assert (time.wind, time.thread, time.dress, time.weave, time.session) == (3, 4, 31, 101, 140)
    assert time.steps == (3, 4, 31, 101)
    assert time.needed == 139
    assert abs(time.tape_mm - Fraction("660.4")) < Fraction(1, 10**6)
    assert time.warp_mm is not None
    assert abs(time.warp_mm - (Fraction("660.4") * 4 / 3 + 300)) < Fraction(1, 10**6)
    assert isinstance(time.tape_mm, Fraction)
    assert isinstance(time.warp_mm, Fraction)


def test_a_warp_wound_beforehand_takes_no_time_to_wind() -> None:
    """2 min 40 s more for weaving: 426 whole picks of 106 min 40 s, 426 / 16 in = 676.275 mm."""
    time = kit_time(kit(), Fraction(281, 2), wound_beforehand=True)
    assert time is not None
    assert time.steps == (0, 4, 31, 101)
    assert abs(time.tape_mm - Fraction("676.275")) < Fraction(1, 10**6)


def test_done_with_the_last_minute_is_done() -> None:
    assert [KitTime(3, 4, 31, 101, session, Fraction(0), None).fits for session in (138, 139, 140)] == [
        False,
        True,
        True,
    ]


def test_without_time_to_weave_no_warp_would_do() -> None:
    """Winding, threading and dressing take 36 min 30 s."""
    time = kit_time(kit(), Fraction(73, 2))
    assert time is not None
    assert (time.tape_mm, time.warp_mm, time.session) == (Fraction(0), None, 36)


def test_without_a_pace_nothing_is_told() -> None:
    plan = kit()
    assert kit_time(replace(plan, loom=replace(plan.loom, pace=None)), Fraction(165)) is None
