"""Weaving: the step's heading with how it begins, the two shed cells, and how full the shuttle is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.panels.shed_cells import shed_cells_part
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import aside_fits, close_heading, step_line_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import NO_ROOM, Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.model.record_class import replace
from cardmaker.wording import length_words, piece_words, shed_words
from cardmaker.wording.phrases import capitalised
from cardmaker.wording.step_words import WEAVE

TUG_PRIORITY: Final = 6
ABOVE_PIECES, LEAST_ABOVE_PIECES = 1.8, 1.2  # mm, to the words below the frames
PIECES_PRIORITY: Final = -5  # before the second and third symptoms of what goes wrong
# panels beside which the cells do not say it again
TELL_HOW_TO_BEGIN: Final = frozenset({"weave", "six", "six-if-room"})

TELL_LAST_SHED: Final = frozenset(
    {"trouble", "slip-weave"}
)  # a student's panels, which tell how to find the shed again


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
        shed_cells_part(sheet, width),
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
    if not is_students:
        tries = piece_words.weave_each(lengths, sheet.units, None)
        return _to_weave(sheet, width, tries, ("pieces on the loom",), priority)
    beaten = [] if _is_beaten_elsewhere(sheet) else length_words.closeness_tries(sheet.plan, sheet.units)
    further = [*(["closeness"] if beaten else []), *(["between pieces"] if lengths.pieces_come > 1 else [])]
    tries = piece_words.weave_each(lengths, sheet.units, beaten)
    return _to_weave(sheet, width, tries, ("pieces on the loom", *further), priority)


def _is_beaten_elsewhere(sheet: Sheet) -> bool:
    """The drawn step of the first pick tells how close."""
    return "slip-weave" in sheet.layout.panels


def size_parts(sheet: Sheet, width: float, priority: int) -> list[Part]:
    """For a student how long the tape is woven where no pieces tell it, how wide, and how close it is beaten."""
    if not TELL_LAST_SHED & sheet.layout.panels or sheet.plan.lengths.pieces_come:
        return []
    is_elsewhere = _is_beaten_elsewhere(sheet)
    told = length_words.weave_so_wide(sheet.plan, sheet.units, is_beaten_elsewhere=is_elsewhere)
    facts = ("length to weave", "width", *(() if is_elsewhere else ("closeness",)))
    return _to_weave(sheet, width, [(words,) for words in told], facts, priority)


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
    return [*begin, shed_cells_part(sheet, width), *hints]


SHUTTLE = Panel("shuttle", _shuttle)
SHUTTLE_FIRST = Panel("shuttle-first", _shuttle_first)
WEAVE_HEADING = Panel("weave", _weave, heads_below=True)
NEXT = Panel("next", _next, heads_below=True)  # what is woven, where that stands under it, belongs to the step
