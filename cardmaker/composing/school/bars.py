"""Time bars: the steps of each kit side by side against the end of the session."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final, Literal, NamedTuple

from cardmaker.composing.ink import ACCENT, BLACK, HEAVY, OUTLINE
from cardmaker.composing.pages import Leaf, Picture
from cardmaker.composing.pages.leaf import capitals
from cardmaker.geometry import Box
from cardmaker.nouns.marks import Face, Line, Mark, Rectangle, Words

BAR: Final = 6.4
STEP: Final = 12.6  # from one bar to the next
TOP: Final = 4.6  # for the word above the end of the session


class Bar(NamedTuple):
    """One kind of kit: its steps with their minutes, and all of them together."""

    name: str
    steps: tuple[tuple[str, float], ...]
    minutes: float
    told: str


def time_bars(bars: Sequence[Bar], session: float, session_told: str, leaf: Leaf) -> Picture:
    """The bars, all on one scale, and an upright where the session ends."""
    alt = "; ".join(_told(bar) for bar in bars)
    height = TOP + len(bars) * STEP + 1.0
    return Picture("time", height, partial(_draw, bars, session, session_told, leaf), f"{alt}. Session {session_told}.")


def _told(bar: Bar) -> str:
    steps = ", ".join(f"{step} {minutes:.0f} min" for step, minutes in bar.steps)
    return f"{bar.name}: {steps}, {bar.told} in all"


def _draw(bars: Sequence[Bar], session: float, session_told: str, leaf: Leaf, box: Box) -> tuple[Mark, ...]:
    small = leaf.sizes.small
    told = max(leaf.wide(bar.told, Face.SANS_SEMIBOLD, small) for bar in bars) + 2.0
    scale = (box.width - told) / max([session, *(bar.minutes for bar in bars)])
    marks: list[Mark] = []
    for number, bar in enumerate(bars):
        top = box.top + TOP + number * STEP
        marks.append(Words(box.left, top + capitals(small), bar.name, Face.SANS, small))
        marks += _steps(bar, scale, leaf, box.left, top + capitals(small) + 1.6)
    end = box.left + session * scale
    align: Literal["left", "right"] = "right" if session * scale > box.width / 2 else "left"
    marks.append(Line(end, box.top + TOP - 0.6, end, box.bottom, HEAVY, ACCENT))
    marks.append(Words(end, box.top + capitals(small), session_told, Face.SANS_SEMIBOLD, small, ACCENT, align))
    return tuple(marks)


def _steps(bar: Bar, scale: float, leaf: Leaf, left: float, top: float) -> list[Mark]:
    """The steps as boxes, named where the name fits, and the sum behind the last one."""
    small = leaf.sizes.smallest
    baseline = top + (BAR + capitals(small)) / 2
    marks: list[Mark] = []
    for step, minutes in bar.steps:
        width = minutes * scale
        marks.append(Rectangle(Box(left, top, width, BAR), None, BLACK, OUTLINE))
        for words in (f"{step} {minutes:.0f} min", step, step[:1]):
            if leaf.wide(words, Face.SANS, small) + 1.6 <= width:
                marks.append(Words(left + width / 2, baseline, words, Face.SANS, small, align="middle"))
                break
        left += width
    marks.append(Words(left + 1.4, baseline, bar.told, Face.SANS_SEMIBOLD, leaf.sizes.small))
    return marks
