"""The cross in the height of two lines, beside the words of a student's card: at two pegs, odd ends and even ones."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, OUTLINE, WHITE
from cardmaker.layout.type_setting import SetLine, cap_height, figure, leading, text_height
from cardmaker.model.marks import Box, Dot, Face, Mark, Path, Step, Words
from cardmaker.wording import peg_words
from cardmaker.wording.winding_words import HOME

BACK_DASH: Final = (1.6, 1.1)  # the way back
PEG: Final = 0.88  # the radius of a peg, in capitals of the words beside it: its letter stands in it
CLEAR: Final = 0.3  # from a peg to the middle of the thread that passes it, likewise
APART: Final = 1.4  # from peg to peg, likewise
STUB: Final = 0.5  # of thread before the first peg and past the last, likewise
STRAIGHT: Final = 0.6  # of a peg's radius, on either side of its middle: there a thread runs straight past it
ODD, EVEN, HOLLOW = 2.0, 3.6, 1.6  # how thick a thread is, and what is white of the even one, in outlines
CASING: Final = 5.0  # of the odd thread where it lies over the even one, likewise
BESIDE: Final = 1.1  # mm from the threads to words
BESIDE_WORDS: Final = 2.4  # mm from the words that go on beside it

Names = tuple[str, str]  # which ends are odd, and which are even


def draw_small_cross(sheet: Sheet, box: Box, names: Names) -> Mark:
    """The picture at the right end of ``box``, whose top is that of the capitals of two lines of words: its name is on
    the first of them, left of it, and home on the second. The number of an end decides its side, and not the way in
    which it is walked: the thread of odd ends is black and lies over the hollow one of even ends, which a grey copy
    keeps apart."""
    cap, size = cap_height(sheet.sizes.body), sheet.sizes.body
    wide = max(beside_small_cross(sheet, names))
    place = Box(box.right - wide, box.top, wide, small_cross_height(sheet))
    start, y = box.right - _drawn_width(sheet, names), box.top + (cap + leading(size)) / 2
    pegs = [start + (STUB + PEG) * cap, start + (STUB + 3 * PEG + APART) * cap]
    stop, aside = pegs[1] + (PEG + STUB) * cap, (PEG + CLEAR) * cap
    odd, even = (_way(start, pegs, stop, y, y + side, PEG * STRAIGHT * cap) for side in (aside, -aside))
    marks: list[Mark] = [*_threads(odd, even)]
    for x, name in zip(pegs, peg_words.ANY_CROSS, strict=True):
        marks.append(Dot(x, y, PEG * cap, WHITE, BLACK, OUTLINE))
        marks.append(Words(x, y + cap / 2, name, Face.SANS_SEMIBOLD, size, align="middle"))
    baselines = box.top + cap, box.top + cap + leading(size)
    for text, ends, baseline in zip(_BEFORE, names, baselines, strict=True):
        marks.append(Words(start - BESIDE, baseline, text, _BEFORE[text], size, align="right"))
        marks.append(Words(stop + BESIDE, baseline, ends, Face.SANS, size))
    return figure("cross", place, marks, peg_words.CROSS_IN_GENERAL)


_BEFORE: Final = {peg_words.THE_CROSS: Face.SANS_SEMIBOLD, HOME: Face.SANS}  # left of the threads, a line each


def _threads(odd: tuple[Step, ...], even: tuple[Step, ...]) -> Iterable[Mark]:
    """That of even ends hollow, and over it that of odd ones, cased in white."""
    yield Path(even, stroke=BLACK, width=OUTLINE * EVEN)
    yield Path(even, stroke=WHITE, width=OUTLINE * HOLLOW)
    yield Path(odd, stroke=WHITE, width=OUTLINE * CASING)
    yield Path(odd, stroke=BLACK, width=OUTLINE * ODD)


def _way(start: float, pegs: list[float], stop: float, y: float, at_first: float, straight: float) -> tuple[Step, ...]:
    """Past the first peg at a height, between the pegs over to the other side, and on there."""
    at_last = 2 * y - at_first
    return (
        ("move", start, at_first), ("line", pegs[0] + straight, at_first),
        ("line", pegs[1] - straight, at_last), ("line", stop, at_last),
    )  # fmt: skip


def _drawn_width(sheet: Sheet, names: Names) -> float:
    """How wide it is without what stands left of it, in mm."""
    pegs = (2 * STUB + 4 * PEG + APART) * cap_height(sheet.sizes.body)
    return pegs + BESIDE + max(sheet.wide(text, Face.SANS, sheet.sizes.body) for text in names)


def beside_small_cross(sheet: Sheet, names: Names) -> tuple[float, ...]:
    """How much it takes of the first line of words beside it, and of the second, in mm."""
    drawn = _drawn_width(sheet, names) + BESIDE
    return tuple(drawn + sheet.wide(text, face, sheet.sizes.body) for text, face in _BEFORE.items())


def small_cross_height(sheet: Sheet) -> float:
    """That of two lines."""
    return text_height(2, sheet.sizes.body)


def crossing_ways(out: tuple[Step, ...], back: tuple[Step, ...]) -> Iterable[Mark]:
    """The way back dashed, and over it the way out, cased in white."""
    yield Path(back, stroke=BLACK, width=OUTLINE * 1.5, dash=BACK_DASH)
    yield Path(out, stroke=WHITE, width=OUTLINE * 5)
    yield Path(out, stroke=BLACK, width=OUTLINE * 2)


def lines_beside(
    sheet: Sheet, paragraphs: Sequence[Paragraph], width: float, taken: Sequence[float], apart: float = BESIDE_WORDS
) -> list[SetLine]:
    """The lines of the paragraphs, the first ones shorter by what is ``taken`` of each, and ``apart`` from it; none
    where a word finds no room there."""
    lines: list[SetLine] = []
    for rest in paragraphs:
        while rest:
            beside = taken[len(lines)] if len(lines) < len(taken) else 0.0
            less = beside + apart if beside else 0.0
            first, *others = sheet.lines(rest, sheet.sizes.body, width - less)
            if less and _line_width(sheet, first) > width - less:
                return []
            lines.append(first)
            rest = [span for line in others for span in line]
    return lines


def _line_width(sheet: Sheet, line: SetLine) -> float:
    return sum(sheet.wide(span.text, span.face, sheet.sizes.body) for span in line)
