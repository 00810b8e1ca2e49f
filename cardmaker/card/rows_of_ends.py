"""Ends in rows, broken where a colour changes, and labels beside them that do not meet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil
from typing import NamedTuple

from cardmaker.model.plan import Post
from cardmaker.reckoning.stripes.segments import Segment

Rows = Sequence[Sequence[Segment]]


def segments_in_rows(segments: Sequence[Segment], most: int) -> list[list[Segment]]:
    """The segments in rows of at most ``most`` ends, as even as colour changes allow; a longer segment is one row."""
    ends = segments[-1].last_end
    rows: list[list[Segment]] = [[]]
    wanted = ends / ceil(ends / most)
    for segment in segments:
        row = rows[-1]
        if row:
            so_far = segment.first_end - row[0].first_end
            after = segment.last_end - row[0].first_end + 1
            if after > most or (len(rows) < ceil(ends / most) and abs(so_far - wanted) <= abs(after - wanted)):
                rows.append(row := [])
        row.append(segment)
    return rows


def end_pitch(rows: Rows, width: float, widest: float) -> float:
    """From end to end, so that the longest row fills the width, and never more than ``widest``."""
    most = max(row[-1].last_end - row[0].first_end + 1 for row in rows)
    return min(widest, width / most)


class TotalLabel(NamedTuple):
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
