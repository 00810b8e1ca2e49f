"""One heddle board on paper: where its wood lies, and where each of its spaces stands."""

from __future__ import annotations

from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import HAIRLINE, OUTLINE
from cardmaker.model.loom import Loom, Space
from cardmaker.model.marks import Box
from cardmaker.model.record_class import record

COMMON_PRINT: Final = 11.0  # points, the smallest type up to which drawings have one size
NARROWEST_THREAD_PITCH: Final = 1.2  # mm from space to space: where they lie closer, ends are bands of colour
EDGE_SHARE: Final = 0.09  # of the pitch, the dark edge of an end: else little of a thin one is its colour
THREAD_SHARE: Final = 0.62  # of the pitch: an end with its dark edges; much white stays between two
HOLE_SHARE: Final = 0.46  # of the pitch, the radius of a hole: on either side of it there is but a slot
SLOT_SHARE: Final = 0.42
SLOT_EYE: Final = 0.68  # of the height of a slot: where its end comes out


def drawing_scale(sheet: Sheet) -> float:
    """How much larger a board is drawn than on a card in common print."""
    return max(1.0, sheet.sizes.smallest / COMMON_PRINT)


@record
class HeddleBoard:
    """One heddle on paper, or some of its spaces: where its wood lies, and where each space stands."""

    loom: Loom
    wood: Box
    left: float  # of the first of its spaces
    pitch: float
    header: float  # wood above the openings
    footer: float  # and below them
    first: int
    last: int
    scale: float  # of what does not follow from the pitch: large print has larger drawings
    flipped: bool = False  # the back heddle of an opposite pair: holes where the front one has slots

    def x(self, space: float) -> float:
        return self.left + (space - self.first + 0.5) * self.pitch

    def kind(self, space: int) -> Space:
        kind = self.loom.kind_of(space)
        return kind.opposite if self.flipped else kind

    @property
    def middle(self) -> float:
        """Where the pencil mark stands."""
        return self.x((self.loom.spaces + 1) / 2)

    @property
    def is_marked(self) -> bool:
        """Whether the pencil mark stands on this piece; where a board is broken at the mark, on the left one."""
        return self.first <= (self.loom.spaces + 1) / 2 < self.last + 1

    @property
    def slot_top(self) -> float:
        return self.wood.top + self.header

    @property
    def slot_bottom(self) -> float:
        return self.wood.bottom - self.footer

    @property
    def eye(self) -> float:
        """The height at which the holes are drilled: the middle of the slots."""
        return (self.slot_top + self.slot_bottom) / 2

    @property
    def slot_eye(self) -> float:
        """Where an end comes out of its slot: low in it, so that the opening is seen above it and the row of holes
        stands alone."""
        return self.slot_top + SLOT_EYE * (self.slot_bottom - self.slot_top)

    @property
    def slot_width(self) -> float:
        return min(1.8 * self.scale, self.pitch * SLOT_SHARE)

    @property
    def hole_radius(self) -> float:
        return min(1.35 * self.scale, self.pitch * HOLE_SHARE)

    @property
    def edge(self) -> float:
        """How thick the dark edge of an end is."""
        return min(OUTLINE, max(HAIRLINE, self.pitch * EDGE_SHARE))

    @property
    def thread(self) -> float:
        """How thick an end is, without its dark edges."""
        return min(1.15 * self.scale, self.pitch * 0.45, self.pitch * THREAD_SHARE - 2 * self.edge)

    @property
    def in_bands(self) -> bool:
        """Whether its ends lie too close to be drawn one by one."""
        return self.pitch < NARROWEST_THREAD_PITCH
