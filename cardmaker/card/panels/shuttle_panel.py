"""Weaving: the step's heading with how it begins, the two shed cells, and how full the shuttle is."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final, Literal

from cardmaker.card.panels.shed_drawing import HIGH, WIDE, pictogram
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import aside_fits, close_heading, picture_part, step_line_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import BLACK, OUTLINE, WHITE
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part
from cardmaker.layout.type_setting import Span, cap_height, tail_depth
from cardmaker.model.loom import Side
from cardmaker.model.marks import Box, Face, Mark, Rectangle, Words
from cardmaker.model.record_class import record, replace
from cardmaker.wording import length_words, piece_words, shed_words
from cardmaker.wording.phrases import capitalised
from cardmaker.wording.shed_words import NextShed
from cardmaker.wording.step_words import WEAVE

GAP = 3.0  # between the cells
PAD = 1.8  # inside their frames
BESIDE_WORDS = 0.9  # inside them, where words are wide
ABOVE_CAPTION = 1.9
BESIDE_PICTURE = 2.5
RADIUS = 1.2
LEAST_SCALE, MOST_SCALE = 0.5, 1.75  # of the pictogram: never so small that its ends run together
USUAL_SCALE = 0.95  # before anything that may be left out finds room
LARGE_SCALE = 1.3  # the same beside the words of a wide cell
LEAST_SHARE = 0.58  # of it on a crowded card: what the hands look at gives way last
FRAME = OUTLINE * 1.4
ONE_LINE, TWO_LINES = 1.3, 1.5  # the words of a cell, in sizes of a sentence: the picture stays the larger
TUG_PRIORITY: Final = 6
ABOVE_PIECES, LEAST_ABOVE_PIECES = 1.8, 1.2  # mm, to the words below the frames
PIECES_PRIORITY: Final = -5  # before the second and third symptoms of what goes wrong
TELL_HOW_TO_BEGIN: Final = frozenset({"weave", "six"})  # panels beside which the cells do not say it again

TELL_LAST_SHED: Final = frozenset(
    {"trouble", "slip-weave"}
)  # a student's panels, which tell how to find the shed again


@record
class _Caption:
    """How both cells are lettered: in one line below the picture, in two lines, or beside it."""

    place: Literal["one line", "two lines", "beside"]
    side_size: float
    shed_size: float
    width: float  # of the words
    shed_face: Face = Face.SANS_BOLD


def _caption(sheet: Sheet, width: float) -> _Caption | None:
    """The largest lettering that the cells hold; None when they are too narrow for any. It always tells the side: that
    is the condition on which the shed depends."""
    inner, sizes = _inner(width), sheet.sizes
    is_full = sheet.is_terse and "trouble" in sheet.layout.panels
    scale = LEAST_SCALE if is_full else USUAL_SCALE if _lies_on_long_side(sheet) else LARGE_SCALE
    beside = inner - WIDE * scale - BESIDE_PICTURE
    if _two_lines_width(sheet, sizes.body, sizes.body) <= beside:
        return _in_two_lines(sheet, "beside", beside)
    room = inner + 2 * (PAD - BESIDE_WORDS)
    size = min(sizes.count, sizes.body * (1.0 if sheet.is_crowded else ONE_LINE))
    while size > sizes.body and _one_line_width(sheet, size) > inner:
        size = max(sizes.body, size - 0.5)
    if (wide := _one_line_width(sheet, size)) <= (room if sheet.is_crowded else inner):
        return _Caption("one line", size, size, wide)
    tries = [_in_two_lines(sheet, "two lines", room, face) for face in (Face.SANS_BOLD, Face.SANS_SEMIBOLD)]
    return next((caption for caption in tries if caption.width <= room), None)


def _lies_on_long_side(sheet: Sheet) -> bool:
    return sheet.paper.width_mm > sheet.paper.height_mm


def _in_two_lines(
    sheet: Sheet, place: Literal["two lines", "beside"], room: float, face: Face = Face.SANS_BOLD
) -> _Caption:
    side = sheet.sizes.body
    big = side if sheet.is_crowded and place == "two lines" else min(max(side, sheet.sizes.count), side * TWO_LINES)
    while big > side and _two_lines_width(sheet, side, big, face) > room:
        big = max(side, big - 0.5)
    while side > sheet.sizes.smallest and _two_lines_width(sheet, side, big, face) > room:
        side = big = max(sheet.sizes.smallest, side - 0.5)
    return _Caption(place, side, big, _two_lines_width(sheet, side, big, face), face)


def _inner(width: float) -> float:
    return (width - GAP) / 2 - 2 * PAD


def _pad(sheet: Sheet) -> float:
    """Over and under what stands in a frame."""
    return PAD * (0.5 if sheet.is_closest else 0.7 if sheet.is_crowded else 1.0)


def _above_caption(sheet: Sheet) -> float:
    return ABOVE_CAPTION * (0.5 if sheet.is_closest else 0.65 if sheet.is_crowded else 1.0)


def _words(sheet: Sheet, rule: NextShed) -> tuple[str, str]:
    return f"{shed_words.weft_side(rule.hangs, sheet.plan.loom)}:", rule.opens.in_capitals


def _rules(sheet: Sheet) -> tuple[NextShed, NextShed]:
    return shed_words.sheds_in_turn(sheet.plan)


def _one_line_width(sheet: Sheet, size: float) -> float:
    return max(sum(_widths(sheet, rule, size, size)) + _space(sheet, size) for rule in _rules(sheet))


def _two_lines_width(sheet: Sheet, side_size: float, shed_size: float, face: Face = Face.SANS_BOLD) -> float:
    return max(max(_widths(sheet, rule, side_size, shed_size, face)) for rule in _rules(sheet))


def _widths(
    sheet: Sheet, rule: NextShed, side_size: float, shed_size: float, face: Face = Face.SANS_BOLD
) -> tuple[float, float]:
    side, shed = _words(sheet, rule)
    return sheet.wide(side, Face.SANS, side_size), sheet.wide(shed, face, shed_size)


def _space(sheet: Sheet, size: float) -> float:
    return sheet.wide(" ", Face.SANS, size)


def _caption_height(caption: _Caption) -> float:
    """From the top of its first capitals to its last baseline, and what hangs below it of *right*."""
    first = cap_height(caption.side_size)
    return first + (tail_depth(caption.side_size) * 0.6 if caption.place == "one line" else _line_step(caption))


def _line_step(caption: _Caption) -> float:
    """From the line that tells the side to the one that tells the shed."""
    return cap_height(caption.shed_size) + 1.1 + tail_depth(caption.side_size) * 0.6


def _cells_heights(sheet: Sheet, width: float) -> HeightRange:
    caption = _caption(sheet, width)
    widest = _picture_width(caption, width) / WIDE if caption else 0.0
    if caption is None or widest < LEAST_SCALE:
        return NO_ROOM
    usual = min(widest, LARGE_SCALE if caption.place == "beside" and not _lies_on_long_side(sheet) else USUAL_SCALE)
    least = max(LEAST_SCALE, usual * max(LEAST_SHARE, sheet.picture_share))
    return HeightRange(*(_cell_height(sheet, caption, scale) for scale in (least, max(least, min(widest, MOST_SCALE)))))


def _picture_width(caption: _Caption, width: float) -> float:
    return _inner(width) - (caption.width + BESIDE_PICTURE if caption.place == "beside" else 0.0)


def _cell_height(sheet: Sheet, caption: _Caption, scale: float) -> float:
    if caption.place == "beside":
        return 2 * _pad(sheet) + max(HIGH * scale, _caption_height(caption))
    return 2 * _pad(sheet) + HIGH * scale + _above_caption(sheet) + _caption_height(caption)


def _cells(sheet: Sheet, box: Box) -> list[Mark]:
    marks: list[Mark] = []
    caption = _caption(sheet, box.width)
    assert caption is not None  # its height says that it has no room
    half = (box.width - GAP) / 2
    for number, rule in enumerate(_rules(sheet)):
        cell = Box(box.left + number * (half + GAP), box.top, half, box.height)
        marks += _cell(sheet, cell, caption, rule)
    return marks


def _cell(sheet: Sheet, cell: Box, caption: _Caption, rule: NextShed) -> list[Mark]:
    inner = cell.inset(PAD, _pad(sheet), PAD, _pad(sheet))
    below = caption.place != "beside"
    words_high = _caption_height(caption)
    if below:
        picture = inner._replace(height=inner.height - words_high - _above_caption(sheet))
        middle, top = inner.middle, inner.bottom - words_high
    else:
        wide = min(WIDE * inner.height / HIGH, inner.width - caption.width - BESIDE_PICTURE)
        picture = inner._replace(width=wide)
        middle, top = (picture.right + inner.right) / 2, inner.top + (inner.height - words_high) / 2
    shown = Side.LEFT if shed_words.weft_side(rule.hangs, sheet.plan.loom).endswith(Side.LEFT) else Side.RIGHT
    frame = Rectangle(cell.inset(FRAME / 2, FRAME / 2, FRAME / 2, FRAME / 2), WHITE, BLACK, FRAME, RADIUS)
    return [frame, *pictogram(picture, shown, rule.opens), *_lettering(sheet, caption, rule, middle, top)]


def _lettering(sheet: Sheet, caption: _Caption, rule: NextShed, middle: float, top: float) -> list[Mark]:
    side, shed = _words(sheet, rule)
    first = top + cap_height(caption.side_size)
    if caption.place == "one line":
        side_width, shed_width = _widths(sheet, rule, caption.side_size, caption.shed_size)
        left = middle - (side_width + shed_width + _space(sheet, caption.side_size)) / 2
        right = left + side_width + _space(sheet, caption.side_size)
        return [
            Words(left, first, side, Face.SANS, caption.side_size),
            Words(right, first, shed, Face.SANS_BOLD, caption.shed_size),
        ]
    return [
        Words(middle, first, side, Face.SANS, caption.side_size, align="middle"),
        Words(middle, first + _line_step(caption), shed, caption.shed_face, caption.shed_size, align="middle"),
    ]


def _cells_part(sheet: Sheet, width: float) -> Part:
    alt = partial(shed_words.next_shed_alt_text, sheet.plan)
    heights = _cells_heights(sheet, width)
    above = 0.4 if sheet.is_closest else 0.8 if sheet.is_crowded else 1.6
    return picture_part("shuttle", heights, lambda box: _cells(sheet, box), alt, above=above, facts=("shed",))


def _weave(sheet: Sheet, width: float) -> list[Part]:
    """The step's heading, and how it begins: at the end of its line, in fewer words where it is short, or below it."""
    for begin in shed_words.begin_tries(sheet.plan):
        if aside_fits(sheet, width, WEAVE.name, begin, step=True):
            heading = close_heading(sheet, step_part(sheet, width, WEAVE, begin, strong=True))
            return [replace(heading, facts=("begin",))]
    return [step_part(sheet, width, WEAVE), _begin_part(sheet, width)]


def _begin_part(sheet: Sheet, width: float) -> Part:
    words = capitalised(shed_words.begin_words(sheet.plan, brief=sheet.brief))
    return words_part(sheet, width, [[Span(words, Face.SANS_SEMIBOLD)]], sheet.sizes.body, facts=("begin",))


def _hints(sheet: Sheet, width: float) -> list[Part]:
    """What the loom's file leaves open stays with the cells; how to find the shed again, where there is room."""
    size = sheet.sizes.small
    open_ = shed_words.next_shed_hints(sheet.plan.loom, brief=sheet.brief)
    hints = [Span(hint) for hint in open_]
    parts = [words_part(sheet, width, [hints], size, above=2.0, facts=("shed",))] if hints else []
    if TELL_LAST_SHED & sheet.layout.panels:
        return parts
    tug = words_part(
        sheet, width, [[Span(shed_words.TUG)]], size, above=2.0, facts=("last shed",), priority=TUG_PRIORITY
    )
    return [*parts, tug]


def _shuttle(sheet: Sheet, width: float, pieces_priority: int = 0) -> Sequence[Part]:
    pieces = pieces_parts(sheet, width, pieces_priority)
    hints = _hints(sheet, width)
    return [
        *_weave(sheet, width),
        _cells_part(sheet, width),
        *hints,
        *pieces,
        *size_parts(sheet, width, pieces_priority),
    ]


def _shuttle_first(sheet: Sheet, width: float) -> Sequence[Part]:
    """The same on a card too full for all of it: what to weave, only where there is room."""
    return _shuttle(sheet, width, PIECES_PRIORITY)


def pieces_parts(sheet: Sheet, width: float, priority: int) -> list[Part]:
    """Which pieces are woven, how long each is and what stays bare; for a student how close, and where to cut."""
    lengths, is_students = sheet.plan.lengths, bool(TELL_LAST_SHED & sheet.layout.panels)
    beaten = length_words.closeness_tries(sheet.plan, sheet.units) if is_students else []
    tries = piece_words.weave_each(lengths, sheet.units, beaten)
    further = ["closeness", *(["between pieces"] if lengths.pieces_come > 1 else [])] if is_students else []
    return _to_weave(sheet, width, tries, ("pieces on the loom", *further), priority)


def size_parts(sheet: Sheet, width: float, priority: int) -> list[Part]:
    """For a student how long the tape is woven where no pieces tell it, how wide, and how close it is beaten."""
    if not TELL_LAST_SHED & sheet.layout.panels or sheet.plan.lengths.pieces_come:
        return []
    tries = [(words,) for words in length_words.weave_so_wide(sheet.plan, sheet.units)]
    return _to_weave(sheet, width, tries, ("length to weave", "width", "closeness"), priority)


def _to_weave(
    sheet: Sheet, width: float, tries: Sequence[Sequence[str]], facts: tuple[str, ...], priority: int
) -> list[Part]:
    """The sentences below the frames: each of several kinds of piece in lines of its own, on a card too full for that
    all in the fewest lines."""
    if not tries:
        return []
    size = sheet.sizes.small
    told = [[[Span(sentence)] for sentence in sentences] for sentences in tries]
    words = (
        min(told, key=lambda each: _line_count(sheet, each, size, width))
        if sheet.is_crowded or len(told[0]) == 1
        else told[0]
    )
    return [words_part(sheet, width, words, size, above=_above_pieces(sheet), facts=facts, priority=priority)]


def _line_count(sheet: Sheet, paragraphs: Sequence[Paragraph], size: float, width: float) -> int:
    return sum(len(sheet.lines(spans, size, width)) for spans in paragraphs)


def _above_pieces(sheet: Sheet) -> float:
    return max(LEAST_ABOVE_PIECES, sheet.over_words * ABOVE_PIECES * (0.85 if sheet.is_crowded else 1.0))


def _next(sheet: Sheet, width: float) -> Sequence[Part]:
    """The cells without the step's heading: where no row of their own has it, with how to begin."""
    begins = [Span(capitalised(shed_words.begin_words(sheet.plan, brief=sheet.brief)), Face.SANS_SEMIBOLD)]
    is_told = bool(sheet.layout.panels & TELL_HOW_TO_BEGIN)
    begin = [] if is_told else [step_line_part(sheet, width, WEAVE, begins, facts=("begin",))]
    hints = _hints(sheet, width)
    if sheet.is_crowded:  # there the steps need the room to stand apart
        hints = [replace(hint, heights=NO_ROOM) if hint.priority else hint for hint in hints]
    return [*begin, _cells_part(sheet, width), *hints]


SHUTTLE = Panel("shuttle", _shuttle)
SHUTTLE_FIRST = Panel("shuttle-first", _shuttle_first)
WEAVE_HEADING = Panel("weave", _weave, heads_below=True)
NEXT = Panel("next", _next)
