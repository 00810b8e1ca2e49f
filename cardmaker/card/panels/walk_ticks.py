"""The boxes to tick of the walk: which totals, and on which line outside its post each stands."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from cardmaker.card.panels.walk_columns import WalkGrid
from cardmaker.card.sheet import Sheet
from cardmaker.card.tick_boxes import TickBox
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, OUTLINE, WHITE
from cardmaker.layout.tick_squares import tick_side, tick_square
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Colour, Face, Line, Mark, Rectangle, Words
from cardmaker.model.plan import Post
from cardmaker.model.record_class import record, replace
from cardmaker.reckoning.winding.walk import Walk, ticked_totals

BESIDE_BOX: Final = 0.7  # mm from a total to its box
BESIDE_TOTAL: Final = 1.9  # mm from a box to the next total: well more than to its own
BESIDE_STEM: Final = 0.5  # mm
BETWEEN_LINES: Final = 1.2  # mm from one line of boxes to the next
ASIDE: Final = (0.0, 0.5, 1.0)  # mm that a box may move on, its stem still under it, to stand on a nearer line


@record
class WalkTick:
    """A box to tick with its total: after which stroke, and on which line outside the post it stands."""

    at: int
    total: int
    post: Post
    left: float  # of the total, in mm from where the strokes of its row begin
    box: float  # the left of its box, which stands at the end of the stroke
    stem: float  # where the stroke ends
    line: int

    @property
    def colour(self) -> Colour:
        return ACCENT if self.post is Post.FAR else BLACK

    def marks(self, sheet: Sheet, start: float, post: float, first: float) -> list[Mark]:
        """The total and its box, where strokes begin at ``start``, at the height of their post, the first line of boxes
        that far outside it; the stem lies below them."""
        side, size = tick_side(sheet.sizes.body), sheet.sizes.body
        outwards = 1 if self.post is Post.FAR else -1
        near = post + outwards * (first + self.line * (side + BETWEEN_LINES))
        x, top = start + self.left, min(near, near + outwards * side)
        words = Words(x, top + (side + cap_height(size)) / 2, str(self.total), Face.SANS_BOLD, size, self.colour)
        plate = Box(x, top, sheet.wide(words.text, words.face, size), side)
        square = tick_square(start + self.box, top, side, self.colour)
        stem = Line(start + self.stem, post, start + self.stem, near, HAIRLINE, self.colour)
        return [stem, Rectangle(plate, WHITE), *square, words]


def ticks_of_row(sheet: Sheet, walk: Walk, row: range, grid: WalkGrid) -> tuple[WalkTick, ...]:
    """The boxes at the strokes that are drawn of a row: each stands at its stroke's end, with its total before it, so
    that the last finds room at the edge too.

    Lines are dealt from the left: the stem of a box on an upper line then runs past the box before it.
    """
    totals: Mapping[int, int] = ticked_totals(walk, sheet.plan.winding.method)
    side, size = tick_side(sheet.sizes.body), sheet.sizes.body
    ticks: list[WalkTick] = []
    for at in (position for position in grid.drawn(row) if position in totals):
        box = grid.stop(row, at) - side / 2
        left = box - BESIDE_BOX - sheet.wide(str(totals[at]), Face.SANS_BOLD, size)
        tick = WalkTick(at, totals[at], walk.stop_of(at), left, box, grid.stop(row, at), 0)
        before = [each for each in ticks if each.post is tick.post]
        moved = [replace(tick, left=left + aside, box=box + aside) for aside in ASIDE]
        placed = [replace(each, line=_free_line(each, before, side)) for each in moved]
        ticks.append(min(placed, key=lambda each: each.line))
    return tuple(ticks)


def _free_line(tick: WalkTick, before: list[WalkTick], side: float) -> int:
    """The nearest line on which a box and its total meet neither a box before them nor the stem of one above."""

    def is_free(line: int) -> bool:
        return all(
            each.line < line
            or (each.line == line and each.box + side + BESIDE_TOTAL <= tick.left)
            or (each.line > line and each.stem + BESIDE_STEM <= tick.left)
            for each in before
        )

    return next(line for line in range(len(before) + 1) if is_free(line))


def ticks_not_drawn(sheet: Sheet, walk: Walk, grid: WalkGrid) -> list[int]:
    """The positions that are ticked after strokes which are left out of the drawing."""
    totals = ticked_totals(walk, sheet.plan.winding.method)
    return [at for at in totals if at not in grid.columns.column_of]


def walk_tick_box(text: str, post: Post) -> TickBox:
    """A box with its total in a row of its own; at the far post in the accent, and underlined for a grey copy."""
    is_far = post is Post.FAR
    return TickBox(text, ACCENT if is_far else BLACK, Face.SANS_BOLD, marked=is_far)


def room_past_last(sheet: Sheet) -> float:
    """How far the half of a box at the end of the last stroke reaches past it, in mm."""
    return tick_side(sheet.sizes.body) / 2 + OUTLINE + max(ASIDE)
