"""Shuttle and pace: wraps of weft, picks, hours, and whether the session holds them."""

from __future__ import annotations

from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING, Final

from cardmaker.model.units import MM_PER_YARD
from cardmaker.wording.formatters import Number, Units, a_minute, duration, warp_length
from cardmaker.wording.phrases import plural

if TYPE_CHECKING:
    from cardmaker.model.bench import Pace, SessionPlan, TimePlan
    from cardmaker.model.plan import Plan
    from cardmaker.model.shuttle_wraps import ShuttleFill

WEAVING: Final = "Shuttle and pace"
A_GUESS: Final = ", a guess"
SPARE_SHARE: Final = 4  # a plan is easily held by a session where at least so many times what is left holds it


def wraps(fill: ShuttleFill, weft_mm: Fraction, units: Units) -> str:
    """The weft on the shuttle."""
    return f"Weft {warp_length(weft_mm, units)}: {_of_this_shuttle(fill)}."


def _of_this_shuttle(fill: ShuttleFill) -> str:
    fills = f"{fill.fills} fills of {fill.wraps_per_fill}" if fill.fills > 1 else "one fill"
    return f"{plural(fill.wraps, 'wrap')} of this shuttle, {fills}"


def weft_on_pegs(plan: Plan, units: Units) -> str:
    """Where these pegs give more than what to wind, and so more picks: for which warp these figures are, and what they
    are on the other cards, or somebody who compares them believes that one is wrong. Else nothing.

    ``For the 2.84 m (3.11 yd) that these pegs give; for 2.7 m (2.95 yd) it is 1248 picks, 79 wraps, 4 fills of 20.``
    """
    usual, fill = plan.weft_without_pegs, plan.shuttle_without_pegs
    if usual is None or usual.picks == plan.weft.picks:
        return ""
    there = [plural(usual.picks, "pick")]
    if fill is not None and fill != plan.shuttle:
        there.append(plural(fill.wraps, "wrap"))
        there += [f"{fill.fills} fills of {fill.wraps_per_fill}"] if fill.fills > 1 else []
    given, asked = (warp_length(length, units) for length in (plan.lengths.wound_mm, plan.lengths.wind_mm))
    return f"For the {given} that these pegs give; for {asked} it is {', '.join(there)}."


def wraps_and_time(fill: ShuttleFill | None, plan: TimePlan | None) -> str:
    """Both in a line, where there is no room for more: ``80 wraps of this shuttle, 4 fills of 20; 49 min of
    weaving, 1 h 56 min in all, within a class of 3 h.`` Of a figure also what its rows are reckoned at."""
    told = [_of_this_shuttle(fill)] if fill else []
    if plan is not None:
        pace = plan.pace
        by_hand = f" (of {pace.picks} picks {_picked_up(pace)})" if pace.picked_rows else ""
        told.append(f"{duration(pace.minutes)} of weaving{by_hand}, {_in_all(plan, 'a class')}")
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
    """Picks and hours, the sum with all that is done before, and whether the session holds it where one is told; and,
    if not ``brief``, by how much."""
    weaving = f"{_picks_at(plan.pace)}: about {duration(plan.pace.minutes)} of weaving."
    rest = "the rest" if brief else "the rest of dressing"
    winding, threading, dressing = plan.work.steps[:3]
    steps = f"Winding {duration(winding)}, threading {duration(threading)}, {rest} {duration(dressing)}"
    sentence = f"{weaving} {steps}: {_in_all(plan)}."
    return sentence if brief or plan.session is None else f"{sentence} {_by_how_much(plan.session, units)}"


def _picks_at(pace: Pace) -> str:
    """How many in a minute; of a figure the plain ones and those that are picked up by hand."""
    if not pace.picked_rows:
        return f"{plural(pace.picks, 'pick')} at {a_minute(pace.picks_per_minute)}"
    plain = f"{pace.picks - pace.picked_rows} plain at {a_minute(pace.picks_per_minute)}"
    return f"{plural(pace.picks, 'pick')}, {plain} and {_picked_up(pace)}"


def _picked_up(pace: Pace) -> str:
    """``742 picked up at 3 a minute, a guess``: a guess where the loom's file does not tell it."""
    assert pace.picked_rows_per_minute is not None
    return f"{pace.picked_rows} picked up at {a_minute(pace.picked_rows_per_minute)}{A_GUESS * pace.picked_is_guess}"


def _in_all(plan: TimePlan, one_class: str = "one class") -> str:
    """The sum of all steps, and whether a class holds it where the loom's file tells how long one is: easily only where
    a quarter of it is to spare, as beginners are slower (ours, no source)."""
    session, sum_of_steps = plan.session, f"{duration(plan.work.needed_minutes)} in all"
    if session is None:
        return sum_of_steps
    easily = SPARE_SHARE * session.spare_minutes >= session.needed_minutes
    fits = "within" if easily else "tight for" if session.fits else "longer than"
    return f"{sum_of_steps}, {fits} {one_class} of {duration(session.session_minutes)}"


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
