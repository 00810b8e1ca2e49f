"""Where the pegs of a board or a room fall on paper: what is drawn of it, how high that is, and how far apart.

A board is drawn down to a little below the thread round the last peg that is used, and torn off there. It takes all
the width that it has, however low: so it is not to scale, and what stands side by side stays apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from math import inf
from typing import Final

from cardmaker.card.panels.cross_drawing import DIMENSION
from cardmaker.card.sheet import Sheet
from cardmaker.layout.type_setting import cap_height, tail_depth
from cardmaker.model.marks import Box, Face
from cardmaker.model.peg_plan import Peg, PegPlan
from cardmaker.model.record_class import record
from cardmaker.wording import peg_words

LEAST_RADIUS: Final = 1.1  # of a peg, in mm on paper: between the legs round it a word stands clear of both
BELOW_LAST: Final = 0.6  # of the way to the next peg below, when it is asked how much of a board is needed
BELOW_THREAD: Final = 1.25  # mm from the lowest thread to the waves of a torn edge, with what pegs are drawn too large
WAVE: Final = 1.1  # mm, the height of these waves
WORTH_TEARING: Final = 0.8  # a board is drawn whole unless less than this share of it is needed
LEGS_APART: Final = 4.25  # mm of paper between two pegs below each other
LEAST_LEGS_APART: Final = 3.9  # the same on a crowded card: the legs at two pegs stay two lines
STEEPEST: Final = 2.0  # times the scale of the width that the height may have, where there is room beside the words
CLEAR: Final = 1.0  # mm between a name and an edge, a thread, another name
BESIDE_PEG: Final = 0.5  # mm from a peg's outline to the thread, which is drawn clear of it


@record
class Extent:
    """What is drawn, in the room's millimetres; ``torn`` where the surface goes on below."""

    left: float
    top: float
    right: float
    bottom: float
    torn: bool = False

    @property
    def width(self) -> float:
        return max(1.0, self.right - self.left)

    @property
    def height(self) -> float:
        return max(1.0, self.bottom - self.top)


@record
class Ground:
    """Where the room's millimetres fall on paper."""

    left: float
    top: float
    scale_across: float
    scale_down: float
    extent: Extent
    radius: float  # of a peg, in mm on paper
    below: float = 0.0  # mm on paper below all that, down to a torn edge

    def at(self, x: float, y: float) -> tuple[float, float]:
        across, down = x - self.extent.left, y - self.extent.top
        return self.left + across * self.scale_across, self.top + down * self.scale_down

    @property
    def edges(self) -> Box:
        """What is drawn, on paper."""
        height = self.extent.height * self.scale_down + self.below
        return Box(self.left, self.top, self.extent.width * self.scale_across, height)


def pegs_height(sheet: Sheet, pegs: PegPlan, width: float) -> float:
    """The height at which the drawing fills ``width``."""
    extent = extent_of(pegs)
    return _beside_extent(sheet, pegs) + extent.height * _inner_width(sheet, pegs, width) / extent.width


def apart_height(sheet: Sheet, pegs: PegPlan) -> float:
    """The height from which the pegs that the thread meets stand apart, one under the other: their names, and the legs
    of the thread so far that an eye follows each."""
    legs = LEAST_LEGS_APART if sheet.is_crowded else LEGS_APART
    return _height_with(sheet, pegs, max(name_height(sheet), legs))


def _height_with(sheet: Sheet, pegs: PegPlan, apart: float) -> float:
    """The height at which no two pegs of the way stand closer below each other than ``apart`` mm of paper."""
    on_way = [peg for peg in pegs.pegs if peg.name in pegs.route]
    closest = min((float(lower.y_mm - upper.y_mm) for upper, lower in _below_each_other(on_way)), default=inf)
    return _beside_extent(sheet, pegs) + extent_of(pegs).height * apart / closest


def _beside_extent(sheet: Sheet, pegs: PegPlan) -> float:
    """All of the height but that of what is drawn to scale."""
    return above(sheet, pegs) + _below_thread(extent_of(pegs)) + _below(sheet, pegs)


def _below_thread(extent: Extent) -> float:
    """Paper between the last peg and a torn edge: no leg of the thread comes near the waves."""
    return BESIDE_PEG + BELOW_THREAD + WAVE if extent.torn else 0.0


def _below_each_other(pegs: Sequence[Peg]) -> list[tuple[Peg, Peg]]:
    """Pegs that follow each other on a line from the top down."""
    pairs = pairwise(sorted(pegs, key=lambda peg: (peg.x_mm, peg.y_mm)))
    return [(upper, lower) for upper, lower in pairs if upper.x_mm == lower.x_mm]


def across(pegs: PegPlan) -> list[Fraction]:
    """How far to the right the pegs stand."""
    return [peg.x_mm for peg in pegs.pegs]


def name_height(sheet: Sheet) -> float:
    """What one name takes of the height where names stand below each other."""
    return cap_height(sheet.sizes.smallest) + tail_depth(sheet.sizes.smallest) + 0.3


def above(sheet: Sheet, pegs: PegPlan) -> float:
    """The room over the upper edge: for names, and in a room, which has no board's edges to go by, for lengths."""
    lengths = DIMENSION if pegs.surface_mm is None else 0.0
    return lengths + _beyond(pegs) + cap_height(sheet.sizes.smallest) + 2 * CLEAR


def _beyond(pegs: PegPlan) -> float:
    """For the thread outside the outermost pegs, where these do not stand well inside a board."""
    return 0.0 if pegs.kind == "board" and pegs.surface_mm is not None else BESIDE_PEG


def _below(sheet: Sheet, pegs: PegPlan) -> float:
    """The room for names under the lower edge, where pegs stand between the outer ones, and in a room for threads."""
    lowest, outer = max(peg.y_mm for peg in pegs.pegs), (min(across(pegs)), max(across(pegs)))
    beyond = _beyond(pegs)
    if all(peg.x_mm in outer for peg in pegs.pegs if peg.y_mm == lowest):
        return beyond + cap_height(sheet.sizes.smallest) / 2
    return beyond + cap_height(sheet.sizes.smallest) + 2 * CLEAR + tail_depth(sheet.sizes.smallest)


def _side_room(sheet: Sheet, pegs: PegPlan, x: Fraction) -> float:
    """For the names of the pegs at the outer edge ``x``, outside it, and in a room for threads round these."""
    names = (peg_words.peg_name(peg.name, pegs) for peg in pegs.pegs if peg.x_mm == x)
    return _beyond(pegs) + max(sheet.wide(name, Face.SANS_BOLD, sheet.sizes.smallest) for name in names) + 2 * CLEAR


def _inner_width(sheet: Sheet, pegs: PegPlan, width: float) -> float:
    return max(1.0, width - sum(_side_room(sheet, pegs, x) for x in (min(across(pegs)), max(across(pegs)))))


def extent_of(pegs: PegPlan) -> Extent:
    """All there is to see: the surface where there is one, else the pegs; down to the last peg that is used."""
    radius = float(pegs.diameter_mm) / 2
    xs = [float(peg.x_mm) for peg in pegs.pegs]
    ys = [float(peg.y_mm) for peg in pegs.pegs]
    left, top, right, bottom = min(xs) - radius, min(ys) - radius, max(xs) + radius, max(ys) + radius
    if pegs.surface_mm is not None:
        left, top = min(left, 0.0), min(top, 0.0)
        right, bottom = max(right, float(pegs.surface_mm[0])), max(bottom, float(pegs.surface_mm[1]))
    last = max(float(peg.y_mm) for peg in pegs.pegs if peg.name in pegs.route)
    if following := [y for y in ys if y > last + radius]:
        edge = last + radius
        if edge + BELOW_LAST * (min(following) - edge) - top < WORTH_TEARING * (bottom - top):
            return Extent(left, top, right, edge, torn=True)
    return Extent(left, top, right, bottom)


def ground_of(sheet: Sheet, pegs: PegPlan, box: Box) -> Ground:
    """All of it in ``box``, from its left edge to its right one, and down it as far as does not mislead."""
    extent = extent_of(pegs)
    below = _below_thread(extent)
    inner = box.inset(top=above(sheet, pegs), bottom=below + _below(sheet, pegs))
    across_paper = max(0.0, _inner_width(sheet, pegs, box.width) / extent.width)
    down_paper = max(0.0, min(STEEPEST * across_paper, inner.height / extent.height))
    left = box.left + _side_room(sheet, pegs, min(across(pegs)))
    radius = max(LEAST_RADIUS, float(pegs.diameter_mm) / 2 * min(across_paper, down_paper))
    return Ground(left, inner.top, across_paper, down_paper, extent, radius, below)
