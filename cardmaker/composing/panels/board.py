"""The board: the heddle as it stands before the weaver, its real holes and slots, the pencil mark, every threaded end.

Two heddles are two boards, the back one above; they hang so that each end runs straight through both.
"""

from __future__ import annotations

from dataclasses import dataclass

from cardmaker.composing import wording
from cardmaker.composing.ink import ACCENT, BLACK, FAINT, HAIRLINE, HEAVY, OUTLINE, RULE, SOFT, WHITE
from cardmaker.composing.setting import Span
from cardmaker.composing.sheet import Drawing, Panel, Room, Sheet, beside, cap_height, text_height
from cardmaker.geometry import Box
from cardmaker.nouns.loom import Loom, Space
from cardmaker.nouns.marks import Dot, Face, Line, Mark, Path, Rectangle, Words
from cardmaker.nouns.plan import BackHeddle

WIDEST_PITCH = 6.6
CHEEK = 5.0  # wood beyond the outermost space
HANG = 3.0  # how far the threads hang below the board
LEAST_BOARD, MOST_BOARD = 15.0, 26.0
BETWEEN = 3.0  # from the back board to the front one


@dataclass(frozen=True, slots=True)
class _Board:
    """One heddle on paper: where its wood lies, and where each space stands."""

    loom: Loom
    wood: Box
    left: float  # of space 1
    pitch: float
    flipped: bool  # the back heddle of an opposite pair: holes where the front one has slots

    def x(self, space: int) -> float:
        return self.left + (space - 0.5) * self.pitch

    def kind(self, space: int) -> Space:
        kind = self.loom.kind_of(space)
        return kind.other if self.flipped else kind

    @property
    def eye(self) -> float:
        """The height at which the holes are drilled."""
        return self.wood.top + 0.60 * self.wood.height

    @property
    def slot_top(self) -> float:
        return self.wood.top + 0.36 * self.wood.height

    @property
    def slot_bottom(self) -> float:
        return self.wood.top + 0.86 * self.wood.height


def _flag_height(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.body) + 3.2


def _counting(sheet: Sheet) -> list[Span]:
    """How to count out, in words, with the middle end as a second check."""
    plan = sheet.plan
    placement, loom = plan.placement, plan.loom
    spans = [Span(wording.count_out(loom, placement), Face.SANS_SEMIBOLD)]
    if placement.shifted:
        spans.append(Span(wording.shift(placement), Face.SANS_SEMIBOLD))
    spans.append(Span(wording.self_check(placement)))
    if placement.back is not None:
        spans.append(Span(wording.back_heddle(plan), Face.SANS_SEMIBOLD))
    spans.append(Span(wording.middle_end(plan)))
    if placement.half_space != "none":
        spans.append(Span(wording.half_space(placement)))
    return spans


def _blocks(sheet: Sheet) -> list[tuple[list[Span], float, float]]:
    """(Spans, type size, space above) of each block of words below the board."""
    return [(_counting(sheet), sheet.sizes.body, 2.2), (_closing_spans(sheet), _closing_size(sheet), 1.8)]


def _words_height(sheet: Sheet, width: float) -> float:
    return sum(above + text_height(len(sheet.lines(spans, size, width)), size) for spans, size, above in _blocks(sheet))


def _closing_size(sheet: Sheet) -> float:
    return sheet.sizes.body + 1


def _closing_spans(sheet: Sheet) -> list[Span]:
    return [
        Span(wording.WHEN_DONE, Face.SERIF_SEMIBOLD),
        Span(wording.closing_count(sheet.plan), Face.SANS_SEMIBOLD),
    ]


def _boards(sheet: Sheet) -> int:
    return 2 if sheet.plan.placement.back else 1


def _room(sheet: Sheet, width: float) -> Room:
    boards = _boards(sheet)
    fixed = _flag_height(sheet) + HANG + (boards - 1) * BETWEEN + _words_height(sheet, width)
    least, most = (LEAST_BOARD, MOST_BOARD) if boards == 1 else (13.0, 19.0)
    return Room(fixed + boards * least, fixed + boards * most)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks: list[Mark] = [beside(sheet, box, wording.BOARD)]
    body = box
    boards = _boards(sheet)
    fixed = _flag_height(sheet) + HANG + (boards - 1) * BETWEEN + _words_height(sheet, box.width)
    height = (body.height - fixed) / boards
    front = _front_board(sheet, body, height)
    back = sheet.plan.placement.back
    if back is not None:
        rear = _rear_board(sheet, front, back)
        marks += [*_wood(rear), *_openings(sheet, rear), *_threads(sheet, rear, back.offset, front.wood.top)]
        marks += _wood_names(sheet, rear, front)
    marks += [*_wood(front), *_numbers(sheet, front), *_openings(sheet, front)]
    marks += _threads(sheet, front, 0, front.wood.bottom + HANG)
    marks += _flags(sheet, front, body)
    marks += _words(sheet, Box(body.left, front.wood.bottom + HANG, body.width, 0))
    return Drawing(tuple(marks), wording.board_alt(sheet.plan))


def _front_board(sheet: Sheet, body: Box, height: float) -> _Board:
    loom = sheet.plan.loom
    shift = 1 if sheet.plan.placement.back else 0
    pitch = min(WIDEST_PITCH, (body.width - 2 * CHEEK) / (loom.spaces + shift))
    width = pitch * loom.spaces + 2 * CHEEK
    top = body.top + _flag_height(sheet) + shift * (height + BETWEEN)
    left = body.left + max(0.0, (body.width - width - shift * pitch) / 2)
    return _Board(loom, Box(left, top, width, height), left + CHEEK, pitch, False)


def _rear_board(sheet: Sheet, front: _Board, back: BackHeddle) -> _Board:
    """The back heddle, moved sideways so that each end runs straight through both."""
    aside = -back.offset * front.pitch
    wood = Box(
        front.wood.left + aside, front.wood.top - BETWEEN - front.wood.height, front.wood.width, front.wood.height
    )
    return _Board(front.loom, wood, front.left + aside, front.pitch, front.loom.back_heddle == "opposite")


def _wood(board: _Board) -> list[Mark]:
    """An outline as a hand cuts it: shoulders rounded, the top a little bowed, the grain of the lower edge."""
    wood = board.wood
    left, right, top, bottom = wood.left, wood.right, wood.top, wood.bottom
    r = min(4.0, wood.height / 4)
    bow = 0.7
    outline = Path(
        (
            ("move", left, bottom - r * 0.6),
            ("curve", left + 0.2, top + wood.height * 0.6, left - 0.15, top + r * 1.6, left + 0.1, top + r),
            ("curve", left + 0.3, top + r * 0.3, left + r * 0.5, top + bow, left + r * 1.3, top + bow * 0.8),
            (
                "curve", left + wood.width * 0.33, top - bow * 0.5, right - wood.width * 0.36, top - bow * 0.2,
                right - r * 1.2, top + bow,
            ),
            ("curve", right - r * 0.4, top + bow, right - 0.2, top + r * 0.4, right - 0.1, top + r),
            ("curve", right + 0.2, top + wood.height * 0.5, right - 0.2, bottom - r * 1.5, right, bottom - r * 0.6),
            ("curve", right - 0.1, bottom - 0.1, right - r * 0.4, bottom, right - r, bottom),
            ("line", left + r, bottom),
            ("curve", left + r * 0.3, bottom, left + 0.1, bottom - 0.1, left, bottom - r * 0.6),
            ("close",),
        ),
        fill=WHITE, stroke=BLACK, width=HEAVY * 0.7,
    )  # fmt: skip
    grain = Line(left + r * 1.2, bottom - 1.0, right - r * 1.6, bottom - 1.0, HAIRLINE, FAINT)
    return [outline, grain]


def _openings(sheet: Sheet, board: _Board) -> list[Mark]:
    """Round holes and tall slots, all of them, white until an end goes through."""
    marks: list[Mark] = []
    slot, hole = _slot_width(board), _hole_radius(board)
    for space in range(1, board.loom.spaces + 1):
        x = board.x(space)
        if board.kind(space) is Space.SLOT:
            box = Box(x - slot / 2, board.slot_top, slot, board.slot_bottom - board.slot_top)
            marks.append(Rectangle(box, WHITE, BLACK, RULE, slot / 2))
        else:
            marks.append(Dot(x, board.eye, hole, WHITE, BLACK, RULE))
    return marks


def _slot_width(board: _Board) -> float:
    return min(1.8, board.pitch * 0.42)


def _hole_radius(board: _Board) -> float:
    return min(1.35, board.pitch * 0.33)


def _threads(sheet: Sheet, board: _Board, offset: int, bottom: float) -> list[Mark]:
    """Each end in its colour, out of its space and down: cased in black so that white yarn shows on white paper."""
    marks: list[Mark] = []
    plan = sheet.plan
    thick = min(1.15, board.pitch * 0.4)
    for end_number, yarn in enumerate(plan.end_yarns, start=1):
        space = plan.placement.space_of(end_number) + offset
        x, fill = board.x(space), sheet.inks[yarn].fill
        marks.append(Line(x, board.eye, x, bottom, thick + 2 * RULE, BLACK))
        marks.append(Line(x, board.eye, x, bottom, thick, fill))
        if board.kind(space) is Space.HOLE:
            marks.append(Dot(x, board.eye, _hole_radius(board), fill, BLACK, OUTLINE))
        else:
            marks.append(Dot(x, board.eye, thick / 2 + RULE / 2, fill, BLACK, RULE))
    return marks


def _numbers(sheet: Sheet, board: _Board) -> list[Mark]:
    """Counting numbers outwards from the mark on both sides, every fifth in a heavier face; ticks for the others."""
    marks: list[Mark] = []
    size = sheet.sizes.smallest
    loom = board.loom
    roomy = board.pitch >= sheet.wide("00", Face.SANS, size) + 0.7
    for space in range(1, loom.spaces + 1):
        count = wording.counted(space, loom)
        fifth = count % 5 == 0 and count > 0
        baseline = board.wood.top + 2.2 + cap_height(size)
        if fifth or roomy:
            face = Face.SANS_BOLD if fifth else Face.SANS
            marks.append(Words(board.x(space), baseline, str(count), face, size, align="middle"))
        tick = 0.9 if fifth else 0.5
        if not roomy:
            marks.append(Line(board.x(space), baseline + 0.7, board.x(space), baseline + 0.7 + tick, HAIRLINE))
    return [*marks, *_pencil_mark(board)]


def _pencil_mark(board: _Board) -> list[Mark]:
    """The pencil mark at the middle: a short stroke over the edge of the board with a point below it."""
    x = board.left + board.loom.spaces * board.pitch / 2
    top = board.wood.top
    return [
        Line(x, top - 1.6, x, top + 1.4, HEAVY),
        Path(
            (("move", x - 1.2, top - 3.0), ("line", x + 1.2, top - 3.0), ("line", x, top - 1.0), ("close",)), fill=BLACK
        ),
    ]


def _flags(sheet: Sheet, board: _Board, body: Box) -> list[Mark]:
    """The first and the last space by name; the first in the accent, because there it starts."""
    plan = sheet.plan
    placement, loom, size = plan.placement, plan.loom, sheet.sizes.body
    baseline = body.top + cap_height(size)
    first, last = board.x(placement.first_space), board.x(placement.last_space)
    first_words = wording.first_flag(plan)
    last_words = wording.last_flag(plan)
    middle = board.left + loom.spaces * board.pitch / 2
    heading = body.left + sheet.wide(wording.BOARD, Face.SERIF_SEMIBOLD, sheet.sizes.heading) + 4
    marks: list[Mark] = []
    for x, words, colour, side in ((first, first_words, ACCENT, -1), (last, last_words, BLACK, 1)):
        wide = sheet.wide(words, Face.SANS_SEMIBOLD, size)
        left = x - wide * 0.75 if side < 0 else x - wide * 0.25
        left = min(left, middle - 3 - wide) if side < 0 else max(left, middle + 3)
        left = min(max(left, heading), body.right - wide)
        stem = min(max(x, left + 0.5), left + wide - 0.5)
        marks.append(Words(left, baseline, words, Face.SANS_SEMIBOLD, size, colour))
        foot = board.wood.top + 1.6
        marks.append(
            Path(
                (("move", stem, baseline + 0.9), ("line", x, baseline + 2.2), ("line", x, foot)),
                stroke=colour,
                width=RULE,
            )
        )
    return marks


def _wood_names(sheet: Sheet, rear: _Board, front: _Board) -> list[Mark]:
    size = sheet.sizes.smallest
    return [
        Words(board.wood.left + 2.6, board.wood.bottom - 2.0, name, Face.SANS, size, SOFT, turned=90)
        for board, name in ((rear, "back"), (front, "front"))
    ]


def _words(sheet: Sheet, below: Box) -> list[Mark]:
    marks: list[Mark] = []
    top = below.top
    for spans, size, above in _blocks(sheet):
        lines = sheet.lines(spans, size, below.width)
        marks += sheet.set(lines, below.left, top + above + cap_height(size), size)
        top += above + text_height(len(lines), size)
    return marks


BOARD = Panel("board", _room, _draw)
