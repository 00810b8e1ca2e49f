"""A page as its peers are given it: marks in order, every word by its left end.

Why so plain: whatever is done here is done for a peer for nothing, outside the time that it takes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardmaker.model.marks import Box, Dot, Group, Line, Mark, Page, Path, Rectangle, Stamp, Step, Words
from cardmaker.pdf.fonts import TypeRuler

Plain = Line | Rectangle | Dot | Path | Words
Drawn = Plain | Stamp


def drawn(page: Page) -> tuple[Drawn, ...]:
    """Every mark of the page, out of its groups."""
    return tuple(_flat(page.marks))


def _flat(marks: Iterable[Mark]) -> Iterator[Drawn]:
    for mark in marks:
        match mark:
            case Group():
                yield from _flat(mark.marks)
            case Words():
                yield _by_its_left_end(mark)
            case Stamp():
                yield Stamp(tuple(_flat(mark.marks)), mark.count, mark.dx, mark.dy, mark.clip)
            case Line() | Rectangle() | Dot() | Path():
                yield mark
            case _:
                raise TypeError(f"a card has no {type(mark).__name__}")


def _by_its_left_end(mark: Words) -> Words:
    width = TypeRuler().width_mm(mark.text, mark.face, mark.size)
    back = {"left": 0.0, "middle": width / 2, "right": width}[mark.align]
    left = mark._replace(align="left")
    return left._replace(y=mark.y + back) if mark.turned else left._replace(x=mark.x - back)


def copies(stamp: Stamp) -> Iterator[Plain]:
    """The marks of a stamp written out, as often as it is stamped."""
    for copy in range(stamp.count):
        for mark in stamp.marks:
            yield moved(mark, copy * stamp.dx, copy * stamp.dy)


def moved(mark: Mark, right: float, down: float) -> Plain:
    """The same mark elsewhere."""
    match mark:
        case Line():
            return mark._replace(x1=mark.x1 + right, y1=mark.y1 + down, x2=mark.x2 + right, y2=mark.y2 + down)
        case Rectangle():
            box = mark.box
            return mark._replace(box=Box(box.left + right, box.top + down, box.width, box.height))
        case Dot() | Words():
            return mark._replace(x=mark.x + right, y=mark.y + down)
        case Path():
            return mark._replace(steps=tuple(_step(step, right, down) for step in mark.steps))
        case _:
            raise TypeError(f"a stamp has no {type(mark).__name__}")


def _step(step: Step, right: float, down: float) -> Step:
    places = (value + (down if at % 2 else right) for at, value in enumerate(step[1:]))
    return (step[0], *places)  # type: ignore[return-value]  # as many places as before
