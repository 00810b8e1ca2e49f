"""Counting from the middle of a heddle, as weavers say it: common practice, no source.

Say "one" on the space where counting begins and walk to the left until half of the ends are told; end 1 goes there.
Where counting begins is the loom's affair: with ``mark: counted as one`` on the marked middle space, with ``counted as
zero`` on the space beside it, and with an even number of spaces on either side of the mark, whatever its weaver calls
it.
"""

from __future__ import annotations

from collections.abc import Collection

from cardmaker.model.loom import Loom, Mark, Side, Space


def first_counted_space(loom: Loom, side: Side) -> int:
    """The space that is called 1 when counting to that side from the mark."""
    if loom.middle_space is None:
        return loom.spaces // 2 if side is Side.LEFT else loom.spaces // 2 + 1
    if loom.mark is Mark.ONE:
        return loom.middle_space
    return loom.middle_space - 1 if side is Side.LEFT else loom.middle_space + 1


def half_the_ends(ends: int, loom: Loom) -> int:
    """How far to count: rounded down when the middle space is called nought, otherwise up.

    So an odd warp is exactly centred on an odd heddle either way; an even one lies half a space to the left when the
    middle space is nought and half a space to the right when it is one; and an odd warp on an even heddle leans left.
    """
    counts_nought = loom.middle_space is not None and loom.mark is Mark.ZERO
    return ends // 2 if counts_nought else (ends + 1) // 2


def count_at(space: int, loom: Loom) -> int:
    """What the weaver says on ``space`` counting leftwards; 0 on a middle called nought, and right of the mark."""
    return max(0, first_counted_space(loom, Side.LEFT) - space + 1)


def counted_first_space(ends: int, loom: Loom) -> int:
    """The space of end 1 where counting leads, before any shift.

    Every warp of 1 to S ends then lies within 1 to S, by either way of counting: an even warp on an odd heddle has a
    space to spare, which is why its leaning half a space never runs off; likewise an odd warp on an even heddle; and
    the others are exactly centred.
    """
    return first_counted_space(loom, Side.LEFT) - half_the_ends(ends, loom) + 1


def off_middle(first_space: int, ends: int, loom: Loom) -> int:
    """How far the tape's middle lies to the right of the heddle's middle, in half spaces (negative: left)."""
    return 2 * first_space + ends - 1 - (loom.spaces + 1)


def slot_shift(ends: int, loom: Loom, slot_ends: Collection[int]) -> int | None:
    """The whole spaces (0, +1 or -1) to shift the warp so that all ``slot_ends`` lie in slots; None when none does.

    Of two shifts that fit, the one that leaves the tape nearer the middle; of two as near, the one to the right.
    """
    counted = counted_first_space(ends, loom)
    fitting = [shift for shift in (0, 1, -1) if _stands(counted + shift, ends, loom, slot_ends)]
    return min(
        fitting, key=lambda shift: (shift != 0, abs(off_middle(counted + shift, ends, loom)), -shift), default=None
    )


def _stands(first_space: int, ends: int, loom: Loom, slot_ends: Collection[int]) -> bool:
    fits = first_space >= 1 and first_space + ends - 1 <= loom.spaces
    return fits and all(loom.kind_of(first_space + end_number - 1) is Space.SLOT for end_number in slot_ends)
