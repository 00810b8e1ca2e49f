"""A plan as another weaver sees it: with the left hand, or from behind the heddle. The tape never changes.

Seen from behind, left and right change places; so every end and every space is numbered from the other edge. A left
hand numbers from the other edge too, but left stays left: what is reckoned as left is then her right. Every end stays
in its own hole or slot. Needs no source: a mirror image.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from cardmaker.model.loom import Loom
from cardmaker.model.plan import BackHeddle, Note, OtherLoom, Placement, Plan, SecondPlan, Sheds
from cardmaker.model.record_class import record, replace
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.stripes.stripe_counts import runs
from cardmaker.reckoning.threading.counting import count_at
from cardmaker.reckoning.winding.winding_methods import plan_winding

if TYPE_CHECKING:
    from cardmaker.model.bench import PickedRow, PickupPlan, Rescue

_HalfSpace = Literal["none", "left", "right"]
_OTHER: Final[dict[_HalfSpace, _HalfSpace]] = {"left": "right", "right": "left", "none": "none"}


def weavers_view(loom: Loom, *, left_hand: bool = False, side: Literal["front", "behind"] | None = None) -> Viewpoint:
    """From where this weaver sees the heddle: from the side that is asked for, else from where the loom is threaded."""
    return Viewpoint(left_hand, side == "behind" if side else loom.threads_from == "back")


def plan_as_seen(plan: Plan, view: Viewpoint) -> Plan:
    """The plan with every side, number and label as they are seen from ``view``.

    Lengths, yarn, beam and pegs have no sides and stay what they are. So do the numbers of pattern ends: a pick-up is
    worked from the seat, and its file counts them from the left there.
    """
    if view == plan.view:
        return plan
    turn = _Turn(view, plan)
    seen = turn.from_other_edge(plan) if turn.edge else plan
    return replace(
        seen,
        loom=turn.loom(plan.loom),
        other_looms=tuple(turn.other_loom(other_loom) for other_loom in plan.other_looms),
        notes=tuple(turn.note(note) for note in plan.notes),
        rescue=None if plan.rescue is None else turn.rescue(plan.rescue),
        lost_end=None,  # it is looked up in the plan as it is seen
        pickup=None if plan.pickup is None else turn.pickup(plan.pickup),
        second=tuple(turn.second(each) for each in plan.second),
    )


def loom_as_seen(loom: Loom, view: Viewpoint) -> Loom:
    """The loom with its spaces numbered as they are seen from ``view``."""
    other_edge = view.from_other_edge != loom.view.from_other_edge
    return replace(loom, outer=loom.kind_of(loom.spaces) if other_edge else loom.outer, view=view)


def placement_from_other_edge(placement: Placement, loom: Loom) -> Placement:
    """Where each end lies, counted from the other side of ``loom`` (the loom itself, not turned)."""
    first = placement.spaces + 1 - placement.last_space
    back = placement.back
    return replace(
        placement,
        first_space=first,
        kinds=placement.kinds[::-1],
        count_to=count_at(first, loom),
        half_space=_OTHER[placement.half_space],
        shifted=-placement.shifted,
        back=None if back is None else _back_from_other_edge(back, placement.spaces),
    )


def _back_from_other_edge(back: BackHeddle, spaces: int) -> BackHeddle:
    return BackHeddle(-back.offset, spaces + 1 - back.last_space, spaces + 1 - back.first_space)


@record
class _Turn:
    """From the view that a plan has to another one."""

    view: Viewpoint
    before: Plan

    @property
    def edge(self) -> bool:
        """Whether ends and spaces are numbered from the other edge than before."""
        return self.view.from_other_edge != self.before.view.from_other_edge

    @property
    def sides(self) -> bool:
        """Whether the same edge is now called by the other side."""
        return self.view.from_behind != self.before.view.from_behind

    @property
    def hand(self) -> bool:
        return self.view.left_hand != self.before.view.left_hand

    def from_other_edge(self, plan: Plan) -> Plan:
        """What is numbered from end 1 and from space 1."""
        yarns = plan.end_yarns[::-1]
        warp = runs(yarns)
        return replace(
            plan,
            end_yarns=yarns,
            runs=warp,
            placement=placement_from_other_edge(plan.placement, plan.loom),
            sheds=Sheds(self._raised(plan.sheds.down), self._raised(plan.sheds.up)),
            winding=plan_winding(warp),
        )

    def loom(self, loom: Loom) -> Loom:
        return loom_as_seen(loom, self.view)

    def other_loom(self, other_loom: OtherLoom) -> OtherLoom:
        placement = other_loom.placement
        if placement is not None and self.edge:
            placement = placement_from_other_edge(placement, other_loom.loom)
        return replace(other_loom, loom=self.loom(other_loom.loom), placement=placement)

    def note(self, note: Note) -> Note:
        """A note that names a side names it as it is seen from here."""
        side = note.values.get("side")
        if not self.sides or side not in ("left", "right"):
            return note
        return replace(note, values={**note.values, "side": "left" if side == "right" else "right"})

    def second(self, second: SecondPlan) -> SecondPlan:
        return replace(second, plan=None if second.plan is None else plan_as_seen(second.plan, self.view))

    def rescue(self, rescue: Rescue) -> Rescue:
        """The edge next to an end is called as it is seen; what is threaded over is at the side of the last end, which
        a left hand calls left."""
        ends = [
            replace(
                place,
                end_number=self._end(place.end_number),
                space=self.before.placement.spaces + 1 - place.space if self.edge else place.space,
                nearer=place.nearer.opposite if self.sides else place.nearer,
            )
            for place in rescue.ends
        ]
        over = (replace(each, side=each.side.opposite if self.hand else each.side) for each in rescue.rethreading)
        return replace(rescue, ends=tuple(ends[::-1] if self.edge else ends), rethreading=tuple(over))

    def pickup(self, pickup: PickupPlan) -> PickupPlan:
        """The pattern ends keep their numbers and their order; which ends of the warp they are is counted anew."""
        return replace(
            pickup,
            pattern_ends=tuple(map(self._end, pickup.pattern_ends)),
            rows=tuple(self._row(row) for row in pickup.rows),
            floats=tuple(replace(run, end_number=self._end(run.end_number)) for run in pickup.floats),
        )

    def _row(self, row: PickedRow) -> PickedRow:
        lifted, dropped = (tuple(map(self._end, numbers)) for numbers in (row.lifted, row.dropped))
        return replace(row, lifted=lifted, dropped=dropped, raised=self._raised(row.raised))

    def _end(self, end_number: int) -> int:
        return self.before.ends + 1 - end_number if self.edge else end_number

    def _raised(self, end_numbers: tuple[int, ...]) -> tuple[int, ...]:
        return tuple(sorted(map(self._end, end_numbers)))
