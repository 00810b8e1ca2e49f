"""Hours, and what fits into a session, at the weaver's own pace; and who of a class gets done in its session.

Plain sums: the figures that go in are her own, so nothing here has a default. They hold for the steady part of the
work, not for a first tape.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor
from typing import NamedTuple

from cardmaker.model.bench import Number, Pace, SessionPlan, TimePlan
from cardmaker.model.loom import WeaverPace
from cardmaker.model.plan import Plan
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.on_loom.bench_figures import Warp


def weaving_pace(picks: int, picks_per_minute: Number) -> Pace:
    """How long so many picks take. Raises ValueError for a negative count or a pace not above nought."""
    if picks < 0 or picks_per_minute <= 0:
        raise ValueError("picks are nought or more, and the pace above nought")
    return Pace(picks, float(picks_per_minute), float(picks / picks_per_minute))


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
    winding, threading = (ends * each / 60 for each in (winding_seconds_per_end, threading_seconds_per_end))
    left = max(session_minutes - winding - threading - fixed_minutes, 0)
    picks_left = floor(left * picks_per_minute)
    on_loom = picks_left / picks_per_inch * MM_PER_INCH
    return SessionPlan(
        session_minutes=float(session_minutes),
        winding_minutes=float(winding),
        threading_minutes=float(threading),
        fixed_minutes=float(fixed_minutes),
        weaving_minutes=weaving_pace(picks, picks_per_minute).minutes,
        picks_in_session=picks_left,
        sensible_on_loom_mm=float(on_loom),
        sensible_warp_mm=float(on_loom / (1 - take_up) + waste_mm) if picks_left else None,
    )


def time_plan(warp: Warp) -> TimePlan | None:
    """The weaving at the pace that the loom's file tells of its weaver, and the session if it tells that too."""
    pace = warp.loom.pace
    if pace is None:
        return None
    weaving = weaving_pace(warp.weft.picks, pace.picks_per_minute)
    if pace.session_minutes is None:
        return TimePlan(weaving, None)
    return TimePlan(weaving, _session_at(pace, pace.session_minutes, pace.winding_seconds, warp))


def _session_at(
    pace: WeaverPace, session_minutes: Fraction, winding_seconds: Fraction, warp: Warp | Plan
) -> SessionPlan:
    return session_plan(
        session_minutes,
        ends=warp.ends,
        winding_seconds_per_end=winding_seconds,
        threading_seconds_per_end=pace.threading_seconds,
        fixed_minutes=pace.fixed_minutes,
        picks=warp.weft.picks,
        picks_per_minute=pace.picks_per_minute,
        picks_per_inch=warp.weft.picks_per_inch,
        take_up=1 - warp.lengths.woven_mm / warp.lengths.used_mm,  # what fringes take as well
        waste_mm=warp.lengths.waste_mm,
    )


class KitTime(NamedTuple):
    """Whole minutes for each step of one kit, every step rounded up so that what is printed adds up.

    ``tape_mm`` is what gets woven on the loom in the session and ``warp_mm`` the warp that would just be woven off;
    None when there is no time to weave at all.
    """

    wind: int
    thread: int
    dress: int
    weave: int
    session: int
    tape_mm: Fraction
    warp_mm: Fraction | None

    @property
    def steps(self) -> tuple[int, int, int, int]:
        return self.wind, self.thread, self.dress, self.weave

    @property
    def needed(self) -> int:
        return sum(self.steps)

    @property
    def fits(self) -> bool:
        return self.needed <= self.session


def kit_time(plan: Plan, session_minutes: Fraction, *, wound_beforehand: bool = False) -> KitTime | None:
    """The steps of one kit in a session of so many minutes; None when the loom's file tells no pace.

    A warp that was wound beforehand takes no time for winding.
    """
    pace = plan.loom.pace
    if pace is None:
        return None
    winding_seconds = Fraction(0) if wound_beforehand else pace.winding_seconds
    session = _session_at(pace, session_minutes, winding_seconds, plan)
    return KitTime(
        ceil(session.winding_minutes),
        ceil(session.threading_minutes),
        ceil(session.fixed_minutes),
        ceil(session.weaving_minutes),
        int(session_minutes),
        Fraction(session.sensible_on_loom_mm),
        None if session.sensible_warp_mm is None else Fraction(session.sensible_warp_mm),
    )
