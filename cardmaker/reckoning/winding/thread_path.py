"""The exact length of a thread round real pegs: tangents between them and arcs on them.

The thread's centreline lies at r = peg radius + half the yarn. With s = +1 or -1 for the side of the bend and c the
distance of two centres, q = s1 r1 - s2 r2: the straight part is sqrt(c^2 - q^2) long and heads asin(q/c) off the line
of the centres; the arc on a peg is r times the change of heading. This is the open and the crossed belt of a machine
designer's handbook, peg by peg (common practice, no source for the general chain). Floats, good to 1e-6 mm.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from fractions import Fraction
from itertools import combinations, pairwise
from math import asin, atan2, cos, hypot, pi, sin, sqrt, tau
from typing import Final

from cardmaker.model.peg_plan import Arc, Leg, PassedPeg, Point, ThreadPath

NO_BEND: Final = 1e-9  # radians: a thread that bends less runs straight past (ours)


def tangent(across: Point, start_offset: float, stop_offset: float) -> tuple[float, float]:
    """Length and heading of the straight thread between two pegs whose centres lie ``across`` from each other.

    The offsets are the radii, signed by the bend. Raises ValueError where the pegs leave no room for the thread.
    """
    distance = hypot(*across)
    if distance <= abs(start_offset) + abs(stop_offset):
        raise ValueError(f"pegs {distance:.3f} mm apart leave no room for a thread between them")
    lean = start_offset - stop_offset
    return sqrt(distance * distance - lean * lean), atan2(across[1], across[0]) + asin(lean / distance)


def wrap(heading_in: float, heading_out: float, sign: int) -> float:
    """The angle by which a thread bends on a peg, from 0 to under a full turn."""
    angle = ((heading_out - heading_in) * sign) % tau
    return 0.0 if tau - angle < NO_BEND else angle


def offset(peg: PassedPeg) -> float:
    """The radius, positive for a bend to the right."""
    return peg.bend.sign * peg.radius_mm


def contact(peg: PassedPeg, heading: float) -> float:
    """The angle, from the peg's centre, at which a thread of this heading touches it."""
    return heading - peg.bend.sign * pi / 2


def leg_between(start: PassedPeg, stop: PassedPeg) -> Leg:
    """The straight thread from one peg to the next, outside both. Raises ValueError where they leave no room."""
    try:
        length, heading = tangent((stop.x_mm - start.x_mm, stop.y_mm - start.y_mm), offset(start), offset(stop))
    except ValueError as error:
        raise ValueError(f"{start.name} to {stop.name}: {error}") from None
    return Leg(_touching(start, heading), _touching(stop, heading), length, heading)


def _touching(peg: PassedPeg, heading: float) -> Point:
    angle = contact(peg, heading)
    return peg.x_mm + peg.radius_mm * cos(angle), peg.y_mm + peg.radius_mm * sin(angle)


def _arc(peg: PassedPeg, arriving: Leg, leaving: Leg) -> Arc:
    sweep = peg.bend.sign * wrap(arriving.heading, leaving.heading, peg.bend.sign)
    return Arc(peg, contact(peg, arriving.heading), sweep)


def path_round_pegs(passed: Sequence[PassedPeg], *, closed: bool = False) -> ThreadPath:
    """The taut thread laid round these pegs, each on its side.

    An open thread begins where it leaves the first peg, as a slip loop lets it, and stops where it reaches the last.
    A closed one comes back to the first peg and lies on all of them: two trips, cut in half, are two ends. Every peg is
    bent round by less than a full turn. Raises ValueError for fewer than two pegs, or where two leave no room.
    """
    if len(passed) < 2:
        raise ValueError("a thread needs two pegs")
    pegs = tuple(passed)
    stops = pegs[1:] + (pegs[:1] if closed else ())
    legs = tuple(leg_between(start, stop) for start, stop in zip(pegs, stops, strict=False))
    if closed:
        arcs = tuple(_arc(peg, legs[index - 1], legs[index]) for index, peg in enumerate(pegs))
    else:
        arcs = tuple(_arc(pegs[index], legs[index - 1], legs[index]) for index in range(1, len(pegs) - 1))
    return ThreadPath(pegs, legs, arcs)


def signed_bend(before: PassedPeg, peg: PassedPeg, after: PassedPeg) -> float:
    """How far the thread bends round the middle peg; negative where it runs past that side without touching.

    The bend of the centre line, taken from over -pi to pi, plus what the tangents lean at either side.
    """
    first, last = leg_between(before, peg), leg_between(peg, after)
    line_in = atan2(peg.y_mm - before.y_mm, peg.x_mm - before.x_mm)
    line_out = atan2(after.y_mm - peg.y_mm, after.x_mm - peg.x_mm)
    bend = _from_minus_pi((line_out - line_in) * peg.bend.sign)
    return bend + ((last.heading - line_out) - (first.heading - line_in)) * peg.bend.sign


def _from_minus_pi(angle: float) -> float:
    """The same angle from just over -pi to pi; a hair over -pi is an exact turning back and counts as pi."""
    angle = (angle + pi) % tau - pi
    return angle + tau if angle < NO_BEND - pi else angle


def without_untouched(passed: Sequence[PassedPeg], may_miss: Collection[str]) -> tuple[PassedPeg, ...]:
    """The pegs of an open thread without those of ``may_miss`` that it runs past on their side and does not touch.

    A cross peg in a corner is touched on one of the two ways only: the other cuts the corner on its inner side. A taut
    thread has one shape only, so of the few choices the first that is taut is the answer. Where none is, all pegs are
    kept, and :func:`signed_bend` tells which of them cannot be touched.
    """
    optional = [index for index, peg in enumerate(passed) if peg.name in may_miss]
    for missed in range(len(optional) + 1):
        for dropped in combinations(optional, missed):
            if _is_taut(passed, optional, dropped):
                return tuple(peg for index, peg in enumerate(passed) if index not in dropped)
    return tuple(passed)


def _is_taut(passed: Sequence[PassedPeg], optional: Collection[int], dropped: Collection[int]) -> bool:
    """Whether the thread touches every optional peg that stays and leaves every dropped one on its proper side."""
    kept = [index for index in range(len(passed)) if index not in dropped]
    for before, here, after in zip(kept, kept[1:], kept[2:], strict=False):
        if here in optional and signed_bend(passed[before], passed[here], passed[after]) < -NO_BEND:
            return False
    for start, stop in pairwise(kept):
        leg = leg_between(passed[start], passed[stop])
        if any(_room_beside(leg, passed[index]) < 0 for index in range(start + 1, stop)):
            return False
    return True


def _room_beside(leg: Leg, peg: PassedPeg) -> float:
    """How far off the peg the thread runs; negative where it would run through it or on its wrong side."""
    x, y = peg.x_mm - leg.start[0], peg.y_mm - leg.start[1]
    return (y * cos(leg.heading) - x * sin(leg.heading)) * peg.bend.sign - peg.radius_mm


def pile_up_mm(bend: float, ends_below: int, yarn_diameter_mm: Fraction) -> float:
    """How much longer an end is that lies on ``ends_below`` others while it bends through ``bend`` radians: angle m d.

    Half a turn over 20 ends of 0.5 mm takes 31 mm more. Spread the ends along the peg and it takes none.
    """
    return bend * float(ends_below * yarn_diameter_mm)


def stack_mm(ends: int, yarn_diameter_mm: Fraction) -> Fraction:
    """The height of all ends on a cross peg, where each lies once, side by side in one layer (common practice)."""
    return ends * yarn_diameter_mm
