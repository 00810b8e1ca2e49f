"""Who gets done in the session of a class, at the pace that each loom's file tells. Plain sums: need no source."""

from __future__ import annotations

from fractions import Fraction

from cardmaker.nouns.bench import SessionPlan
from cardmaker.nouns.plan import Plan
from cardmaker.reckoning.pace import session_plan


def class_session(plan: Plan, minutes: Fraction, *, wound_beforehand: bool = False) -> SessionPlan | None:
    """The steps of one kit in a session of so many minutes; None when the loom's file tells no pace.

    A warp that was wound beforehand takes no time for winding.
    """
    pace = plan.loom.pace
    if pace is None:
        return None
    return session_plan(
        minutes,
        ends=plan.ends,
        winding_seconds_per_end=0 if wound_beforehand else pace.winding_seconds,
        threading_seconds_per_end=pace.threading_seconds,
        fixed_minutes=pace.fixed_minutes,
        picks=plan.weft.picks,
        picks_per_minute=pace.picks_per_minute,
        picks_per_inch=plan.weft.picks_per_inch,
        take_up=plan.lengths.take_up,
        waste_mm=plan.lengths.waste_mm,
    )
