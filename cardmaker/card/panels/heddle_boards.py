"""The heddle as it lies before the weaver, under brackets with the count and the letters of every stripe.

The board is the order: its ends pass through their holes and slots below the stripe that they belong to. Two heddles
are two boards under one row of brackets, the back one above; they hang so that each end runs straight through both.
Where stripes are too narrow for their counts the board is broken between two stripes, into two rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, pairwise
from typing import Final

from cardmaker.card.bracket_drawing import BracketRow, bracket_rows
from cardmaker.card.brackets import Bracket, brackets_over
from cardmaker.card.panels.board_numbers import below_board, numbers_below
from cardmaker.card.panels.heddle_board import (
    HANG,
    MARK_HEIGHT,
    NARROWEST_THREAD_PITCH,
    HeddleBoard,
    board_bands,
    board_openings,
    board_threads,
    drawing_scale,
    pencil_mark,
    wooden_board,
)
from cardmaker.card.sheet import Sheet
from cardmaker.layout.stacking import NO_ROOM, HeightRange
from cardmaker.model.marks import Box, Face, Mark
from cardmaker.model.record_class import record, replace
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import heddle_words

WIDEST_PITCH: Final = 6.6  # mm from space to space
NARROWEST_PITCH: Final = 0.45  # mm; closer than this even bands of colour are no guide
CHEEK: Final = 3.4  # mm of wood beyond the outermost space
BROKEN_CHEEK: Final = 1.4  # mm, where the board goes on in another row
HEADER: Final = 2.2  # mm of wood above the openings
BELOW_OPENINGS: Final = 2.2  # mm of wood
LEAST_SHARE: Final = 0.75  # of these heights, on a crowded card
LEAST_SLOT, MOST_SLOT = 5.2, 15.0  # mm, the slots of a single board
LEAST_SLOT_OF_TWO, MOST_SLOT_OF_TWO = 4.8, 10.0
LEAST_SLOT_OF_BANDS: Final = 5.0  # mm, of a single board whose ends are bands: its spaces are seen elsewhere
BETWEEN_BOARDS: Final = 2.6  # mm
UNDER_BRACKETS: Final = 0.9  # mm from the brackets to the pencil mark or, of two boards, to the wood
BETWEEN_ROWS: Final = 3.4  # mm
MOST_ROWS: Final = 3
Stripes = Sequence[Sequence[Segment]]  # row by row


@record
class BoardRow:
    """The spaces and the stripes of one row of the picture, and what stands over them."""

    first: int
    last: int
    brackets: BracketRow


@record
class HeddlePicture:
    """The picture at one width: its rows, and from space to space."""

    rows: tuple[BoardRow, ...]
    pitch: float

    @property
    def in_bands(self) -> bool:
        """Whether its spaces are too close for single ends."""
        return self.pitch < NARROWEST_THREAD_PITCH


def heddle_picture(sheet: Sheet, width: float) -> HeddlePicture | None:
    """In one row where counts and letters lie over their stripes; broken into more where that helps and the card is
    not crowded; None where there is not even room for bands of colour."""
    pictures: list[HeddlePicture] = []
    for count in range(1, MOST_ROWS + 1):
        stripes = _stripes_in_rows(sheet, count)
        if stripes is None:
            break
        picture = _picture(sheet, stripes, width)
        if picture.pitch < NARROWEST_PITCH:
            continue
        if _is_calm(picture) or sheet.is_crowded:
            return picture
        pictures.append(picture)
    return min(pictures, key=_unrest, default=None)


def _is_calm(picture: HeddlePicture) -> bool:
    """Whether few labels had to leave their places."""
    return all(row.brackets.upper <= 1 and row.brackets.lower <= 1 for row in picture.rows)


def _unrest(picture: HeddlePicture) -> int:
    return max(row.brackets.upper + row.brackets.lower for row in picture.rows)


def _stripes_in_rows(sheet: Sheet, count: int) -> Stripes | None:
    """The stripes in so many rows, broken between two where the rows are most even, none of them of one end; None
    where there are too few for that."""
    stripes = sheet.segments
    best: tuple[int, Stripes] | None = None
    for breaks in combinations(range(1, len(stripes)), count - 1):
        bounds = (0, *breaks, len(stripes))
        rows: Stripes = [stripes[start:stop] for start, stop in pairwise(bounds)]
        spans = _spans(sheet, rows)
        widest = max(last - first for first, last in spans)
        is_fair = count == 1 or all(row[-1].last_end > row[0].first_end for row in rows)
        if is_fair and (best is None or widest < best[0]):
            best = (widest, rows)
    return best[1] if best else None


def _spans(sheet: Sheet, rows: Sequence[Sequence[Segment]]) -> list[tuple[int, int]]:
    """The first and the last space of each row: those that stay empty at the edges with the outermost stripes."""
    placement = sheet.plan.placement
    firsts = [1, *(placement.space_of(row[0].first_end) for row in rows[1:])]
    lasts = [*(first - 1 for first in firsts[1:]), placement.spaces]
    return list(zip(firsts, lasts, strict=True))


def _picture(sheet: Sheet, stripes: Sequence[Sequence[Segment]], width: float) -> HeddlePicture:
    spans = _spans(sheet, stripes)
    spaces = max(last - first + 1 for first, last in spans) + _aside(sheet)
    pitch = min(WIDEST_PITCH * drawing_scale(sheet), (width - 2 * _cheek(sheet)) / spaces)
    brackets = [_brackets(sheet, row, span, pitch, width) for row, span in zip(stripes, spans, strict=True)]
    rows = bracket_rows(sheet, brackets, width)
    return HeddlePicture(
        tuple(BoardRow(*span, over) for span, over in zip(spans, rows, strict=True)),
        pitch,
    )


def _brackets(
    sheet: Sheet, stripes: Sequence[Segment], span: tuple[int, int], pitch: float, width: float
) -> list[Bracket]:
    """Over the spaces of the front board."""
    front, placement = _boards(sheet, span, pitch, Box(0.0, 0.0, width, 0.0), 0.0)[0], sheet.plan.placement
    ends = range(stripes[0].first_end, stripes[-1].last_end + 1)
    return brackets_over(stripes, ends, lambda end: front.x(placement.space_of(end)), pitch)


def _aside(sheet: Sheet) -> int:
    """How many spaces the back board stands to one side of the front one."""
    back = sheet.plan.placement.back
    return abs(back.offset) if back else 0


def _cheek(sheet: Sheet) -> float:
    """Wood beyond the outermost space: of two boards at least so much that their names stand clear of the mark."""
    loom = sheet.plan.loom
    if sheet.plan.placement.back is None:
        return CHEEK
    from cardmaker.card.panels.board_header import NAME_INSET

    names = (heddle_words.BACK, heddle_words.FRONT)
    name = max(sheet.wide(name, Face.SANS_SEMIBOLD, sheet.sizes.smallest) for name in names)
    return max(CHEEK, NAME_INSET + name + 3.0 - loom.spaces * WIDEST_PITCH / 2)


# heights


def _slots(sheet: Sheet, picture: HeddlePicture) -> tuple[float, float]:
    """The least and the most height of the slots."""
    least, most = (LEAST_SLOT_OF_TWO, MOST_SLOT_OF_TWO) if sheet.plan.placement.back else (LEAST_SLOT, MOST_SLOT)
    if picture.in_bands:
        least = min(least, LEAST_SLOT_OF_BANDS)
    scale = drawing_scale(sheet)
    return least * scale * max(LEAST_SHARE, sheet.picture_share), most * scale


def _headers(sheet: Sheet) -> list[float]:
    """The wood above the openings of each board: of two, both bear their name and their mark."""
    if sheet.plan.placement.back is None:
        return [HEADER]
    from cardmaker.card.panels.board_header import named_header

    return [named_header(sheet)] * 2


def _over_wood(sheet: Sheet) -> float:
    """From the brackets to the uppermost board: one board has its mark there."""
    return UNDER_BRACKETS if sheet.plan.placement.back else UNDER_BRACKETS + MARK_HEIGHT * drawing_scale(sheet) + 0.3


def _fixed_height(sheet: Sheet, picture: HeddlePicture) -> float:
    """Everything but the openings."""
    headers = _headers(sheet)
    wood = sum(headers) + BELOW_OPENINGS * len(headers) + BETWEEN_BOARDS * (len(headers) - 1)
    row = _over_wood(sheet) + wood + HANG + below_board(sheet)
    rows = picture.rows
    return sum(each.brackets.height for each in rows) + len(rows) * row + (len(rows) - 1) * BETWEEN_ROWS


def heddle_heights(sheet: Sheet, picture: HeddlePicture | None) -> HeightRange:
    if picture is None:
        return NO_ROOM
    fixed, (least, most) = _fixed_height(sheet, picture), _slots(sheet, picture)
    boards = len(_headers(sheet)) * len(picture.rows)
    return HeightRange(fixed + boards * least, fixed + boards * most)


# drawing


def draw_heddle(sheet: Sheet, picture: HeddlePicture, box: Box) -> list[Mark]:
    """The picture in a box of a height that it can use, mirrored for a left hand."""
    boards = len(_headers(sheet)) * len(picture.rows)
    slot = (box.height - _fixed_height(sheet, picture)) / boards
    marks: list[Mark] = []
    top = box.top
    for row in picture.rows:
        marks += row.brackets.marks(box.left, top)
        top += row.brackets.height + _over_wood(sheet)
        boards_of_row = _boards(sheet, (row.first, row.last), picture.pitch, box._replace(top=top), slot)
        marks += draw_boards(sheet, boards_of_row, box)
        top = boards_of_row[0].wood.bottom + HANG + below_board(sheet) + BETWEEN_ROWS
    return list(sheet.as_mirrored(marks, box))


def _boards(sheet: Sheet, span: tuple[int, int], pitch: float, box: Box, slot: float) -> list[HeddleBoard]:
    """The front board of a row and, behind it, the back one, from the top of ``box`` down; a whole board that is
    narrower than the box stands in its middle."""
    first, last = span
    loom, back, headers = sheet.plan.loom, sheet.plan.placement.back, _headers(sheet)
    whole = _cheek(sheet)
    before, after = (whole if first == 1 else BROKEN_CHEEK), (whole if last == loom.spaces else BROKEN_CHEEK)
    width, height = pitch * (last - first + 1) + before + after, headers[0] + slot + BELOW_OPENINGS
    left = box.left
    if last - first + 1 == loom.spaces:
        left += max(0.0, (box.width - width - _aside(sheet) * pitch) / 2)
    if back and back.offset > 0:
        left += _aside(sheet) * pitch  # the back board then stands to the left
    wood = Box(left, box.top, width, height)
    front = HeddleBoard(loom, wood, left + before, pitch, headers[0], BELOW_OPENINGS, first, last, drawing_scale(sheet))
    if back is None:
        return [front]
    below = wood._replace(top=wood.top + height + BETWEEN_BOARDS)
    return [replace(front, wood=below), _rear_board(front, back.offset, before, after)]


def _rear_board(front: HeddleBoard, offset: int, before: float, after: float) -> HeddleBoard:
    """The back heddle, moved sideways so that each end runs straight through both; where the boards are broken, they
    are broken between the same two ends."""
    loom = front.loom
    first = 1 if front.first == 1 else front.first + offset
    last = loom.spaces if front.last == loom.spaces else front.last + offset
    left = front.x(first - offset - 0.5)
    wood = front.wood._replace(left=left - before, width=before + (last - first + 1) * front.pitch + after)
    flipped = loom.back_heddle == "opposite"
    return replace(front, wood=wood, left=left, first=first, last=last, flipped=flipped)


def draw_boards(sheet: Sheet, boards: Sequence[HeddleBoard], edges: Box) -> list[Mark]:
    """A board with its ends, its mark, its numbers and the flag; two with their names, the back one first."""
    front, back = boards[0], sheet.plan.placement.back
    foot = front.wood.bottom + HANG
    if back is None:
        marks = _board(sheet, front, 0, foot)
        if front.is_marked:
            marks += pencil_mark(front, front.wood.top - 0.3)
        return [*marks, *numbers_below(sheet, front, foot, edges)]
    from cardmaker.card.panels.board_header import back_header, front_header

    rear = boards[1]
    marks = _board(sheet, rear, back.offset, front.wood.top + 1.0) + _board(sheet, front, 0, foot)
    for board in (rear, front):
        marks += pencil_mark(board, board.wood.top + 1.2 + MARK_HEIGHT * board.scale) if board.is_marked else []
    marks += [*back_header(sheet, rear, back.offset), *front_header(sheet, front)]
    return [*marks, *numbers_below(sheet, front, foot, edges)]


def _board(sheet: Sheet, board: HeddleBoard, offset: int, foot: float) -> list[Mark]:
    ends = board_bands if board.in_bands else board_threads
    return [*wooden_board(board), *board_openings(board), *ends(sheet, board, offset, foot)]
