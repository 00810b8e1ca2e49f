"""What stands below a heddle: numbers outwards from its mark, and the flag under the first end."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.panels.heddle_board import HeddleBoard, drawing_scale
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, SOFT
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Colour, Face, Line, Mark, Path, Step, Words
from cardmaker.model.record_class import record
from cardmaker.wording import heddle_words

FLAG: Final = 1.9  # mm, the height of the flag under the first end
BELOW_FLAG: Final = 0.7  # mm from the flag to the capitals of its name
BESIDE_FLAG: Final = 1.3  # mm from a number to the flag's name, which is bold and has a colour of its own
BETWEEN_NUMBERS: Final = 3.0  # mm from one number to the next, at the least
A_FEW: Final = 11  # spaces


def below_board(sheet: Sheet) -> float:
    """How far flag and numbers reach below the hanging ends."""
    return 0.4 + FLAG * drawing_scale(sheet) + BELOW_FLAG + cap_height(sheet.sizes.body) + 0.3


def numbers_below(sheet: Sheet, board: HeddleBoard, bottom: float, edges: Box) -> list[Mark]:
    """Counting numbers outwards from the mark, all with their side or none, and what is said on the mark itself; under
    their ends the first space by name, flagged in the accent, and the last one, both in bold.

    ``bottom`` is where the ends stop; the words keep between the sides of ``edges``. The names of the first and the
    last space give way outwards to the number at the mark; another number keeps two digits away from them, so that two
    are never read as one, and is left out with its stem where it cannot.
    """
    numbers = _numbers(sheet, board, edges)
    middle = (board.loom.spaces + 1) / 2
    at_mark = [number for number in numbers if number.space == middle]
    marks: list[Mark] = []
    taken: list[Box] = []
    if flagged := _flagged(sheet, board, bottom, edges, at_mark):
        taken.append(flagged[0])
        marks += flagged[1]
    if last := _last_name(sheet, board, bottom, edges, [*at_mark, *map(_as_number, taken)]):
        taken.append(last[0])
        marks += last[1]
    for number in numbers:
        apart = BESIDE_FLAG if number.space == middle else _two_digits(sheet)
        if number.is_clear_of(taken, apart):
            marks += _numbered(sheet, number, bottom)
    return marks


def _two_digits(sheet: Sheet) -> float:
    return sheet.wide("00", Face.SANS, sheet.sizes.smallest)


def _numbered(sheet: Sheet, number: _Number, bottom: float) -> list[Mark]:
    size = sheet.sizes.smallest
    return [
        _stem(sheet, number.x, bottom, SOFT),
        Words(number.middle, _baseline(sheet, bottom), number.text, Face.SANS, size, SOFT, "middle"),
    ]


def _stem(sheet: Sheet, x: float, bottom: float, colour: Colour) -> Line:
    """From below an end to its number."""
    high = cap_height(max(sheet.sizes.smallest, sheet.sizes.body if colour == BLACK else 0.0))
    return Line(x, bottom + 0.5, x, _baseline(sheet, bottom) - high - 0.5, HAIRLINE, colour)


def _baseline(sheet: Sheet, bottom: float) -> float:
    return bottom + below_board(sheet) - 0.3


@record
class _Number:
    """A number under a board: where its space is, and how far it reaches."""

    space: float
    x: float
    text: str
    left: float
    right: float

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2

    def is_clear_of(self, names: Sequence[Box], apart: float) -> bool:
        return all(self.right <= name.left - apart or self.left >= name.right + apart for name in names)


def _numbers(sheet: Sheet, board: HeddleBoard, edges: Box) -> list[_Number]:
    """The numbers that find room, from the left."""
    step, middle = number_step(sheet, board), (board.loom.spaces + 1) / 2
    spaces = [
        space
        for space in range(board.first, board.last + 1)
        if space != middle and heddle_words.counted_number(space, board.loom) % step == 0
    ]
    with_side = step > 1 or _widest(sheet, board, with_side=True) + BETWEEN_NUMBERS / 2 <= board.pitch
    numbers = [_number(sheet, board, space, with_side=with_side) for space in spaces]
    if board.is_marked:
        numbers.append(_number(sheet, board, middle))
    shown = [each for each in numbers if each.left >= edges.left and each.right <= edges.right]
    return sorted(_clear_of_mark(shown, middle), key=lambda number: number.x)


def _number(sheet: Sheet, board: HeddleBoard, space: float, *, with_side: bool = False) -> _Number:
    text = heddle_words.number_on_board(space, board.loom, with_side=with_side)
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
    """Every fifth number, tenth or twentieth: as close as they stand well apart with their sides. Of a few spaces that
    are drawn large every one has its number where there is room, if need be all of them without."""
    apart = BETWEEN_NUMBERS / 2
    if board.last - board.first < A_FEW and _widest(sheet, board, with_side=False) + apart <= board.pitch:
        return 1
    wide = _widest(sheet, board, with_side=True) + apart
    return next((step for step in (5, 10, 20) if step * board.pitch >= wide), 50)


def _widest(sheet: Sheet, board: HeddleBoard, *, with_side: bool) -> float:
    """How much room the widest number takes."""
    middle = board.loom.middle_space
    spaces = (space for space in range(board.first, board.last + 1) if space != middle)
    numbers = [_number(sheet, board, space, with_side=with_side) for space in spaces]
    return max((number.right - number.left for number in numbers), default=0.0)


def _flagged(
    sheet: Sheet, board: HeddleBoard, bottom: float, edges: Box, at_mark: Sequence[_Number]
) -> tuple[Box, list[Mark]] | None:
    """The room of the first space's name, with its flag under the first end; None where it is not drawn."""
    space = sheet.plan.placement.first_space
    if not board.first <= space <= board.last:
        return None
    x, top = board.x(space), bottom + 0.4
    high = FLAG * board.scale
    half = high * 0.6
    name, words = _name(sheet, board, space, half, bottom, edges, at_mark, ACCENT)
    steps: tuple[Step, ...] = (
        ("move", x, top), ("line", x + half, top + high), ("line", x - half, top + high), ("close",),
    )  # fmt: skip
    left, right = min(name.left, x - half), max(name.right, x + half)
    return Box(left, top, right - left, 0.0), [Path(steps, ACCENT), words]


def _last_name(
    sheet: Sheet, board: HeddleBoard, bottom: float, edges: Box, others: Sequence[_Number]
) -> tuple[Box, list[Mark]] | None:
    """The same of the last space, with a stem; None where it is not drawn, or is too near to what is named already."""
    space = sheet.plan.placement.last_space
    if not board.first <= space <= board.last or sheet.plan.ends == 1:
        return None
    name, words = _name(sheet, board, space, 0.6, bottom, edges, others, BLACK)
    if any(name.left < each.right + BESIDE_FLAG and each.left < name.right + BESIDE_FLAG for each in others):
        return None
    return name, [_stem(sheet, board.x(space), bottom, BLACK), words]


def _as_number(name: Box) -> _Number:
    return _Number(0.0, name.middle, "", name.left, name.right)


def _name(
    sheet: Sheet,
    board: HeddleBoard,
    space: int,
    half: float,
    bottom: float,
    edges: Box,
    others: Sequence[_Number],
    colour: Colour,
) -> tuple[Box, Words]:
    """A space by its name under its end, or as far outwards as what stands beside it asks: no farther than where it
    still touches what leads to it, which is ``half`` mm wide on either side."""
    size, x = sheet.sizes.body, board.x(space)
    text = heddle_words.name_on_board(space, board.loom)
    wide = sheet.wide(text, Face.SANS_BOLD, size)
    middle, farthest = x, half + wide / 2
    if x < board.middle and (rights := [other.left for other in others if other.x > x]):
        middle = max(min(x, min(rights) - BESIDE_FLAG - wide / 2), x - farthest)
    if x > board.middle and (lefts := [other.right for other in others if other.x < x]):
        middle = min(max(x, max(lefts) + BESIDE_FLAG + wide / 2), x + farthest)
    middle = min(max(middle, edges.left + wide / 2), edges.right - wide / 2)
    words = Words(middle, _baseline(sheet, bottom), text, Face.SANS_BOLD, size, colour, "middle")
    return Box(middle - wide / 2, 0.0, wide, 0.0), words
