"""Shuttle and pace: wraps of weft, picks, hours, and whether the session holds them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING, Final

from cardmaker.model.bench import SessionPlan
from cardmaker.model.plan import Plan
from cardmaker.wording.measures import Units, decimal, warp_length
from cardmaker.wording.phrases import plural

if TYPE_CHECKING:
    from cardmaker.model.bench import ShuttleFill, TimePlan


# shuttle and pace

WEAVING: Final = "Shuttle and pace"


def wraps(fill: ShuttleFill, weft_mm: Fraction, units: Units) -> str:
    """The weft on the shuttle."""
    fills = f"{fill.fills} fills of {fill.wraps_per_fill}" if fill.fills > 1 else "one fill"
    return f"Weft {warp_length(weft_mm, units)}: {plural(fill.wraps, 'wrap')} of this shuttle, {fills}."


def picks_and_hours(plan: TimePlan) -> str:
    """Picks and hours, and whether the session holds them."""
    pace = plan.pace
    said = (
        f"{pace.picks} picks at {decimal(Fraction(pace.picks_per_minute), 0)} a minute: about {_hours(pace.minutes)}."
    )
    session = plan.session
    if session is None:
        return said
    steps = (
        f" Winding {_minutes(session.winding_minutes)}, threading {_minutes(session.threading_minutes)}, "
        f"the rest of dressing {_minutes(session.fixed_minutes)}"
    )
    if session.fits:
        return f"{said}{steps}: all of it fits {_hours(session.session_minutes)}."
    return f"{said}{steps}: it does not fit {_hours(session.session_minutes)}."


def _minutes(minutes: float) -> str:
    return f"{decimal(Fraction(minutes), 0)} min"


def _hours(minutes: float) -> str:
    return f"{decimal(Fraction(minutes) / 60, 1)} h" if minutes >= 90 else _minutes(minutes)


SHUTTLE: Final = "On the shuttle"
PACE: Final = "How long it takes"


def shuttle_lines(plan: Plan, units: Units) -> list[str]:
    """Wraps and fills for the weft of the whole tape."""
    found = plan.shuttle
    if found is None:
        return []
    weft = warp_length(plan.weft.buy_mm, units)
    fills = f" in {found.fills} fills of {found.wraps_per_fill} at most" if found.fills > 1 else ""
    return [f"{weft} of {plan.weft.yarn}: {plural(found.wraps, 'wrap')}{fills}."]


def pace_lines(plan: Plan) -> list[str]:
    """Hours of weaving, and whether the session holds everything."""
    found = plan.pace
    if found is None:
        return []
    said = f"{plural(found.pace.picks, 'pick')} at {decimal(Fraction(found.pace.picks_per_minute), 1)} a minute"
    lines = [f"{said}: about {hours(found.pace.minutes)} of weaving."]
    return lines if found.session is None else [*lines, *_session(found.session)]


def _session(found: SessionPlan) -> Iterator[str]:
    winding, threading, rest = found.winding_minutes, found.threading_minutes, found.fixed_minutes
    said = f"winding {hours(winding)}, threading {hours(threading)}, the rest {hours(rest)}"
    session = hours(found.session_minutes)
    if found.fits:
        yield f"With {said}, it fits in {session}, and leaves about {hours(found.spare_minutes)}."
        return
    yield f"With {said}, it is about {hours(-found.spare_minutes)} too long for {session}."
    if found.sensible_warp_mm is not None:
        yield f"A warp of {decimal(Fraction(found.sensible_warp_mm) / 1000, 1)} m would be woven off in that time."


def hours(minutes: float) -> str:
    """``2 h 5 min``, ``40 min``; to the nearest minute."""
    whole, rest = divmod(floor(minutes + 0.5), 60)
    if not whole:
        return f"{rest} min"
    return f"{whole} h {rest} min" if rest else f"{whole} h"
