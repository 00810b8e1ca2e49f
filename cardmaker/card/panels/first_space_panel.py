"""Threading without a picture: where end 1 goes, as large as a count, and the boxes to tick when all is threaded."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final

from cardmaker.card.panels.winding_sentence import has_much_to_tell
from cardmaker.card.parts import aside_fits, heading_part, picture_part, step_indent, step_line_part, step_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import TickBox, tick_box_width, tick_boxes_height, tick_boxes_part
from cardmaker.layout.ink import ACCENT, BLACK
from cardmaker.layout.stacking import HeightRange, Part
from cardmaker.layout.type_setting import Span, cap_height, figure, fitting_size, tail_depth, text_height
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.model.record_class import replace
from cardmaker.wording import heddle_alt_texts, heddle_words
from cardmaker.wording.step_words import THREAD

ABOVE_PLACE: Final = 1.7  # mm
HEADED_STEPS: Final = frozenset({"shuttle", "shuttle-first", "weave"})  # panels that head the step of weaving
LARGER_PLACE: Final = 1.1  # the name of the first space, at least, in sizes of a sentence
SMALLER: Final = tuple(range(16, 24))  # sizes between those, for where there is some room
CALM: Final = 0.75  # of the size of a count: what it shrinks to on a crowded card


def _first_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """What the first space counts from, its name as large as a count, and the boxes to tick."""
    size = sheet.sizes.body
    checks = threading_checks(sheet, size, width, is_small=True)
    lead = f"{heddle_words.WHEN_DONE}: "
    return [
        *(_first_on_one_line(sheet, width) or [_first_step(sheet, width), _first_space_part(sheet, width)]),
        tick_boxes_part(sheet, width, checks, size, above=_closer(sheet, 1.4), facts=("checks",), lead=lead),
    ]


def _first_step(sheet: Sheet, width: float) -> Part:
    """The words of the step in the line of its heading, where the other steps have one; else after its number alone."""
    words = heddle_words.end_1_counted(sheet.plan)
    if HEADED_STEPS & sheet.layout.panels and aside_fits(sheet, width, THREAD.name, words, step=True):
        return replace(step_part(sheet, width, THREAD, words), facts=("view",))
    return step_line_part(sheet, width, THREAD, [Span(words)], facts=("view",))


def _first_on_one_line(sheet: Sheet, width: float) -> list[Part]:
    """On a full card the name of the space behind the words of the step, where both find room; else nothing."""
    size, face, words = sheet.sizes.body, Face.SANS_BOLD, heddle_words.end_1_counted_in_brief(sheet.plan)
    place, large = heddle_words.first_place(sheet.plan), size * LARGER_PLACE
    start = step_indent(sheet) + sheet.wide(f"{words} ", Face.SANS, size)
    is_full = has_much_to_tell(sheet) and not HEADED_STEPS & sheet.layout.panels
    if not (is_full and sheet.is_crowded) or start + sheet.wide(place, face, large) > width:
        return []
    step = step_line_part(sheet, width, THREAD, [Span(words)])

    def draw(box: Box) -> list[Mark]:
        baseline = box.bottom - tail_depth(size)
        name = Words(box.left + start, baseline, place, face, large, ACCENT)
        at = Box(name.x, baseline - cap_height(large), sheet.wide(place, face, large), text_height(1, large))
        return [*step.draw(box), figure("first", at, [name], heddle_alt_texts.heddle_alt_text(sheet.plan))]

    return [replace(step, draw=draw, facts=("view", "first space"))]


def _closer(sheet: Sheet, space: float) -> float:
    """A space that gives way a little on a crowded card."""
    return space * 0.4 if sheet.is_crowded else space


def _first_space_part(sheet: Sheet, width: float) -> Part:
    """The name of the space under the words of its step; of two heddles one below the other where both are large, else
    in one line. It is a picture of words, told in full."""
    sizes, face, indent = sheet.sizes, Face.SANS_BOLD, step_indent(sheet)
    least = sizes.body * LARGER_PLACE
    name = heddle_words.first_place(sheet.plan)
    places = name.split("; ")
    if len(places) > 1 and sheet.is_crowded and sheet.wide(name, face, least) <= width - indent:
        places = [name]
    longest = max(places, key=lambda place: sheet.wide(place, face, sizes.count))
    largest = fitting_size(longest, face, sheet.layout.type_sizes.count, width - indent, sheet.ruler, least)
    most = max(least, sizes.count * CALM) if sheet.is_crowded else largest
    size = fitting_size(longest, face, most, width - indent, sheet.ruler, least)

    def draw(box: Box) -> list[Mark]:
        spans = [(Span(place, face, ACCENT),) for place in places]
        fits = [each for each in (largest, *SMALLER) if size < each <= largest and high(each) <= box.height + 1e-6]
        used = max(fits, default=size)
        return list(sheet.set(spans, box.left + indent, box.top + cap_height(used), used))

    def high(of_size: float) -> float:
        return text_height(len(places), of_size)

    height = HeightRange(high(size), max(high(size), high(largest)))
    return picture_part(
        "first",
        height,
        draw,
        partial(heddle_alt_texts.heddle_alt_text, sheet.plan),
        above=_closer(sheet, ABOVE_PLACE),
        facts=("first space",),
    )


def threading_checks(sheet: Sheet, size: float, width: float, *, is_small: bool = False) -> list[TickBox]:
    """What to count when all is threaded: in full, or on a small or crowded card in as few rows as it can be told."""
    told = [heddle_words.closing_checks(sheet.plan)]
    if is_small or sheet.is_crowded:
        told.append(heddle_words.closing_checks_in_brief(sheet.plan, joined=False))
    if sheet.is_crowded:
        told.append(heddle_words.closing_checks_in_brief(sheet.plan, joined=True))
    boxes = [[TickBox(text, BLACK, Face.SANS) for text in texts] for texts in told]
    if sheet.is_crowded and tick_box_width(sheet, boxes[-1][0], size) > width:
        boxes.pop()
    return min(boxes, key=lambda each: tick_boxes_height(sheet, each, size, width))


def _checks_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """What is counted when all is threaded, by itself: on the back of a card whose front has no room for it."""
    size = sheet.sizes.body
    boxes = tick_boxes_part(sheet, width, threading_checks(sheet, size, width), size, above=0.0, facts=("checks",))
    return [heading_part(sheet, width, heddle_words.WHEN_DONE), boxes]


FIRST = Panel("first", _first_parts)
CHECKS: Final = Panel("checks", _checks_parts)
