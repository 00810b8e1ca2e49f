"""The sentences about the room: pegs, route, cross, and the walk that winding is."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from cardmaker.composing.measures import Units, both, decimal, in_sixteenths, small_length, tape_length, warp_length
from cardmaker.composing.wording import plural
from cardmaker.nouns.peg_plan import PegPlan
from cardmaker.units import MM_PER_YARD

ROOM: Final = "The room"
OUT: Final = "1, 3, 5 …"
BACK: Final = "2, 4, 6 …"


def room_aside(pegs: PegPlan) -> str:
    return f"{pegs.title}, from above, to scale"


def peg_name(name: str, pegs: PegPlan) -> str:
    if name == pegs.home:
        return "home"
    if name == pegs.far:
        return "far"
    return name


def route(pegs: PegPlan) -> str:
    """The pegs in the order in which the thread meets them."""
    if not pegs.cross:
        return "From home to the far post, round it, and back on the other side: a figure of eight."
    if pegs.kind == "span":
        return "From home past the two cross pegs to the far post, turn, and back."
    stops = ", ".join(name for name in pegs.route[1:-1])
    return f"Out: home, {stops}, far ({pegs.far}). Then back the same way."


def length(pegs: PegPlan, units: Units) -> str:
    """One end's length, and what it leaves over."""
    wanted = warp_length(pegs.wanted_mm, units)
    one = f"One end is {warp_length(pegs.length_mm, units)} round the pegs"
    if pegs.distance_mm is not None:
        one = (
            f"Set the posts {distance(pegs.distance_mm, units)} apart from middle to middle: {one[0].lower()}{one[1:]}"
        )
    if pegs.spare_mm < 5:
        return f"{one}, as wanted."
    return f"{one}: {wanted} and {tape_length(pegs.spare_mm, units)} to spare."


def guide(pegs: PegPlan, units: Units) -> str:
    return (
        f"Try it with a guide string of {warp_length(pegs.guide_string_mm, units)}; it must not reach past the far peg."
    )


def walking(pegs: PegPlan, ends: int, units: Units) -> str:
    metres, yards = f"{decimal(pegs.walking_mm / 1000, 0)} m", f"{decimal(pegs.walking_mm / MM_PER_YARD, 0)} yd"
    return f"{plural(ends, 'time')} that is {both(metres, yards, units)} of thread to walk."


def stack(pegs: PegPlan, units: Units) -> str:
    """How high the ends lie on a cross peg, and what the last one gains."""
    where = "cross peg" if pegs.cross else "post"
    high = f"Spread in one layer the ends stand about {small_length(pegs.stack_mm, units)} high on each {where}"
    if pegs.stack_is_too_high and pegs.stack_limit_mm is not None:
        limit = small_length(pegs.stack_limit_mm, units)
        return f"{high}, more than its {limit}: push them down often, or use longer pegs."
    return f"{high}. The last end may come out up to {small_length(pegs.pile_up_mm[1], units)} longer than the first."


def distance(length_mm: Fraction, units: Units) -> str:
    """A distance to measure with a rule."""
    return both(f"{decimal(length_mm, 0)} mm", in_sixteenths(length_mm), units)


def cross(pegs: PegPlan) -> str:
    """What to see at the cross. Two posts alone make it half-way between them (common practice, no source)."""
    if not pegs.cross:
        return (
            "The cross: ends 1, 3, 5 … (full line) and 2, 4, 6 … (dashed) pass each other half-way between the posts. "
            "Keeper sticks go on both sides of that X."
        )
    first, second = pegs.cross[:2]
    plain = (
        f"The cross: ends 1, 3, 5 … (full line) pass {first} on one side and {second} on the other; "
        "ends 2, 4, 6 … (dashed) the other way."
    )
    if pegs.has_false_cross:
        return f"{plain} Keeper sticks go in the X that single ends make, not in the other."
    return f"{plain} Keeper sticks go where {first} and {second} stand."
