"""The sentences of the heddle: counting out, the first and the last space, what stays empty, the second heddle."""

from __future__ import annotations

from typing import Final

from cardmaker.composing.wording import a_space, plural, side
from cardmaker.nouns.loom import Heddles, Loom, Mark, Space
from cardmaker.nouns.plan import Placement, Plan
from cardmaker.reckoning.placement import space_label

BOARD: Final = "The heddle"


def count_out(loom: Loom, placement: Placement) -> tuple[str, str]:
    """Where counting leads, said as this weaver counts; with the self-check that the space's kind gives for nothing,
    and the step aside if there is one."""
    counted_space = placement.first_space - placement.shifted
    count, kind = counted(counted_space, loom), a_space(loom.kind_of(counted_space))
    is_right = counted_space > (loom.spaces + 1) / 2  # a single end may lie on the other side of the mark
    towards = side("right" if is_right else "left", loom)
    if counted_space == loom.middle_space:
        where = f"Begin at the marked space, {kind}."
    else:
        start = {
            Mark.ONE: f"Say 1 on the marked {_middle_kind(loom)} and count",
            Mark.ZERO: f"The marked {_middle_kind(loom)} is 0. Say 1 on the next space and count",
        }[loom.mark]
        if loom.middle_space is None:
            start = f"The mark stands between two spaces. Say 1 on the space to its {towards} and count"
        where = f"{start} to the {towards}: stop at {count}, {kind}."
    check = f"If that is {a_space(loom.kind_of(counted_space).other)} you have miscounted."
    if not placement.shifted:
        return f"{where} End 1 goes there.", check
    return where, f"{check} {shift(placement, loom)}"


def _middle_kind(loom: Loom) -> str:
    return "" if loom.middle_space is None else str(loom.kind_of(loom.middle_space))


def shift(placement: Placement, loom: Loom) -> str:
    """Why counting does not lead to the first space of this pattern, and where that is."""
    towards = side("right" if placement.shifted > 0 else "left", loom)
    spaces = plural(abs(placement.shifted), "space")
    first = f"{space_label(placement.first_space, loom)}, {a_space(placement.first_kind)}"
    return (
        f"Then go {spaces} to the {towards}, to {first}: end 1 goes there, "
        f"because the {placement.moved_yarn} ends must lie in slots."
    )


def middle_end(plan: Plan) -> str:
    """Where the middle end lies, or why there is none."""
    placement, loom = plan.placement, plan.loom
    if placement.middle_end is None:
        left, right = placement.ends // 2, placement.ends // 2 + 1
        return f"The middle is between ends {left} and {right}."
    space = placement.space_of(placement.middle_end)
    where = "the middle space" if space == loom.middle_space else space_label(space, loom)
    return f"The middle end, no. {placement.middle_end} ({plan.end_yarns[placement.middle_end - 1]}), lies in {where}."


def half_space(placement: Placement, loom: Loom) -> str:
    return f"The tape sits half a space to the {side(placement.half_space, loom)}; nobody will see it."


def closing_count(plan: Plan) -> str:
    placement, loom = plan.placement, plan.loom
    return (
        f"{plural(placement.holes, 'hole')}, {plural(placement.slots, 'slot')}"
        f" · {placement.empty_left} empty {side('left', loom)}, {placement.empty_right} empty {side('right', loom)}"
        f" · last space {space_label(placement.last_space, loom)}, {a_space(placement.last_kind)}"
    )


WHEN_DONE: Final = "When done"


def back_heddle(plan: Plan) -> str:
    """How the second heddle is threaded."""
    back = plan.placement.back
    if back is None:
        return ""
    rule = "Every end goes through a hole of one heddle and a slot of the other."
    if not back.offset:
        return f"{rule} The back heddle starts at the same space."
    further = side("left" if back.offset < 0 else "right", plan.loom)
    return (
        f"{rule} Back heddle: start {plural(abs(back.offset), 'space')} further {further}, "
        f"at {space_label(back.first_space, plan.loom)}."
    )


def _flag(plan: Plan, space: int, kind: Space) -> str:
    said = f"{space_label(space, plan.loom)}, {a_space(kind)}"
    back = plan.placement.back
    if back is None:
        return said
    return f"front {said}; back {space_label(space + back.offset, plan.loom)}, {a_space(kind.other)}"


def counted(space: int, loom: Loom) -> int:
    """The number that this weaver says on a space, going outwards from the mark on either side."""
    if space == loom.middle_space:
        return 1 if loom.mark is Mark.ONE else 0
    return int(space_label(space, loom)[1:])


def first_place(plan: Plan) -> str:
    return _flag(plan, plan.placement.first_space, plan.placement.first_kind)


def first_flag(plan: Plan) -> str:
    return f"end 1: {first_place(plan)}"


def last_flag(plan: Plan) -> str:
    placement = plan.placement
    return f"end {placement.ends}: {_flag(plan, placement.last_space, placement.last_kind)}"


def board(loom: Loom) -> str:
    return "The heddles" if loom.heddles is Heddles.TWO else BOARD
