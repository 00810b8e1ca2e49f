"""One heddle board on paper: where its wood lies and each of its spaces stands; its wood, as a hand cuts it, with the
pencil mark; its holes and slots, and the ends that go through them, one by one or as bands of colour."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, HEAVY, OUTLINE, RULE, WHITE
from cardmaker.layout.lettering import hatched_cell
from cardmaker.layout.single_threads import thread_line, thread_widths
from cardmaker.model.loom import Loom, Space
from cardmaker.model.marks import Box, Dot, Line, Mark, Path, Rectangle, Step
from cardmaker.model.record_class import record
from cardmaker.reckoning.amounts.width import relative_thickness

COMMON_PRINT: Final = 11.0  # points, the smallest type up to which drawings have one size
NARROWEST_THREAD_PITCH: Final = 1.2  # mm from space to space: where they lie closer, ends are bands of colour
EDGE_SHARE: Final = 0.09  # of the pitch, the dark edge of an end: else little of a thin one is its colour
THREAD_SHARE: Final = 0.62  # of the pitch: an end with its dark edges; much white stays between two
HOLE_SHARE: Final = 0.46  # of the pitch, the radius of a hole: on either side of it there is but a slot
SLOT_SHARE: Final = 0.42
SLOT_EYE: Final = 0.68  # of the height of a slot: where its end comes out
TORN: Final = 0.7  # mm within the width to the middle of a torn edge, which goes to and fro
MARK_HEIGHT: Final = 1.9  # mm, the triangle of the pencil mark
HANG: Final = 3.4  # mm that the ends hang below the board
MOST_THREAD_SHARE: Final = 0.63  # of the way to the next space: a thick end with its edges


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


def wooden_board(board: HeddleBoard) -> list[Mark]:
    """An outline as a hand cuts it: shoulders rounded, the top a little bowed, the grain of the lower edge; where the
    rest of the board stands in another row, an edge as wood breaks."""
    wood = board.wood
    r = min(4.0, wood.height / 4)
    outline = Path((*_top_edge(board, r), *_right_edge(board, r), *_left_edge(board, r), ("close",)), fill=WHITE)
    grain = Line(wood.left + r * 1.2, wood.bottom - 1.0, wood.right - r * 1.6, wood.bottom - 1.0, HAIRLINE, FAINT)
    return [outline._replace(stroke=BLACK, width=HEAVY * 0.7), grain]


def _is_whole_left(board: HeddleBoard) -> bool:
    return board.first == 1


def _is_whole_right(board: HeddleBoard) -> bool:
    return board.last == board.loom.spaces


def _top_edge(board: HeddleBoard, r: float) -> tuple[Step, ...]:
    """From the left end of the top edge to its right end, a little bowed."""
    wood, bow = board.wood, 0.7
    left, right, top = wood.left, wood.right, wood.top
    start = (left + (r * 1.3 if _is_whole_left(board) else TORN), top + bow * 0.8)
    stop = (right - (r * 1.2 if _is_whole_right(board) else TORN), top + bow)
    third = wood.width / 3
    return ("move", *start), ("curve", left + third, top - bow * 0.5, right - third, top - bow * 0.2, *stop)


def _right_edge(board: HeddleBoard, r: float) -> tuple[Step, ...]:
    """From the right end of the top edge down to the bottom."""
    wood, bow = board.wood, 0.7
    right, top, bottom = wood.right, wood.top, wood.bottom
    if not _is_whole_right(board):
        return tuple(("line", x, y) for x, y in _broken_edge(right - TORN, top + bow, bottom))
    return (
        ("curve", right - r * 0.4, top + bow, right - 0.2, top + r * 0.4, right - 0.1, top + r),
        ("curve", right + 0.2, top + wood.height * 0.5, right - 0.2, bottom - r * 1.5, right, bottom - r * 0.6),
        ("curve", right - 0.1, bottom - 0.1, right - r * 0.4, bottom, right - r, bottom),
    )


def _left_edge(board: HeddleBoard, r: float) -> tuple[Step, ...]:
    """From the right end of the bottom along it, and up to the left end of the top edge."""
    wood, bow = board.wood, 0.7
    left, top, bottom = wood.left, wood.top, wood.bottom
    if not _is_whole_left(board):
        return tuple(("line", x, y) for x, y in reversed(_broken_edge(left + TORN, top + bow * 0.8, bottom)))
    return (
        ("line", left + r, bottom),
        ("curve", left + r * 0.3, bottom, left + 0.1, bottom - 0.1, left, bottom - r * 0.6),
        ("curve", left + 0.2, top + wood.height * 0.6, left - 0.15, top + r * 1.6, left + 0.1, top + r),
        ("curve", left + 0.3, top + r * 0.3, left + r * 0.5, top + bow, left + r * 1.3, top + bow * 0.8),
    )


def _broken_edge(x: float, top: float, bottom: float) -> list[tuple[float, float]]:
    """Downwards, to and fro about ``x``."""
    teeth = 5
    step = (bottom - top) / teeth
    swing = [0.0, 0.5, -0.4, 0.5, -0.5, 0.0]
    return [(x + aside, top + number * step) for number, aside in enumerate(swing)]


# its mark


def pencil_mark(board: HeddleBoard, foot: float) -> list[Mark]:
    """The pencil mark at the middle: a triangle with a white edge, its point at ``foot``, and a stroke below it."""
    x, high = board.middle, MARK_HEIGHT * board.scale
    half, top = high * 0.62, foot - high
    point: tuple[Step, ...] = (("move", x - half, top), ("line", x + half, top), ("line", x, foot), ("close",))
    stroke = Line(x, foot - 0.4, x, foot + 1.3, HEAVY)
    return [Path(point, WHITE, WHITE, 0.8), stroke, Path(point, BLACK)]


def board_openings(board: HeddleBoard) -> list[Mark]:
    """Round holes and tall slots, white until an end goes through."""
    marks: list[Mark] = []
    slot, line = board.slot_width, min(RULE, board.pitch * 0.14)
    for space in range(board.first, board.last + 1):
        x = board.x(space)
        if board.kind(space) is Space.SLOT:
            box = Box(x - slot / 2, board.slot_top, slot, board.slot_bottom - board.slot_top)
            marks.append(Rectangle(box, WHITE, BLACK, line, slot / 2))
        else:
            marks.append(Dot(x, board.eye, board.hole_radius, WHITE, BLACK, line))
    return marks


def board_threads(sheet: Sheet, board: HeddleBoard, offset: int, bottom: float) -> list[Mark]:
    """Each end in its colour and hatching, out of its space and down: cased in black, so that white yarn shows on white
    paper. ``offset`` is how many spaces further right the ends lie than in the front heddle."""
    marks: list[Mark] = []
    edge = board.edge
    thickness = relative_thickness(sheet.plan.pattern, sheet.plan.end_yarns)
    widths = thread_widths(thickness, board.thread, edge, board.pitch * MOST_THREAD_SHARE)
    for space, yarn in _ends_on(sheet, board, offset):
        x, fill, in_hole = board.x(space), sheet.inks[yarn].fill, board.kind(space) is Space.HOLE
        eye, thick = board.eye if in_hole else board.slot_eye, widths[yarn]
        stop = bottom - thick / 2 - edge  # its end is round
        marks += thread_line(sheet.inks[yarn], x, eye, x, stop, thick, edge)
        radius = board.hole_radius if in_hole else thick / 2 + edge / 2
        marks.append(Dot(x, eye, radius, fill, BLACK, edge))
    return marks


def _ends_on(sheet: Sheet, board: HeddleBoard, offset: int) -> Iterator[tuple[int, str]]:
    """The ends whose spaces are drawn: space and yarn."""
    for end_number, yarn in enumerate(sheet.plan.end_yarns, start=1):
        space = sheet.plan.placement.space_of(end_number) + offset
        if board.first <= space <= board.last:
            yield space, yarn


def board_bands(sheet: Sheet, board: HeddleBoard, offset: int, bottom: float) -> list[Mark]:
    """Neighbouring ends of one yarn as a band of its colour and hatching, from the height of the holes down."""
    marks: list[Mark] = []
    sides: list[float] = []
    for yarn, ends in groupby(_ends_on(sheet, board, offset), key=lambda end: end[1]):
        spaces = [space for space, _ in ends]
        left = board.x(spaces[0] - 0.5)
        band = Box(left, board.eye, board.x(spaces[-1] + 0.5) - left, bottom - board.eye)
        sides += [band.left, band.right]
        ink = sheet.ink_to_mirror(yarn)
        marks += hatched_cell(band, ink) if len(spaces) > 1 else [Rectangle(band, ink.fill)]
    whole = Box(min(sides), board.eye, max(sides) - min(sides), bottom - board.eye)
    return [*marks, Rectangle(whole, stroke=BLACK, width=OUTLINE)]
