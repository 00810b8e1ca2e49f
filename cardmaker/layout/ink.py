"""Line widths, in millimetres, and colours: greys, and the yarn's own, hatched so that a grey copy keeps stripes apart.

Letters carry the name of a stripe; hatching tells its yarn from the others; colour only helps.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor
from typing import Final

from cardmaker.model.marks import Box, Colour, Path, Step
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.colour_clash import relative_luminance

POINT: Final = 25.4 / 72

BLACK: Final = "#000000"
WHITE: Final = "#ffffff"
SOFT: Final = "#4d4d4d"  # 70 % black: the lightest that words are set in, so that a copier keeps them
FAINT: Final = "#666666"  # 60 % black: guide lines only
ACCENT: Final = "#6f1148"  # one accent, for "start here" and "far" only; dark enough for a copier

FINEST: Final = 0.25 * POINT  # a copier loses finer strokes (common practice, no source)
HAIRLINE: Final = 0.4 * POINT
RULE: Final = 0.6 * POINT
OUTLINE: Final = 0.75 * POINT
HEAVY: Final = 1.5 * POINT

UNSTATED: Final = "#ffffff"  # a yarn whose file states no colour stays paper white; its letters name it


_MOST_STEPS: Final = 32  # from a colour to black or to white
LEAST_CONTRAST: Final = 4.5  # of small type and what it stands on (WCAG 2.2, 1.4.3: from memory)


@record
class Ink:
    """How one yarn is drawn: its fill, the ink that reads on it, and its hatching (slopes and spacing in mm).

    ``fill`` is the yarn's colour; a trace lighter or darker where nothing would read on it both in colour and in a grey
    copy. ``dash`` is the hatching of a single thread drawn as a stroke (on and off, in mm): nothing for none, one
    length for a line without gaps.
    """

    fill: Colour
    on: Colour
    slopes: tuple[int, ...]  # 1 rising, -1 falling, 0 level
    spacing: float
    dash: tuple[float, ...] = ()


@record
class Hatching:
    """Lines over a cell, and the strokes along a single thread that stand for them."""

    slopes: tuple[int, ...]
    spacing: float
    dash: tuple[float, ...]


HATCHINGS: Final = (
    Hatching((), 0.0, ()),
    Hatching((0,), 1.7, (1.0,)),
    Hatching((1,), 1.7, (2.4, 1.0)),
    Hatching((-1,), 1.25, (0.5, 0.8)),
    Hatching((1, -1), 1.9, (2.4, 0.7, 0.5, 0.7)),
    Hatching((0,), 0.85, (1.1, 0.6)),
    Hatching((1, -1), 1.2, (1.6, 0.6, 0.4, 0.6, 0.4, 0.6)),
)


def ink_of(colour: Colour, number: int) -> Ink:
    """The ink of a yarn of this colour, or of none stated, with one of the :data:`HATCHINGS`."""
    fill, on = _legible(colour or UNSTATED)
    hatched = HATCHINGS[number]
    return Ink(fill, on, hatched.slopes, hatched.spacing, hatched.dash)


def contrast(one: Colour, other: Colour) -> float:
    """How well one colour reads on another, 1 to 21 (WCAG 2.2: from memory)."""
    darker, lighter = sorted((relative_luminance(one), relative_luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def copied_grey(colour: Colour) -> Colour:
    """The grey that plain copiers and grey printing make of a colour (the luma of ITU-R BT.601: from memory).

    It is not the grey of the same lightness: red comes out much darker.
    """
    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return "#" + 3 * f"{round(0.299 * red + 0.587 * green + 0.114 * blue):02x}"


def _legible(colour: Colour) -> tuple[Colour, Colour]:
    """The colour, or the nearest to it lighter or darker, and the ink that reads on it in colour and in a grey copy."""
    parts = [int(colour[at : at + 2], 16) for at in (1, 3, 5)]
    for step in range(_MOST_STEPS + 1):
        for on, away in ((WHITE, 0), (BLACK, 255)):
            fill = "#" + "".join([f"{round(part + (away - part) * step / _MOST_STEPS):02x}" for part in parts])
            if min(contrast(on, fill), contrast(on, copied_grey(fill))) >= LEAST_CONTRAST:
                return fill, on
    raise AssertionError("black reads on white")


MOST_LINES: Final = 1500  # of one hatching: twice what the largest paper of a card (1200 mm) takes


def hatching(box: Box, ink: Ink, width: float) -> Iterable[Path]:
    """The hatch lines of ``ink`` inside ``box``: one path, or none. Lines keep step from box to box.

    What is larger than any paper is drawn before anybody asks whether it fits, so its lines stand farther apart.
    """
    steps: list[Step] = []
    for slope in ink.slopes:
        across = box.height if slope == 0 else box.width + box.height
        spacing = max(ink.spacing * (1 if slope == 0 else 1.414), across / MOST_LINES)
        steps += _level_lines(box, spacing) if slope == 0 else _slant_lines(box, slope, spacing)
    if steps:
        yield Path(tuple(steps), stroke=ink.on, width=width)


def _level_lines(box: Box, spacing: float) -> list[Step]:
    steps: list[Step] = []
    for number in range(ceil(box.top / spacing), floor(box.bottom / spacing) + 1):
        y = number * spacing
        steps += [("move", box.left, y), ("line", box.right, y)]
    return steps


def _slant_lines(box: Box, slope: int, spacing: float) -> list[Step]:
    """Lines y = -slope * x + k, clipped to the box by hand: each is followed from its left end to its right end."""
    steps: list[Step] = []
    ends = sorted(y + slope * x for x in (box.left, box.right) for y in (box.top, box.bottom))
    for number in range(ceil(ends[0] / spacing), floor(ends[-1] / spacing) + 1):
        k = number * spacing
        reach = sorted(slope * (k - y) for y in (box.top, box.bottom))
        left, right = max(box.left, reach[0]), min(box.right, reach[1])
        if right - left > 1e-6:
            steps += [("move", left, k - slope * left), ("line", right, k - slope * right)]
    return steps
