"""Running totals with boxes to tick while winding, those that fall at the far post underlined; no picture."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final

from cardmaker.card.panels.small_cross import Names, draw_small_cross, small_cross_height
from cardmaker.card.panels.winding_sentence import (
    BEFORE_KEY,
    LINES_BESIDE,
    ToldWinding,
    any_is_far,
    change_in_sentence,
    chosen_sentence,
    finish_goes_behind,
    has_room_behind,
    is_brief,
    lines_beside_cross,
    room_behind,
    tick_in_sentence,
    told_winding,
    underlined_key,
    winding_boxes,
)
from cardmaker.card.parts import picture_part, step_indent, step_line_part, step_lines_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import (
    TickBox,
    draw_tick_boxes,
    end_of_tick_boxes,
    space_over_boxes,
    tick_boxes_height,
)
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import SetLine, Span, cap_height, leading, tail_depth, text_height, words_group
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.model.record_class import replace
from cardmaker.wording import walk_words, winding_words
from cardmaker.wording.step_words import WIND

EMPTY: Final = "empty walks"  # what is told of them, as a fact
ABOVE_NOTE: Final = 1.6


def _ticks_part(sheet: Sheet, boxes: Sequence[TickBox], width: float, above: float = 0.0, behind: str = "") -> Part:
    size, room = sheet.sizes.body, room_behind(sheet, behind)
    heights = exactly(tick_boxes_height(sheet, boxes, size, width, behind=room))
    alt = partial(winding_words.winding_alt_text, sheet.plan)

    def draw(box: Box) -> list[Mark]:
        return draw_tick_boxes(sheet, boxes, size, box, behind=room)

    return picture_part("ticks", heights, draw, alt, above=above, facts=("walk", "finish"))


def _wind(sheet: Sheet, width: float) -> Sequence[Part]:
    """On a small card: what to wind and how beside the picture of the cross, and the boxes. What their bars mean stands
    behind the last of them or, where that fills its row, over the first."""
    told = told_winding(sheet, width)
    boxes = told.boxes
    behind = _words_behind(told)
    ticks = _ticks_part(sheet, boxes, width, space_over_boxes(sheet, boxes, sheet.sizes.body), behind)
    change = "" if change_in_sentence(told) else walk_words.change_on_small_card(sheet.plan)
    cross, empty = _cross(told), _empty_hands(sheet, width)
    wanted = -1 if sheet.is_crowded else 0  # a card draws closer rather than leave it out
    changes = [_line(sheet, width, change, ("change",), priority=wanted)] if change else []
    if underlined_key(boxes) and not behind:
        if sheet.is_crowded:
            words = _words(told, winding_words.underlined_sentence())
            to_tick = _line(sheet, width, winding_words.TICK, ("tick",), priority=-1)
            return words, *cross, *changes, *empty, to_tick, ticks
        return _words(told), *cross, *changes, *empty, _key_line(sheet, width), ticks
    if tick := tick_in_sentence(told):
        with_words = replace(_with_words(told, ticks, behind), facts=(*ticks.facts, "underlined", "tick"))
        return _words(told, tick), *cross, *changes, *empty, with_words
    with_words = replace(_with_words(told, ticks, behind), facts=(*ticks.facts, "underlined"))
    if change:
        to_tick = _line(
            sheet, width, f"{change} {_tick_after(sheet, width, change)}", ("change", "tick"), priority=wanted
        )
    else:
        to_tick = _line(sheet, width, winding_words.TICK, ("tick",), priority=-1)
    return _words(told), *cross, *empty, to_tick, with_words


def _tick_after(sheet: Sheet, width: float, words: str) -> str:
    """What the boxes are for, in the words that find room behind others on a line; in the fewest where none do."""
    tries = (winding_words.TICK, winding_words.TICK_IN_BRIEF)
    return next((tick for tick in tries if _is_one_line(sheet, width, f"{words} {tick}")), tries[-1])


def _cross(told: ToldWinding) -> list[Part]:
    """How the cross is made, which is counted when it is wound, in the fullest words that take one line, where its
    picture finds no room."""
    if told.names:
        return []
    sheet, width = told.sheet, told.width
    tries = walk_words.CROSS_MADE
    words = next((each for each in tries if _is_one_line(sheet, width, each)), tries[-1])
    return [_line(sheet, width, words, ("cross reminder",))]


def _is_one_line(sheet: Sheet, width: float, words: str) -> bool:
    return len(sheet.lines([Span(words)], sheet.sizes.body, width - step_indent(sheet))) == 1


def _wind_if_room(sheet: Sheet, width: float) -> Sequence[Part]:
    """The same with the cross in words, as what gives way first, for the narrowest of cards."""
    parts = _wind(sheet, width)
    return [replace(part, priority=-1) if "cross reminder" in part.facts else part for part in parts]


def _words_behind(told: ToldWinding) -> str:
    """What stands behind the last box, if there is room: what a bar means or, where that saves a line, where
    winding ends."""
    if not (key := underlined_key(told.boxes)):
        return winding_words.finish_sentence(told.sheet.plan) if finish_goes_behind(told) else ""
    return key if has_room_behind(told, key) else ""


def _line(sheet: Sheet, width: float, words: str, facts: tuple[str, ...], priority: int = 0) -> Part:
    """A line under the sentence, as if it were of it."""
    size, indent = sheet.sizes.body, step_indent(sheet)
    above = leading(size) - cap_height(size) - tail_depth(size)
    part = words_part(sheet, width - indent, [[Span(words)]], size, above=above, facts=facts, priority=priority)
    return replace(part, draw=lambda box: part.draw(box.inset(left=indent)))


def _empty_hands(sheet: Sheet, width: float) -> list[Part]:
    """Where the walks without a thread lead to, on a crowded card where a line is left for it."""
    words = winding_words.empty_hands(sheet.plan)
    if not words or not is_brief(sheet):
        return []
    return [_line(sheet, width, words, (EMPTY,), priority=-1)]


def _words(told: ToldWinding, key: str = "") -> Part:
    sheet, plan = told.sheet, told.sheet.plan
    facts = ["warp", "trips", *(["underlined"] if key == winding_words.underlined_sentence() else [])]
    if plan.winding.changes and plan.winding.method != "order":
        facts.append("change")  # that there are balls, or bundles, which need no knot
    if winding_words.empty_hands(plan) and not is_brief(sheet):
        facts.append(EMPTY)  # as the full sentence does
    change = change_in_sentence(told)
    facts += ["change"] if change else []
    sentence = [*chosen_sentence(told), *change, *([Span(key)] if key else [])]
    if names := told.names:
        lines = lines_beside_cross(told, sentence, names)
        return _words_beside_cross(sheet, lines, names, (*facts, "cross reminder"))
    return step_line_part(sheet, told.width, WIND, sentence, facts=tuple(facts))


def _words_beside_cross(sheet: Sheet, lines: Sequence[SetLine], names: Names, facts: tuple[str, ...]) -> Part:
    """The step with its lines and, at the right of the second and the third of them, the cross as a picture."""
    size, high_lines = sheet.sizes.body, max(LINES_BESIDE, len(lines))
    step = step_lines_part(sheet, WIND, lines, high_lines, facts=facts)

    def draw(box: Box) -> list[Mark]:
        second = box.bottom - text_height(high_lines, size) + leading(size)
        place = box._replace(top=second, height=small_cross_height(sheet))
        return [*step.draw(box), draw_small_cross(sheet, place, names)]

    return replace(step, draw=draw)


def _key_line(sheet: Sheet, width: float) -> Part:
    """In words alone: a box there would be one to tick too many, and read as the post where winding ends."""
    return _line(sheet, width, winding_words.tick_and_underlined(), ("underlined", "tick"))


def _with_words(told: ToldWinding, ticks: Part, words: str) -> Part:
    """The boxes and, if any, words at the right end of their last row."""
    if not words:
        return ticks
    sheet, boxes = told.sheet, told.boxes
    alt = winding_words.tick_box_note(any_is_far=True) if words == underlined_key(boxes) else ""
    size, room = sheet.sizes.small, room_behind(sheet, words)

    def draw(box: Box) -> list[Mark]:
        _, baseline = end_of_tick_boxes(sheet, boxes, sheet.sizes.body, box, behind=room)
        wide = room - BEFORE_KEY
        place = Box(box.right - wide, baseline - cap_height(size), wide, cap_height(size))
        behind = Words(place.left, baseline, words, Face.SANS, size)
        return [*ticks.draw(box), words_group("paragraph", place, behind, alt=alt)]

    return replace(ticks, draw=draw)


def _step(sheet: Sheet, width: float) -> Sequence[Part]:
    """As step 1, where the walk finds no room."""
    from cardmaker.card.panels.winding_walk_panel import finish_parts  # with its drawing, which no small card has

    boxes = winding_boxes(sheet)
    note = [Span(winding_words.tick_box_note(any_is_far(boxes)), colour=SOFT)]
    return [
        step_part(sheet, width, WIND),
        _ticks_part(sheet, boxes, width),
        words_part(sheet, width, [note], sheet.sizes.small, above=ABOVE_NOTE, facts=("underlined",)),
        *finish_parts(sheet, width, drawn=False),
    ]


TICKS = Panel("ticks", _wind)
TICKS_IF_ROOM = Panel("ticks-if-room", _wind_if_room)
WALK_IN_TOTALS = Panel("walk-in-totals", _step)
