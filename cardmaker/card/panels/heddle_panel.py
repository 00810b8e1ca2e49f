"""The heddle as it stands before the weaver, its real holes and slots, the pencil mark, every threaded end.

Two heddles are two boards, the back one above; they hang so that each end runs straight through both.
"""

from __future__ import annotations

from typing import NamedTuple

from cardmaker.card.panels.board_drawing import (
    BELOW_OPENINGS,
    HeddleBoard,
    board_name,
    board_numbers,
    board_openings,
    board_threads,
    board_wood,
)
from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height, paragraphs_height, set_paragraphs
from cardmaker.card.sheet import Drawing, Sheet, margin_heading, whole_panel
from cardmaker.layout.ink import ACCENT, BLACK, RULE, SOFT, WHITE
from cardmaker.layout.stacking import NO_ROOM, HeightRange, exactly
from cardmaker.layout.type_setting import Span, cap_height, figure, leading, words_group
from cardmaker.model.marks import Box, Colour, Face, Group, Mark, Path, Rectangle, Step, Words
from cardmaker.model.plan import BackHeddle
from cardmaker.wording import heddle_words, view_words

WIDEST_PITCH = 6.6
CHEEK = 5.0  # wood beyond the outermost space, at the least
HANG = 3.0  # how far the threads hang below the board
LEAST_SLOT, MOST_SLOT = 7.6, 18.0
FROM_MIDDLE = 3.0  # the flags keep this far from the pencil mark
FLAG_DROP = 3.2  # from a flag's baseline to the board
NARROWEST_PITCH = 0.7  # from space to space; closer than this nobody can count along it
BETWEEN = 5.4  # from the back board to the front one, where the pencil mark of the front one stands


def _cheek(sheet: Sheet) -> float:
    """Wood beyond the outermost space: with two boards it bears the name of each, clear of the numbers."""
    size = sheet.sizes.smallest
    if sheet.plan.placement.back is None:
        return CHEEK
    return max(CHEEK, 2.2 + cap_height(size) + sheet.wide("00", Face.SANS_BOLD, size) / 2)


# the flags: the first and the last space by name


class _Flag(NamedTuple):
    space: int
    text: str
    face: Face
    colour: Colour
    is_first: bool


def _flags(sheet: Sheet) -> tuple[_Flag, _Flag]:
    """The first in the accent, because there it starts."""
    plan, placement = sheet.plan, sheet.plan.placement
    return (
        _Flag(placement.first_space, heddle_words.first_flag(plan), Face.SANS_BOLD, ACCENT, True),
        _Flag(placement.last_space, heddle_words.last_flag(plan), Face.SANS_SEMIBOLD, BLACK, False),
    )


def _flag_widths(sheet: Sheet) -> list[float]:
    return [sheet.wide(flag.text, flag.face, sheet.sizes.body) for flag in _flags(sheet)]


def _flags_height(sheet: Sheet, width: float) -> float:
    """The flags stand beside the heading, or below it where the panel is narrow, on two lines if need be."""
    below = cap_height(sheet.sizes.heading) + 2.0 if _flags_below(sheet, width) else 0.0
    second = leading(sheet.sizes.body) if _flags_on_two_lines(sheet, width) else 0.0
    return below + second + cap_height(sheet.sizes.body) + FLAG_DROP


def _flags_on_two_lines(sheet: Sheet, width: float) -> bool:
    return max(_flag_widths(sheet)) + FROM_MIDDLE > width / 2


def _flags_below(sheet: Sheet, width: float) -> bool:
    first, last = _flag_widths(sheet)
    return max(_heading_width(sheet) + first, last) + FROM_MIDDLE > width / 2


def _heading_width(sheet: Sheet) -> float:
    return sheet.wide(heddle_words.heddle_title(sheet.plan.loom), Face.SERIF_SEMIBOLD, sheet.sizes.heading) + 4


# from where it is seen, at the other end of the heading's line


def _view(sheet: Sheet, *, brief: bool) -> Span:
    """In strong letters where it is not the usual."""
    behind = sheet.plan.view.from_behind
    words = view_words.seen_from(sheet.plan.loom, brief=brief)
    return Span(words, Face.SANS_SEMIBOLD if behind else Face.SANS, BLACK if behind else SOFT)


def _view_width(sheet: Sheet, *, brief: bool) -> float:
    span = _view(sheet, brief=brief)
    return sheet.wide(span.text, span.face, sheet.sizes.small) + 4


def _view_beside(sheet: Sheet, width: float) -> Span | None:
    """The sentence where it finds room beside the heading or, where the flags stand there too, beside the last flag;
    else a few words; None where there is no room for these either, and they go below."""
    beside = _heading_width(sheet) if _flags_below(sheet, width) else _flag_widths(sheet)[1] + FROM_MIDDLE + width / 2
    fitting = (brief for brief in (False, True) if beside + _view_width(sheet, brief=brief) <= width)
    brief = next(fitting, None)
    return None if brief is None else _view(sheet, brief=brief)


def _draw_view(sheet: Sheet, body: Box) -> list[Mark]:
    """On the baseline of the heading, or of the flags: their stems pass below it."""
    if (span := _view_beside(sheet, body.width)) is None:
        return []
    size = sheet.sizes.small
    high = cap_height(sheet.sizes.heading if _flags_below(sheet, body.width) else sheet.sizes.body)
    wide = sheet.wide(span.text, span.face, size)
    words = Words(body.right, body.top + high, span.text, span.face, size, span.colour, align="right")
    return [words_group("paragraph", Box(body.right - wide, body.top, wide, high), words)]


def _draw_flags(sheet: Sheet, board: HeddleBoard, foot: float, body: Box) -> list[Mark]:
    """Each flag as near its space as the heading, the mark and the other flag allow, with a stem down to ``foot``."""
    size, stacked = sheet.sizes.body, _flags_on_two_lines(sheet, body.width)
    baseline = body.top + _flags_height(sheet, body.width) - FLAG_DROP
    heading, right = body.left, body.right
    if not _flags_below(sheet, body.width):
        heading += _heading_width(sheet)
        view = _view_beside(sheet, body.width)
        right -= sheet.wide(view.text, view.face, sheet.sizes.small) + 4 if view else 0.0
    marks: list[Mark] = []
    for flag, wide in zip(_flags(sheet), _flag_widths(sheet), strict=True):
        x, is_upper = board.x(flag.space), stacked and flag.is_first
        y = baseline - (leading(size) if is_upper else 0.0)
        left = x - wide * (0.75 if flag.is_first else 0.25)
        if not stacked and flag.is_first:
            left = min(left, board.middle - FROM_MIDDLE - wide)
        elif not stacked:
            left = max(left, board.middle + FROM_MIDDLE)
        left = min(max(left, heading), right - wide)
        stem = min(max(x, left + 0.5), left + wide - 0.5)
        steps: tuple[Step, ...] = (("move", stem, y + 0.9), ("line", x, baseline + 2.2), ("line", x, foot))
        if is_upper:  # down past the other flag, at the edge of the board
            out = min(x, body.left + 0.6)
            down: tuple[Step, ...] = (("move", out, y + 0.9), ("line", out, baseline + 1.6))
            steps = (*down, ("line", x, baseline + 2.4), ("line", x, foot))
        marks.append(Path(steps, stroke=flag.colour, width=RULE))
        marks.append(Rectangle(Box(left, y - cap_height(size), wide, cap_height(size) + 0.9), WHITE))
        marks.append(Words(left, y, flag.text, flag.face, size, flag.colour))
    return marks


# the words below


def _counting(sheet: Sheet, width: float) -> Paragraph:
    """How to count out, in words, with the middle end as a second check."""
    plan = sheet.plan
    placement, loom = plan.placement, plan.loom
    where, check = heddle_words.count_out(loom, placement)
    spans = [Span(where, Face.SANS_SEMIBOLD), Span(check)]
    if _view_beside(sheet, width) is None:
        spans.insert(0, _view(sheet, brief=False))
    if sheet.brief and placement.back is None:
        return spans
    if placement.back is not None:
        spans.append(Span(heddle_words.back_heddle(plan), Face.SANS_SEMIBOLD))
    spans.append(Span(heddle_words.middle_end(plan)))
    if placement.half_space != "none":
        spans.append(Span(heddle_words.half_space(placement, loom)))
    return spans


def _closing(sheet: Sheet) -> Paragraph:
    return [
        Span(heddle_words.WHEN_DONE, Face.SERIF_SEMIBOLD),
        Span(heddle_words.closing_count(sheet.plan), Face.SANS_SEMIBOLD),
    ]


def _blocks(sheet: Sheet, width: float) -> list[tuple[Paragraph, float, float]]:
    """(Words, type size, space above) of each block of words below the board."""
    return [(_counting(sheet, width), sheet.sizes.body, 2.2), (_closing(sheet), sheet.sizes.body + 1, 2.4)]


def _words_height(sheet: Sheet, width: float) -> float:
    return sum(above + paragraph_height(sheet, spans, size, width) for spans, size, above in _blocks(sheet, width))


def _words(sheet: Sheet, box: Box) -> list[Mark]:
    marks: list[Mark] = []
    top = box.top
    for spans, size, above in _blocks(sheet, box.width):
        marks += paragraph(sheet, spans, size, Box(box.left, top + above, box.width, 0.0))
        top += above + paragraph_height(sheet, spans, size, box.width)
    return marks


# the boards


def _headers(sheet: Sheet) -> list[float]:
    """The wood above the openings of each board, the front one first: only the front one carries numbers."""
    front = 3.6 + cap_height(sheet.sizes.smallest)
    return [front, 2.2] if sheet.plan.placement.back else [front]


def _fixed_height(sheet: Sheet, width: float) -> float:
    """Everything but the openings."""
    headers = _headers(sheet)
    wood = sum(headers) + BELOW_OPENINGS * len(headers) + BETWEEN * (len(headers) - 1)
    return _flags_height(sheet, width) + wood + HANG + _words_height(sheet, width)


def _heights(sheet: Sheet, width: float) -> HeightRange:
    if _pitch(sheet, width) < NARROWEST_PITCH:
        return NO_ROOM
    boards, fixed = len(_headers(sheet)), _fixed_height(sheet, width)
    least = boards * LEAST_SLOT * max(0.8, sheet.picture_share)
    return HeightRange(fixed + least, fixed + boards * MOST_SLOT / boards**0.5)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks: list[Mark] = []
    headers = _headers(sheet)
    slot = (box.height - _fixed_height(sheet, box.width)) / len(headers)
    front = _front_board(sheet, box, slot, headers)
    foot = front.wood.top + 1.5  # of the flags
    back = sheet.plan.placement.back
    if back is not None:
        rear = _rear_board(front, back, slot, headers[1])
        foot = rear.wood.top
        marks += [*board_wood(rear), *board_openings(rear), *board_threads(sheet, rear, back.offset, front.wood.top)]
    marks += [*board_wood(front), *board_numbers(sheet, front), *board_openings(front)]
    marks += board_threads(sheet, front, 0, front.wood.bottom + HANG)
    if back is not None:
        marks += board_name(sheet, rear, heddle_words.BACK) + board_name(sheet, front, heddle_words.FRONT)
    marks += _draw_flags(sheet, front, foot, box)
    picture = Box(box.left, box.top, box.width, front.wood.bottom + HANG - box.top)
    heading = margin_heading(sheet, box, heddle_words.heddle_title(sheet.plan.loom))
    view = _draw_view(sheet, box)
    mirrored = sheet.as_mirrored([heading, *view, figure("heddle", picture, marks, _alt_text(sheet))], box)
    return Drawing((*mirrored, *_words(sheet, Box(box.left, picture.bottom, box.width, 0))))


def _alt_text(sheet: Sheet) -> str:
    return heddle_words.heddle_alt_text(sheet.plan)


def _pitch(sheet: Sheet, width: float) -> float:
    """From space to space; a back heddle may be threaded one space to the side."""
    spaces = sheet.plan.loom.spaces + len(_headers(sheet)) - 1
    return min(WIDEST_PITCH, (width - 2 * _cheek(sheet)) / spaces)


def _front_board(sheet: Sheet, body: Box, slot: float, headers: list[float]) -> HeddleBoard:
    loom, back = sheet.plan.loom, sheet.plan.placement.back
    two = len(headers) - 1
    cheek, pitch = _cheek(sheet), _pitch(sheet, body.width)
    width = pitch * loom.spaces + 2 * cheek
    top = body.top + _flags_height(sheet, body.width) + two * (headers[-1] + slot + BELOW_OPENINGS + BETWEEN)
    left = body.left + max(0.0, (body.width - width - two * pitch) / 2)
    if back and back.offset > 0:
        left += pitch  # the back board then stands to the left
    wood = Box(left, top, width, headers[0] + slot + BELOW_OPENINGS)
    return HeddleBoard(loom, wood, left + cheek, pitch, False, headers[0])


def _rear_board(front: HeddleBoard, back: BackHeddle, slot: float, header: float) -> HeddleBoard:
    """The back heddle, moved sideways so that each end runs straight through both."""
    sideways = -back.offset * front.pitch
    height = header + slot + BELOW_OPENINGS
    wood = Box(front.wood.left + sideways, front.wood.top - BETWEEN - height, front.wood.width, height)
    flipped = front.loom.back_heddle == "opposite"
    return HeddleBoard(front.loom, wood, front.left + sideways, front.pitch, flipped, header)


# on a small card: in words alone


def _first(sheet: Sheet, width: float) -> list[Paragraph]:
    """Where end 1 goes, and where the last one must come out; from where that is seen, after the one or the other,
    whichever takes fewer lines."""
    plan = sheet.plan
    view = view_words.seen_from(plan.loom, brief=True)
    first, closing = heddle_words.first_flag(plan), heddle_words.closing_count(plan)
    when_done = Span(heddle_words.WHEN_DONE, Face.SANS_BOLD)
    choices: list[list[Paragraph]] = [
        [[Span(f"{first},", Face.SANS_BOLD, ACCENT), Span(view)], [when_done, Span(f"{closing}.")]],
        [[Span(first, Face.SANS_BOLD, ACCENT)], [when_done, Span(f"{closing}, {view}.")]],
    ]
    return min(choices, key=lambda paragraphs: paragraphs_height(sheet, paragraphs, sheet.sizes.body, width))


def _first_heights(sheet: Sheet, width: float) -> HeightRange:
    return exactly(paragraphs_height(sheet, _first(sheet, width), sheet.sizes.body, width))


def _draw_first(sheet: Sheet, box: Box) -> Drawing:
    groups = set_paragraphs(sheet, _first(sheet, box.width), sheet.sizes.body, box)
    words = [word for group in groups if isinstance(group, Group) for word in group.marks]
    return Drawing((figure("first", box, words, _alt_text(sheet)),))


BOARD = whole_panel("board", _heights, _draw)
FIRST = whole_panel("first", _first_heights, _draw_first)
