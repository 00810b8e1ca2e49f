"""A single thread drawn as a stroke: in its colour, cased so that white shows on paper, its hatching along it."""

from __future__ import annotations

from cardmaker.layout.ink import BLACK, HAIRLINE, OUTLINE, Ink
from cardmaker.model.marks import Line

CORE = 0.32  # how much of a thread's width its hatching takes


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
