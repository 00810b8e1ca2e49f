"""Things in a row moved aside no farther than they must, so that none meets its neighbour."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise


def spread(wanted: Sequence[float], widths: Sequence[float], gaps: Sequence[float], width: float) -> list[float]:
    """The middles of things in a row, each as near as can be to where it is wanted, and from the next at the least as
    many mm apart as the gap between the two.

    They keep their order, and lie between 0 and ``width`` where they all can. Least squares by pooling neighbours
    that meet (Barlow, Bartholomew, Bremner and Brunk, Statistical Inference under Order Restrictions, 1972, from
    memory): taken from each thing's place what lies before it, places must only not decrease.
    """
    if not wanted:
        return []
    before = [0.0]
    for (left, right), gap in zip(pairwise(widths), gaps, strict=True):
        before.append(before[-1] + (left + right) / 2 + gap)
    blocks: list[tuple[int, float]] = []  # things that touch, and where the first would stand to suit them all best
    for place, offset in zip(wanted, before, strict=True):
        things, at = 1, place - offset
        while blocks and blocks[-1][1] > at:
            others, first = blocks.pop()
            at = (first * others + at * things) / (others + things)
            things += others
        blocks.append((things, at))
    starts = [at for things, at in blocks for _ in range(things)]
    least, most = widths[0] / 2, width - widths[-1] / 2 - before[-1]
    return [max(least, min(start, most)) + offset for start, offset in zip(starts, before, strict=True)]
