"""The wood of a heddle as a hand cuts it, and its pencil mark."""

from __future__ import annotations

from typing import Final

from cardmaker.card.panels.heddle_board import HeddleBoard
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, HEAVY, WHITE
from cardmaker.model.marks import Line, Mark, Path, Step

TORN: Final = 0.7  # mm within the width to the middle of a torn edge, which goes to and fro
MARK_HEIGHT: Final = 1.9  # mm, the triangle of the pencil mark


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
