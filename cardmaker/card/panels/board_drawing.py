"""One heddle board on paper: its wood, its holes and slots, the pencil mark, the ends that go through, the numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final, NamedTuple

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, FAINT, HAIRLINE, HEAVY, OUTLINE, RULE, SOFT, WHITE
from cardmaker.layout.lettering import hatched_cell
from cardmaker.layout.single_threads import thread_line
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.loom import Loom, Space
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Path, Rectangle, Step, Words
from cardmaker.model.record_class import record
from cardmaker.wording import heddle_words

COMMON_PRINT: Final = 11.0  # points, the smallest type up to which drawings have one size
NARROWEST_THREAD_PITCH: Final = 1.2  # mm from space to space: where they lie closer, ends are bands of colour
APART: Final = 0.22  # mm from the dark edge of one end to that of the next
HANG: Final = 3.4  # mm that the ends hang below the board
FLAG: Final = 1.9  # mm, the height of the flag under the first end
BELOW_FLAG: Final = 0.7  # mm from the flag to the capitals of its name
BESIDE_FLAG: Final = 1.3  # mm from a number to the flag's name, which is bold and has a colour of its own
BETWEEN_NUMBERS: Final = 3.0  # mm from one number to the next, at the least
NAME_INSET: Final = 3.2  # mm from the end of a board to its name
TORN: Final = 0.7  # mm within the width to the middle of a torn edge, which goes to and fro
A_FEW: Final = 11  # spaces
MARK_HEIGHT: Final = 1.9  # mm, the triangle of the pencil mark


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
    def slot_width(self) -> float:
        return min(1.8 * self.scale, self.pitch * 0.42)

    @property
    def hole_radius(self) -> float:
        return min(1.35 * self.scale, self.pitch * 0.33)

    @property
    def thread(self) -> float:
        """How thick an end is, without its dark edges."""
        return min(1.15 * self.scale, self.pitch * 0.45, self.pitch - 2 * OUTLINE - APART)

    @property
    def in_bands(self) -> bool:
        """Whether its ends lie too close to be drawn one by one."""
        return self.pitch < NARROWEST_THREAD_PITCH


# the wood


def board_wood(board: HeddleBoard) -> list[Mark]:
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


# holes, slots and what goes through them


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
    thick = board.thread
    stop = bottom - thick / 2 - OUTLINE  # its end is round
    for space, yarn in _ends_on(sheet, board, offset):
        x, fill = board.x(space), sheet.inks[yarn].fill
        marks += thread_line(sheet.inks[yarn], x, board.eye, x, stop, thick)
        if board.kind(space) is Space.HOLE:
            marks.append(Dot(x, board.eye, board.hole_radius, fill, BLACK, OUTLINE))
        else:
            marks.append(Dot(x, board.eye, thick / 2 + OUTLINE / 2, fill, BLACK, OUTLINE))
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


# the mark, the numbers, the flag


def pencil_mark(board: HeddleBoard, foot: float) -> list[Mark]:
    """The pencil mark at the middle: a triangle with a white edge, its point at ``foot``, and a stroke below it."""
    x, high = board.middle, MARK_HEIGHT * board.scale
    half, top = high * 0.62, foot - high
    point: tuple[Step, ...] = (("move", x - half, top), ("line", x + half, top), ("line", x, foot), ("close",))
    stroke = Line(x, foot - 0.4, x, foot + 1.3, HEAVY)
    return [Path(point, WHITE, WHITE, 0.8), stroke, Path(point, BLACK)]


def below_board(sheet: Sheet) -> float:
    """How far flag and numbers reach below the hanging ends."""
    return 0.4 + FLAG * drawing_scale(sheet) + BELOW_FLAG + cap_height(sheet.sizes.body) + 0.3


def board_numbers(sheet: Sheet, board: HeddleBoard, bottom: float, edges: Box) -> list[Mark]:
    """Counting numbers outwards from the mark on both sides, the outermost with their side, what is said on the mark
    itself, and under its end the first space by name, in the accent.

    ``bottom`` is where the ends stop; the words keep between the sides of ``edges``. The name of the first space gives
    way outwards, so that no number between it and the mark is missing.
    """
    size, baseline = sheet.sizes.smallest, bottom + below_board(sheet) - 0.3
    numbers = _numbers(sheet, board, edges)
    marks, taken = _flag(sheet, board, bottom, edges, numbers)
    for number in numbers:
        if taken is None or number.right <= taken.left - BESIDE_FLAG or number.left >= taken.right + BESIDE_FLAG:
            marks.append(Line(number.x, bottom + 0.5, number.x, baseline - cap_height(size) - 0.5, HAIRLINE, SOFT))
            marks.append(Words(number.middle, baseline, number.text, Face.SANS, size, SOFT, "middle"))
    return marks


class _Number(NamedTuple):
    """A number under a board: where its space is, and how far it reaches."""

    space: float
    x: float
    text: str
    left: float
    right: float

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2


def _numbers(sheet: Sheet, board: HeddleBoard, edges: Box) -> list[_Number]:
    """The numbers that find room, from the left; a first space that is flagged needs none."""
    step, middle = number_step(sheet, board), (board.loom.spaces + 1) / 2
    spaces = [
        space
        for space in range(board.first, board.last + 1)
        if space != middle and heddle_words.counted_number(space, board.loom) % step == 0
    ]
    outermost = {min((s for s in spaces if s < middle), default=0), max((s for s in spaces if s > middle), default=0)}
    numbers = [_number(sheet, board, space, space_at_edge=space in outermost) for space in spaces]
    if board.is_marked:
        numbers.append(_number(sheet, board, middle))
    shown = [each for each in numbers if each.left >= edges.left and each.right <= edges.right]
    return sorted(_clear_of_mark(shown, middle), key=lambda number: number.x)


def _number(sheet: Sheet, board: HeddleBoard, space: float, *, space_at_edge: bool = False) -> _Number:
    text = heddle_words.number_on_board(space, board.loom, with_side=space_at_edge)
    x, half = board.x(space), sheet.wide(text, Face.SANS, sheet.sizes.smallest) / 2
    return _Number(space, x, text, x - half, x + half)


def _clear_of_mark(numbers: Sequence[_Number], middle: float) -> list[_Number]:
    """Without those that the number at the mark would touch."""
    at_mark = next((number for number in numbers if number.space == middle), None)
    if at_mark is None:
        return list(numbers)
    near = at_mark.left - BETWEEN_NUMBERS / 2, at_mark.right + BETWEEN_NUMBERS / 2
    return [each for each in numbers if each is at_mark or each.right <= near[0] or each.left >= near[1]]


def number_step(sheet: Sheet, board: HeddleBoard) -> int:
    """Every fifth number, tenth or twentieth: as close as they stand well apart. Of a few spaces that are drawn large
    every one has its number where there is room."""
    counts = [str(heddle_words.counted_number(space, board.loom)) for space in range(board.first, board.last + 1)]
    wide = max(sheet.wide(count, Face.SANS, sheet.sizes.smallest) for count in counts)
    steps = (1, 5, 10, 20) if len(counts) <= A_FEW else (5, 10, 20)
    return next((step for step in steps if step * board.pitch >= wide + BETWEEN_NUMBERS / 2), 50)


def _flag(
    sheet: Sheet, board: HeddleBoard, bottom: float, edges: Box, numbers: Sequence[_Number]
) -> tuple[list[Mark], Box | None]:
    """The flag under the first end, and the room that its name takes; nothing where it is not drawn."""
    space = sheet.plan.placement.first_space
    if not board.first <= space <= board.last:
        return [], None
    size, x, top = sheet.sizes.body, board.x(space), bottom + 0.4
    text = heddle_words.first_label(sheet.plan)
    high = FLAG * board.scale
    half = high * 0.6
    name = _flag_name(sheet.wide(text, Face.SANS_BOLD, size), x, half, board.middle, edges, numbers)
    steps: tuple[Step, ...] = (
        ("move", x, top), ("line", x + half, top + high), ("line", x - half, top + high), ("close",),
    )  # fmt: skip
    words = Words(name.middle, bottom + below_board(sheet) - 0.3, text, Face.SANS_BOLD, size, ACCENT, "middle")
    left, right = min(name.left, x - half), max(name.right, x + half)
    return [Path(steps, ACCENT), words], Box(left, top, right - left, 0.0)


def _flag_name(wide: float, x: float, half: float, mark: float, edges: Box, numbers: Sequence[_Number]) -> Box:
    """Where the name of the first space stands: under its flag, or as far outwards as the number beside it asks."""
    middle, farthest = x, half + wide / 2  # no farther than where the flag still touches it
    if x < mark and (rights := [number.left for number in numbers if number.x > x]):
        middle = max(min(x, rights[0] - BESIDE_FLAG - wide / 2), x - farthest)
    if x > mark and (lefts := [number.right for number in numbers if number.x < x]):
        middle = min(max(x, lefts[-1] + BESIDE_FLAG + wide / 2), x + farthest)
    middle = min(max(middle, edges.left + wide / 2), edges.right - wide / 2)
    return Box(middle - wide / 2, 0.0, wide, 0.0)


def board_name(sheet: Sheet, board: HeddleBoard, name: str) -> list[Mark]:
    """Which of two boards it is, on its wood beside the mark."""
    size = sheet.sizes.smallest
    return [Words(board.wood.left + NAME_INSET, name_baseline(sheet, board), name, Face.SANS_SEMIBOLD, size)]


def name_baseline(sheet: Sheet, board: HeddleBoard) -> float:
    """The baseline of a board's name, between its upper edge and the openings."""
    return board.wood.top + 1.9 + cap_height(sheet.sizes.smallest)


def named_header(sheet: Sheet) -> float:
    """The wood above the openings of a board that bears its name and its mark."""
    return 1.9 + max(cap_height(sheet.sizes.smallest), MARK_HEIGHT * drawing_scale(sheet)) + 1.4
