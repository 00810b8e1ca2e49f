"""The same warp begun from its other edge: for a left hand, and for threading from behind. The tape never changes.

End 1 of the turned plan is the last end of the plan; space 1 is the last space. Only the way of counting is turned:
every end stays in its own hole or slot.
"""

from __future__ import annotations

from typing import Final, Literal

from cardmaker.model.loom import Loom
from cardmaker.model.plan import BackHeddle, OtherLoom, Placement, Plan, Sheds
from cardmaker.model.record_class import replace
from cardmaker.reckoning.stripes.stripe_counts import runs
from cardmaker.reckoning.threading.counting import count_at
from cardmaker.reckoning.winding.winding_methods import plan_winding

_HalfSpace = Literal["none", "left", "right"]
_OTHER: Final[dict[_HalfSpace, _HalfSpace]] = {"left": "right", "right": "left", "none": "none"}


def loom_from_other_edge(loom: Loom, *, sides_swapped: bool) -> Loom:
    """The loom numbered from its right end. ``sides_swapped``: what is drawn on the left is the weaver's right."""
    return replace(loom, outer=loom.kind_of(loom.spaces), sides_swapped=sides_swapped)


def placement_from_other_edge(placement: Placement, loom: Loom) -> Placement:
    """Where each end lies, counted from the other side of ``loom`` (the loom itself, not turned)."""
    first = placement.spaces + 1 - placement.last_space
    back = placement.back
    return replace(
        placement,
        first_space=first,
        kinds=placement.kinds[::-1],
        count_to=count_at(first, loom_from_other_edge(loom, sides_swapped=False)),
        half_space=_OTHER[placement.half_space],
        shifted=-placement.shifted,
        back=None if back is None else _back_from_other_edge(back, placement.spaces),
    )


def _back_from_other_edge(back: BackHeddle, spaces: int) -> BackHeddle:
    return BackHeddle(-back.offset, spaces + 1 - back.last_space, spaces + 1 - back.first_space)


def plan_from_other_edge(plan: Plan, *, sides_swapped: bool) -> Plan:
    """The plan begun from the other edge. Lengths, yarn and notes are those of the plan."""
    yarns = plan.end_yarns[::-1]
    warp = runs(yarns)
    return replace(
        plan,
        loom=loom_from_other_edge(plan.loom, sides_swapped=sides_swapped),
        end_yarns=yarns,
        runs=warp,
        placement=placement_from_other_edge(plan.placement, plan.loom),
        sheds=Sheds(_turned(plan.sheds.down, plan.ends), _turned(plan.sheds.up, plan.ends)),
        winding=plan_winding(warp),
        other_looms=tuple(_other_from_other_edge(other_loom) for other_loom in plan.other_looms),
    )


def _turned(end_numbers: tuple[int, ...], ends: int) -> tuple[int, ...]:
    return tuple(sorted(ends + 1 - number for number in end_numbers))


def _other_from_other_edge(other_loom: OtherLoom) -> OtherLoom:
    """The labels are names of spaces: only their order is turned, and the kinds with them."""
    placement = other_loom.placement
    if placement is not None:
        first_space = placement.spaces + 1 - placement.last_space
        placement = replace(placement, first_space=first_space, kinds=placement.kinds[::-1])
    return replace(
        other_loom, placement=placement, first_label=other_loom.last_label, last_label=other_loom.first_label
    )


def plan_with_sides_swapped(plan: Plan) -> Plan:
    """The same plan for a mirrored drawing: left is called right (a left hand behind the heddle)."""
    return replace(plan, loom=replace(plan.loom, sides_swapped=True))
