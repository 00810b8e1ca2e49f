"""Running totals with boxes to tick while winding, those that fall at the far post underlined; no picture."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.panels.walk_ticks import walk_tick_box
from cardmaker.card.panels.winding_walk_panel import finish_parts
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import picture_part, step_indent, step_line_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import (
    TickBox,
    draw_tick_boxes,
    end_of_tick_boxes,
    space_over_boxes,
    tick_boxes_height,
)
from cardmaker.layout.ink import ACCENT, SOFT
from cardmaker.layout.stacking import HeightRange, Part, exactly
from cardmaker.layout.type_setting import Span, cap_height, leading, tail_depth, words_group
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.model.record_class import replace
from cardmaker.reckoning.winding.walk import Walk, ticked_totals, walk_of
from cardmaker.wording import winding_words
from cardmaker.wording.step_words import WIND

ABOVE_NOTE: Final = 1.6
MANY_STRIPES, MANY_WITH_BALLS = 9, 6
BEFORE_KEY: Final = 3.0  # mm


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


def _ticks_part(sheet: Sheet, width: float, above: float = 0.0) -> Part:
    boxes, size = _boxes(sheet), sheet.sizes.body
    heights = exactly(tick_boxes_height(sheet, boxes, size, width))
    alt = winding_words.winding_alt_text(sheet.plan)
    return picture_part("ticks", heights, lambda box: draw_tick_boxes(sheet, boxes, size, box), alt, above=above,
                        facts=("walk", "finish"))  # fmt: skip


def _wind(sheet: Sheet, width: float) -> Sequence[Part]:
    """On a small card: what to wind and how, and the boxes, with their key at the end of whichever has room for it."""
    ticks = _ticks_part(sheet, width, space_over_boxes(sheet, sheet.sizes.body))
    if _key_goes_below(sheet, width):
        return _words(sheet, width), *_empty_hands(sheet, width), _with_key(sheet, width, ticks)
    return _words_with_key(sheet, width), *_empty_hands(sheet, width), ticks


def _empty_hands(sheet: Sheet, width: float) -> list[Part]:
    """Where the walks without a thread lead to, on a crowded card where a line is left for it."""
    words = winding_words.empty_hands(sheet.plan)
    if not words or not _is_brief(sheet):
        return []
    size, indent = sheet.sizes.body, step_indent(sheet)
    above = leading(size) - cap_height(size) - tail_depth(size)
    part = words_part(sheet, width - indent, [[Span(words)]], size, above=above, facts=("walk",), priority=1)
    return [replace(part, draw=lambda box: part.draw(box.inset(left=indent)))]


def _key(sheet: Sheet) -> str:
    return winding_words.underlined_in_brief(_any_is_far(sheet))


def _key_room(sheet: Sheet) -> float:
    return BEFORE_KEY + sheet.wide(_key(sheet), Face.SANS, sheet.sizes.small)


def _sentence(sheet: Sheet, width: float) -> Paragraph:
    """What to wind and how: where walks without a thread lead to is told as well, unless the card has much to tell;
    there in fewer words still where these and the key take fewer lines."""
    full, shorter, shortest = (
        [Span(length, Face.SANS_BOLD), Span(how)]
        for length, how in winding_words.winds_in_brief(sheet.plan, sheet.units)
    )
    if not _is_brief(sheet):
        return full
    return min((shorter, shortest), key=lambda sentence: _line_count(sheet, sentence, width))


def _is_brief(sheet: Sheet) -> bool:
    """Whether a crowded card has many stripes to tick, or two heddles to tell of: others have room for all words."""
    many = MANY_WITH_BALLS if sheet.plan.winding.method == "carry" else MANY_STRIPES
    return sheet.is_crowded and (len(sheet.segments) > many or sheet.plan.placement.back is not None)


def _line_count(sheet: Sheet, sentence: Paragraph, width: float) -> int:
    """Of a sentence and the key to the boxes, where this has to stand below it."""
    has_own_line = _end(sheet, sentence, width) + _key_room(sheet) > width and not _has_room_below(sheet, width)
    return len(sheet.lines(sentence, sheet.sizes.body, width - step_indent(sheet))) + (
        has_own_line and bool(_key(sheet))
    )


def _end(sheet: Sheet, sentence: Paragraph, width: float) -> float:
    """Where its last line ends."""
    indent, size = step_indent(sheet), sheet.sizes.body
    last = sheet.set(sheet.lines(sentence, size, width - indent), indent, 0.0, size)[-1]
    return last.x + sheet.wide(last.text, last.face, size)


def _key_fits_beside(sheet: Sheet, width: float) -> bool:
    return _end(sheet, _sentence(sheet, width), width) + _key_room(sheet) <= width


def _key_goes_below(sheet: Sheet, width: float) -> bool:
    """Whether the sentence fills its last line, and the last row of boxes has room for the key."""
    return bool(_key(sheet)) and not _key_fits_beside(sheet, width) and _has_room_below(sheet, width)


def _has_room_below(sheet: Sheet, width: float) -> bool:
    right, _ = end_of_tick_boxes(sheet, _boxes(sheet), sheet.sizes.body, Box(0.0, 0.0, width, 0.0))
    return right + _key_room(sheet) <= width


def _words(sheet: Sheet, width: float) -> Part:
    return step_line_part(sheet, width, WIND, _sentence(sheet, width), facts=("warp", "trips"))


def _words_with_key(sheet: Sheet, width: float) -> Part:
    """With what an underlined box means at the end of the last line, or below it where there is no room for that.

    In words alone: a box there would be one to tick too many, and read as the post where winding ends.
    """
    words, size = _words(sheet, width), sheet.sizes.body
    if not _key(sheet):
        return replace(words, facts=(*words.facts, "underlined"))
    is_beside = _key_fits_beside(sheet, width)
    below = 0.0 if is_beside else leading(size)

    def draw(box: Box) -> list[Mark]:
        left = None if is_beside else box.left + step_indent(sheet)
        key = _draw_key(sheet, left, box.right, box.bottom - tail_depth(size))
        return [*words.draw(box.inset(bottom=below)), *key]

    heights = HeightRange(words.heights.least + below, words.heights.most + below)
    return Part(heights, draw, facts=(*words.facts, "underlined"))


def _with_key(sheet: Sheet, width: float, ticks: Part) -> Part:
    def draw(box: Box) -> list[Mark]:
        _, baseline = end_of_tick_boxes(sheet, _boxes(sheet), sheet.sizes.body, box)
        return [*ticks.draw(box), *_draw_key(sheet, None, box.right, baseline)]

    return replace(ticks, draw=draw, facts=(*ticks.facts, "underlined"))


def _draw_key(sheet: Sheet, left: float | None, right: float, baseline: float) -> list[Mark]:
    """The words, in the colour of the boxes that are underlined; where no ``left`` is given they end at ``right``."""
    key, size = _key(sheet), sheet.sizes.small
    wide = sheet.wide(key, Face.SANS, size)
    start = right - wide if left is None else left
    place = Box(start, baseline - cap_height(size), wide, cap_height(size))
    words = Words(start, baseline, key, Face.SANS, size, ACCENT)
    return [words_group("paragraph", place, words, alt=winding_words.tick_box_note(any_is_far=True))]


def _any_is_far(sheet: Sheet) -> bool:
    return any(box.marked for box in _boxes(sheet))


def _step(sheet: Sheet, width: float) -> Sequence[Part]:
    """As step 1, where the walk finds no room."""
    note = [Span(winding_words.tick_box_note(_any_is_far(sheet)), colour=SOFT)]
    return [
        step_part(sheet, width, WIND),
        _ticks_part(sheet, width),
        words_part(sheet, width, [note], sheet.sizes.small, above=ABOVE_NOTE, facts=("underlined",)),
        *finish_parts(sheet, width, drawn=False),
    ]


TICKS = Panel("ticks", _wind)
WALK_IN_TOTALS = Panel("walk-in-totals", _step)
