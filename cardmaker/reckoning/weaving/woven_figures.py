"""Which figures come out of the order of the ends: stripes, lines, dots, bars, chequers, steps.

Two like ends side by side, one in a hole and one in a slot, show in both sheds: a continuous line, and three or more a
stripe. A single end shows in every second row: dots. Two yarns end by end fill the rows by turns: bars. Common
practice, no source. Nothing here depends on the loom: on another one every row moves by one pick.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

from cardmaker.model.records import record, replace

FigureKind = Literal["stripe", "line", "dots", "bars", "steps"]


@record
class Figure:
    """One figure across some neighbouring ends. ``yarns`` in the order in which they first appear in it.

    ``bars``: yarns in turn with an even repeat, so that every other pick shows the same; bars one pick high.
    ``steps``: three (or another odd number of) yarns in turn, whose bars step sideways. ``dots``: single ends, alone or
    side by side. ``line``: two ends, ``stripe``: more. ``out_of_step``: bars that join the bars on their left one pick
    out of step with them (a chequer).
    """

    kind: FigureKind
    first_end: int
    last_end: int
    yarns: tuple[str, ...]
    out_of_step: bool = False

    @property
    def ends(self) -> int:
        return self.last_end - self.first_end + 1


_LONGEST_REPEAT: Final = 8  # ends; nobody sees a longer repeat as bars (a limit of ours)


def figures(yarns: Sequence[str]) -> tuple[Figure, ...]:
    """The figures from the left edge to the right; together they hold every end once."""
    turns = _turns(yarns)
    row: list[Figure] = []
    start = 0
    while start < len(yarns):
        row.append(_in_turn(yarns, start, turns, row) if turns[start].ends else _alike(yarns, start, turns))
        start = row[-1].last_end
    return tuple(row)


@record
class _Turns:
    """So many ends are yarns in turn, repeating after ``period`` ends; no ends when it is no such stretch."""

    ends: int = 0
    period: int = 0


def _turns(yarns: Sequence[str]) -> tuple[_Turns, ...]:
    """For every index, the longest stretch of yarns in turn that begins there.

    Two yarns are in turn from three ends on, more from two whole repeats on. Found from the right, because a pair of
    like ends is divided between two stretches only when its second end begins one (see :func:`_singles`).
    """
    turns = [_Turns()] * len(yarns)
    for start in reversed(range(len(yarns))):
        length = _singles(yarns, start, turns)
        for period in range(2, min(_LONGEST_REPEAT, length) + 1):
            ends = _repeating(yarns[start : start + length], period)
            if ends >= (3 if period == 2 else 2 * period) and ends > turns[start].ends:
                turns[start] = _Turns(ends, period)
    return tuple(turns)


def _singles(yarns: Sequence[str], start: int, turns: Sequence[_Turns]) -> int:
    """How many ends from ``start`` on differ from their neighbours.

    The first end of a pair of like ends still counts when its second end begins another stretch: the doubled end at
    the joint of a chequer belongs half to either side. Three or more like ends are a stripe of their own.
    """
    stop = start + 1
    while stop < len(yarns) and yarns[stop] != yarns[stop - 1]:
        stop += 1
    if stop == len(yarns):
        return stop - start
    divides = turns[stop].ends > 0  # never within three or more like ends, where nothing is in turn
    return stop - start if divides else stop - 1 - start


def _repeating(stretch: Sequence[str], period: int) -> int:
    """How many ends of the stretch, from its first on, repeat after ``period`` ends."""
    ends = period
    while ends < len(stretch) and stretch[ends] == stretch[ends - period]:
        ends += 1
    return ends


def _in_turn(yarns: Sequence[str], start: int, turns: Sequence[_Turns], before: Sequence[Figure]) -> Figure:
    stretch = turns[start]
    kind: FigureKind = "steps" if stretch.period % 2 else "bars"
    in_turn = tuple(dict.fromkeys(yarns[start : start + stretch.ends]))
    figure = Figure(kind, start + 1, start + stretch.ends, in_turn)
    if before and before[-1].kind == kind == "bars":
        return replace(figure, out_of_step=_flips(yarns, before[-1], figure))
    return figure


def _flips(yarns: Sequence[str], left: Figure, right: Figure) -> bool:
    """Whether what the odd ends show on the left is what the even ends show on the right, and the reverse.

    For two yarns this is the phase rule: (an end is of the one yarn) XOR (it is of even number) is the same all along
    a stretch of bars, and each pair of like neighbours flips it. Odd and even stand for hole and slot, whichever is
    which on the loom.
    """
    odd, even = _by_parity(yarns, left)
    return odd != even and (even, odd) == _by_parity(yarns, right)


def _by_parity(yarns: Sequence[str], figure: Figure) -> tuple[frozenset[str], frozenset[str]]:
    """The yarns of a figure's ends of odd number, and of even number."""
    numbers = range(figure.first_end, figure.last_end + 1)
    odd, even = (frozenset(yarns[number - 1] for number in numbers if number % 2 == parity) for parity in (1, 0))
    return odd, even


def _alike(yarns: Sequence[str], start: int, turns: Sequence[_Turns]) -> Figure:
    """A stripe, a line, or single ends side by side that are not in turn."""
    stop = start + 1
    while stop < len(yarns) and yarns[stop] == yarns[start]:
        stop += 1
    if stop - start > 1:
        return Figure("line" if stop - start == 2 else "stripe", start + 1, stop, (yarns[start],))
    while stop < len(yarns) and not turns[stop].ends and yarns[stop] not in yarns[stop + 1 : stop + 2]:
        stop += 1
    return Figure("dots", start + 1, stop, tuple(dict.fromkeys(yarns[start:stop])))
