"""Turning a picture over from left to right, for a left hand: everything changes sides, and words stay readable."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, Literal

from cardmaker.geometry import Box
from cardmaker.noun import replace
from cardmaker.nouns.marks import Again, Dot, Line, Mark, Path, Rectangle, Stamp, Step, Words

_ALIGNED: Final[dict[str, Literal["left", "middle", "right"]]] = {"left": "right", "middle": "middle", "right": "left"}


def turned_over(marks: Iterable[Mark], box: Box) -> list[Mark]:
    """The marks mirrored about the upright through the middle of ``box``."""
    return [_turned(mark, box.left + box.right) for mark in marks]


def _turned(mark: Mark, sum_of_sides: float) -> Mark:
    if isinstance(mark, Line):
        return mark._replace(x1=sum_of_sides - mark.x1, x2=sum_of_sides - mark.x2)
    if isinstance(mark, Dot):
        return mark._replace(x=sum_of_sides - mark.x)
    if isinstance(mark, Rectangle):
        return mark._replace(box=_box(mark.box, sum_of_sides))
    if isinstance(mark, Path):
        return mark._replace(steps=tuple(_step(step, sum_of_sides) for step in mark.steps))
    if isinstance(mark, Words):
        return _words(mark, sum_of_sides)
    if isinstance(mark, Again):
        return mark._replace(clip=_box(mark.clip, sum_of_sides))
    inner = tuple(_turned(each, sum_of_sides) for each in mark.marks)
    if isinstance(mark, Stamp):
        return replace(mark, marks=inner, dx=-mark.dx, clip=_box(mark.clip, sum_of_sides))
    return replace(mark, marks=inner, box=_box(mark.box, sum_of_sides))


def _words(mark: Words, sum_of_sides: float) -> Words:
    """Upright words change their alignment; turned ones keep it and stand as far on the other side of their line."""
    if mark.turned:
        cap = 0.66 * mark.size * 25.4 / 72
        return mark._replace(x=sum_of_sides - mark.x + cap)
    return mark._replace(x=sum_of_sides - mark.x, align=_ALIGNED[mark.align])


def _box(box: Box, sum_of_sides: float) -> Box:
    return Box(sum_of_sides - box.right, box.top, box.width, box.height)


def _step(step: Step, sum_of_sides: float) -> Step:
    if step[0] == "close":
        return step
    if step[0] == "curve":
        _, x1, y1, x2, y2, x, y = step
        return ("curve", sum_of_sides - x1, y1, sum_of_sides - x2, y2, sum_of_sides - x, y)
    return (step[0], sum_of_sides - step[1], step[2])
