"""Which yarn is each end? The stripes of a file counted, checked, and laid out end by end."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain, cycle, groupby, islice
from typing import Final, assert_never

from cardmaker.model.pattern import MOST_ENDS, Alternation, Mirror, Pattern, Repeat, Stripe, WarpItem
from cardmaker.model.plan import Run
from cardmaker.model.problems import Refusal

_BEYOND_WORDS: Final = 10**12  # a limit of ours


def counted_ends(warp: Sequence[WarpItem], mirror: Mirror | None = None) -> int:
    """How many ends the warp has, by arithmetic alone, so that a repeat of millions costs nothing.

    ``whole`` doubles the list; ``last stripe`` doubles all but its last item.
    """
    total = sum(map(_item_ends, warp))
    if mirror == "whole":
        return 2 * total
    if mirror == "last stripe" and warp:
        return 2 * total - _item_ends(warp[-1])
    return total


def _item_ends(item: WarpItem) -> int:
    return item.times * counted_ends(item.stripes) if isinstance(item, Repeat) else item.ends


def stripe_refusals(
    warp: Sequence[WarpItem], mirror: Mirror | None = None, stated_ends: int | None = None
) -> tuple[Refusal, ...]:
    """All that is wrong with the count: no ends, more than :data:`MOST_ENDS`, or not what ``ends`` says."""
    ends = counted_ends(warp, mirror)
    if ends < 1:
        return (Refusal(("warp",), "The stripes add up to no ends at all.", "Write at least one, as in `9 white`."),)
    refusals = []
    if ends > MOST_ENDS:
        message = f"The stripes add up to {_in_digits(ends)} ends; {MOST_ENDS} is the most."
        refusals.append(Refusal(("warp",), message, "Check the numbers, and how often each repeat is worked."))
    if stated_ends is not None and stated_ends != ends:
        message = f"The stripes add up to {_in_digits(ends)} ends, but `ends` says {_in_digits(stated_ends)}."
        refusals.append(Refusal(("ends",), message, _agreement(ends, stated_ends)))
    return tuple(refusals)


def _in_digits(ends: int) -> str:
    return f"{ends:,}" if ends <= _BEYOND_WORDS else "more than a million million"


def _agreement(ends: int, stated_ends: int) -> str:
    """What to change so that the stripes and ``ends`` agree."""
    gap = abs(ends - stated_ends)
    noun = "end" if gap == 1 else "ends"
    if ends > MOST_ENDS:
        return "Correct the stripes first."
    if stated_ends > ends:
        return f"Write `ends: {ends}`, or add {_in_digits(gap)} {noun} to the stripes."
    return f"Write `ends: {ends}`, or take {_in_digits(gap)} {noun} out of the stripes."


def end_yarns(pattern: Pattern) -> tuple[str, ...]:
    """The yarn of every end, from the left edge as the weaver sits.

    ``mirror: whole`` appends the laid-out list reversed. ``mirror: last stripe`` appends all but the last item
    reversed, end by end, so alternations and repeats are truly mirrored. The last item itself is left as it is: when it
    does not read the same both ways (an alternation of an even number of ends), neither does the tape.

    Raises the first Refusal of :func:`stripe_refusals`.
    """
    for refusal in stripe_refusals(pattern.warp, pattern.mirror, pattern.stated_ends):
        raise refusal
    laid_out = _laid_out(pattern.warp)
    if pattern.mirror == "whole":
        return laid_out + laid_out[::-1]
    if pattern.mirror == "last stripe":
        return laid_out + _laid_out(pattern.warp[:-1])[::-1]
    return laid_out


def _laid_out(items: Sequence[WarpItem]) -> tuple[str, ...]:
    return tuple(chain.from_iterable(map(_item_yarns, items)))


def _item_yarns(item: WarpItem) -> tuple[str, ...]:
    match item:
        case Stripe(yarn, ends):
            return (yarn,) * ends
        case Alternation(yarns, ends):
            return tuple(islice(cycle(yarns), ends))
        case Repeat(times, stripes):
            once = _laid_out(stripes)
            return once * times if once else ()  # nothing is nothing, however many millions of times
        case _:
            assert_never(item)


def runs(yarns: Sequence[str]) -> tuple[Run, ...]:
    """Neighbouring ends of one yarn taken together, with the running total at each change (across the file's items)."""
    stripes: list[Run] = []
    total = 0
    for yarn, neighbours in groupby(yarns):
        ends = len(tuple(neighbours))
        total += ends
        stripes.append(Run(yarn, ends, total))
    return tuple(stripes)


def is_same_both_ways(yarns: Sequence[str]) -> bool:
    """Whether the tape reads the same from both edges."""
    return tuple(yarns) == tuple(yarns)[::-1]
