"""Two places of a wide heddle enlarged, where its spaces are too close to be seen: the first ten, and the mark."""

from __future__ import annotations

from typing import Final

from cardmaker.card.panels.board_drawing import (
    BELOW_OPENINGS,
    HANG,
    MARK_HEIGHT,
    HeddleBoard,
    below_board,
    board_numbers,
    board_openings,
    board_threads,
    board_wood,
    drawing_scale,
    pencil_mark,
)
from cardmaker.card.sheet import Sheet
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.wording import heddle_words

FIRST_SPACES: Final = 10  # from the first end on
ROUND_MARK: Final = 4  # spaces to either side of the mark
BETWEEN: Final = 6.0  # mm
HEADER: Final = 1.8  # mm of wood above the openings
SLOT: Final = 6.4  # mm
CHEEK: Final = 1.4  # mm beside the outermost space that is shown
UNDER_CAPTION: Final = 1.2  # mm


def lens_height(sheet: Sheet) -> float:
    """The caption, the mark, the board, the ends and the numbers below it."""
    caption = cap_height(sheet.sizes.smallest) + UNDER_CAPTION
    return (
        caption + MARK_HEIGHT * drawing_scale(sheet) + 0.3 + HEADER + SLOT + BELOW_OPENINGS + HANG + below_board(sheet)
    )


def draw_lens(sheet: Sheet, box: Box) -> list[Mark]:
    """The first ten spaces at the left, the mark at the right; mirrored for a left hand."""
    plan, half = sheet.plan, (box.width - BETWEEN) / 2
    first = max(1, plan.placement.first_space - 1)
    middle = (plan.loom.spaces + 1) / 2
    round_mark = int(middle - ROUND_MARK), min(plan.loom.spaces, int(middle + ROUND_MARK + 0.5))
    marks: list[Mark] = []
    for left, (start, stop), caption in (
        (box.left, (first, min(plan.loom.spaces, first + FIRST_SPACES)), heddle_words.FIRST_ENLARGED),
        (box.left + half + BETWEEN, round_mark, heddle_words.MARK_ENLARGED),
    ):
        marks += _enlarged(sheet, (start, stop), caption, Box(left, box.top, half, box.height))
    return list(sheet.as_mirrored(marks, box))


def _enlarged(sheet: Sheet, spaces: tuple[int, int], caption: str, box: Box) -> list[Mark]:
    """Some of the spaces as wide as ``box``."""
    (first, last), loom, size = spaces, sheet.plan.loom, sheet.sizes.smallest
    baseline = box.top + cap_height(size)
    top = baseline + UNDER_CAPTION + MARK_HEIGHT * drawing_scale(sheet) + 0.3
    pitch = (box.width - 2 * CHEEK) / (last - first + 1)
    wood = Box(box.left, top, box.width, HEADER + SLOT + BELOW_OPENINGS)
    board = HeddleBoard(loom, wood, box.left + CHEEK, pitch, HEADER, first, last, drawing_scale(sheet))
    foot = wood.bottom + HANG
    return [
        Words(box.left, baseline, caption, Face.SANS, size),
        *board_wood(board),
        *board_openings(board),
        *board_threads(sheet, board, 0, foot),
        *(pencil_mark(board, wood.top - 0.3) if board.is_marked else []),
        *board_numbers(sheet, board, foot, box),
    ]
