"""Moving a whole card to another place on a larger sheet, at its own size."""

from __future__ import annotations

from collections.abc import Iterable

from cardmaker.geometry import Box
from cardmaker.noun import replace
from cardmaker.nouns.marks import Again, Dot, Line, Mark, Path, Rectangle, Stamp, Step, Words


def shifted(marks: Iterable[Mark], dx: float, dy: float = 0.0) -> tuple[Mark, ...]:
    """The marks, ``dx`` mm further right and ``dy`` mm further down; nothing else of them changes."""
    return tuple(_shifted(mark, dx, dy) for mark in marks)


def _shifted(mark: Mark, dx: float, dy: float) -> Mark:
    if isinstance(mark, Line):
        return mark._replace(x1=mark.x1 + dx, y1=mark.y1 + dy, x2=mark.x2 + dx, y2=mark.y2 + dy)
    if isinstance(mark, Dot | Words):
        return mark._replace(x=mark.x + dx, y=mark.y + dy)
    if isinstance(mark, Rectangle):
        return mark._replace(box=_box(mark.box, dx, dy))
    if isinstance(mark, Path):
        return mark._replace(steps=tuple(_step(step, dx, dy) for step in mark.steps))
    if isinstance(mark, Again):
        return mark._replace(clip=_box(mark.clip, dx, dy))
    inner = shifted(mark.marks, dx, dy)
    if isinstance(mark, Stamp):
        return replace(mark, marks=inner, clip=_box(mark.clip, dx, dy))
    return replace(mark, marks=inner, box=_box(mark.box, dx, dy))


def _box(box: Box, dx: float, dy: float) -> Box:
    return Box(box.left + dx, box.top + dy, box.width, box.height)


def _step(step: Step, dx: float, dy: float) -> Step:
    if step[0] == "close":
        return step
    if step[0] == "curve":
        _, x1, y1, x2, y2, x, y = step
        return ("curve", x1 + dx, y1 + dy, x2 + dx, y2 + dy, x + dx, y + dy)
    return (step[0], step[1] + dx, step[2] + dy)
