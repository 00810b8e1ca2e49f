"""The boxes to tick of the walk: which totals, and in which storey outside its post each stands.

A total inside a stripe, where nothing changes, has no box: a light figure to count by.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf
from typing import Final

from cardmaker.card.panels.walk_columns import WalkGrid
from cardmaker.card.sheet import Sheet
from cardmaker.card.tick_boxes import TickBox
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, OUTLINE
from cardmaker.layout.tick_squares import tick_box
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Colour, Face, Line, Mark, Words
from cardmaker.model.plan import Post
from cardmaker.model.record_class import record, replace
from cardmaker.reckoning.winding.walk import Walk, boxed_totals, resting_totals, ticked_totals

OVER_TOTAL: Final = 0.6  # mm from a total to the box round it
BESIDE_TOTAL: Final = 0.6  # mm
APART: Final = 0.92  # mm from a box to the next beside it
BESIDE_STEM: Final = 0.5  # mm
BETWEEN_LINES: Final = 0.95  # mm from one storey of boxes to the next
STEP_ASIDE: Final = 0.3  # mm by which a box moves aside
UNDER_BOX: Final = 0.5  # mm of a box that stay on either side of its stem


@record
class WalkTick:
    """A box to tick with its total in it: after which stroke, and in which storey outside the post it stands; where
    she only rests to count, the total without a box."""

    at: int
    total: int
    post: Post
    middle: float  # of the box, in mm from where the strokes of its row begin
    stem: float  # where the stroke ends
    wide: float
    line: int
    is_rest: bool = False

    @property
    def left(self) -> float:
        return self.middle - self.wide / 2

    @property
    def right(self) -> float:
        return self.middle + self.wide / 2

    @property
    def colour(self) -> Colour:
        return ACCENT if self.post is Post.FAR else BLACK

    def marks(self, sheet: Sheet, start: float, post: float, first: float) -> list[Mark]:
        """The box with its total, where strokes begin at ``start``, at the height of their post, the first storey that
        far outside it; the stem lies below them."""
        size, high = sheet.sizes.body, storey(sheet)
        outwards = 1 if self.post is Post.FAR else -1
        near = post + outwards * (first + self.line * (high + BETWEEN_LINES))
        box = Box(start + self.left, min(near, near + outwards * high), self.wide, high)
        face = Face.SANS if self.is_rest else Face.SANS_BOLD
        x = box.left + (box.width - sheet.wide(str(self.total), face, size)) / 2
        words = Words(x, box.bottom - OVER_TOTAL, str(self.total), face, size, self.colour)
        stem = Line(start + self.stem, post, start + self.stem, near, HAIRLINE, self.colour)
        return [stem, words] if self.is_rest else [stem, tick_box(box, self.colour), words]


def storey(sheet: Sheet) -> float:
    """How high a box with its total is, in mm."""
    return cap_height(sheet.sizes.body) + 2 * OVER_TOTAL


def ticks_of_row(sheet: Sheet, walk: Walk, row: range, grid: WalkGrid) -> tuple[WalkTick, ...]:
    """The boxes at the strokes that are drawn of a row, each over the end of its stroke, with its total in it: beside
    one it might be taken for that of the next.

    Where those of a post do not find room side by side they stand by turns in two storeys, or in as many as it takes,
    so that the next total is always looked for in the next storey.
    """
    method = sheet.plan.winding.method
    totals: Mapping[int, int] = ticked_totals(walk, method)
    rests, ticks = resting_totals(walk, method), []
    for at in grid.drawn(row):
        if at in totals:
            stop, wide = grid.stop(row, at), _wide(sheet, totals[at])
            ticks.append(WalkTick(at, totals[at], walk.stop_of(at), stop, stop, wide, 0, at in rests))
    most = grid.width(row) + room_past_last(sheet)
    placed = (tick for post in Post for tick in _in_storeys([tick for tick in ticks if tick.post is post], most))
    return tuple(sorted(placed, key=lambda tick: tick.at))


def _wide(sheet: Sheet, total: int) -> float:
    """A box with a total in it; one with a single figure is no higher than it is wide."""
    return max(storey(sheet), sheet.wide(str(total), Face.SANS_BOLD, sheet.sizes.body) + 2 * BESIDE_TOTAL)


def _in_storeys(ticks: Sequence[WalkTick], most: float) -> list[WalkTick]:
    """In the fewest storeys in which they find room, none reaching past ``most``: first so that no stem runs through
    one below it, and where that cannot be, behind it."""
    if beside := _side_by_side(ticks, most):
        return beside
    for clears_stems in (True, False):
        for storeys in range(2, len(ticks) + 1):
            dealt = [replace(tick, line=number % storeys) for number, tick in enumerate(ticks)]
            if placed := _placed(dealt, most, clears_stems):
                return placed
    return []


def _side_by_side(ticks: Sequence[WalkTick], most: float) -> list[WalkTick]:
    """All in one storey, where neighbours share in moving aside, so that none moves further than it takes; nothing
    where they find no room."""
    for step in range(int(max((_most_aside(tick) for tick in ticks), default=0.0) / STEP_ASIDE) + 1):
        if lefts := _leftmost(ticks, step * STEP_ASIDE, most):
            return _back_over_stems(ticks, lefts, most)
    return []


def _leftmost(ticks: Sequence[WalkTick], aside: float, most: float) -> list[float]:
    """As far left as each may stand and clear those before it; nothing where one moves further aside than it may."""
    lefts: list[float] = []
    free = -inf
    for tick in ticks:
        far = min(aside, _most_aside(tick))
        left, middle = max(tick.stem - far - tick.wide / 2, free), tick.stem - tick.wide / 2
        if left > min(middle + far, most - tick.wide) + 0.01:
            return []
        lefts.append(left)
        free = left + tick.wide + APART
    return lefts


def _back_over_stems(ticks: Sequence[WalkTick], lefts: Sequence[float], most: float) -> list[WalkTick]:
    """Each from the last one on as near to its stem as those behind it leave it room."""
    placed: list[WalkTick] = []
    free = most
    for tick, least in zip(reversed(ticks), reversed(lefts), strict=True):
        left = max(least, min(tick.stem, free - tick.wide / 2) - tick.wide / 2)
        placed.insert(0, replace(tick, middle=left + tick.wide / 2))
        free = left - APART
    return placed


def _placed(ticks: Sequence[WalkTick], most: float, clears_stems: bool) -> list[WalkTick]:
    """Each moved aside as little as lets it clear those before it, and the stems of upper ones on either side; nothing
    where one of them cannot."""
    placed: list[WalkTick] = []
    for tick in ticks:
        moved = (replace(tick, middle=tick.stem + aside) for aside in _asides(tick))
        upper = [other for other in ticks if other.line > tick.line] if clears_stems else []
        clear = (each for each in moved if each.right <= most + 0.01 and _is_clear(each, placed, upper))
        if (found := next(clear, None)) is None:
            return []
        placed.append(found)
    return placed


def _asides(tick: WalkTick) -> list[float]:
    """How far a box may stand aside of its stem, which stays under it, the least first."""
    steps = int(_most_aside(tick) / STEP_ASIDE)
    return [0.0, *(sign * step * STEP_ASIDE for step in range(1, steps + 1) for sign in (-1, 1))]


def _most_aside(tick: WalkTick) -> float:
    return tick.wide / 2 - UNDER_BOX


def _is_clear(tick: WalkTick, before: Sequence[WalkTick], upper: Sequence[WalkTick]) -> bool:
    beside = (other for other in before if other.line == tick.line)
    return all(other.right + APART <= tick.left for other in beside) and all(
        other.stem <= tick.left - BESIDE_STEM or other.stem >= tick.right + BESIDE_STEM for other in upper
    )


def ticks_not_drawn(sheet: Sheet, walk: Walk, grid: WalkGrid) -> dict[int, int]:
    """The totals that are ticked after strokes which are left out of the drawing, by position."""
    boxed = boxed_totals(walk, sheet.plan.winding.method)
    return {at: total for at, total in boxed.items() if at not in grid.columns.column_of}


def walk_tick_box(text: str, post: Post) -> TickBox:
    """A box with its total in a row of its own; at the far post in the accent, and underlined for a grey copy."""
    is_far = post is Post.FAR
    return TickBox(text, ACCENT if is_far else BLACK, Face.SANS_BOLD, marked=is_far)


def room_past_last(sheet: Sheet) -> float:
    """How far the half of a box at the end of the last stroke reaches past it, in mm."""
    return _wide(sheet, sheet.plan.ends) / 2 + OUTLINE
