"""The heddle: counting out, the first and the last space, what stays empty, the second heddle."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.loom import Heddles, Loom, Mark, Space
from cardmaker.model.plan import Placement, Plan
from cardmaker.reckoning.stripes.segments import Segment, hand_counted
from cardmaker.reckoning.threading.placement import space_label, spaces_in_words
from cardmaker.wording.formatters import Units
from cardmaker.wording.loom_words import heddle_spaces, marked_middle
from cardmaker.wording.note_words import note_sentence
from cardmaker.wording.phrases import a_space, listed, plural, weavers_side
from cardmaker.wording.view_words import nearer_heddle, seen_from

WHEN_DONE: Final = "When done"
BACK: Final = "back"
FRONT: Final = "front"
BACK_RULE: Final = "Every end goes through a hole of one heddle and a slot of the other."
ENLARGED: Final = "enlarged"


def count_out(loom: Loom, placement: Placement) -> str:
    """How to count from the mark to the first space, as this weaver counts; of two heddles, on the front one."""
    first, kind = placement.first_space, a_space(placement.first_kind)
    if first == loom.middle_space:
        where = f"Begin at the mark: {kind}"
    else:
        is_right = first > (loom.spaces + 1) / 2  # a single end may lie on the other side of the mark
        towards = f"to the {weavers_side('right' if is_right else 'left', loom)}"
        where = f"{_counted_from_the_mark(counted_number(first, loom), towards, loom)}: {kind}"
    if placement.back is not None:
        return f"Front: {where[:1].lower()}{where[1:]}."
    return f"{where} for end 1."


def _counted_from_the_mark(count: int, towards: str, loom: Loom) -> str:
    """The marked space is nought or one; a mark between two spaces is nought."""
    if loom.middle_space is not None and loom.mark is Mark.ONE:
        return f"Say 1 on the mark and count to {count}, {towards}"
    return f"From the mark (0) count {count} {towards}"


def end_1_counted(loom: Loom) -> str:
    """What the name of the first space is, and what it counts from."""
    return f"end 1, counted from the mark ({_mark(loom)})"


def end_1_in_two_lines(loom: Loom) -> list[str]:
    """The same, and from where it is seen, beside the names of two first spaces that stand one above the other."""
    return [f"end 1, {seen_from(loom, brief=True)}", from_mark(loom)]


def from_mark(loom: Loom) -> str:
    """What the name of a space counts from, in the fewest words."""
    return f"from mark {_mark(loom)}"


def _mark(loom: Loom) -> int:
    return 1 if loom.middle_space is not None and loom.mark is Mark.ONE else 0


def miscounted(placement: Placement) -> str:
    """The self-check that the kind of the space gives for nothing."""
    return f"If that is {a_space(placement.first_kind.opposite)} you have miscounted."


def moved_aside(plan: Plan, units: Units) -> str:
    """The note that tells why the warp does not lie in the middle; nothing where it does."""
    return " ".join(note_sentence(note, units) for note in plan.notes if note.about == "shift")


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


def empty_spaces(placement: Placement, loom: Loom) -> str:
    """How many spaces stay empty at either side: ``4 empty left, 5 empty right``."""
    left, right = weavers_side("left", loom), weavers_side("right", loom)
    return f"{placement.empty_left} empty {left}, {placement.empty_right} empty {right}"


def in_front(placement: Placement) -> str:
    """Which of two heddles is meant, where a space or a count is named without the other."""
    return " in front" if placement.back else ""


def closing_checks(plan: Plan) -> tuple[str, ...]:
    """What to count when all is threaded, each by itself; of two heddles in the front one."""
    placement, loom = plan.placement, plan.loom
    last = f"last space {space_label(placement.last_space, loom)}, {a_space(placement.last_kind)}"
    return (
        *_filled(placement, f"{FRONT} " if placement.back else ""),
        *empty_spaces(placement, loom).split(", "),
        last,
    )


def _filled(placement: Placement, front: str = "") -> tuple[str, str]:
    return plural(placement.holes, f"{front}hole"), plural(placement.slots, f"{front}slot")


def closing_pairs(plan: Plan) -> tuple[str, str, str]:
    """The same in three: what is filled, what stays empty, and the last space."""
    holes, slots, left, right, last = closing_checks(plan)
    return f"{holes}, {slots}", f"{left}, {right}", last


def closing_count(plan: Plan) -> str:
    """The same in one line."""
    return " · ".join(closing_pairs(plan))


def back_heddle(plan: Plan) -> str:
    """How the second heddle is threaded; nothing where there is none."""
    if plan.placement.back is None:
        return ""
    return " ".join(filter(None, (back_start(plan), BACK_RULE, nearer_heddle(plan.loom))))


def back_start(plan: Plan) -> str:
    """Where end 1 goes in the back heddle."""
    back = plan.placement.back
    if back is None or not back.offset:
        return "The back heddle starts at the same space."
    further = weavers_side("left" if back.offset < 0 else "right", plan.loom)
    label = space_label(back.first_space, plan.loom)
    return f"Back heddle: start {plural(abs(back.offset), 'space')} further {further}, at {label}."


def _place(plan: Plan, space: int, kind: Space) -> str:
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
    return _place(plan, plan.placement.first_space, plan.placement.first_kind)


def first_place_seen(plan: Plan) -> str:
    """The first space, and from where it is seen: for whoever has no card at hand to tell."""
    return f"{first_place(plan)}, {seen_from(plan.loom, brief=True)}"


def first_line(plan: Plan) -> str:
    """The first space in a line of its own: ``end 1: L15, a slot, as you sit``."""
    return f"end 1: {first_place_seen(plan)}"


def empty_line(plan: Plan) -> str:
    """What stays empty, after it: ``leave 1 empty left, 1 empty right``; of two heddles in the front one."""
    if not plan.placement.empty_left and not plan.placement.empty_right:
        return f"leave none empty{in_front(plan.placement)}"
    return f"leave {empty_spaces(plan.placement, plan.loom)}{in_front(plan.placement)}"


def first_label(plan: Plan) -> str:
    """The first space by its name alone, for a flag under it; of two heddles in the front one."""
    return space_label(plan.placement.first_space, plan.loom)


def first_flag(plan: Plan) -> str:
    return f"end 1: {first_place(plan)}"


def last_flag(plan: Plan) -> str:
    placement = plan.placement
    return f"end {placement.ends}: {_place(plan, placement.last_space, placement.last_kind)}"


def heddle_title(loom: Loom) -> str:
    return "The heddles" if loom.heddles is Heddles.TWO else "The heddle"


def heddle_alt_text(plan: Plan) -> str:
    """Where counting starts, the first and the last space, what stays empty, the space of every end, the middle."""
    placement, loom = plan.placement, plan.loom
    threaded = _threaded(plan)
    front = " of the front heddle" if placement.back else ""
    return " ".join(
        [
            f"{loom.title}: {heddle_spaces(loom)}. {seen_from(loom)} Spaces are counted to the left and right of the "
            f"mark, which is {marked_middle(loom)}.",
            f"End 1 goes into {threaded[0]}; end {plan.ends} into {threaded[-1]}; "
            f"{empty_spaces(placement, loom)}{front}.",
            *[_stripe_threaded(plan, stripe, threaded) for stripe in hand_counted(plan.runs)],
            middle_end(plan, threaded),
            f"{WHEN_DONE}: {', '.join(_filled(placement))}{front}.",
        ]
    )


def threaded_beforehand(plan: Plan) -> str:
    """Instead of the board, where a class has its looms threaded for it."""
    return f"threaded: end 1 in {first_place_seen(plan)}"


def lens_alt_text(plan: Plan) -> str:
    """Of two places of the heddle drawn again, larger."""
    first = space_label(plan.placement.first_space, plan.loom)
    return f"Enlarged: the first spaces of the warp from {first} on, and the spaces beside the mark."


def _threaded(plan: Plan) -> list[str]:
    """The space of every end, ``left 15 slot``; in two heddles both."""
    placement, loom, back = plan.placement, plan.loom, plan.placement.back
    spaces = range(placement.first_space, placement.last_space + 1)
    front = spaces_in_words(spaces, loom)
    if back is None:
        return [f"{space} {kind}" for space, kind in zip(front, placement.kinds, strict=True)]
    behind = spaces_in_words(range(back.first_space, back.last_space + 1), loom)
    return [
        f"front {first.removeprefix('the ')} {kind} with back {second.removeprefix('the ')} {kind.opposite}"
        for first, second, kind in zip(front, behind, placement.kinds, strict=True)
    ]


def _stripe_threaded(plan: Plan, stripe: Segment, threaded: Sequence[str]) -> str:
    """The spaces of a stripe, end by end; where yarns are in turn each end is named."""
    first, last, yarns = stripe.first_end, stripe.last_end, stripe.yarns
    each = threaded[first - 1 : last]
    if len(yarns) > 1:
        named = [f"{yarn} {space}" for yarn, space in zip(plan.end_yarns[first - 1 : last], each, strict=True)]
        return f"Ends {first} to {last}, {listed(yarns)} in turn: {', '.join(named)}."
    which = f"End {first}" if first == last else f"Ends {first} {'and' if last == first + 1 else 'to'} {last}"
    return f"{which}, {yarns[0]}: {', '.join(each)}."
