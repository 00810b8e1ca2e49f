"""What stands on the wood of one of two heddles, over its openings: its name, and on the back one its own count.

The front heddle has its numbers below it. The back one stands one space aside, and its numbers with it: what is said on
its mark, and the names of the spaces of the first end and the last.
"""

from __future__ import annotations

from typing import Final

from cardmaker.card.panels.board_wood import MARK_HEIGHT
from cardmaker.card.panels.heddle_board import HeddleBoard, drawing_scale
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, SOFT
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Colour, Face, Line, Mark, Words
from cardmaker.wording import heddle_words

NAME_INSET: Final = 3.2  # mm from the end of a board to its name
LABEL_INSET: Final = 1.4  # mm from the end of a board to the name of a space
ABOVE_LINE: Final = 1.9  # mm of wood above the names
BELOW_LINE: Final = 1.4  # and below them
BESIDE_MARK: Final = 1.1  # mm from the pencil mark to what is said on it, and to the board's name
APART: Final = 2.4  # mm between the name of a board and that of a space


def name_baseline(sheet: Sheet, board: HeddleBoard) -> float:
    """The baseline of the names, between the board's upper edge and the openings."""
    return board.wood.top + ABOVE_LINE + cap_height(sheet.sizes.smallest)


def named_header(sheet: Sheet) -> float:
    """The wood above the openings of a board that bears its name and its mark."""
    return ABOVE_LINE + max(cap_height(sheet.sizes.smallest), MARK_HEIGHT * drawing_scale(sheet)) + BELOW_LINE


def board_name(sheet: Sheet, board: HeddleBoard, name: str, *, beside_mark: bool) -> list[Mark]:
    """Which of two boards it is: at the left end of its wood, or beside its mark."""
    size, y = sheet.sizes.smallest, name_baseline(sheet, board)
    if beside_mark:
        x = board.middle - _half_mark(board) - BESIDE_MARK
        return [Words(x, y, name, Face.SANS_SEMIBOLD, size, align="right")]
    return [Words(board.wood.left + NAME_INSET, y, name, Face.SANS_SEMIBOLD, size)]


def is_name_beside_mark(sheet: Sheet, back: HeddleBoard, offset: int) -> bool:
    """Whether the left end of the back board is where its first space is named, so that its own name stands beside its
    mark."""
    label = _label(sheet, back, sheet.plan.placement.first_space + offset, ACCENT)
    wide = sheet.wide(heddle_words.BACK, Face.SANS_SEMIBOLD, sheet.sizes.smallest)
    return back.is_marked and label is not None and _left(sheet, label) < back.wood.left + NAME_INSET + wide + APART


def own_count(sheet: Sheet, board: HeddleBoard, offset: int) -> list[Mark]:
    """On the back board: what is said on its mark, and over their spaces the names of the first and the last."""
    marks: list[Mark] = []
    placement, size = sheet.plan.placement, sheet.sizes.smallest
    outermost = [(placement.first_space, ACCENT), (placement.last_space, BLACK)][: sheet.plan.ends]
    if board.is_marked:
        said = heddle_words.number_on_board((board.loom.spaces + 1) / 2, board.loom)
        x = board.middle + _half_mark(board) + BESIDE_MARK
        marks.append(Words(x, name_baseline(sheet, board), said, Face.SANS, size, SOFT))
    for space, colour in outermost:
        label = _label(sheet, board, space + offset, colour)
        if label is None or (board.is_marked and _meets_mark(sheet, board, label)):
            continue
        x = board.x(space + offset)
        marks += [label, Line(x, label.y + 0.3, x, board.slot_top - 0.2, HAIRLINE, colour)]
    return marks


def _half_mark(board: HeddleBoard) -> float:
    return MARK_HEIGHT * board.scale * 0.62


def _label(sheet: Sheet, board: HeddleBoard, space: int, colour: Colour) -> Words | None:
    """The name of a space over it, within the wood; None where the space is not drawn."""
    if not board.first <= space <= board.last:
        return None
    text, size = heddle_words.name_on_board(space, board.loom), sheet.sizes.smallest
    half = sheet.wide(text, Face.SANS_BOLD, size) / 2
    x = min(max(board.x(space), board.wood.left + LABEL_INSET + half), board.wood.right - LABEL_INSET - half)
    return Words(x, name_baseline(sheet, board), text, Face.SANS_BOLD, size, colour, "middle")


def _left(sheet: Sheet, label: Words) -> float:
    return label.x - sheet.wide(label.text, label.face, label.size) / 2


def _meets_mark(sheet: Sheet, board: HeddleBoard, label: Words) -> bool:
    """Whether it would touch the mark or what is said on it: the sentence below tells the space."""
    half = label.x - _left(sheet, label)
    said = sheet.wide("0", Face.SANS, label.size)
    left, right = _half_mark(board) + BESIDE_MARK, _half_mark(board) + 2 * BESIDE_MARK + said
    return board.middle - left < label.x + half and label.x - half < board.middle + right
