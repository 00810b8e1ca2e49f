"""A tape in a few lines, for a page on which several stand. Each line is a panel, so that the sheet's file says which
come and in what order."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from cardmaker.card.name_head import name_part
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import step_line_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import TickBox, tick_boxes_part
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.model.record_class import replace
from cardmaker.wording import phrases, source_words, tape_words, title_words
from cardmaker.wording.step_words import THREAD, WEAVE, WIND

BELOW_DECIDED: Final = 2.5  # mm from those who have chosen to the others


def _line(
    words: Callable[[Sheet], Paragraph],
    facts: tuple[str, ...],
    *,
    small: bool = False,
) -> Callable[[Sheet, float], Sequence[Part]]:
    """The part of a panel that is one paragraph."""

    def parts(sheet: Sheet, width: float) -> Sequence[Part]:
        size = sheet.sizes.small if small else sheet.sizes.body
        return [words_part(sheet, width, [words(sheet)], size, above=0.0, facts=facts)]

    return parts


def _name(sheet: Sheet, width: float) -> Sequence[Part]:
    return [name_part(sheet, width, dated=False)]


def _size(sheet: Sheet) -> Paragraph:
    return [Span(f"{tape_words.ends_and_width(sheet.plan, sheet.units)}.", Face.SANS_SEMIBOLD), *_time_spans(sheet)]


def _time_spans(sheet: Sheet) -> Paragraph:
    told = sheet.choosers.time or tape_words.how_long(sheet.plan)
    return [Span(f"{phrases.capitalised(told)}.")] if told else []


def _steps(sheet: Sheet, width: float) -> Sequence[Part]:
    """Winding, threading and weaving, each in a sentence after its number, whose disc keeps clear of the line before
    however full the cell is."""
    plan, sheet = sheet.plan, replace(sheet, picture_share=1.0)
    loom, place = tape_words.loom_and_first_space(plan)
    weave = [Span(tape_words.sheds_in_line(plan)), Span(tape_words.begin_sentence(plan))]
    wind, thread = [Span(f"{tape_words.warp_to_wind(plan, sheet.units)}.")], [Span(f"{loom}, {place}.", Face.SANS_BOLD)]
    return [
        step_line_part(sheet, width, WIND, wind, facts=("warp", "trips")),
        step_line_part(sheet, width, THREAD, thread, facts=("loom", "first space", "view")),
        step_line_part(sheet, width, WEAVE, weave, facts=("shed", "begin")),
    ]


def _purpose(sheet: Sheet) -> Paragraph:
    pattern = sheet.plan.pattern
    return [Span(text) for text in (title_words.uses(pattern.purposes), pattern.about) if text]


def _history(sheet: Sheet) -> Paragraph:
    return [Span(source_words.source_sentence(sheet.plan.pattern.source), colour=SOFT)]


def _said(sheet: Sheet) -> Paragraph:
    return [Span(sentence) for sentence in sheet.said]


def _choosers(sheet: Sheet, width: float) -> Sequence[Part]:
    """Who has chosen it, and a box beside the name of everybody who may."""
    names, decided = sheet.choosers.names, sheet.choosers.decided
    parts: list[Part] = []
    if decided:
        told = [Span(tape_words.chosen_by(decided))]
        parts.append(words_part(sheet, width, [told], sheet.sizes.body, above=0.0, facts=("choosers",)))
    if names:
        lead = [Span(tape_words.TICK_YOUR_NAME, Face.SANS_SEMIBOLD)]
        above = BELOW_DECIDED if decided else 0.0
        parts.append(words_part(sheet, width, [lead], sheet.sizes.body, above=above, facts=("choosers",)))
        boxes = [TickBox(name, face=Face.SANS) for name in names]
        parts.append(tick_boxes_part(sheet, width, boxes, sheet.sizes.body, facts=("choosers",)))
    return parts


TAPE_NAME: Final = Panel("tape-name", _name)
TAPE_SIZE: Final = Panel("tape-size", _line(_size, ("ends", "width", "hours")))
TAPE_STEPS: Final = Panel("tape-steps", _steps)
TAPE_PURPOSE: Final = Panel(
    "tape-purpose",
    _line(_purpose, ("use", "about")),
    lambda sheet: bool(sheet.plan.pattern.purposes or sheet.plan.pattern.about),
)
TAPE_SAID: Final = Panel("tape-said", _line(_said, ("said",)), lambda sheet: bool(sheet.said))
TAPE_HISTORY: Final = Panel("tape-history", _line(_history, ("history",), small=True))
TAPE_CHOOSERS: Final = Panel(
    "tape-choosers", _choosers, lambda sheet: bool(sheet.choosers.names or sheet.choosers.decided)
)
