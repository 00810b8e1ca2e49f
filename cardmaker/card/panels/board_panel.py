"""The board: the heddle as it stands before the weaver, its real holes and slots, the pencil mark, every threaded end.

Two heddles are two boards, the back one above; they hang so that each end runs straight through both.
"""

from __future__ import annotations

from cardmaker.card.paragraphs import paragraph
from cardmaker.card.sheet import NO_ROOM, Drawing, HeightRange, Panel, Sheet, beside
from cardmaker.layout.ink import ACCENT, BLACK, FAINT, HAIRLINE, HEAVY, OUTLINE, POINT, RULE, SOFT, WHITE
from cardmaker.layout.lines_of_type import Span, cap_height, leading, text_height
from cardmaker.layout.roles import figure
from cardmaker.model.loom import Loom, Space
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Path, Rectangle, Step, Words
from cardmaker.model.plan import BackHeddle
from cardmaker.model.records import record
from cardmaker.wording import heddle_words

WIDEST_PITCH = 6.6
CHEEK = 5.0  # wood beyond the outermost space, at the least
HANG = 3.0  # how far the threads hang below the board
LEAST_SLOT, MOST_SLOT = 7.6, 18.0
FOOT = 2.2  # wood below the openings
FROM_MIDDLE = 3.0  # the flags keep this far from the pencil mark
NARROWEST_PITCH = 0.7  # from space to space; closer than this nobody can count along it
BETWEEN = 5.4  # from the back board to the front one, where the pencil mark of the front one stands


@record
class _Board:
    """One heddle on paper: where its wood lies, and where each space stands."""

    loom: Loom
    wood: Box
    left: float  # of space 1
    pitch: float
    flipped: bool  # the back heddle of an opposite pair: holes where the front one has slots
    header: float  # wood above the openings, where the counting numbers stand

    def x(self, space: int) -> float:
        return self.left + (space - 0.5) * self.pitch

    def kind(self, space: int) -> Space:
        kind = self.loom.kind_of(space)
        return kind.other if self.flipped else kind

    @property
    def slot_top(self) -> float:
        return self.wood.top + self.header

    @property
    def slot_bottom(self) -> float:
        return self.wood.bottom - FOOT

    @property
    def eye(self) -> float:
        """The height at which the holes are drilled: the middle of the slots."""
        return (self.slot_top + self.slot_bottom) / 2


def _cheek(sheet: Sheet) -> float:
    """Wood beyond the outermost space: with two boards it bears the name of each, clear of the numbers."""
    size = sheet.sizes.smallest
    if sheet.plan.placement.back is None:
        return CHEEK
    return max(CHEEK, 2.2 + cap_height(size) + sheet.wide("00", Face.SANS_BOLD, size) / 2)


def _flag_height(sheet: Sheet, width: float) -> float:
    """The flags stand beside the heading, or below it where the panel is narrow, on two lines if need be."""
    below = cap_height(sheet.sizes.heading) + 2.0 if _flags_below(sheet, width) else 0.0
    second = leading(sheet.sizes.body) if _flags_on_two_lines(sheet, width) else 0.0
    return below + second + cap_height(sheet.sizes.body) + 3.2


def _flags_on_two_lines(sheet: Sheet, width: float) -> bool:
    return max(_flag_widths(sheet)) + FROM_MIDDLE > width / 2


def _flag_widths(sheet: Sheet) -> tuple[float, float]:
    plan, size = sheet.plan, sheet.sizes.body
    return (
        sheet.wide(heddle_words.first_flag(plan), Face.SANS_BOLD, size),
        sheet.wide(heddle_words.last_flag(plan), Face.SANS_SEMIBOLD, size),
    )


def _flags_below(sheet: Sheet, width: float) -> bool:
    first, last = _flag_widths(sheet)
    return max(_heading_width(sheet) + first, last) + FROM_MIDDLE > width / 2


def _heading_width(sheet: Sheet) -> float:
    return sheet.wide(heddle_words.heddle_title(sheet.plan.loom), Face.SERIF_SEMIBOLD, sheet.sizes.heading) + 4


def _counting(sheet: Sheet) -> list[Span]:
    """How to count out, in words, with the middle end as a second check."""
    plan = sheet.plan
    placement, loom = plan.placement, plan.loom
    spans = [Span(heddle_words.FROM_BEHIND, Face.SANS_SEMIBOLD)] if sheet.behind else []
    where, check = heddle_words.count_out(loom, placement)
    spans += [Span(where, Face.SANS_SEMIBOLD), Span(check)]
    if sheet.brief and placement.back is None:
        return spans
    if placement.back is not None:
        spans.append(Span(heddle_words.back_heddle(plan), Face.SANS_SEMIBOLD))
    spans.append(Span(heddle_words.middle_end(plan)))
    if placement.half_space != "none":
        spans.append(Span(heddle_words.half_space(placement, loom)))
    return spans


def _blocks(sheet: Sheet) -> list[tuple[list[Span], float, float]]:
    """(Spans, type size, space above) of each block of words below the board."""
    return [(_counting(sheet), sheet.sizes.body, 2.2), (_closing_spans(sheet), _closing_size(sheet), 2.4)]


def _words_height(sheet: Sheet, width: float) -> float:
    return sum(above + text_height(len(sheet.lines(spans, size, width)), size) for spans, size, above in _blocks(sheet))


def _closing_size(sheet: Sheet) -> float:
    return sheet.sizes.body + 1


def _closing_spans(sheet: Sheet) -> list[Span]:
    return [
        Span(heddle_words.WHEN_DONE, Face.SERIF_SEMIBOLD),
        Span(heddle_words.closing_count(sheet.plan), Face.SANS_SEMIBOLD),
    ]


def _headers(sheet: Sheet) -> list[float]:
    """The wood above the openings of each board, the front one first: only the front one carries numbers."""
    front = 3.6 + cap_height(sheet.sizes.smallest)
    return [front, 2.2] if sheet.plan.placement.back else [front]


def _fixed(sheet: Sheet, width: float) -> float:
    """Everything but the openings."""
    headers = _headers(sheet)
    wood = sum(headers) + FOOT * len(headers) + BETWEEN * (len(headers) - 1)
    return _flag_height(sheet, width) + wood + HANG + _words_height(sheet, width)


def _room(sheet: Sheet, width: float) -> HeightRange:
    if _pitch(sheet, width) < NARROWEST_PITCH:
        return NO_ROOM
    boards = len(_headers(sheet))
    fixed = _fixed(sheet, width)
    return HeightRange(fixed + boards * LEAST_SLOT * max(0.8, sheet.give), fixed + boards * MOST_SLOT / boards**0.5)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks: list[Mark] = []
    headers = _headers(sheet)
    slot = (box.height - _fixed(sheet, box.width)) / len(headers)
    front = _front_board(sheet, box, slot, headers)
    top = front
    back = sheet.plan.placement.back
    if back is not None:
        top = _rear_board(front, back, slot, headers[1])
        marks += [*_wood(top), *_openings(top), *_threads(sheet, top, back.offset, front.wood.top)]
    marks += [*_wood(front), *_numbers(sheet, front), *_openings(front)]
    marks += _threads(sheet, front, 0, front.wood.bottom + HANG)
    if top is not front:
        marks += _wood_names(sheet, top, front)
    marks += _flags(sheet, front, top, box)
    room = Box(box.left, box.top, box.width, front.wood.bottom + HANG - box.top)
    drawn = figure("heddle", room, marks, heddle_words.heddle_alt_text(sheet.plan, behind=sheet.behind))
    seen = sheet.as_seen([beside(sheet, box, heddle_words.heddle_title(sheet.plan.loom)), drawn], box)
    return Drawing((*seen, *_words(sheet, Box(box.left, room.bottom, box.width, 0))))


def _pitch(sheet: Sheet, width: float) -> float:
    """From space to space; a back heddle may be threaded one space to the side."""
    spaces = sheet.plan.loom.spaces + len(_headers(sheet)) - 1
    return min(WIDEST_PITCH, (width - 2 * _cheek(sheet)) / spaces)


def _front_board(sheet: Sheet, body: Box, slot: float, headers: list[float]) -> _Board:
    loom = sheet.plan.loom
    two = len(headers) - 1
    cheek, pitch = _cheek(sheet), _pitch(sheet, body.width)
    width = pitch * loom.spaces + 2 * cheek
    top = body.top + _flag_height(sheet, body.width) + two * (headers[-1] + slot + FOOT + BETWEEN)
    left = body.left + max(0.0, (body.width - width - two * pitch) / 2)
    if sheet.plan.placement.back and sheet.plan.placement.back.offset > 0:
        left += pitch  # the back board then stands to the left
    return _Board(loom, Box(left, top, width, headers[0] + slot + FOOT), left + cheek, pitch, False, headers[0])


def _rear_board(front: _Board, back: BackHeddle, slot: float, header: float) -> _Board:
    """The back heddle, moved sideways so that each end runs straight through both."""
    aside = -back.offset * front.pitch
    height = header + slot + FOOT
    wood = Box(front.wood.left + aside, front.wood.top - BETWEEN - height, front.wood.width, height)
    flipped = front.loom.back_heddle == "opposite"
    return _Board(front.loom, wood, front.left + aside, front.pitch, flipped, header)


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


def _openings(board: _Board) -> list[Mark]:
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
        marks.append(Line(x, board.eye, x, bottom, thick + 2 * OUTLINE, BLACK))
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
        count = heddle_words.counted_number(space, loom)
        fifth = count % 5 == 0 and count > 0
        baseline = board.wood.top + 1.9 + cap_height(size)
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


def _flags(sheet: Sheet, board: _Board, top: _Board, body: Box) -> list[Mark]:
    """The first and the last space by name; the first in the accent, because there it starts."""
    plan = sheet.plan
    placement, loom, size = plan.placement, plan.loom, sheet.sizes.body
    below, stacked = _flags_below(sheet, body.width), _flags_on_two_lines(sheet, body.width)
    baseline = body.top + _flag_height(sheet, body.width) - 3.2
    middle = board.left + loom.spaces * board.pitch / 2
    heading = body.left + (0.0 if below else _heading_width(sheet))
    foot = top.wood.top + (1.5 if top is board else 0.0)
    flags = (
        (board.x(placement.first_space), heddle_words.first_flag(plan), ACCENT, -1),
        (board.x(placement.last_space), heddle_words.last_flag(plan), BLACK, 1),
    )
    marks: list[Mark] = []
    for x, words, colour, side in flags:
        wide = sheet.wide(words, Face.SANS_BOLD if side < 0 else Face.SANS_SEMIBOLD, size)
        y = baseline - (leading(size) if stacked and side < 0 else 0.0)
        left = x - wide * 0.75 if side < 0 else x - wide * 0.25
        if not stacked:
            left = min(left, middle - FROM_MIDDLE - wide) if side < 0 else max(left, middle + FROM_MIDDLE)
        left = min(max(left, heading), body.right - wide)
        stem = x if stacked and side < 0 else min(max(x, left + 0.5), left + wide - 0.5)
        steps: tuple[Step, ...] = (("move", stem, y + 0.9), ("line", x, baseline + 2.2), ("line", x, foot))
        if stacked and side < 0:  # down past the other flag, at the edge of the board
            out = min(x, body.left + 0.6)
            steps = (
                ("move", out, y + 0.9),
                ("line", out, baseline + 1.6),
                ("line", x, baseline + 2.4),
                ("line", x, foot),
            )
        marks.append(Path(steps, stroke=colour, width=RULE))
        marks.append(Rectangle(Box(left, y - cap_height(size), wide, cap_height(size) + 0.9), WHITE))
        marks.append(Words(left, y, words, Face.SANS_BOLD if side < 0 else Face.SANS_SEMIBOLD, size, colour))
    return marks


def _wood_names(sheet: Sheet, rear: _Board, front: _Board) -> list[Mark]:
    """Which board is which, in the cheek of each."""
    size = sheet.sizes.smallest
    inside = 0.25 * size * POINT + 0.3  # clear of the wood's edge with tails and all, whichever way it is turned
    marks: list[Mark] = []
    for board, name in ((rear, heddle_words.BACK), (front, heddle_words.FRONT)):
        half = sheet.wide(name, Face.SANS, size) / 2
        if 2 * half > board.wood.height - 2:
            continue
        x, y = board.wood.left + inside + cap_height(size), board.wood.top + board.wood.height / 2 + half
        marks.append(Words(x, y, name, Face.SANS, size, SOFT, turned=90))
    return marks


def _words(sheet: Sheet, below: Box) -> list[Mark]:
    marks: list[Mark] = []
    top = below.top
    for spans, size, above in _blocks(sheet):
        lines = sheet.lines(spans, size, below.width)
        marks += paragraph(sheet, lines, below.left, top + above + cap_height(size), size, below.width)
        top += above + text_height(len(lines), size)
    return marks


BOARD = Panel("board", _room, _draw)
