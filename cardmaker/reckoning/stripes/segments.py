"""Stripes as a hand counts them: long alternations are one thing ("15 in turn"), not fifteen stripes of one end."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from cardmaker.model.plan import Post, Run

FEWEST_IN_TURN: Final = 4  # single ends side by side before they are counted together: common practice, no source
MOST_YARNS_IN_TURN: Final = 6  # more are not kept in mind: common practice, no source
LONG_STRIPE: Final = 10  # ends: in a longer one the round tens of the running total are checked as well (ours)
FEWEST_BESIDE_TEN: Final = 2  # ends from a ten to where its stripe begins or ends: nearer ones help nobody (ours)


class Segment(NamedTuple):
    """Neighbouring ends counted in one go: one stripe, or single ends of several yarns in turn."""

    first_end: int
    last_end: int
    yarns: tuple[str, ...]  # in order of appearance; one for a stripe

    @property
    def ends(self) -> int:
        return self.last_end - self.first_end + 1

    @property
    def in_turn(self) -> bool:
        return len(self.yarns) > 1

    @property
    def checkpoints(self) -> tuple[int, ...]:
        """The totals to stop and check at: the last end, and on the way there through a long one the round tens."""
        start, stop = self.first_end - 1 + FEWEST_BESIDE_TEN, self.last_end - FEWEST_BESIDE_TEN
        tens = range(-(-start // 10) * 10, stop + 1, 10) if self.ends > LONG_STRIPE else ()
        return (*tens, self.last_end)

    @property
    def stand_at(self) -> Post:
        """Where the winder stands when the last end of it is wound."""
        return Post.FAR if self.last_end % 2 else Post.HOME


def hand_counted(runs: Sequence[Run]) -> tuple[Segment, ...]:
    """The stripes from left to right, each stretch of four or more single ends in strict turn taken together.

    A way of counting of our own; the stripes themselves stay as they are.
    """
    return _segments(tuple(runs))


@lru_cache(maxsize=32)  # what is drawn asks, and so does what is said
def _segments(runs: tuple[Run, ...]) -> tuple[Segment, ...]:
    segments: list[Segment] = []
    start = 0
    while start < len(runs):
        taken = runs[start : start + max(1, _in_turn(runs, start))]
        yarns = tuple(dict.fromkeys(run.yarn for run in taken))
        segments.append(Segment(taken[0].first_end, taken[-1].total, yarns))
        start += len(taken)
    return tuple(segments)


def _in_turn(runs: Sequence[Run], start: int) -> int:
    """How many single ends from ``start`` on follow each other in one unbroken order; 0 when fewer than four do."""
    longest = 0
    for period in range(2, MOST_YARNS_IN_TURN + 1):
        if len({run.yarn for run in runs[start : start + period]}) < period:
            break
        stop = start
        while stop < len(runs) and runs[stop].ends == 1:
            if stop - start >= period and runs[stop].yarn != runs[stop - period].yarn:
                break
            stop += 1
        if stop - start > period:
            longest = max(longest, stop - start)
    return longest if longest >= FEWEST_IN_TURN else 0
