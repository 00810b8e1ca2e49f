"""One heddle board on paper: its wood, its holes and slots, the pencil mark, and the ends that go through."""

from __future__ import annotations

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, HEAVY, OUTLINE, RULE, SOFT, WHITE
from cardmaker.layout.type_setting import cap_height, tail_depth
from cardmaker.model.loom import Loom, Space
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Path, Rectangle, Step, Words
from cardmaker.model.record_class import record
from cardmaker.wording import heddle_words

BELOW_OPENINGS = 2.2  # wood


@record
class HeddleBoard:
    """One heddle on paper: where its wood lies, and where each space stands."""

    loom: Loom
    wood: Box
    left: float  # of space 1
    pitch: float
    flipped: bool  # the back heddle of an opposite pair: holes where the front one has slots
    header: float  # wood above the openings, where the counting numbers stand

    def x(self, space: int) -> float:
        return self.left + (space - 0.5) * self.pitch

    def kind(self, space: int) -> Space:
        kind = self.loom.kind_of(space)
        return kind.opposite if self.flipped else kind

    @property
    def middle(self) -> float:
        """Where the pencil mark stands."""
        return self.left + self.loom.spaces * self.pitch / 2

    @property
    def slot_top(self) -> float:
        return self.wood.top + self.header

    @property
    def slot_bottom(self) -> float:
        return self.wood.bottom - BELOW_OPENINGS

    @property
    def eye(self) -> float:
        """The height at which the holes are drilled: the middle of the slots."""
        return (self.slot_top + self.slot_bottom) / 2

    @property
    def slot_width(self) -> float:
        return min(1.8, self.pitch * 0.42)

    @property
    def hole_radius(self) -> float:
        return min(1.35, self.pitch * 0.33)


def board_wood(board: HeddleBoard) -> list[Mark]:
    """An outline as a hand cuts it: shoulders rounded, the top a little bowed, the grain of the lower edge."""
    wood = board.wood
    left, right, top, bottom = wood.left, wood.right, wood.top, wood.bottom
    r = min(4.0, wood.height / 4)
    bow = 0.7
    outline = Path(
        (
            ("move", left, bottom - r * 0.6),
            ("curve", left + 0.2, top + wood.height * 0.6, left - 0.15, top + r * 1.6, left + 0.1, top + r),
            ("curve", left + 0.3, top + r * 0.3, left + r * 0.5, top + bow, left + r * 1.3, top + bow * 0.8),
            (
                "curve", left + wood.width * 0.33, top - bow * 0.5, right - wood.width * 0.36, top - bow * 0.2,
                right - r * 1.2, top + bow,
            ),
            ("curve", right - r * 0.4, top + bow, right - 0.2, top + r * 0.4, right - 0.1, top + r),
            ("curve", right + 0.2, top + wood.height * 0.5, right - 0.2, bottom - r * 1.5, right, bottom - r * 0.6),
            ("curve", right - 0.1, bottom - 0.1, right - r * 0.4, bottom, right - r, bottom),
            ("line", left + r, bottom),
            ("curve", left + r * 0.3, bottom, left + 0.1, bottom - 0.1, left, bottom - r * 0.6),
            ("close",),
        ),
        fill=WHITE, stroke=BLACK, width=HEAVY * 0.7,
    )  # fmt: skip
    grain = Line(left + r * 1.2, bottom - 1.0, right - r * 1.6, bottom - 1.0, HAIRLINE, FAINT)
    return [outline, grain]


def board_openings(board: HeddleBoard) -> list[Mark]:
    """Round holes and tall slots, all of them, white until an end goes through."""
    marks: list[Mark] = []
    slot = board.slot_width
    for space in range(1, board.loom.spaces + 1):
        x = board.x(space)
        if board.kind(space) is Space.SLOT:
            box = Box(x - slot / 2, board.slot_top, slot, board.slot_bottom - board.slot_top)
            marks.append(Rectangle(box, WHITE, BLACK, RULE, slot / 2))
        else:
            marks.append(Dot(x, board.eye, board.hole_radius, WHITE, BLACK, RULE))
    return marks


def board_threads(sheet: Sheet, board: HeddleBoard, offset: int, bottom: float) -> list[Mark]:
    """Each end in its colour, out of its space and down: cased in black so that white yarn shows on white paper."""
    marks: list[Mark] = []
    plan = sheet.plan
    thick = min(1.15, board.pitch * 0.4)
    for end_number, yarn in enumerate(plan.end_yarns, start=1):
        space = plan.placement.space_of(end_number) + offset
        x, fill = board.x(space), sheet.inks[yarn].fill
        marks.append(Line(x, board.eye, x, bottom, thick + 2 * OUTLINE, BLACK))
        marks.append(Line(x, board.eye, x, bottom, thick, fill))
        if board.kind(space) is Space.HOLE:
            marks.append(Dot(x, board.eye, board.hole_radius, fill, BLACK, OUTLINE))
        else:
            marks.append(Dot(x, board.eye, thick / 2 + RULE / 2, fill, BLACK, RULE))
    return marks


def board_numbers(sheet: Sheet, board: HeddleBoard) -> list[Mark]:
    """Counting numbers outwards from the mark on both sides, every fifth in a heavier face; ticks for the others."""
    marks: list[Mark] = []
    size = sheet.sizes.smallest
    roomy = board.pitch >= sheet.wide("00", Face.SANS, size) + 0.7
    baseline = board.wood.top + 1.9 + cap_height(size)
    for space in range(1, board.loom.spaces + 1):
        x, count = board.x(space), heddle_words.counted_number(space, board.loom)
        fifth = count % 5 == 0 and count > 0
        if fifth or roomy:
            face = Face.SANS_BOLD if fifth else Face.SANS
            marks.append(Words(x, baseline, str(count), face, size, align="middle"))
        if not roomy:
            marks.append(Line(x, baseline + 0.7, x, baseline + 0.7 + (0.9 if fifth else 0.5), HAIRLINE))
    return [*marks, *_pencil_mark(board.middle, board.wood.top)]


def _pencil_mark(x: float, top: float) -> list[Mark]:
    """The pencil mark at the middle: a short stroke over the edge of the board with a point below it."""
    point: tuple[Step, ...] = (
        ("move", x - 1.2, top - 3.0), ("line", x + 1.2, top - 3.0), ("line", x, top - 1.0), ("close",),
    )  # fmt: skip
    return [Line(x, top - 1.6, x, top + 1.4, HEAVY), Path(point, fill=BLACK)]


def board_name(sheet: Sheet, board: HeddleBoard, name: str) -> list[Mark]:
    """Which board it is, in its cheek, where there is room for it."""
    size = sheet.sizes.smallest
    inside = tail_depth(size) + 0.3  # clear of the wood's edge with tails and all, whichever way it is mirrored
    half = sheet.wide(name, Face.SANS, size) / 2
    if 2 * half > board.wood.height - 2:
        return []
    x, y = board.wood.left + inside + cap_height(size), board.wood.top + board.wood.height / 2 + half
    return [Words(x, y, name, Face.SANS, size, SOFT, turned=90)]
