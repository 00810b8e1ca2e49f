"""Running totals with boxes to tick while winding, those that fall at the far post underlined; no picture."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final

from cardmaker.card.panels.small_cross import (
    Names,
    beside_small_cross,
    draw_small_cross,
    lines_beside,
    small_cross_height,
)
from cardmaker.card.panels.walk_ticks import walk_tick_box
from cardmaker.card.paragraphs import Paragraph
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
from cardmaker.layout.type_setting import (
    NO_BREAK,
    SetLine,
    Span,
    cap_height,
    leading,
    tail_depth,
    text_height,
    words_group,
)
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.model.record_class import replace
from cardmaker.reckoning.winding.walk import Walk, ticked_totals, walk_of
from cardmaker.wording import peg_words, walk_words, winding_words
from cardmaker.wording.step_words import WIND

EMPTY: Final = "empty walks"  # what is told of them, as a fact
ABOVE_NOTE: Final = 1.6
MANY_STRIPES, MANY_WITH_BALLS = 9, 6
BEFORE_KEY: Final = 3.0  # mm
NAMES: Final = peg_words.NUMBERS_ALONE  # of the ends at the cross
BEFORE_CROSS: Final = 1.9  # mm
LINES_BESIDE: Final = 3  # of the sentence, beside the second and the third of which the cross stands


def _walk(sheet: Sheet) -> Walk:
    return walk_of(sheet.plan.runs, sheet.plan.winding.method)


def _label(sheet: Sheet, walk: Walk, at: int) -> str:
    """The running total; of a bundle its own count, with its letters."""
    if sheet.plan.winding.method == "bundle":
        return f"{walk.totals[at]} {sheet.letters(walk.strokes[at - 1].yarn)}"
    return str(at)


def _boxes(sheet: Sheet) -> list[TickBox]:
    """A box for each total at which she stops; at the far post in the accent, and underlined for a grey copy."""
    walk = _walk(sheet)
    boxes = []
    for at in ticked_totals(walk, sheet.plan.winding.method):
        boxes.append(walk_tick_box(_label(sheet, walk, at), walk.stop_of(at)))
    return boxes


def _ticks_part(sheet: Sheet, width: float, above: float = 0.0, behind: str = "") -> Part:
    boxes, size, room = _boxes(sheet), sheet.sizes.body, _room_behind(sheet, behind)
    heights = exactly(tick_boxes_height(sheet, boxes, size, width, behind=room))
    alt = partial(winding_words.winding_alt_text, sheet.plan)

    def draw(box: Box) -> list[Mark]:
        return draw_tick_boxes(sheet, boxes, size, box, behind=room)

    return picture_part("ticks", heights, draw, alt, above=above, facts=("walk", "finish"))


def _wind(sheet: Sheet, width: float) -> Sequence[Part]:
    """On a small card: what to wind and how beside the picture of the cross, and the boxes. What their bars mean stands
    behind the last of them or, where that fills its row, over the first."""
    behind = _words_behind(sheet, width)
    ticks = _ticks_part(sheet, width, space_over_boxes(sheet, _boxes(sheet), sheet.sizes.body), behind)
    change = "" if _change_in_sentence(sheet, width) else walk_words.change_on_small_card(sheet.plan)
    told, empty = [*_cross(sheet, width)], _empty_hands(sheet, width)
    wanted = -1 if sheet.is_crowded else 0  # a card draws closer rather than leave it out
    changes = [_line(sheet, width, change, ("change",), priority=wanted)] if change else []
    if _key(sheet) and not behind:
        if sheet.is_crowded:
            words = _words(sheet, width, winding_words.underlined_sentence())
            to_tick = _line(sheet, width, winding_words.TICK, ("tick",), priority=-1)
            return words, *told, *changes, *empty, to_tick, ticks
        return _words(sheet, width), *told, *changes, *empty, _key_line(sheet, width), ticks
    if tick := _tick_in_sentence(sheet, width):
        boxes = replace(_with_words(sheet, ticks, behind), facts=(*ticks.facts, "underlined", "tick"))
        return _words(sheet, width, tick), *told, *changes, *empty, boxes
    boxes = replace(_with_words(sheet, ticks, behind), facts=(*ticks.facts, "underlined"))
    if change:
        to_tick = _line(
            sheet, width, f"{change} {_tick_after(sheet, width, change)}", ("change", "tick"), priority=wanted
        )
    else:
        to_tick = _line(sheet, width, winding_words.TICK, ("tick",), priority=-1)
    return _words(sheet, width), *told, *empty, to_tick, boxes


def _tick_after(sheet: Sheet, width: float, words: str) -> str:
    """What the boxes are for, in the words that find room behind others on a line; in the fewest where none do."""
    tries = (winding_words.TICK, winding_words.TICK_IN_BRIEF)
    return next((tick for tick in tries if _is_one_line(sheet, width, f"{words} {tick}")), tries[-1])


def _cross(sheet: Sheet, width: float) -> list[Part]:
    """How the cross is made, which is counted when it is wound, in the fullest words that take one line, where its
    picture finds no room."""
    if _names(sheet, width):
        return []
    tries = walk_words.CROSS_MADE
    words = next((each for each in tries if _is_one_line(sheet, width, each)), tries[-1])
    return [_line(sheet, width, words, ("cross reminder",))]


def _is_one_line(sheet: Sheet, width: float, words: str) -> bool:
    return len(sheet.lines([Span(words)], sheet.sizes.body, width - step_indent(sheet))) == 1


def _wind_if_room(sheet: Sheet, width: float) -> Sequence[Part]:
    """The same with the cross in words, as what gives way first, for the narrowest of cards."""
    parts = _wind(sheet, width)
    return [replace(part, priority=-1) if "cross reminder" in part.facts else part for part in parts]


def _change_in_sentence(sheet: Sheet, width: float) -> Paragraph:
    """What to do at a change, where it takes no line more than what stands beside the picture of the cross."""
    change = walk_words.change_on_small_card(sheet.plan)
    if not change or not _names(sheet, width):
        return []
    sentence, told = _sentence(sheet, width), [Span(change)]
    return told if _line_count(sheet, [*sentence, *told], width) == _line_count(sheet, sentence, width) else []


def _names(sheet: Sheet, width: float) -> Names | None:
    """Which ends the picture of the cross names; None where it finds no room, and on a card that would else lack
    something where words take fewer lines."""
    change, tick = walk_words.change_on_small_card(sheet.plan), winding_words.TICK_IN_BRIEF
    room, wanted = width - step_indent(sheet), _wanted(sheet)
    counts = [len(_beside(sheet, [*each, Span(f"{change} {tick}")], width, NAMES)) for each in wanted]
    if sheet.is_tersest or not all(counts):
        return None
    in_words = min(len(sheet.lines([*each, Span(tick)], sheet.sizes.body, room)) for each in wanted)
    takes_less = max(LINES_BESIDE, min(counts)) <= in_words + 1 + bool(change)
    return NAMES if takes_less or not sheet.is_terse else None


def _wanted(sheet: Sheet) -> list[Paragraph]:
    """The sentences from which the card chooses."""
    tries: list[Paragraph] = [[Span(length, Face.SANS_BOLD), Span(how)] for length, how in _tries(sheet)]
    if not _is_brief(sheet):
        return tries[:1]
    return tries[1:2] if sheet.plan.winding.method == "order" else tries[1:]


def _beside(sheet: Sheet, sentence: Paragraph, width: float, names: Names) -> list[SetLine]:
    """The lines of a sentence whose second and third stand beside the cross; none where a word finds no room there."""
    taken = (0.0, *beside_small_cross(sheet, names))
    return lines_beside(sheet, [sentence], width - step_indent(sheet), taken, BEFORE_CROSS)


def _tick_in_sentence(sheet: Sheet, width: float) -> str:
    """What the boxes are for, in the words that the last line of the sentence has room for; else nothing."""
    sentence = [*_sentence(sheet, width), *_change_in_sentence(sheet, width)]
    lines = _line_count(sheet, sentence, width)
    tries = (winding_words.TICK.replace(" ", NO_BREAK), winding_words.TICK_IN_BRIEF.replace(" ", NO_BREAK))
    return next((tick for tick in tries if _line_count(sheet, [*sentence, Span(tick)], width) == lines), "")


def _words_behind(sheet: Sheet, width: float) -> str:
    """What stands behind the last box, if there is room: what a bar means or, where that saves a line, where
    winding ends."""
    if not (key := _key(sheet)):
        return winding_words.finish_sentence(sheet.plan) if _finish_goes_behind(sheet, width) else ""
    return key if _has_room_behind(sheet, width, key) else ""


def _line(sheet: Sheet, width: float, words: str, facts: tuple[str, ...], priority: int = 0) -> Part:
    """A line under the sentence, as if it were of it."""
    size, indent = sheet.sizes.body, step_indent(sheet)
    above = leading(size) - cap_height(size) - tail_depth(size)
    part = words_part(sheet, width - indent, [[Span(words)]], size, above=above, facts=facts, priority=priority)
    return replace(part, draw=lambda box: part.draw(box.inset(left=indent)))


def _empty_hands(sheet: Sheet, width: float) -> list[Part]:
    """Where the walks without a thread lead to, on a crowded card where a line is left for it."""
    words = winding_words.empty_hands(sheet.plan)
    if not words or not _is_brief(sheet):
        return []
    return [_line(sheet, width, words, (EMPTY,), priority=-1)]


def _key(sheet: Sheet) -> str:
    return winding_words.underlined_in_brief(_any_is_far(sheet))


def _room_behind(sheet: Sheet, words: str) -> float:
    return BEFORE_KEY + sheet.wide(words, Face.SANS, sheet.sizes.small) if words else 0.0


def _has_room_behind(sheet: Sheet, width: float, words: str) -> bool:
    """Whether the last row of boxes has room for them."""
    room, size = _room_behind(sheet, words), sheet.sizes.body
    right, _ = end_of_tick_boxes(sheet, _boxes(sheet), size, Box(0.0, 0.0, width, 0.0), behind=room)
    return right + room <= width


def _sentence(sheet: Sheet, width: float) -> Paragraph:
    """What to wind and how: where walks without a thread lead to is told as well, unless the card has much to tell;
    there in fewer words still where these take fewer lines."""
    full, shorter, shortest = ([Span(length, Face.SANS_BOLD), Span(how)] for length, how in _tries(sheet))
    if not _is_brief(sheet):
        return full
    if sheet.plan.winding.method == "order":
        return shortest if _finish_goes_behind(sheet, width) else shorter
    tick = Span(winding_words.TICK_IN_BRIEF)
    return min((shorter, shortest), key=lambda sentence: _line_count(sheet, [*sentence, tick], width))


def _tries(sheet: Sheet) -> list[tuple[str, str]]:
    return winding_words.winds_in_brief(sheet.plan, sheet.units)


def _finish_goes_behind(sheet: Sheet, width: float) -> bool:
    """Whether where a warp wound in order ends stands behind the last box, as that saves a crowded card a line."""
    if sheet.plan.winding.method != "order" or not _is_brief(sheet) or _key(sheet):
        return False
    _, *tries = _tries(sheet)
    lines = [_line_count(sheet, [Span(length, Face.SANS_BOLD), Span(how)], width) for length, how in tries]
    return lines[1] < lines[0] and _has_room_behind(sheet, width, winding_words.finish_sentence(sheet.plan))


def _is_brief(sheet: Sheet) -> bool:
    """Whether a crowded card has many stripes to tick, or two heddles to tell of: others have room for all words."""
    many = MANY_WITH_BALLS if sheet.plan.winding.method == "carry" else MANY_STRIPES
    return sheet.is_crowded and (len(sheet.segments) > many or sheet.plan.placement.back is not None)


def _line_count(sheet: Sheet, sentence: Paragraph, width: float) -> int:
    """Of the sentence; beside the cross it has three at the least."""
    if names := _names(sheet, width):
        return max(LINES_BESIDE, len(_beside(sheet, sentence, width, names)))
    return len(sheet.lines(sentence, sheet.sizes.body, width - step_indent(sheet)))


def _words(sheet: Sheet, width: float, key: str = "") -> Part:
    told = ["warp", "trips", *(["underlined"] if key == winding_words.underlined_sentence() else [])]
    if sheet.plan.winding.changes and sheet.plan.winding.method != "order":
        told.append("change")  # that there are balls, or bundles, which need no knot
    if winding_words.empty_hands(sheet.plan) and not _is_brief(sheet):
        told.append(EMPTY)  # as the full sentence does
    change = _change_in_sentence(sheet, width)
    told += ["change"] if change else []
    sentence = [*_sentence(sheet, width), *change, *([Span(key)] if key else [])]
    if names := _names(sheet, width):
        return _words_beside_cross(sheet, _beside(sheet, sentence, width, names), names, (*told, "cross reminder"))
    return step_line_part(sheet, width, WIND, sentence, facts=tuple(told))


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


def _with_words(sheet: Sheet, ticks: Part, words: str) -> Part:
    """The boxes and, if any, words at the right end of their last row."""
    if not words:
        return ticks
    alt = winding_words.tick_box_note(any_is_far=True) if words == _key(sheet) else ""
    size, room = sheet.sizes.small, _room_behind(sheet, words)

    def draw(box: Box) -> list[Mark]:
        _, baseline = end_of_tick_boxes(sheet, _boxes(sheet), sheet.sizes.body, box, behind=room)
        wide = room - BEFORE_KEY
        place = Box(box.right - wide, baseline - cap_height(size), wide, cap_height(size))
        behind = Words(place.left, baseline, words, Face.SANS, size)
        return [*ticks.draw(box), words_group("paragraph", place, behind, alt=alt)]

    return replace(ticks, draw=draw)


def _any_is_far(sheet: Sheet) -> bool:
    return any(box.marked for box in _boxes(sheet))


def _step(sheet: Sheet, width: float) -> Sequence[Part]:
    """As step 1, where the walk finds no room."""
    from cardmaker.card.panels.winding_walk_panel import finish_parts  # with its drawing, which no small card has

    note = [Span(winding_words.tick_box_note(_any_is_far(sheet)), colour=SOFT)]
    return [
        step_part(sheet, width, WIND),
        _ticks_part(sheet, width),
        words_part(sheet, width, [note], sheet.sizes.small, above=ABOVE_NOTE, facts=("underlined",)),
        *finish_parts(sheet, width, drawn=False),
    ]


TICKS = Panel("ticks", _wind)
TICKS_IF_ROOM = Panel("ticks-if-room", _wind_if_room)
WALK_IN_TOTALS = Panel("walk-in-totals", _step)
