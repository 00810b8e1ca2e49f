"""Hours, and what fits into a session, at the weaver's own pace; and who of a class gets done in its session.

Plain sums: the figures that go in are her own. Only how fast she picks up a row by hand has a default, and what rests
on it says so. They hold for the steady part of the work, not for a first tape. Every step is rounded up to whole
minutes (common practice, no source), and all sums are of the rounded steps: card and class sheet add up what they
print.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil, floor
from typing import Final

from cardmaker.model.bench import Number, Pace, SessionPlan, TimePlan, WorkMinutes
from cardmaker.model.loom import WeaverPace
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import record, replace
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.on_loom.bench_figures import Warp

PLAIN_PICKS_FOR_ONE_PICKED: Final = 4  # that take as long as one row picked up by hand: from memory, a guess
PLAIN: Final = (False,)  # by definition: of a tape without a figure no row is picked up


@record
class WeavingSpeed:
    """How many plain picks in a minute, and which rows, over and over, are picked up by hand, and how many of those."""

    picks_per_minute: Number
    rows: Sequence[bool] = PLAIN
    picked_rows_per_minute: Number | None = None

    @property
    def picked_per_minute(self) -> Fraction:
        """As she has told, else a quarter of the plain ones (from memory, a guess)."""
        told = self.picked_rows_per_minute
        return Fraction(self.picks_per_minute) / PLAIN_PICKS_FOR_ONE_PICKED if told is None else Fraction(told)

    def picked_of(self, picks: int) -> int:
        """How many of so many picks, from the first row on, are picked up."""
        repeats, more = divmod(picks, len(self.rows))
        return repeats * sum(self.rows) + sum(self.rows[:more])

    def minutes(self, picks: int) -> Fraction:
        """Raises ValueError for a negative count or a speed not above nought."""
        if picks < 0 or min(self.picks_per_minute, self.picked_per_minute) <= 0:
            raise ValueError("picks are nought or more, and the pace above nought")
        picked = self.picked_of(picks)
        return (picks - picked) / Fraction(self.picks_per_minute) + picked / self.picked_per_minute

    def picks_in(self, minutes: int) -> int:
        """The most picks, from the first row on, that so many minutes hold."""
        picks = floor(minutes / self.minutes(len(self.rows))) * len(self.rows)
        while self.minutes(picks + 1) <= minutes:
            picks += 1
        return picks


def weaving_pace(picks: int, speed: WeavingSpeed) -> Pace:
    """How long so many picks take. Raises ValueError for a negative count or a pace not above nought."""
    minutes, picked = ceil(speed.minutes(picks)), speed.picked_of(picks)
    if not picked:
        return Pace(picks, float(speed.picks_per_minute), minutes)
    is_guess = speed.picked_rows_per_minute is None
    return Pace(picks, float(speed.picks_per_minute), minutes, picked, float(speed.picked_per_minute), is_guess)


def work_minutes(
    *,
    ends: int,
    winding_seconds_per_end: Number,
    threading_seconds_per_end: Number,
    fixed_minutes: Number,
    picks: int,
    speed: WeavingSpeed,
) -> WorkMinutes:
    """Every step of the work, in whole minutes.

    ``fixed_minutes`` are those that do not grow with the ends (tying on, winding on, the first inches). Seconds for
    winding an end are those of her usual warp; a much longer warp takes longer. Raises ValueError for negative times.
    """
    if min(winding_seconds_per_end, threading_seconds_per_end, fixed_minutes) < 0 or ends < 1:
        raise ValueError("times are nought or more, and ends above nought")
    each = (winding_seconds_per_end, threading_seconds_per_end)
    winding, threading = (ceil(Fraction(ends) * Fraction(seconds) / 60) for seconds in each)
    return WorkMinutes(winding, threading, ceil(fixed_minutes), weaving_pace(picks, speed).minutes)


def session_plan(
    session_minutes: Number,
    work: WorkMinutes,
    speed: WeavingSpeed,
    *,
    picks_per_inch: Number,
    take_up: Number = 0,
    waste_mm: Number = 0,
) -> SessionPlan:
    """Whether the work fits, and the warp that just would. Raises ValueError for negative times and lengths."""
    if session_minutes < 0 or waste_mm < 0 or not 0 <= take_up < 1 or picks_per_inch <= 0:
        raise ValueError("the session and waste are nought or more, picks above nought, take-up a share of one")
    left = max(floor(session_minutes) - sum(work.steps[:3]), 0)
    picks_left = speed.picks_in(left)
    woven = picks_left / Fraction(picks_per_inch) * MM_PER_INCH
    sensible = woven / (1 - Fraction(take_up)) + Fraction(waste_mm) if picks_left else None
    return SessionPlan(floor(session_minutes), work, woven, sensible)


def time_plan(warp: Warp) -> TimePlan | None:
    """The work at the pace that the loom's file tells of its weaver, and the session if it tells that too."""
    pace = warp.loom.pace
    if pace is None:
        return None
    work = _work_at(pace, warp)
    session = None if pace.session_minutes is None else _session_at(pace, pace.session_minutes, warp)
    return TimePlan(weaving_pace(warp.weft.picks, _speed_at(pace, warp.pattern)), work, session)


def _speed_at(pace: WeaverPace, pattern: Pattern) -> WeavingSpeed:
    """Of a figure the rows in which the hand lifts or drops anything; the others are woven plain."""
    rows = pattern.pickup.rows if pattern.pickup else ()
    picked = tuple(bool(row.lift or row.drop) for row in rows)
    return WeavingSpeed(pace.picks_per_minute, picked or PLAIN, pace.picked_rows_per_minute)


def _work_at(pace: WeaverPace, warp: Warp | Plan) -> WorkMinutes:
    return work_minutes(
        ends=warp.ends,
        winding_seconds_per_end=pace.winding_seconds,
        threading_seconds_per_end=pace.threading_seconds,
        fixed_minutes=pace.fixed_minutes,
        picks=warp.weft.picks,
        speed=_speed_at(pace, warp.pattern),
    )


def _session_at(pace: WeaverPace, session_minutes: Fraction, warp: Warp | Plan) -> SessionPlan:
    return session_plan(
        session_minutes,
        _work_at(pace, warp),
        _speed_at(pace, warp.pattern),
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
