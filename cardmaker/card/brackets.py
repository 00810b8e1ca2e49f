"""Brackets over columns of ends: the columns that a stripe takes on paper."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, NamedTuple

from cardmaker.layout.ink import OUTLINE
from cardmaker.reckoning.stripes.segments import Segment

ARM_INSET: Final = 0.3  # mm from the edge of a stripe's columns to the arm, so that two brackets do not join


class Bracket(NamedTuple):
    """Ends that are counted in one go, and the columns that they take, in mm from the left of the drawing.

    Of a stripe that goes over from one row into the next the first part bears the count of all of it. The yarns of ends
    in turn are in the order of the ends under this bracket, so that the rest of them begins with its own.
    """

    segment: Segment
    left: float
    right: float
    begins: bool = True  # whether the stripe begins here, and is not the rest of one
    ends: bool = True  # whether it ends here

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2

    @property
    def bar(self) -> tuple[float, float]:
        """From where to where it is drawn: arms keep a little from the edge of the columns."""
        inset = min(ARM_INSET, (self.right - self.left) * 0.1)
        return self.left + self.begins * inset, self.right - self.ends * inset

    @property
    def inside(self) -> float:
        """The width that it holds: figures may stand over its arms."""
        start, stop = self.bar
        return stop - start + OUTLINE


def brackets_over(
    segments: Sequence[Segment], row: range, column: Callable[[int], float], pitch: float
) -> list[Bracket]:
    """A bracket for each of the segments, as far as it lies in a row of ends, over columns ``pitch`` mm wide.

    ``column`` gives the middle of a column by the number of its end.
    """
    brackets = []
    for segment in segments:
        first, last = max(segment.first_end, row.start), min(segment.last_end, row.stop - 1)
        if first <= last:
            left, right = column(first) - pitch / 2, column(last) + pitch / 2
            begun = (first - segment.first_end) % len(segment.yarns)
            segment = segment._replace(yarns=segment.yarns[begun:] + segment.yarns[:begun])
            brackets.append(Bracket(segment, left, right, first == segment.first_end, last == segment.last_end))
    return brackets
