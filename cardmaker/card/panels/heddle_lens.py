"""Two places of a wide heddle enlarged, where its spaces are too close to be seen: the first ten, and the mark."""

from __future__ import annotations

from typing import Final

from cardmaker.card.panels.board_numbers import below_board, numbers_below
from cardmaker.card.panels.heddle_board import (
    MARK_HEIGHT,
    HeddleBoard,
    board_openings,
    board_threads,
    drawing_scale,
    pencil_mark,
    wooden_board,
)
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import SOFT
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.wording import heddle_words

FIRST_SPACES: Final = 10  # from the first end on
ROUND_MARK: Final = 4  # spaces to either side of the mark
BETWEEN: Final = 6.0  # mm
HEADER: Final = 1.8  # mm of wood above the openings
SLOT: Final = 4.0  # mm
BELOW_SLOTS: Final = 1.6  # mm of wood
HANG: Final = 2.2  # mm that the ends hang below the board
CHEEK: Final = 1.4  # mm beside the outermost space that is shown
UNDER_CAPTION: Final = 1.7  # mm


def lens_height(sheet: Sheet) -> float:
    """The caption beside the mark, the board, the ends and the numbers below it."""
    return _over_wood(sheet) + HEADER + SLOT + BELOW_SLOTS + HANG + below_board(sheet)


def _over_wood(sheet: Sheet) -> float:
    """The line in which caption and mark stand."""
    return max(cap_height(sheet.sizes.smallest) + UNDER_CAPTION, MARK_HEIGHT * drawing_scale(sheet) + 0.3)


def draw_lens(sheet: Sheet, box: Box) -> list[Mark]:
    """The first ten spaces at the left, the mark at the right; mirrored for a left hand."""
    plan, half = sheet.plan, (box.width - BETWEEN) / 2
    first = max(1, plan.placement.first_space - 1)
    middle = (plan.loom.spaces + 1) / 2
    round_mark = int(middle - ROUND_MARK), min(plan.loom.spaces, int(middle + ROUND_MARK + 0.5))
    left, right = box._replace(width=half), box._replace(left=box.left + half + BETWEEN, width=half)
    marks = _enlarged(sheet, (first, min(plan.loom.spaces, first + FIRST_SPACES)), left)
    return list(sheet.as_mirrored([*marks, *_enlarged(sheet, round_mark, right)], box))


def _enlarged(sheet: Sheet, spaces: tuple[int, int], box: Box) -> list[Mark]:
    """Some of the spaces as wide as ``box``."""
    (first, last), loom = spaces, sheet.plan.loom
    wood = Box(box.left, box.top + _over_wood(sheet), box.width, HEADER + SLOT + BELOW_SLOTS)
    pitch = (box.width - 2 * CHEEK) / (last - first + 1)
    board = HeddleBoard(loom, wood, box.left + CHEEK, pitch, HEADER, BELOW_SLOTS, first, last, drawing_scale(sheet))
    foot = wood.bottom + HANG
    return [
        *_caption(sheet, board, box),
        *wooden_board(board),
        *board_openings(board),
        *board_threads(sheet, board, 0, foot),
        *(pencil_mark(board, wood.top - 0.3) if board.is_marked else []),
        *numbers_below(sheet, board, foot, box),
    ]


def _caption(sheet: Sheet, board: HeddleBoard, box: Box) -> list[Mark]:
    """That it is drawn once more, where the mark leaves room for it."""
    size = sheet.sizes.smallest
    wide = sheet.wide(heddle_words.ENLARGED, Face.SANS, size)
    right = board.middle - MARK_HEIGHT * board.scale - 1.0 if board.is_marked else box.right
    if box.left + wide > right:
        return []
    return [Words(box.left, box.top + cap_height(size), heddle_words.ENLARGED, Face.SANS, size, SOFT)]
