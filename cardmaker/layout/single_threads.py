"""A single thread drawn as a stroke: in its colour, cased so that white shows on paper, its hatching along it."""

from __future__ import annotations

from collections.abc import Mapping

from cardmaker.layout.ink import BLACK, HAIRLINE, OUTLINE, Ink
from cardmaker.model.marks import Line

CORE = 0.32  # how much of a thread's width its hatching takes
MOST_TIMES = 1.4  # that a thick thread is drawn as thick as the thinnest: more would leave little of that


def thread_widths(thickness: Mapping[str, float], usual: float, edge: float, most: float) -> dict[str, float]:
    """How thick the threads of each yarn are drawn, in mm without their black edges of ``edge`` mm.

    ``thickness`` is in times of the thinnest, which is ``usual`` mm thick; with their edges thicker ones are as much
    thicker, and none is more than ``most`` mm, for which all are drawn finer.
    """
    times = {yarn: min(MOST_TIMES, each) for yarn, each in thickness.items()}
    thinnest = min(usual + 2 * edge, most / max(times.values()))
    return {yarn: thinnest * each - 2 * edge for yarn, each in times.items()}


def thread_line(
    ink: Ink, x1: float, y1: float, x2: float, y2: float, thick: float, edge: float = OUTLINE
) -> list[Line]:
    """From one point to another, ``thick`` mm without its black edge of ``edge`` mm. Hatchings that differ in cells
    differ here too.

    A line without gaps, long and short strokes, points: seven that are told apart in a grey copy.
    """
    marks = [
        Line(x1, y1, x2, y2, thick + 2 * edge, BLACK, round_ends=True),
        Line(x1, y1, x2, y2, thick, ink.fill, round_ends=True),
    ]
    if ink.dash:
        dash = ink.dash if len(ink.dash) > 1 else ()
        marks.append(Line(x1, y1, x2, y2, max(thick * CORE, HAIRLINE), ink.on, dash))
    return marks
