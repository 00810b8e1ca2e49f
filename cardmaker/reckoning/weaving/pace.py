"""Hours, and what fits into a session, at the weaver's own pace.

Plain sums: the figures that go in are her own, so nothing here has a default. They hold for the steady part of the
work, not for a first tape.
"""

from __future__ import annotations

from math import floor

from cardmaker.model.bench import Number, Pace, SessionPlan
from cardmaker.model.units import MM_PER_INCH


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
