"""Line widths, in millimetres, and colours: greys, and the yarn's own, hatched so that a grey copy keeps stripes apart.

Letters carry the name of a stripe; hatching carries its place from light to dark; colour only helps.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, floor
from typing import Final

from cardmaker.model.marks import Box, Colour, Path, Step
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.colour_clash import lightness

POINT: Final = 25.4 / 72

BLACK: Final = "#000000"
WHITE: Final = "#ffffff"
SOFT: Final = "#4d4d4d"  # 70 % black: the lightest that words are set in, so that a copier keeps them
FAINT: Final = "#666666"  # 60 % black: guide lines only
ACCENT: Final = "#6f1148"  # one accent, for "start here" and "far" only; dark enough for a copier

HAIRLINE: Final = 0.4 * POINT
RULE: Final = 0.6 * POINT
OUTLINE: Final = 0.75 * POINT
HEAVY: Final = 1.5 * POINT

UNSTATED: Final = "#ffffff"  # a yarn whose file states no colour stays paper white; its letters name it


@record
class Ink:
    """How one yarn is drawn: its fill, the ink that reads on it, and its hatching (slopes and spacing in mm)."""

    fill: Colour
    on: Colour
    slopes: tuple[int, ...]  # 1 rising, -1 falling, 0 level
    spacing: float


_HATCHES: Final[tuple[tuple[tuple[int, ...], float], ...]] = (
    ((), 0.0),
    ((0,), 1.7),
    ((1,), 1.7),
    ((-1,), 1.25),
    ((1, -1), 1.9),
    ((0,), 0.85),
    ((1, -1), 1.2),
)


def yarn_inks(colours: Sequence[tuple[str, Colour]]) -> dict[str, Ink]:
    """The ink of each (yarn, colour): no two hatchings alike up to seven yarns, the lightest with none."""
    by_lightness = sorted(colours, key=lambda pair: (-lightness(pair[1] or UNSTATED), pair[0]))
    inks = {}
    for rank, (yarn, colour) in enumerate(by_lightness):
        fill = colour or UNSTATED
        slopes, spacing = _HATCHES[min(rank, len(_HATCHES) - 1)]
        inks[yarn] = Ink(fill, BLACK if lightness(fill) > 52 else WHITE, slopes, spacing)
    return inks


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
