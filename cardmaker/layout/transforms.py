"""Marks moved, mirrored in their box, and drawn larger or smaller as a whole."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, Literal

from cardmaker.model.marks import (
    Again,
    Box,
    Dot,
    FormField,
    Line,
    Mark,
    Path,
    PlacedPhotograph,
    Rectangle,
    Stamp,
    Step,
    Words,
)
from cardmaker.model.record_class import record, replace

_ALIGNED: Final[dict[str, Literal["left", "middle", "right"]]] = {"left": "right", "middle": "middle", "right": "left"}


def shifted(marks: Iterable[Mark], dx: float, dy: float = 0.0) -> tuple[Mark, ...]:
    """The marks, ``dx`` mm further right and ``dy`` mm further down; nothing else of them changes."""
    return _Move(dx, dy).marks(marks)


def mirrored(marks: Iterable[Mark], box: Box) -> tuple[Mark, ...]:
    """The marks mirrored about the upright through the middle of ``box``."""
    return _Move(box.left + box.right, 0.0, -1).marks(marks)


def scaled(marks: Iterable[Mark], factor: float) -> tuple[Mark, ...]:
    """The marks ``factor`` times as large about the origin: strokes, gaps of dashes and type with the rest."""
    return _Move(0.0, 0.0, factor=factor).marks(marks)


@record
class _Move:
    """Where a point goes: ``factor`` times as far from the origin, or with the sign -1 from that of its mirror image
    about x = 0, then ``dx`` to the right and ``dy`` down. Lengths grow by the factor."""

    dx: float
    dy: float
    sign: Literal[1, -1] = 1
    factor: float = 1.0

    def x(self, x: float) -> float:
        return self.dx + self.sign * self.factor * x

    def y(self, y: float) -> float:
        return self.dy + self.factor * y

    def _lengths(self, lengths: tuple[float, ...]) -> tuple[float, ...]:
        return tuple(self.factor * length for length in lengths)

    def marks(self, marks: Iterable[Mark]) -> tuple[Mark, ...]:
        return tuple(self._mark(mark) for mark in marks)

    def _mark(self, mark: Mark) -> Mark:
        if self.factor != 1:
            mark = self._grown(mark)
        if isinstance(mark, Line):
            return mark._replace(x1=self.x(mark.x1), y1=self.y(mark.y1), x2=self.x(mark.x2), y2=self.y(mark.y2))
        if isinstance(mark, Dot):
            return mark._replace(x=self.x(mark.x), y=self.y(mark.y))
        if isinstance(mark, Words):
            return self._words(mark)
        if isinstance(mark, Rectangle):
            return mark._replace(box=self._box(mark.box))
        if isinstance(mark, PlacedPhotograph | FormField):  # a photograph shows what was there, whoever looks
            return replace(mark, box=self._box(mark.box))
        if isinstance(mark, Path):
            return mark._replace(steps=tuple(self._step(step) for step in mark.steps))
        if isinstance(mark, Again):
            return replace(mark, clip=self._box(mark.clip))
        inner = self.marks(mark.marks)
        if isinstance(mark, Stamp):
            return replace(mark, marks=inner, dx=self.sign * mark.dx, clip=self._box(mark.clip))
        return replace(mark, marks=inner, box=self._box(mark.box))

    def _grown(self, mark: Mark) -> Mark:
        """The mark where it was, its strokes, radii and type larger."""
        factor = self.factor
        if isinstance(mark, Words):
            return mark._replace(size=factor * mark.size)
        if isinstance(mark, Dot):
            return mark._replace(radius=factor * mark.radius, width=factor * mark.width)
        if isinstance(mark, Rectangle):
            dash = self._lengths(mark.dash)
            return mark._replace(width=factor * mark.width, radius=factor * mark.radius, dash=dash)
        if isinstance(mark, Line | Path):
            return mark._replace(width=factor * mark.width, dash=self._lengths(mark.dash))
        if isinstance(mark, Stamp):
            return replace(mark, dx=factor * mark.dx, dy=factor * mark.dy)
        if isinstance(mark, Again):
            return replace(mark, step_mm=factor * mark.step_mm, scale=factor * mark.scale)
        return mark

    def _box(self, box: Box) -> Box:
        left, factor = box.left if self.sign > 0 else box.right, self.factor
        return Box(self.x(left), self.y(box.top), factor * box.width, factor * box.height)

    def _step(self, step: Step) -> Step:
        if step[0] == "close":
            return step
        if step[0] == "curve":
            _, x1, y1, x2, y2, x, y = step
            return ("curve", self.x(x1), self.y(y1), self.x(x2), self.y(y2), self.x(x), self.y(y))
        return (step[0], self.x(step[1]), self.y(step[2]))

    def _words(self, words: Words) -> Words:
        """Mirrored upright words change their alignment; turned ones stand as far on the other side of their line."""
        x, y = self.x(words.x), self.y(words.y)
        if self.sign > 0:
            return words._replace(x=x, y=y)
        if words.turned:
            return words._replace(x=x + 0.66 * words.size * 25.4 / 72, y=y)
        return words._replace(x=x, y=y, align=_ALIGNED[words.align])
