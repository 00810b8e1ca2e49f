"""The heddle: counting out, the first and the last space, what stays empty, the second heddle."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.loom import Heddles, Loom, Mark, Space
from cardmaker.model.plan import Placement, Plan
from cardmaker.reckoning.threading.placement import space_label
from cardmaker.wording.formatters import Units
from cardmaker.wording.phrases import a_space, capitalised, plural, weavers_side
from cardmaker.wording.view_words import nearer_heddle, seen_from

WHEN_DONE: Final = "When done"
BACK: Final = "back"
FRONT: Final = "front"
ALIKE: Final = "holes and slots alike"  # what a space is: a weaver who counts holes alone goes twice too far
ALIKE_IN_BOTH: Final = f"{ALIKE.capitalize()}."
ENLARGED: Final = "enlarged"


def count_out(loom: Loom, placement: Placement, *, brief: bool = False) -> str:
    """How to count from the mark to the first space, as this weaver counts, and what is counted: ``End 1: count 15 left
    of the mark (0), holes and slots alike: a slot.`` Of two heddles, on the front one; ``brief``, where the nought
    stands under the mark of a picture."""
    what, mark = ("End 1", "the mark") if placement.back is None else ("Front", "its mark")
    where = _counted_from(placement.first_space, loom, mark, brief=brief)
    return f"{what}: {where}: {a_space(placement.first_kind)}."


def count_out_behind(plan: Plan, *, brief: bool = False) -> str:
    """The same on the back heddle, whose own mark it counts from; nothing where there is none."""
    back = plan.placement.back
    if back is None:
        return ""
    where = _counted_from(back.first_space, plan.loom, "its mark", brief=brief)
    return f"Back: {where}: {a_space(plan.placement.first_kind.opposite)}."


def count_out_on_both(plan: Plan, *, check: bool = False) -> tuple[str, str]:
    """A sentence for each of two heddles, which stand in rows below each other: ``Front: count 24 left of its 0: a
    slot.`` ``Back: count 25 left of its 0: a hole.`` That holes and slots are counted alike is said once, after them
    (``ALIKE_IN_BOTH``). With ``check`` also what the first space must not be."""
    loom, placement, back = plan.loom, plan.placement, plan.placement.back
    assert back is not None  # asked of two heddles alone
    kind, other = placement.first_kind, placement.first_kind.opposite
    front, behind = (
        _counted_from(space, loom, "its mark", brief=True).removesuffix(f", {ALIKE}")
        for space in (placement.first_space, back.first_space)
    )
    not_other = f", not {a_space(other)}" if check else ""
    return (
        f"{FRONT.capitalize()}: {front}: {a_space(kind)}{not_other}.",
        f"{BACK.capitalize()}: {behind}: {a_space(other)}.",
    )


def count_out_in_terse(plan: Plan, *, articles: bool = True) -> str:
    """Where end 1 goes on one heddle, with the self-check that the kind of its space gives: ``End 1: 15 left of 0,
    holes and slots alike: a slot, not a hole.`` ``articles`` stand where there is room for them."""
    first, kind = plan.placement.first_space, plan.placement.first_kind
    check = f"{a_space(kind)}, not {a_space(kind.opposite)}" if articles else f"{kind}, not {kind.opposite}"
    where = _counted_from(first, plan.loom, "the mark", brief=True).removeprefix("count ")
    return f"End 1: {where}: {check}."


def _side(space: int, loom: Loom) -> str:
    """A single end may lie on the other side of the mark than most."""
    return weavers_side("right" if space > (loom.spaces + 1) / 2 else "left", loom)


def _counted_from(space: int, loom: Loom, mark: str, *, brief: bool) -> str:
    """The marked space is nought or one; a mark between two spaces is nought."""
    if space == loom.middle_space:
        return f"begin at {mark} ({_mark(loom)})"
    side, count = _side(space, loom), counted_number(space, loom)
    if _mark(loom):
        return f"say 1 on {mark} and count to {count} {side}, {ALIKE}"
    nought = f"{mark.removesuffix('mark').removeprefix('the ')}0" if brief else f"{mark} (0)"
    return f"count {count} {side} of {nought}, {ALIKE}"


def count_to_space(space: int, loom: Loom, mark: str) -> str:
    """How to count from the mark to any space: ``count 2 left of the mark (0), holes and slots alike``."""
    if space == loom.middle_space:
        return f"it is the space at {mark} ({_mark(loom)})"
    return _counted_from(space, loom, mark, brief=False)


def counted_on_both(space: int, behind: int, loom: Loom) -> str:
    """The same on both of two heddles: ``Front 14, back 13 right of each 0, holes and slots alike.`` Nothing where they
    are not counted alike."""
    if _mark(loom) or loom.middle_space in {space, behind} or _side(space, loom) != _side(behind, loom):
        return ""
    front, back = counted_number(space, loom), counted_number(behind, loom)
    return f"Front {front}, back {back} {_side(space, loom)} of each 0, {ALIKE}."


def through_both(loom: Loom, *, brief: bool = False) -> str:
    """That each end goes through both heddles, through which first: the one that is nearer to whoever threads; and
    through which kind of space of each. Common practice, no source."""
    first = BACK if loom.view.from_behind else FRONT
    told = f"hrough both, {first} first: hole of one, slot of the other."
    return f"{'T' if brief else 'Each end goes t'}{told}"


def end_1_counted(plan: Plan) -> str:
    """Before the name of the first space: what it counts from, and from where it is seen; of two heddles both do."""
    loom, mark = plan.loom, _mark(plan.loom)
    counted = f"both from {mark} (mark)" if plan.placement.back else f"from {mark} (the mark)"
    return f"End 1, {counted}, {seen_from(loom, brief=True)}:"


def end_1_counted_in_brief(plan: Plan) -> str:
    """The same in the fewest words, before the name of the space on one line."""
    return f"End 1, {from_mark(plan.loom)}, {seen_from(plan.loom, brief=True)}:"


def from_mark(loom: Loom) -> str:
    """What the name of a space counts from, in the fewest words."""
    return f"from {_mark(loom)}"


def _mark(loom: Loom) -> int:
    return 1 if loom.middle_space is not None and loom.mark is Mark.ONE else 0


def miscounted(placement: Placement, *, alone: bool = False) -> str:
    """The self-check that the kind of the space gives for nothing; ``alone`` where its name is not before it."""
    front = "" if placement.back is None else "front "
    that = f"the {front}space of end 1" if alone else f"the {front}space" if front else "that"
    return f"If {that} is {a_space(placement.first_kind.opposite)} you have miscounted."


def moved_aside(plan: Plan, units: Units) -> str:
    """The note that tells why the warp does not lie in the middle; nothing where it does."""
    shifts = [note for note in plan.notes if note.about == "shift"]
    if not shifts:
        return ""
    from cardmaker.wording.note_words import note_sentence

    return " ".join(note_sentence(note, units) for note in shifts)


def middle_end(plan: Plan, threaded: Sequence[str] = ()) -> str:
    """Where the middle end lies, or why there is none; the space by its label, unless all are given in words."""
    placement, loom, number = plan.placement, plan.loom, plan.placement.middle_end
    if number is None:
        return f"The middle is between ends {placement.ends // 2} and {placement.ends // 2 + 1}."
    space = placement.space_of(number)
    label = "the middle space" if space == loom.middle_space else space_label(space, loom)
    where = threaded[number - 1] if threaded else f"{label}{in_front(placement)}"
    return f"The middle end, no. {number} ({plan.end_yarns[number - 1]}), lies in {where}."


def half_space(placement: Placement, loom: Loom) -> str:
    return f"The tape sits half a space to the {weavers_side(placement.half_space, loom)}; nobody will see it."


def empty_spaces(plan: Plan, *, brief: bool = False) -> str:
    """How many spaces stay empty at either side: ``empty: 4 left, 5 right``; ``brief``, of two heddles those of the
    front one alone."""
    placement, loom = plan.placement, plan.loom
    if placement.back is None:
        return empty_in(placement, loom)
    if brief:
        return f"{FRONT} {empty_in(placement, loom)}"
    offset = placement.back.offset
    front = f"{FRONT} {_at_each_side(placement, loom)}"
    return f"empty: {front}; {BACK} {placement.empty_left + offset} and {placement.empty_right - offset}"


def empty_in(placement: Placement, loom: Loom) -> str:
    """The same of one heddle, whichever loom it is; ``none empty`` where all are filled."""
    if not placement.empty_left and not placement.empty_right:
        return "none empty"
    return f"empty: {_at_each_side(placement, loom)}"


def _at_each_side(placement: Placement, loom: Loom) -> str:
    left, right = weavers_side("left", loom), weavers_side("right", loom)
    return f"{placement.empty_left} {left}, {placement.empty_right} {right}"


def filled_spaces(plan: Plan) -> str:
    """How many holes and slots are full: ``filled: 15 holes, 16 slots``; where one heddle has a hole the other has a
    slot, so that of the back one the counts are the other way round."""
    placement = plan.placement
    if placement.back is None:
        return f"filled: {_holes_and_slots(placement)}"
    return f"filled: {FRONT} {_holes_and_slots(placement)}; {BACK} {placement.slots} and {placement.holes}"


def _holes_and_slots(placement: Placement) -> str:
    return f"{plural(placement.holes, 'hole')}, {plural(placement.slots, 'slot')}"


def in_front(placement: Placement) -> str:
    """Which of two heddles is meant, where a space or a count is named without the other."""
    return " in front" if placement.back else ""


def closing_checks(plan: Plan) -> tuple[str, ...]:
    """What to count when all is threaded: what is filled, what stays empty, and where the last end lies: that tells a
    space that was skipped or filled twice."""
    placement = plan.placement
    last = f"last end in {place_named(plan, placement.last_space, placement.last_kind)}"
    return filled_spaces(plan), empty_spaces(plan), last


def closing_checks_in_brief(plan: Plan, *, joined: bool = False) -> tuple[str, ...]:
    """The same in fewer words, for more boxes in a row: ``15 holes, 16 slots``. Of two heddles the counts of the
    front one, ``joined`` in one line, and the last space of both."""
    placement, back = plan.placement, plan.placement.back
    if back is None:
        last = f"last end in {space_label(placement.last_space, plan.loom)}"
        return _holes_and_slots(placement), last, empty_spaces(plan)
    filled, empty = f"{FRONT}: {_holes_and_slots(placement)}", empty_spaces(plan, brief=True)
    last, behind = (space_label(space, plan.loom) for space in (placement.last_space, back.last_space))
    counts = (f"{filled}; {empty.removeprefix(f'{FRONT} ')}",) if joined else (filled, empty)
    return *counts, f"last end in {FRONT} {last}, {BACK} {behind}"


def closing_count(plan: Plan) -> str:
    """The same in one line."""
    return " · ".join(closing_checks(plan))


def back_heddle(plan: Plan) -> str:
    """How the second heddle is threaded; nothing where there is none."""
    if plan.placement.back is None:
        return ""
    return " ".join(filter(None, (count_out_behind(plan), through_both(plan.loom), nearer_heddle(plan.loom))))


def place_named(plan: Plan, space: int, kind: Space) -> str:
    """A space by its name and kind, of two heddles in both: ``L15, a slot``."""
    place = f"{space_label(space, plan.loom)}, {a_space(kind)}"
    back = plan.placement.back
    if back is None:
        return place
    return f"front {place}; back {space_label(space + back.offset, plan.loom)}, {a_space(kind.opposite)}"


def counted_number(space: int, loom: Loom) -> int:
    """The number that this weaver says on a space, going outwards from the mark on either side."""
    if space == loom.middle_space:
        return 1 if loom.mark is Mark.ONE else 0
    return int(space_label(space, loom)[1:])


def number_on_board(space: float, loom: Loom, *, with_side: bool = False) -> str:
    """What is written under a space; in the gap between two, where a mark may be, it is nought."""
    if space != int(space):
        return "0"
    return space_label(int(space), loom) if with_side else str(counted_number(int(space), loom))


def stop_at(placement: Placement, loom: Loom) -> int:
    """The number that half of the ends are counted out to: on the first space, or beside it where the warp is moved."""
    return counted_number(placement.first_space - placement.shifted, loom)


def first_place(plan: Plan) -> str:
    return place_named(plan, plan.placement.first_space, plan.placement.first_kind)


def first_place_seen(plan: Plan) -> str:
    """The first space, and from where it is seen: for whoever has no card at hand to tell."""
    return f"{first_place(plan)}, {seen_from(plan.loom, brief=True)}"


def name_on_board(space: int, loom: Loom) -> str:
    """A space by its name alone, as it is written on a board or in a table: the marked one by its number."""
    return number_on_board(space, loom, with_side=space != loom.middle_space)


def thick_ends_first(plan: Plan, units: Units) -> list[str]:
    """Which thick ends are threaded before all others, by the names of their holes; nothing where none may stick."""
    from cardmaker.wording.note_words import thick_end_sentences

    return thick_end_sentences(plan.notes, units, lambda yarn: _holes_of(plan, yarn))


def _holes_of(plan: Plan, yarn: str) -> list[str]:
    """The holes in which ends of a yarn lie, by their names; none of two heddles, where every end has a hole in one."""
    placement = plan.placement
    if placement.back:
        return []
    ends = (number for number, name in enumerate(plan.end_yarns, 1) if name == yarn)
    spaces = [placement.space_of(end) for end in ends if placement.kinds[end - 1] is Space.HOLE]
    return [name_on_board(space, plan.loom) for space in spaces]


def first_line(plan: Plan) -> str:
    """The first space in a line of its own: ``end 1: L15, a slot, as you sit``."""
    return f"end 1: {first_place_seen(plan)}"


def spaces_in_order(plan: Plan) -> list[str]:
    """What follows end 1, in a line: every space to that of the last end, the fullest first; of two heddles nothing,
    where the last end has two names."""
    if plan.ends == 1 or plan.placement.back is not None:
        return [""]
    last = space_label(plan.placement.last_space, plan.loom)
    return [f"then every space in order to {last}", f"every space to {last}", ""]


def first_counted(plan: Plan) -> str:
    """From where the first space is counted: ``Count 7 left of the mark (0), holes and slots alike.``"""
    front, back = plan.placement.first_space, plan.placement.back
    if back is None:
        return f"{capitalised(count_to_space(front, plan.loom, 'the mark'))}."
    counted = counted_on_both(front, front + back.offset, plan.loom)
    return f"{counted} Then every space in order.".lstrip()


def empty_line(plan: Plan) -> str:
    """What stays empty, after it."""
    return empty_spaces(plan)


def first_flag(plan: Plan) -> str:
    return f"end 1: {first_place(plan)}"


def last_flag(plan: Plan) -> str:
    placement = plan.placement
    return f"end {placement.ends}: {place_named(plan, placement.last_space, placement.last_kind)}"


def outer_names(plan: Plan) -> tuple[str, str]:
    """The names of the first and the last space, of two heddles on the front one."""
    placement = plan.placement
    return name_on_board(placement.first_space, plan.loom), name_on_board(placement.last_space, plan.loom)


def heddle_title(loom: Loom) -> str:
    return "The heddles" if loom.heddles is Heddles.TWO else "The heddle"


def threaded_beforehand(plan: Plan) -> str:
    """Instead of the board, where a class has its looms threaded for it."""
    return f"threaded: end 1 in {first_place_seen(plan)}"
