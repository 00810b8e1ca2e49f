"""What the terminal says about the bench: pegs, beam, pull, shuttle, time, rescue and pick-up, a few plain lines each.

Each function gives the lines under one heading, and none where nothing is known.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import floor
from typing import Final

from cardmaker.composing.measures import Units, both, decimal, in_mm, mixed, small_length, tape_length, warp_length
from cardmaker.composing.wording import listed, plural
from cardmaker.nouns.bench import PickedRow, SessionPlan, TapeLeft, WarpOnBeam
from cardmaker.nouns.peg_plan import PegPlan
from cardmaker.nouns.plan import Plan
from cardmaker.units import MM_PER_YARD, inches

PEGS: Final = "Where to wind"
BEAM: Final = "On the beam"
TENSION: Final = "How tight"
SHUTTLE: Final = "On the shuttle"
PACE: Final = "How long it takes"
RESCUE: Final = "If something goes wrong"
PICKUP: Final = "Pick-up"

ROWS_OF_TAPE: Final = 8  # of the turns-left table in the terminal


def bench_sections(plan: Plan, units: Units) -> list[list[str]]:
    """Every heading that has something under it, with its lines."""
    sections = (
        (PEGS, pegs(plan, units)),
        (BEAM, beam(plan, units)),
        (TENSION, tension(plan, units)),
        (SHUTTLE, shuttle(plan, units)),
        (PACE, pace(plan)),
        (RESCUE, rescue(plan, units)),
        (PICKUP, pickup(plan)),
    )
    return [[heading, *(f"  {line}" for line in lines)] for heading, lines in sections if lines]


def pegs(plan: Plan, units: Units) -> list[str]:
    """Route or distance, the length of one end, and what stands beside it."""
    found = plan.pegs
    if found is None:
        return []
    one = f"One end is {warp_length(found.length_mm, units)}"
    spare = f"{one}, {tape_length(found.spare_mm, units)} more than asked." if found.spare_mm >= 5 else f"{one}."
    metres, yards = (decimal(found.walking_mm / unit, 0) for unit in (1000, MM_PER_YARD))
    walk = f"All of them are {both(f'{metres} m', f'{yards} yd', units)} to walk."
    return [f"{found.title}: {_route(found, units)}", f"{spare} {walk}"]


def _route(found: PegPlan, units: Units) -> str:
    if found.distance_mm is not None:
        return f"set the posts {small_length(found.distance_mm, units)} apart, from middle to middle."
    skipped = f" Pass by {listed(found.skipped)}." if found.skipped else ""
    return f"out by {', '.join(found.route)}, and back the same way.{skipped}"


def beam(plan: Plan, units: Units) -> list[str]:
    """Turns, sticks, what a stop lets off, and the tape still to come by the turns that are left."""
    found = plan.beam
    if found is None:
        return []
    turns = decimal(Fraction(found.turns), 0)
    lines = [f"About {turns} turns; the roll is {in_mm(Fraction(found.final_diameter_mm))} across when full."]
    if found.sticks:
        later = [str(turn) for turn in found.stick_turns if turn]
        after = f", then 2 after {plural(len(later), 'turn').split()[1]} {listed(later)}" if later else ""
        lines.append(f"{found.sticks} sticks: 2 at the knot{after}.")
    lines.append(_let_off(found))
    rows = rows_of_tape(found)
    if rows:
        left = ", ".join(str(int(row.turns)) for row in rows)
        lines.append(f"Turns left {left}: tape still to come {_row([Fraction(row.tape_mm) for row in rows], units)}.")
    return lines


def _let_off(found: WarpOnBeam) -> str:
    off, moves = found.let_off, found.let_off.advances
    full, empty = (decimal(Fraction(length) / 10, 1) for length in (off.full_mm, off.nearly_empty_mm))
    said = f"One stop of the beam lets off {full} cm at first and {empty} cm at the end"
    return f"{said}." if moves is None else f"{said}; about {plural(moves, 'move')} in all."


def rows_of_tape(found: WarpOnBeam, rows: int = ROWS_OF_TAPE) -> list[TapeLeft]:
    """At most so many whole turns, evenly spread, with tape still to come; the fewest turns that give any are there."""
    whole = [row for row in found.tape_left if row.turns == int(row.turns) and row.tape_mm > 0]
    step = -(-len(whole) // rows) if whole else 1
    return whole[::-1][::step][::-1]


def tension(plan: Plan, units: Units) -> list[str]:
    """The pull of the whole warp and of one end, and how far the loom's press dips it."""
    found = plan.tension
    if found is None:
        return []
    low, working, high = (decimal(Fraction(pull.newtons), 0) for pull in found.pulls)
    one, kilograms = decimal(Fraction(found.working.newtons_per_end), 2), decimal(Fraction(found.kilograms), 1)
    lines = [f"About {working} N in all ({kilograms} kg), {one} N for one end; {low} N is slack and {high} N the most."]
    dips = {dip.pull.name: in_mm(Fraction(dip.dip_mm)) for dip in found.dips}
    if found.weight_g is not None and found.span_mm is not None:
        press = f"{decimal(found.weight_g, 0)} g laid half-way along {tape_length(found.span_mm, units)} of warp"
        if "working" in dips:
            slack = f"{dips['low']} is slack, " if "low" in dips else ""
            lines.append(f"{press} dips it by {dips['working']}; {slack}{dips['high']} is tight.")
        else:
            lines.append(f"{press} is too much for it: take a lighter weight.")
    return lines


def shuttle(plan: Plan, units: Units) -> list[str]:
    """Wraps and fills for the weft of the whole tape."""
    found = plan.shuttle
    if found is None:
        return []
    weft = warp_length(plan.weft.buy_mm, units)
    fills = f" in {found.fills} fills of {found.wraps_per_fill} at most" if found.fills > 1 else ""
    return [f"{weft} of {plan.weft.yarn}: {plural(found.wraps, 'wrap')}{fills}."]


def pace(plan: Plan) -> list[str]:
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


def rescue(plan: Plan, units: Units) -> list[str]:
    """How long a new end must be, and what a skipped space costs."""
    found = plan.rescue
    if found is None:
        return []
    woven = listed(["nothing", *(mixed(each.woven) for each in found.replacements[1:])])
    pieces = _row([piece.length_mm for piece in found.replacements], units)
    most = max(found.rethreading, key=lambda each: each.ends)
    way = "to the right edge" if all(each.side == most.side for each in found.rethreading) else "to the nearer edge"
    return [
        f"A new end for a broken one is {pieces} long with {woven} woven.",
        f"A space was skipped: thread over from there {way}, {plural(most.ends, 'end')} at most.",
    ]


def pickup(plan: Plan) -> list[str]:
    """Every row of the figure, plain ones too, with what the hand does."""
    found, asked = plan.pickup, plan.pattern.pickup
    if found is None or asked is None:
        return []
    numbers = {end: number for number, end in enumerate(found.pattern_ends, start=1)}
    places = listed([str(end) for end in found.pattern_ends])
    yarn = f"{asked.pattern_yarn} ends 1 to {len(numbers)}" if len(numbers) > 1 else f"the {asked.pattern_yarn} end"
    return [
        f"{yarn}: {'ends' if len(numbers) > 1 else 'end'} {places} of the warp.",
        *(f"{row.row:>2} {row.shed:<4} {_by_hand(row, numbers)}".rstrip() for row in found.rows),
    ]


def _by_hand(row: PickedRow, numbers: dict[int, int]) -> str:
    done = (("lift", row.lifted), ("drop", row.dropped))
    return ", ".join(f"{what} {listed([str(numbers[end]) for end in ends])}" for what, ends in done if ends)


def learned(plan: Plan) -> str:
    """Which figures come from what was measured, and when; empty when none does."""
    figures = learned_figures(plan)
    if not figures:
        return ""
    dates = [date for date in plan.learned_from if date]
    of = f"From your {'tapes' if len(dates) > 1 else 'tape'} of {listed(dates)}" if dates else "From an earlier tape"
    return f"{of}: {listed(figures)}."


def learned_figures(plan: Plan) -> list[str]:
    """The figures of this plan that a measured record gave."""
    came = (
        ("take-up", plan.lengths.take_up_basis == "measured"),
        ("waste", plan.lengths.waste_basis == "measured"),
        ("width", plan.width.basis == "measured" and plan.pattern.width_mm is None),
        ("picks per inch", plan.weft.basis == "measured"),
    )
    return [name for name, is_measured in came if is_measured]


def _row(lengths: Sequence[Fraction], units: Units) -> str:
    """Several lengths of tape in the first unit alone, so that they stay one line: ``156, 121 and 89 cm``."""
    metric = units == "metric"
    each = [decimal(length / 10 if metric else inches(length), 0) for length in lengths]
    return f"{listed(each)} {'cm' if metric else 'in'}"
