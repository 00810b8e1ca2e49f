"""Time bars: the steps of each kit side by side against the end of the session."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import pairwise
from typing import Final, Literal, NamedTuple

from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, HEAVY, OUTLINE
from cardmaker.layout.pages.blocks import Picture
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.spreading import spread
from cardmaker.layout.type_setting import SetLine, Span, cap_height, set_lines, tail_depth, text_height
from cardmaker.model.marks import Box, Face, Line, Mark, Rectangle, Words

BAR: Final = 6.4
ABOVE_BAR: Final = 1.6  # between its label and it
BELOW_BAR: Final = 1.2  # with the space above the next picture
PAST_BAR: Final = 0.5  # how far the end of the session is drawn past a bar
LEADER: Final = 1.4  # from a bar to a name that stands below it
BETWEEN_NAMES: Final = 2.0
TOP: Final = 5.6  # for the word above the end of the session


class Bar(NamedTuple):
    """One kind of kit: its label, and its steps with their minutes."""

    label: str
    names: tuple[str, ...]
    minutes: tuple[int, ...]


def time_bars(bars: Sequence[Bar], session: int, session_label: str, leaf: Leaf) -> list[Picture]:
    """A picture of each bar, on one scale, with an upright where the session ends; the first says how long it is."""
    scale = _Scale(bars, session, leaf, leaf.column_width)
    return [
        Picture(
            "time",
            _height(bar, scale) + (0.0 if number else TOP),
            partial(_draw, bar, scale, "" if number else session_label),
            f"{bar.label}. Session {session_label}.",
        )
        for number, bar in enumerate(bars)
    ]


class _Step(NamedTuple):
    """A step on its bar, in mm from the bar's left edge."""

    name: str
    left: float
    right: float


class _Scale:
    """How long a minute is, and with it where each step lies."""

    def __init__(self, bars: Sequence[Bar], session: int, leaf: Leaf, width: float) -> None:
        self.leaf, self.width = leaf, width
        self.minute_mm = (width - 1.0) / max([session, *(sum(bar.minutes) for bar in bars)])
        self.end = session * self.minute_mm

    def label(self, bar: Bar) -> list[SetLine]:
        return self.leaf.lines([Span(bar.label)], self.leaf.sizes.small, self.width)

    def steps(self, bar: Bar) -> list[_Step]:
        """The steps that take any time."""
        ends = [sum(bar.minutes[:number]) * self.minute_mm for number in range(len(bar.minutes) + 1)]
        return [_Step(name, *pair) for name, pair in zip(bar.names, pairwise(ends), strict=True) if pair[1] > pair[0]]

    def name_width(self, step: _Step) -> float:
        return self.leaf.wide(step.name, Face.SANS, self.leaf.sizes.smallest)

    def middle_inside(self, step: _Step) -> float | None:
        """Where a step's name stands in it: in the larger part that the session's end leaves, or nowhere."""
        cut = min(max(step.left, self.end), step.right)
        start, stop = max((step.left, cut), (cut, step.right), key=lambda part: part[1] - part[0])
        return (start + stop) / 2 if self.name_width(step) + 1.6 <= stop - start else None

    def below(self, bar: Bar) -> list[tuple[_Step, float]]:
        """The steps whose names stand below the bar, with the middles of those."""
        steps = [step for step in self.steps(bar) if self.middle_inside(step) is None]
        wanted, widths = [(step.left + step.right) / 2 for step in steps], [self.name_width(step) for step in steps]
        return list(zip(steps, spread(wanted, widths, [BETWEEN_NAMES] * (len(wanted) - 1), self.width), strict=True))


def _height(bar: Bar, scale: _Scale) -> float:
    small, smallest = scale.leaf.sizes.small, scale.leaf.sizes.smallest
    names = LEADER + cap_height(smallest) + 0.4 if scale.below(bar) else 0.0
    return text_height(len(scale.label(bar)), small) - tail_depth(small) + ABOVE_BAR + BAR + names + BELOW_BAR


def _draw(bar: Bar, scale: _Scale, session_label: str, box: Box) -> tuple[Mark, ...]:
    leaf, small = scale.leaf, scale.leaf.sizes.small
    end, top = box.left + scale.end, box.top
    marks: list[Mark] = []
    if session_label:
        align: Literal["left", "right"] = "right" if scale.end > box.width / 2 else "left"
        marks.append(Words(end, top + cap_height(small), session_label, Face.SANS_SEMIBOLD, small, ACCENT, align))
        marks.append(Line(end, top + cap_height(small) + 0.8, end, top + TOP - 1.2, HEAVY, ACCENT))
        top += TOP
    lines = scale.label(bar)
    marks += set_lines(lines, box.left, top + cap_height(small), small, leaf.ruler)
    bar_top = top + text_height(len(lines), small) - tail_depth(small) + ABOVE_BAR
    marks += _steps(bar, scale, Box(box.left, bar_top, box.width, BAR))
    return (*marks, Line(end, bar_top - PAST_BAR, end, bar_top + BAR + PAST_BAR, HEAVY, ACCENT))


def _steps(bar: Bar, scale: _Scale, box: Box) -> list[Mark]:
    """The steps as boxes, each named: inside it, or below it at the end of a short line where it is too short."""
    size = scale.leaf.sizes.smallest
    marks: list[Mark] = []
    for step in scale.steps(bar):
        inside = Box(box.left + step.left, box.top, step.right - step.left, BAR)
        marks.append(Rectangle(inside, None, BLACK, OUTLINE))
        if (middle := scale.middle_inside(step)) is not None:
            baseline = box.top + (BAR + cap_height(size)) / 2
            marks.append(Words(box.left + middle, baseline, step.name, Face.SANS, size, align="middle"))
    for step, middle in scale.below(bar):
        x, foot = box.left + (step.left + step.right) / 2, box.top + BAR
        half = scale.leaf.wide(step.name, Face.SANS, size) / 2
        below = max(box.left + middle - half, min(x, box.left + middle + half))  # upright where the name stands below
        marks.append(Line(x, foot, below, foot + LEADER - 0.4, HAIRLINE))
        baseline = foot + LEADER + cap_height(size)
        marks.append(Words(box.left + middle, baseline, step.name, Face.SANS, size, align="middle"))
    return marks
