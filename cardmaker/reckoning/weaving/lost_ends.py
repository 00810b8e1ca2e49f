"""Which end is meant by a count from an edge, where it lies, what lies beside it, and how long a new one must be.

Counting needs no source. Edges are called as the plan's view calls them: as the weaver sits, or from behind the heddle.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, NamedTuple

from cardmaker.model.bench import LostEnd, Number
from cardmaker.model.loom import Side
from cardmaker.model.plan import Lengths, Plan
from cardmaker.reckoning.on_loom.beam import warp_on_turns_mm
from cardmaker.reckoning.stripes.segments import Segment, hand_counted
from cardmaker.reckoning.weaving.rescue import SPARE_MM, replacement_mm

if TYPE_CHECKING:
    from cardmaker.model.bench import EndPlace, Rescue, WarpOnBeam


def first_edge(plan: Plan) -> Side:
    """The edge where end 1 is, as it is called: the left one, for a left hand the right one."""
    return Side.RIGHT if plan.view.left_hand else Side.LEFT


def end_from_edge(count: int, edge: Side, plan: Plan) -> int:
    """The number of the end that is the ``count``th from an edge. Raises ValueError when the warp has no such end."""
    if not 1 <= count <= plan.ends:
        raise ValueError(f"end {count} of a warp of {plan.ends} ends")
    return count if edge is first_edge(plan) else plan.ends + 1 - count


def stripes_from_edge(edge: Side, plan: Plan) -> tuple[Segment, ...]:
    """The stripes as the card brackets them, single ends in turn as one, the one at the edge first."""
    stripes = hand_counted(plan.runs)
    return stripes if edge is first_edge(plan) else stripes[::-1]


def end_in_stripe(stripe: int, count: int, edge: Side, plan: Plan) -> int:
    """The number of the ``count``th end of a stripe, both counted from the same edge.

    Raises ValueError when there is no such stripe, or no such end in it.
    """
    stripes = stripes_from_edge(edge, plan)
    if not 1 <= stripe <= len(stripes):
        raise ValueError(f"stripe {stripe} of {len(stripes)}")
    chosen = stripes[stripe - 1]
    if not 1 <= count <= chosen.ends:
        raise ValueError(f"end {count} of a stripe of {chosen.ends} ends")
    return chosen.first_end + count - 1 if edge is first_edge(plan) else chosen.last_end + 1 - count


class PlaceInStripe(NamedTuple):
    """Where an end lies among the stripes, all counted from one edge."""

    edge: Side
    stripe: int
    in_stripe: int
    segment: Segment


def place_in_stripe(end_number: int, edge: Side, plan: Plan) -> PlaceInStripe:
    """The stripe of an end, and which end of it that is. Raises ValueError for an end that the warp does not have."""
    for stripe, segment in enumerate(stripes_from_edge(edge, plan), start=1):
        if segment.first_end <= end_number <= segment.last_end:
            from_first = edge is first_edge(plan)
            inside = end_number + 1 - segment.first_end if from_first else segment.last_end + 1 - end_number
            return PlaceInStripe(edge, stripe, inside, segment)
    raise ValueError(f"end {end_number} of a warp of {plan.ends} ends")


def most_turns(beam: WarpOnBeam) -> int:
    """More turns than this are never on the beam; a turn that has begun counts."""
    return ceil(beam.turns)


def length_by_turns_mm(turns: Number, beam: WarpOnBeam, lengths: Lengths) -> float:
    """The piece for an end that breaks when so many turns are on the beam: what lies there, what may hang between the
    beam and the last pick, and 12 inches; never more than when nothing is woven.

    What hangs there is counted as long as the waste at the back, which is all that is left of the warp once the last
    pick is woven (own derivation; it may be a little too long, and is not too short).
    """
    on_beam = warp_on_turns_mm(turns, beam.beam_diameter_mm, beam.build_up_mm)
    return min(on_beam + float(lengths.waste_back_mm), float(lengths.wound_mm)) + float(SPARE_MM)


def lost_end(end_number: int, plan: Plan, rescue: Rescue, woven: Fraction, turns_left: Fraction | None) -> LostEnd:
    """All that is asked about one end; ``turns_left`` on the beam come before the share that is ``woven``.

    Raises ValueError for an end or a share that there is not, or for turns on a beam that nobody knows.
    """
    if not 1 <= end_number <= plan.ends:
        raise ValueError(f"end {end_number} of a warp of {plan.ends} ends")
    from_first, from_last = end_number, plan.ends + 1 - end_number
    before, after = _neighbour(end_number - 1, rescue), _neighbour(end_number + 1, rescue)
    if plan.view.left_hand:
        from_first, from_last, before, after = from_last, from_first, after, before
    place = rescue.ends[end_number - 1]
    if turns_left is None:
        length: Number = replacement_mm(plan.lengths.wound_mm, plan.lengths.waste_mm, woven)
        return LostEnd(place, from_first, from_last, before, after, length, woven)
    if plan.beam is None:
        raise ValueError(f"nobody knows the turns on {plan.loom.title}")
    length = length_by_turns_mm(turns_left, plan.beam, plan.lengths)
    return LostEnd(place, from_first, from_last, before, after, length, None, turns_left)


def _neighbour(end_number: int, rescue: Rescue) -> EndPlace | None:
    return rescue.ends[end_number - 1] if 1 <= end_number <= len(rescue.ends) else None
