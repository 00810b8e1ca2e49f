"""Who gets done in the session of a class, at the pace that each loom's file tells. Plain sums: need no source."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import NamedTuple

from cardmaker.model.plan import Plan
from cardmaker.reckoning.weaving.pace import session_plan


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
    found = session_plan(
        session_minutes,
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
    return KitTime(
        ceil(found.winding_minutes),
        ceil(found.threading_minutes),
        ceil(found.fixed_minutes),
        ceil(found.weaving_minutes),
        int(session_minutes),
        Fraction(found.sensible_on_loom_mm),
        None if found.sensible_warp_mm is None else Fraction(found.sensible_warp_mm),
    )
