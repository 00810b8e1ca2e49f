"""Time bars: the steps of each kit side by side against the end of the session."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final, Literal, NamedTuple

from cardmaker.layout.ink import ACCENT, BLACK, HEAVY, OUTLINE
from cardmaker.layout.pages.blocks import Picture
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Face, Line, Mark, Rectangle, Words

BAR: Final = 6.4
STEP: Final = 12.6  # from one bar to the next
TOP: Final = 5.6  # for the word above the end of the session


class Bar(NamedTuple):
    """One kind of kit: its label, and its steps with their minutes."""

    label: str
    names: tuple[str, ...]
    minutes: tuple[int, ...]


def time_bars(bars: Sequence[Bar], session: int, session_label: str, leaf: Leaf) -> Picture:
    """The bars, all on one scale, and an upright where the session ends."""
    alt = f"{'. '.join(bar.label for bar in bars)}. Session {session_label}."
    height = TOP + len(bars) * STEP + 1.0
    return Picture("time", height, partial(_draw, bars, session, session_label, leaf), alt)


def _draw(bars: Sequence[Bar], session: int, session_label: str, leaf: Leaf, box: Box) -> tuple[Mark, ...]:
    small = leaf.sizes.small
    scale = (box.width - 1.0) / max([session, *(sum(bar.minutes) for bar in bars)])
    marks: list[Mark] = []
    end = box.left + session * scale
    align: Literal["left", "right"] = "right" if session * scale > box.width / 2 else "left"
    marks.append(Words(end, box.top + cap_height(small), session_label, Face.SANS_SEMIBOLD, small, ACCENT, align))
    for number, bar in enumerate(bars):
        top = box.top + TOP + number * STEP
        marks.append(Words(box.left, top + cap_height(small), bar.label, Face.SANS, small))
        bar_top = top + cap_height(small) + 1.6
        marks += _steps(bar, scale, leaf, end, Box(box.left, bar_top, box.width, BAR))
        marks.append(Line(end, bar_top - 0.8, end, bar_top + BAR + 0.8, HEAVY, ACCENT))
    marks.append(Line(end, box.top + cap_height(small) + 0.8, end, box.top + TOP - 1.2, HEAVY, ACCENT))
    return tuple(marks)


def _steps(bar: Bar, scale: float, leaf: Leaf, end: float, box: Box) -> list[Mark]:
    """The steps as boxes, each named in the larger part of it, where the name fits, that the session's end leaves."""
    small = leaf.sizes.smallest
    baseline = box.top + (BAR + cap_height(small)) / 2
    marks: list[Mark] = []
    left = box.left
    for step, minutes in zip(bar.names, bar.minutes, strict=True):
        right = left + minutes * scale
        if minutes:
            marks.append(Rectangle(Box(left, box.top, right - left, BAR), None, BLACK, OUTLINE))
        cut = min(max(left, end), right)
        start, stop = max((left, cut), (cut, right), key=lambda part: part[1] - part[0])
        if leaf.wide(step, Face.SANS, small) + 1.6 <= stop - start:
            marks.append(Words((start + stop) / 2, baseline, step, Face.SANS, small, align="middle"))
        left = right
    return marks
