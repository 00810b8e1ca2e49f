"""Picks seen in a mirror and turned round: whether a figure is the same again.

In plain weave the order of the ends tells it. A figure that is picked up has rows as well, and they count its ends from
the left. Own derivation, held against tapes that a test weaves out and turns.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

Picks = Sequence[Collection[int]]  # of each pick the ends on top, counted from the left; the picks repeat


def is_own_mirror_image(picks: Picks, ends: int) -> bool:
    """Whether the picks read from the right edge are the same ones, begun at whichever pick."""
    return _are_one_round(_mirrored(picks, ends), picks)


def are_turned(picks: Picks, others: Picks, ends: int) -> bool:
    """Whether a tape of the one picks, turned by half a circle, is a tape of the others.

    Turned, it has its last pick first and its right edge on the left. The picks repeat, so it may begin at any of them.
    """
    return _are_one_round(_mirrored(picks[::-1], ends), others)


def _mirrored(picks: Picks, ends: int) -> list[set[int]]:
    return [{ends + 1 - number for number in pick} for pick in picks]


def _are_one_round(picks: Picks, others: Picks) -> bool:
    one, other = [frozenset(pick) for pick in picks], [frozenset(pick) for pick in others]
    return any(one[start:] + one[:start] == other for start in range(len(one)))
