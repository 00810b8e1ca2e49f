"""The heddle round one end: its space ringed and flagged, its neighbours beside it, every space by its name."""

from __future__ import annotations

from typing import Final

from cardmaker.card.panels.heddle_board import (
    MARK_HEIGHT,
    HeddleBoard,
    board_openings,
    board_threads,
    drawing_scale,
    pencil_mark,
    wooden_board,
)
from cardmaker.card.sheet import Sheet, planned
from cardmaker.layout.ink import ACCENT, BLACK, HEAVY, SOFT
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Colour, Dot, Face, Mark, Path, Rectangle, Step, Words
from cardmaker.model.record_class import replace
from cardmaker.wording import heddle_words

EITHER_SIDE: Final = 4  # spaces beside that of the end
HEADER: Final = 2.4  # mm of wood above the openings
MOST_SLOT, LEAST_SLOT = 8.0, 4.0  # mm
FOOTER: Final = 1.8  # mm of wood below them
HANG: Final = 3.6  # mm that the ends hang below the board
CHEEK: Final = 2.0  # mm of wood beside the outermost space that is drawn
RING: Final = 0.9  # mm round the opening of the end
FLAG: Final = 2.2  # mm, its height
GAP: Final = 0.9  # mm between a line of words and what it belongs to
BETWEEN_BOARDS: Final = 2.6  # mm
BESIDE_NAME: Final = 2.0  # mm from the name of a board to its wood


def board_heights(sheet: Sheet) -> HeightRange:
    """Letters, the board or both of two, the ends below it, and the names of the spaces; of a back one over it."""
    fixed, boards = _fixed_height(sheet), _boards(sheet)
    return HeightRange(fixed + boards * LEAST_SLOT, fixed + boards * MOST_SLOT)


def _boards(sheet: Sheet) -> int:
    return 2 if sheet.plan.placement.back else 1


def _fixed_height(sheet: Sheet) -> float:
    """All but the openings."""
    boards = _boards(sheet)
    wood = boards * (HEADER + FOOTER) + (boards - 1) * BETWEEN_BOARDS
    names = boards * _line(sheet)
    return _line(sheet) + names + _mark_height(sheet) + wood + HANG + FLAG + GAP


def _line(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.small) + GAP


def _mark_height(sheet: Sheet) -> float:
    return MARK_HEIGHT * drawing_scale(sheet) + 0.3


def draw_board(sheet: Sheet, box: Box) -> list[Mark]:
    """The front board, and the back one over it, so that every end runs straight through both; for a left hand
    mirrored."""
    back = sheet.plan.placement.back
    names = _names_width(sheet)
    slot = (box.height - _fixed_height(sheet)) / _boards(sheet)
    front = _front(sheet, box.inset(left=names if back else 0.0), slot)
    foot = front.wood.bottom + HANG
    marks: list[Mark] = []
    if back:
        rear = _rear(front, back.offset)
        marks += _drawn(sheet, rear, back.offset, front.wood.top + 1.0)
        marks += _ringed(rear, _space(sheet) + back.offset)
        marks += _space_names(sheet, rear, back.offset, rear.wood.top - _mark_height(sheet) - GAP)
    marks += _drawn(sheet, front, 0, foot)
    marks += _ringed(front, _space(sheet))
    marks += _flag(front, _space(sheet), foot)
    marks += _space_names(sheet, front, 0, foot + FLAG + GAP + cap_height(sheet.sizes.small))
    boards = [(front, heddle_words.FRONT), *([(rear, heddle_words.BACK)] if back else [])]
    for board, name in boards if back else []:
        marks.append(_board_name(sheet, board, name, box))
    top = rear if back else front
    above = top.wood.top - _mark_height(sheet) - GAP - (_line(sheet) if back else 0.0)
    marks += _letters(sheet, front, above)
    for board, _ in boards:
        if board.is_marked and board.first <= (board.loom.spaces + 1) / 2 <= board.last:
            marks += pencil_mark(board, board.wood.top - 0.3)
    return list(sheet.as_mirrored(marks, box))


def _space(sheet: Sheet) -> int:
    return planned(sheet.plan.lost_end).place.space


def _names_width(sheet: Sheet) -> float:
    names = (heddle_words.FRONT, heddle_words.BACK)
    return max(sheet.wide(name, Face.SANS_SEMIBOLD, sheet.sizes.small) for name in names) + BESIDE_NAME


def _front(sheet: Sheet, box: Box, slot: float) -> HeddleBoard:
    """The front board, from so many spaces before that of the end to as many after it, as far as it goes."""
    plan, space = sheet.plan, _space(sheet)
    loom, back = plan.loom, plan.placement.back
    first, last = max(1, space - EITHER_SIDE), min(loom.spaces, space + EITHER_SIDE)
    pitch = (box.width - 2 * CHEEK) / (2 * EITHER_SIDE + 1)
    above = _line(sheet) + _mark_height(sheet)
    if back:
        above += _line(sheet) + HEADER + slot + FOOTER + BETWEEN_BOARDS
    left = box.left + CHEEK + pitch * (first - (space - EITHER_SIDE))
    width = pitch * (last - first + 1) + 2 * CHEEK
    wood = Box(left - CHEEK, box.top + above, width, HEADER + slot + FOOTER)
    return HeddleBoard(loom, wood, left, pitch, HEADER, FOOTER, first, last, drawing_scale(sheet))


def _rear(front: HeddleBoard, offset: int) -> HeddleBoard:
    """The back board over the front one, its spaces over those of the same ends."""
    first, last = max(1, front.first + offset), min(front.loom.spaces, front.last + offset)
    left = front.x(first - offset - 0.5)
    wood = front.wood._replace(
        left=left - CHEEK,
        top=front.wood.top - front.wood.height - BETWEEN_BOARDS,
        width=(last - first + 1) * front.pitch + 2 * CHEEK,
    )
    flipped = front.loom.back_heddle == "opposite"
    return replace(front, wood=wood, left=left, first=first, last=last, flipped=flipped)


def _drawn(sheet: Sheet, board: HeddleBoard, offset: int, foot: float) -> list[Mark]:
    return [*wooden_board(board), *board_openings(board), *board_threads(sheet, board, offset, foot)]


def _ringed(board: HeddleBoard, space: int) -> list[Mark]:
    """A ring round a hole, or a long one round a slot."""
    x = board.x(space)
    if board.kind(space) is Space.HOLE:
        return [Dot(x, board.eye, board.hole_radius + RING, stroke=ACCENT, width=HEAVY)]
    wide = board.slot_width + 2 * RING
    around = Box(x - wide / 2, board.slot_top - RING, wide, board.slot_bottom - board.slot_top + 2 * RING)
    return [Rectangle(around, stroke=ACCENT, width=HEAVY, radius=wide / 2)]


def _flag(board: HeddleBoard, space: int, foot: float) -> list[Mark]:
    x, top, half = board.x(space), foot + 0.3, FLAG * 0.6
    steps: tuple[Step, ...] = (
        ("move", x, top), ("line", x + half, top + FLAG), ("line", x - half, top + FLAG), ("close",),
    )  # fmt: skip
    return [Path(steps, ACCENT)]


def _space_names(sheet: Sheet, board: HeddleBoard, offset: int, baseline: float) -> list[Mark]:
    """Every space by its name, that of the end in bold and in the accent."""
    its = _space(sheet) + offset
    return [
        _label(sheet, board.x(space), baseline, heddle_words.name_on_board(space, board.loom), is_its=space == its)
        for space in range(board.first, board.last + 1)
    ]


def _letters(sheet: Sheet, board: HeddleBoard, baseline: float) -> list[Mark]:
    """The letters of every end over it."""
    placement, its = sheet.plan.placement, _space(sheet)
    marks: list[Mark] = []
    for number, yarn in enumerate(sheet.plan.end_yarns, start=1):
        space = placement.space_of(number)
        if board.first <= space <= board.last:
            marks.append(_label(sheet, board.x(space), baseline, sheet.letters(yarn), is_its=space == its))
    return marks


def _label(sheet: Sheet, x: float, baseline: float, text: str, *, is_its: bool) -> Words:
    face, colour = (Face.SANS_BOLD, ACCENT) if is_its else (Face.SANS, _quiet())
    return Words(x, baseline, text, face, sheet.sizes.small, colour, "middle")


def _quiet() -> Colour:
    return SOFT


def _board_name(sheet: Sheet, board: HeddleBoard, name: str, box: Box) -> Words:
    """Beside the wood, at the edge of the picture."""
    y = board.eye + cap_height(sheet.sizes.small) / 2
    left = sheet.plan.view.left_hand
    x = box.left if not left else box.left + _names_width(sheet) - BESIDE_NAME
    return Words(x, y, name, Face.SANS_SEMIBOLD, sheet.sizes.small, BLACK, "right" if left else "left")
