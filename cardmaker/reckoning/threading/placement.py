"""Which space does each end lie in? Counted from the middle of this loom's heddle, as its weaver counts."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, Literal

from cardmaker.model.loom import Heddles, Loom, Side, Space
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import BackHeddle, Placement
from cardmaker.model.problems import KeyPath, Refusal
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.stripe_counts import is_same_both_ways
from cardmaker.reckoning.threading.counting import (
    count_at,
    counted_first_space,
    first_counted_space,
    off_middle,
    slot_shift,
)

if TYPE_CHECKING:
    from cardmaker.reckoning.threading.nearest_end_counts import NearestCounts

_NONE: Final[Mapping[int, str]] = MappingProxyType({})


def slots_only_ends(pattern: Pattern, yarns: Sequence[str]) -> dict[int, str]:
    """The ends, counted from 1, whose yarn says ``spaces: slots``, each with the name of that yarn."""
    bound = {yarn.name for yarn in pattern.yarns if yarn.slots_only}
    return {end_number: yarn for end_number, yarn in enumerate(yarns, start=1) if yarn in bound}


def place(yarns: Sequence[str], loom: Loom, slots_only: Mapping[int, str] = _NONE) -> Placement:
    """The space of every end of the warp on this loom.

    Counting from the middle decides (see :mod:`cardmaker.reckoning.threading.counting`): on one heddle of S spaces it
    places every warp of 1 to S ends within the heddle. Ends of ``slots_only`` (end number to yarn) that counting would
    put in holes move the whole warp by one space; that has room on any heddle that is not quite full. Two heddles: each
    end is in a hole of one and a slot of the other; heddles that are the same need the back one moved over by one
    space, so they hold one end fewer.

    Raises Refusal, with the numbers and the nearest counts that work, when the warp does not fit or no shift helps.
    """
    ends = len(yarns)
    _refuse_too_many(yarns, loom)
    if slots_only and loom.heddles is Heddles.TWO:
        raise _never_on_two(loom, slots_only)
    shift = slot_shift(ends, loom, slots_only)
    if shift is None:
        raise _no_shift_helps(yarns, loom, slots_only)
    first = counted_first_space(ends, loom) + shift
    return Placement(
        spaces=loom.spaces,
        first_space=first,
        kinds=tuple(loom.kind_of(space) for space in range(first, first + ends)),
        count_to=count_at(first, loom),
        half_space=_half_space(off_middle(first, ends, loom)),
        shifted=shift,
        moved_yarn=slots_only[min(slots_only)] if shift else "",
        back=_back_heddle(first, ends, loom),
    )


def _half_space(off: int) -> Literal["none", "left", "right"]:
    """Which half space the tape lies to, from its half spaces off the middle. Whole spaces are told by ``shifted``."""
    if off % 2 == 0:
        return "none"
    return "left" if off < 0 else "right"


def _back_heddle(first_space: int, ends: int, loom: Loom) -> BackHeddle | None:
    """Where the warp lies in the second heddle: a hole in one heddle must stand behind a slot of the other.

    Opposite heddles do so space by space. Same heddles do one space over: to the left, or to the right when the front
    one begins at its first space (that has room, as the warp is at least one end short of full).
    """
    if loom.heddles is Heddles.ONE:
        return None
    offset = 0 if loom.back_heddle == "opposite" else -1 if first_space > 1 else 1
    return BackHeddle(offset, first_space + offset, first_space + ends - 1 + offset)


def _refuse_too_many(yarns: Sequence[str], loom: Loom) -> None:
    ends = len(yarns)
    if ends < 1:
        raise Refusal(("warp",), "The warp has no ends.", "Write at least one stripe, as in `9 white`.")
    if loom.heddles is Heddles.TWO and loom.back_heddle is None:
        message = f"{loom.title} has two heddles, and does not say whether they are alike."
        raise Refusal(("warp",), message, "Write `back_heddle: same` or `back_heddle: opposite` in the loom's file.")
    if ends > loom.capacity:
        raise Refusal(("warp",), f"{_counted(ends, 'end')}; {_room(loom)}.", _fewer_ends(yarns, loom))


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _room(loom: Loom) -> str:
    """The loom's spaces in words: ``Small box has 12 slots and 11 holes, 23 spaces in all``."""
    kinds = f"{loom.title} has {_counted(loom.slots, 'slot')} and {_counted(loom.holes, 'hole')}"
    spaces = f"{_counted(loom.spaces, 'space')} in all"
    if loom.capacity == loom.spaces:
        return f"{kinds}, {spaces}"
    return f"{kinds} in each of two heddles that are the same, {spaces}, and so holds {_counted(loom.capacity, 'end')}"


def _fewer_ends(yarns: Sequence[str], loom: Loom) -> str:
    """The nearest count that fits. Odd stays odd, as it lies exactly in the middle of an odd heddle.

    A tape that is the same both ways can always lose a pair of ends or, when even, one end of its middle stripe.
    """
    odd = len(yarns) % 2 == 1
    nearest = loom.capacity - 1 if odd and loom.capacity % 2 == 0 else loom.capacity
    if nearest < 1:
        return "Use a larger loom."
    stays = " and stays odd" if odd else ""
    same = "; it can stay the same from both edges" if is_same_both_ways(yarns) else ""
    return f"The nearest count that fits{stays} is {nearest}{same}."


def _where_bound(slots_only: Mapping[int, str]) -> tuple[KeyPath, str]:
    """The key to point at, and the yarns' names in words."""
    names = tuple(dict.fromkeys(slots_only[end_number] for end_number in sorted(slots_only)))
    return ("yarns", names[0], "spaces"), " and ".join(names)


def _never_on_two(loom: Loom, slots_only: Mapping[int, str]) -> Refusal:
    path, names = _where_bound(slots_only)
    message = (
        f"`spaces: slots` ({names}) cannot be kept on {loom.title}: with two heddles every end passes a hole of one."
    )
    return Refusal(path, message, "Use a loom with one heddle, or take `spaces: slots` out.")


def _no_shift_helps(yarns: Sequence[str], loom: Loom, slots_only: Mapping[int, str]) -> Refusal:
    """Says how many ends would fall in holes at the best, and at which counts none would."""
    from cardmaker.reckoning.threading.nearest_end_counts import nearest_counts

    path, names = _where_bound(slots_only)
    counts = nearest_counts(yarns, slots_only, loom)
    if len({end_number % 2 for end_number in slots_only}) == 1:
        message = f"{_fall(len(slots_only), slots_only, names)}, and the warp fills {loom.title}, so it cannot shift."
        return Refusal(path, message, f"Use a loom with more spaces{_offered(counts)}.")
    odd = sum(end_number % 2 for end_number in slots_only)
    message = (
        f"{_fall(min(odd, len(slots_only) - odd), slots_only, names)} of {loom.title}, however the warp is shifted."
    )
    if any(end_number + 1 in slots_only for end_number in slots_only):
        remedy = "Of two ends side by side one is always in a hole: put an end of another yarn between them."
        return Refusal(path, message, remedy)
    return Refusal(
        path, message, f"There must be an odd number of other ends between each two of them{_offered(counts)}."
    )


def _fall(in_holes: int, slots_only: Mapping[int, str], names: str) -> str:
    if len(slots_only) == 1:
        return f"The end that must lie in a slot ({names}) falls in a hole"
    fall = "falls in a hole" if in_holes == 1 else "fall in holes"
    return f"{in_holes} of the {len(slots_only)} ends that must lie in slots ({names}) {fall}"


def _offered(counts: NearestCounts) -> str:
    """The counts that would work, as the end of a sentence; nothing when none is near."""
    return f"; {' or '.join(map(str, counts.both))} ends in all would do" if counts.both else ""


@record
class ThickEnds:
    """Thick ends that lie in holes, and how they could all lie in slots.

    ``shift_helps``: as the warp is, if its yarn said ``spaces: slots``. Otherwise ``counts`` are the nearest totals at
    which it would.
    """

    in_holes: tuple[int, ...]
    shift_helps: bool
    counts: NearestCounts


def thick_ends_in_holes(
    yarns: Sequence[str], thick: Collection[int], placement: Placement, loom: Loom
) -> ThickEnds | None:
    """What to warn of when some of the ends ``thick`` (counted from 1) pass a hole; None when they are all in slots.

    With two heddles every end passes a hole, and nothing helps but a larger hole.
    """
    on_two = loom.heddles is Heddles.TWO
    in_holes = tuple(number for number in sorted(thick) if on_two or placement.kinds[number - 1] is Space.HOLE)
    if not in_holes:
        return None
    from cardmaker.reckoning.threading.nearest_end_counts import NearestCounts, nearest_counts

    if on_two:
        return ThickEnds(in_holes, False, NearestCounts())
    if slot_shift(len(yarns), loom, thick) is not None:
        return ThickEnds(in_holes, True, NearestCounts())
    return ThickEnds(in_holes, False, nearest_counts(yarns, thick, loom))


def space_label(space: int, loom: Loom) -> str:
    """A space as this weaver counts it: ``L15``, ``R15``, or ``the middle`` for the marked space itself.

    The space beside the marked one is L1 or R1 when the mark is counted as nought, L2 or R2 when it is counted as
    one; with an even number of spaces L1 and R1 stand on either side of the mark.
    """
    if space == loom.middle_space:
        return "the middle"
    left, right = ("R", "L") if loom.sides_swapped else ("L", "R")
    if space <= loom.spaces // 2:
        return f"{left}{first_counted_space(loom, Side.LEFT) - space + 1}"
    return f"{right}{space - first_counted_space(loom, Side.RIGHT) + 1}"


def spaces_in_words(spaces: range, loom: Loom) -> list[str]:
    """Many spaces as :func:`space_label` names them, in words: ``left 15``, ``right 3``, ``the middle``."""
    left, right = ("right", "left") if loom.sides_swapped else ("left", "right")
    to_left, to_right = first_counted_space(loom, Side.LEFT), first_counted_space(loom, Side.RIGHT)
    middle, half = loom.middle_space, loom.spaces // 2
    return [
        "the middle"
        if space == middle
        else f"{left} {to_left - space + 1}"
        if space <= half
        else f"{right} {space - to_right + 1}"
        for space in spaces
    ]
