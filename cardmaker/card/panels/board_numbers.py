"""What stands below a heddle: numbers outwards from its mark, and the flag under the first end."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from cardmaker.card.panels.heddle_board import HeddleBoard, drawing_scale
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, HAIRLINE, SOFT
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Face, Line, Mark, Path, Step, Words
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
