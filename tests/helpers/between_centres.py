"""The way round pegs as a tape measure is tempted to take it: from peg centre to peg centre."""

from __future__ import annotations

from math import hypot

from cardmaker.model.peg_plan import ThreadPath


def between_centres_mm(path: ThreadPath) -> float:
    is_closed = len(path.legs) == len(path.passed)
    stops = path.passed[1:] + (path.passed[:1] if is_closed else ())
    pairs = zip(path.passed, stops, strict=False)
    return sum(hypot(stop.x_mm - start.x_mm, stop.y_mm - start.y_mm) for start, stop in pairs)
