"""Hours, and what fits into a session, at the weaver's own pace; and who of a class gets done in its session.

Plain sums: the figures that go in are her own, so nothing here has a default. They hold for the steady part of the
work, not for a first tape. Every step is rounded up to whole minutes (common practice, no source), and all sums are of
the rounded steps: card and class sheet add up what they print.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from cardmaker.model.bench import Number, Pace, SessionPlan, TimePlan
from cardmaker.model.loom import WeaverPace
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.on_loom.bench_figures import Warp


def weaving_pace(picks: int, picks_per_minute: Number) -> Pace:
    """How long so many picks take. Raises ValueError for a negative count or a pace not above nought."""
    if picks < 0 or picks_per_minute <= 0:
        raise ValueError("picks are nought or more, and the pace above nought")
    return Pace(picks, float(picks_per_minute), ceil(Fraction(picks) / Fraction(picks_per_minute)))


def session_plan(
    session_minutes: Number,
    *,
    ends: int,
    winding_seconds_per_end: Number,
    threading_seconds_per_end: Number,
    fixed_minutes: Number,
    picks: int,
    picks_per_minute: Number,
    picks_per_inch: Number,
    take_up: Number = 0,
    waste_mm: Number = 0,
) -> SessionPlan:
    """Whether winding, threading, the fixed steps and ``picks`` of weaving fit, and the warp that just would.

    ``fixed_minutes`` are those that do not grow with the ends (tying on, winding on, the first inches). Seconds for
    winding an end are those of her usual warp; a much longer warp takes longer. Raises ValueError for negative times.
    """
    times = (session_minutes, winding_seconds_per_end, threading_seconds_per_end, fixed_minutes)
    if min(times) < 0 or ends < 1 or waste_mm < 0 or not 0 <= take_up < 1 or picks_per_inch <= 0:
        raise ValueError("times and waste are nought or more, ends and picks above nought, take-up a share of one")
    steps = (Fraction(ends) * Fraction(each) / 60 for each in (winding_seconds_per_end, threading_seconds_per_end))
    winding, threading, fixed = (*map(ceil, steps), ceil(fixed_minutes))
    left = max(floor(session_minutes) - winding - threading - fixed, 0)
    picks_left = floor(left * Fraction(picks_per_minute))
    woven = picks_left / Fraction(picks_per_inch) * MM_PER_INCH
    return SessionPlan(
        session_minutes=floor(session_minutes),
        winding_minutes=winding,
        threading_minutes=threading,
        fixed_minutes=fixed,
        weaving_minutes=weaving_pace(picks, picks_per_minute).minutes,
        woven_mm=woven,
        sensible_warp_mm=woven / (1 - Fraction(take_up)) + Fraction(waste_mm) if picks_left else None,
    )


def time_plan(warp: Warp) -> TimePlan | None:
    """The weaving at the pace that the loom's file tells of its weaver, and the session if it tells that too."""
    pace = warp.loom.pace
    if pace is None:
        return None
    weaving = weaving_pace(warp.weft.picks, pace.picks_per_minute)
    if pace.session_minutes is None:
        return TimePlan(weaving, None)
    return TimePlan(weaving, _session_at(pace, pace.session_minutes, warp))


def _session_at(pace: WeaverPace, session_minutes: Fraction, warp: Warp | Plan) -> SessionPlan:
    return session_plan(
        session_minutes,
        ends=warp.ends,
        winding_seconds_per_end=pace.winding_seconds,
        threading_seconds_per_end=pace.threading_seconds,
        fixed_minutes=pace.fixed_minutes,
        picks=warp.weft.picks,
        picks_per_minute=pace.picks_per_minute,
        picks_per_inch=warp.weft.picks_per_inch,
        take_up=1 - warp.lengths.woven_mm / warp.lengths.used_mm,  # what fringes take as well
        waste_mm=warp.lengths.waste_mm,
    )


def kit_time(
    plan: Plan, session_minutes: Fraction, *, wound_beforehand: bool = False, threaded_beforehand: bool = False
) -> SessionPlan | None:
    """The steps of one kit in a session of so many minutes; None when the loom's file tells no pace.

    A warp that was wound beforehand takes no time for winding, one that was threaded beforehand none for threading.
    """
    pace = plan.loom.pace
    if pace is None:
        return None
    if wound_beforehand:
        pace = replace(pace, winding_seconds=Fraction(0))
    if threaded_beforehand:
        pace = replace(pace, threading_seconds=Fraction(0))
    return _session_at(pace, session_minutes, plan)
