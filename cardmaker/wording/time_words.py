"""Shuttle and pace: wraps of weft, picks, hours, and whether the session holds them."""

from __future__ import annotations

from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING, Final

from cardmaker.model.units import MM_PER_YARD
from cardmaker.wording.formatters import Number, Units, a_minute, duration, warp_length
from cardmaker.wording.phrases import plural

if TYPE_CHECKING:
    from cardmaker.model.bench import SessionPlan, ShuttleFill, TimePlan
    from cardmaker.model.plan import Plan

WEAVING: Final = "Shuttle and pace"
SPARE_SHARE: Final = 4  # a plan is easily held by a session where at least so many times what is left holds it


def wraps(fill: ShuttleFill, weft_mm: Fraction, units: Units) -> str:
    """The weft on the shuttle."""
    return f"Weft {warp_length(weft_mm, units)}: {_of_this_shuttle(fill)}."


def _of_this_shuttle(fill: ShuttleFill) -> str:
    fills = f"{fill.fills} fills of {fill.wraps_per_fill}" if fill.fills > 1 else "one fill"
    return f"{plural(fill.wraps, 'wrap')} of this shuttle, {fills}"


def wraps_without_pegs(plan: Plan, units: Units) -> str:
    """Where these pegs give more than what to wind: the wraps for that length, which are on the other cards, or
    somebody who compares them believes that one is wrong. Else nothing."""
    other = plan.shuttle_without_pegs
    if other is None or other == plan.shuttle:
        return ""
    fills = f", {other.fills} fills of {other.wraps_per_fill}" if other.fills > 1 else ""
    return f"for {warp_length(plan.lengths.wind_mm, units)} it is {plural(other.wraps, 'wrap')}{fills}"


def wraps_and_time(fill: ShuttleFill | None, plan: TimePlan | None) -> str:
    """Both in a line, where there is no room for more: ``80 wraps of this shuttle, 4 fills of 20; 49 min of
    weaving, 1 h 56 min in all, within a class of 3 h.``"""
    told = [_of_this_shuttle(fill)] if fill else []
    if plan is not None:
        session = f", {_in_one_class(plan.session, 'a class')}" if plan.session else ""
        told.append(f"{duration(plan.pace.minutes)} of weaving{session}")
    return f"{'; '.join(told)}."


def fill_the_shuttle(fill: ShuttleFill, *, brief: bool = False) -> str:
    """How often the shuttle is filled, and how full: ``Fill the shuttle 3 times, about 30 wraps each.`` The last may be
    fewer, so in fewer words too it is about so many: ``Shuttle: 3 fills of about 30 wraps.``"""
    full = plural(fill.wraps_per_fill, "wrap")
    if fill.fills <= 1:
        return f"Fill the shuttle once: {full}."
    if brief:
        return f"Shuttle: {fill.fills} fills of about {full}."
    return f"Fill the shuttle {fill.fills} times, about {full} each."


def picks_and_hours(plan: TimePlan, units: Units, *, brief: bool = False) -> str:
    """Picks and hours, the sum with all that is done before, and whether the session holds it; and, if not ``brief``,
    by how much."""
    picks, session = plan.pace, plan.session
    how_long = f"about {duration(picks.minutes)} of weaving"
    weaving = f"{plural(picks.picks, 'pick')} at {a_minute(picks.picks_per_minute)}: {how_long}."
    if session is None:
        return weaving
    rest = "the rest" if brief else "the rest of dressing"
    winding, threading, dressing = session.steps[:3]
    steps = f"Winding {duration(winding)}, threading {duration(threading)}, {rest} {duration(dressing)}"
    sentence = f"{weaving} {steps}: {_in_one_class(session)}."
    return sentence if brief else f"{sentence} {_by_how_much(session, units)}"


def _in_one_class(session: SessionPlan, one_class: str = "one class") -> str:
    """The sum of all steps, and whether a class holds it: easily only where a quarter of it is to spare, as beginners
    are slower (ours, no source)."""
    easily = SPARE_SHARE * session.spare_minutes >= session.needed_minutes
    fits = "within" if easily else "tight for" if session.fits else "longer than"
    return f"{duration(session.needed_minutes)} in all, {fits} {one_class} of {duration(session.session_minutes)}"


def _by_how_much(session: SessionPlan, units: Units) -> str:
    if session.fits:
        return f"About {duration(session.spare_minutes)} to spare." if session.spare_minutes else "Nothing to spare."
    over = f"It is about {duration(-session.spare_minutes)} too long"
    return f"{over}; {warp_woven_off(session.sensible_warp_mm, units)}."


def warp_woven_off(length_mm: Number | None, units: Units) -> str:
    """The warp that a session holds, down to a tenth of a metre or a quarter of a yard: a longer one would not fit."""
    if length_mm is None:
        return "there is no time left to weave at all"
    part = Fraction(100) if units == "metric" else MM_PER_YARD / 4
    return f"a warp of {warp_length(floor(length_mm / part) * part, units)} would just be woven off"
