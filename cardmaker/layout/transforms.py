"""Marks moved, and mirrored in their box."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, Literal

from cardmaker.model.marks import Again, Box, Dot, Line, Mark, Path, Rectangle, Stamp, Step, Words
from cardmaker.model.records import replace


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


_ALIGNED: Final[dict[str, Literal["left", "middle", "right"]]] = {"left": "right", "middle": "middle", "right": "left"}


def mirrored(marks: Iterable[Mark], box: Box) -> list[Mark]:
    """The marks mirrored about the upright through the middle of ``box``."""
    return [_mirrored(mark, box.left + box.right) for mark in marks]


def _mirrored(mark: Mark, sum_of_sides: float) -> Mark:
    if isinstance(mark, Line):
        return mark._replace(x1=sum_of_sides - mark.x1, x2=sum_of_sides - mark.x2)
    if isinstance(mark, Dot):
        return mark._replace(x=sum_of_sides - mark.x)
    if isinstance(mark, Rectangle):
        return mark._replace(box=_mirrored_box(mark.box, sum_of_sides))
    if isinstance(mark, Path):
        return mark._replace(steps=tuple(_mirrored_step(step, sum_of_sides) for step in mark.steps))
    if isinstance(mark, Words):
        return _words(mark, sum_of_sides)
    if isinstance(mark, Again):
        return mark._replace(clip=_mirrored_box(mark.clip, sum_of_sides))
    inner = tuple(_mirrored(each, sum_of_sides) for each in mark.marks)
    if isinstance(mark, Stamp):
        return replace(mark, marks=inner, dx=-mark.dx, clip=_mirrored_box(mark.clip, sum_of_sides))
    return replace(mark, marks=inner, box=_mirrored_box(mark.box, sum_of_sides))


def _words(mark: Words, sum_of_sides: float) -> Words:
    """Upright words change their alignment; turned ones keep it and stand as far on the other side of their line."""
    if mark.turned:
        cap = 0.66 * mark.size * 25.4 / 72
        return mark._replace(x=sum_of_sides - mark.x + cap)
    return mark._replace(x=sum_of_sides - mark.x, align=_ALIGNED[mark.align])


def _mirrored_box(box: Box, sum_of_sides: float) -> Box:
    return Box(sum_of_sides - box.right, box.top, box.width, box.height)


def _mirrored_step(step: Step, sum_of_sides: float) -> Step:
    if step[0] == "close":
        return step
    if step[0] == "curve":
        _, x1, y1, x2, y2, x, y = step
        return ("curve", sum_of_sides - x1, y1, sum_of_sides - x2, y2, sum_of_sides - x, y)
    return (step[0], sum_of_sides - step[1], step[2])
