"""Ends in rows, broken where a colour changes, and labels beside them that do not meet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import ceil

from cardmaker.model.plan import Post
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.segments import Segment


def ends_in_rows(segments: Sequence[Segment], most: int) -> list[range]:
    """The numbers of the ends of each row: at most ``most``, as even as colour changes allow.

    A segment that is longer than a row is broken within, as evenly as may be.
    """
    ends = segments[-1].last_end
    fewest = ceil(ends / most)
    wanted = ends / fewest
    starts = [1]
    for piece in _pieces(segments, most):
        so_far, after = piece.start - starts[-1], piece.stop - starts[-1]
        if so_far and (after > most or (len(starts) < fewest and abs(so_far - wanted) <= abs(after - wanted))):
            starts.append(piece.start)
    return [range(start, stop) for start, stop in zip(starts, [*starts[1:], ends + 1], strict=True)]


def _pieces(segments: Sequence[Segment], most: int) -> Iterable[range]:
    """The ends of every segment, in as few parts as rows ask for."""
    for segment in segments:
        parts = ceil(segment.ends / most)
        edges = [segment.first_end + segment.ends * part // parts for part in range(parts + 1)]
        yield from (range(start, stop) for start, stop in pairwise(edges))


def end_pitch(rows: Sequence[range], width: float, widest: float) -> float:
    """From end to end, so that the longest row fills the width, and never more than ``widest``."""
    return min(widest, width / max(map(len, rows)))


@record
class TotalLabel:
    """What is written beside the end at which a running total stands: how far it reaches, and at which post if any."""

    at: int
    left: float
    right: float
    post: Post | None = None


def label_lines(labels: Iterable[TotalLabel], gap: float) -> dict[int, int]:
    """On which line, 0 nearest, each label stands, so that none comes nearer than ``gap`` to its neighbour."""
    lines: dict[int, int] = {}
    taken: dict[tuple[Post | None, int], float] = {}
    for label in labels:
        line = 0
        while (label.post, line) in taken and taken[label.post, line] > label.left - gap:
            line += 1
        lines[label.at] = line
        taken[label.post, line] = label.right
    return lines
