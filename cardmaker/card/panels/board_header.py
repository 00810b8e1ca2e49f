"""What stands on the wood of one of two heddles, over its openings: its name, and on the back one its own count.

Both say what is said on their marks. The front heddle has its numbers below it; the back one stands one space aside,
and the names of the spaces of the first end and the last stand over them.
"""

from __future__ import annotations

from typing import Final

from cardmaker.card.panels.heddle_board import MARK_HEIGHT, HeddleBoard, drawing_scale
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, SOFT
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Colour, Face, Line, Mark, Words
from cardmaker.wording import heddle_words

NAME_INSET: Final = 3.2  # mm from the end of a board to its name
LABEL_INSET: Final = 1.4  # mm from the end of a board to the name of a space
ABOVE_LINE: Final = 1.9  # mm of wood above the names
BELOW_LINE: Final = 1.4  # and below them
CLOSER: Final = 0.7
BESIDE_MARK: Final = 1.1  # mm from the pencil mark to what is said on it, and to the board's name
APART: Final = 2.4  # mm between the name of a board and that of a space


def name_baseline(sheet: Sheet, board: HeddleBoard) -> float:
    """The baseline of the names, between the board's upper edge and the openings."""
    return board.wood.top + ABOVE_LINE * _closeness(sheet) + cap_height(sheet.sizes.smallest)


def _closeness(sheet: Sheet) -> float:
    """How much is left of the wood round the names on a crowded card, which needs the height for the ends."""
    return CLOSER if sheet.is_crowded else 1.0


def named_header(sheet: Sheet) -> float:
    """The wood above the openings of a board that bears its name and its mark."""
    high = max(cap_height(sheet.sizes.smallest), MARK_HEIGHT * drawing_scale(sheet))
    return (ABOVE_LINE + BELOW_LINE) * _closeness(sheet) + high


def front_header(sheet: Sheet, board: HeddleBoard) -> list[Mark]:
    """The name of the front board at the left end of its wood, and what is said on its mark."""
    name = [_board_name(sheet, board, heddle_words.FRONT, NAME_INSET)] if board.first == 1 else []
    return [*name, *_said_on_mark(sheet, board)]


def back_header(sheet: Sheet, board: HeddleBoard, offset: int) -> list[Mark]:
    """The same of the back board, and over their spaces the names of the first and the last. Where the name of the
    first stands at the left end that of the board follows it, or on a short board stands there instead."""
    marks, placement = _said_on_mark(sheet, board), sheet.plan.placement
    first = _clear_label(sheet, board, placement.first_space + offset, ACCENT)
    last = _clear_label(sheet, board, placement.last_space + offset, BLACK) if sheet.plan.ends > 1 else None
    wide = sheet.wide(heddle_words.BACK, Face.SANS_SEMIBOLD, sheet.sizes.smallest)
    inset = NAME_INSET
    if first and _left(sheet, first) < board.wood.left + inset + wide + APART:
        inset = 2 * first.x - _left(sheet, first) - board.wood.left + BESIDE_MARK
        if board.is_marked and board.wood.left + inset + wide > board.middle - _half_mark(board) - BESIDE_MARK:
            first, inset = None, NAME_INSET
    if board.first == 1:
        marks.append(_board_name(sheet, board, heddle_words.BACK, inset))
    for label, space in ((first, placement.first_space), (last, placement.last_space)):
        if label:
            x = board.x(space + offset)
            marks += [label, Line(x, label.y + 0.3, x, board.slot_top - 0.2, HAIRLINE, label.colour)]
    return marks


def _board_name(sheet: Sheet, board: HeddleBoard, name: str, inset: float) -> Words:
    y = name_baseline(sheet, board)
    return Words(board.wood.left + inset, y, name, Face.SANS_SEMIBOLD, sheet.sizes.smallest)


def _said_on_mark(sheet: Sheet, board: HeddleBoard) -> list[Mark]:
    """Beside the pencil mark, where it stands on this piece."""
    if not board.is_marked:
        return []
    said = heddle_words.number_on_board((board.loom.spaces + 1) / 2, board.loom)
    x = board.middle + _half_mark(board) + BESIDE_MARK
    return [Words(x, name_baseline(sheet, board), said, Face.SANS, sheet.sizes.smallest, SOFT)]


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


def _clear_label(sheet: Sheet, board: HeddleBoard, space: int, colour: Colour) -> Words | None:
    """The same; None also where it, or the board's name beside it, would touch the mark."""
    label = _label(sheet, board, space, colour)
    return None if label is None or (board.is_marked and _meets_mark(sheet, board, label)) else label


def _left(sheet: Sheet, label: Words) -> float:
    return label.x - sheet.wide(label.text, label.face, label.size) / 2


def _meets_mark(sheet: Sheet, board: HeddleBoard, label: Words) -> bool:
    """Whether it would touch the mark or what is said on it: the sentence below tells the space."""
    half = label.x - _left(sheet, label)
    said = sheet.wide("0", Face.SANS, label.size)
    left, right = _half_mark(board) + BESIDE_MARK, _half_mark(board) + 2 * BESIDE_MARK + said
    return board.middle - left < label.x + half and label.x - half < board.middle + right
