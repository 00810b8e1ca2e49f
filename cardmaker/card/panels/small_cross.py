"""The cross in the height of two lines, beside the words of a student's card: at two pegs, odd ends and even ones."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, OUTLINE, WHITE
from cardmaker.layout.type_setting import cap_height, figure, leading, text_height
from cardmaker.model.marks import Box, Dot, Face, Mark, Path, Step, Words
from cardmaker.wording import peg_words

BACK_DASH: Final = (1.6, 1.1)  # the way back
PEG: Final = 0.88  # the radius of a peg, in capitals of the words beside it: its letter stands in it
CLEAR: Final = 0.22  # from a peg to the thread that passes it, likewise
APART: Final = 1.2  # from peg to peg, likewise
STUB: Final = 0.7  # of thread before the first peg and past the last, likewise
STRAIGHT: Final = 0.6  # of a peg's radius, on either side of its middle: there a thread runs straight past it
BESIDE: Final = 1.1  # mm from the threads to words


def draw_small_cross(sheet: Sheet, box: Box) -> Mark:
    """The picture at the right end of ``box``, whose top is that of the capitals of two lines of words: its name is on
    the first of them, left of it. The number of an end decides its side, and not the way in which it is walked."""
    cap, size = cap_height(sheet.sizes.body), sheet.sizes.body
    place = Box(box.right - _whole_width(sheet), box.top, _whole_width(sheet), small_cross_height(sheet))
    start, y = box.right - small_cross_width(sheet), box.top + (cap + leading(size)) / 2
    pegs = [start + (STUB + PEG) * cap, start + (STUB + 3 * PEG + APART) * cap]
    stop, aside = pegs[1] + (PEG + STUB) * cap, (PEG + CLEAR) * cap
    odd, even = (_way(start, pegs, stop, y, y + side, PEG * STRAIGHT * cap) for side in (aside, -aside))
    marks: list[Mark] = [*crossing_ways(odd, even)]
    for x, name in zip(pegs, peg_words.ANY_CROSS, strict=True):
        marks.append(Dot(x, y, PEG * cap, WHITE, BLACK, OUTLINE))
        marks.append(Words(x, y + cap / 2, name, Face.SANS_SEMIBOLD, size, align="middle"))
    for text, baseline in ((peg_words.ODD, box.top + cap), (peg_words.EVEN, box.top + cap + leading(size))):
        marks.append(Words(stop + BESIDE, baseline, text, Face.SANS, size))
    marks.append(Words(start - BESIDE, box.top + cap, peg_words.THE_CROSS, Face.SANS_SEMIBOLD, size, align="right"))
    return figure("cross", place, marks, peg_words.CROSS_IN_GENERAL)


def _way(start: float, pegs: list[float], stop: float, y: float, at_first: float, straight: float) -> tuple[Step, ...]:
    """Past the first peg at a height, between the pegs over to the other side, and on there."""
    at_last = 2 * y - at_first
    return (
        ("move", start, at_first), ("line", pegs[0] + straight, at_first),
        ("line", pegs[1] - straight, at_last), ("line", stop, at_last),
    )  # fmt: skip


def small_cross_width(sheet: Sheet) -> float:
    """How wide it is without its name, in mm: so much shorter is the second line beside it."""
    pegs = (2 * STUB + 4 * PEG + APART) * cap_height(sheet.sizes.body)
    return (
        pegs + BESIDE + max(sheet.wide(text, Face.SANS, sheet.sizes.body) for text in (peg_words.ODD, peg_words.EVEN))
    )


def _whole_width(sheet: Sheet) -> float:
    return small_cross_width(sheet) + BESIDE + sheet.wide(peg_words.THE_CROSS, Face.SANS_SEMIBOLD, sheet.sizes.body)


def beside_small_cross(sheet: Sheet) -> tuple[float, float]:
    """How much it takes of the first line of words beside it, and of the second, in mm."""
    return _whole_width(sheet), small_cross_width(sheet)


def small_cross_height(sheet: Sheet) -> float:
    """That of two lines."""
    return text_height(2, sheet.sizes.body)


def crossing_ways(out: tuple[Step, ...], back: tuple[Step, ...]) -> Iterable[Mark]:
    """The way back dashed, and over it the way out, cased in white."""
    yield Path(back, stroke=BLACK, width=OUTLINE * 1.5, dash=BACK_DASH)
    yield Path(out, stroke=WHITE, width=OUTLINE * 5)
    yield Path(out, stroke=BLACK, width=OUTLINE * 2)
