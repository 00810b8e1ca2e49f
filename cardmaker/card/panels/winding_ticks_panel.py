"""Running totals with boxes to tick while winding, those that fall at the far post underlined; no picture."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.panels.winding_walk_panel import finish_part
from cardmaker.card.parts import picture_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import BEFORE_WORDS, TickBox, draw_tick_boxes, tick_boxes_height
from cardmaker.layout.ink import ACCENT, BLACK, SOFT
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.tick_squares import tick_side, tick_square
from cardmaker.layout.type_setting import Span, cap_height, leading, words_group
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.model.plan import Post
from cardmaker.reckoning.winding.walk import Walk, walk_of
from cardmaker.wording import winding_words
from cardmaker.wording.step_words import WIND

MOST_BOXES: Final = 16  # where changes are more than this, the tens are ticked
ABOVE_NOTE: Final = 1.6
ABOVE_BOXES: Final = 1.2  # mm
BEFORE_KEY: Final = 2.5  # mm
USUAL_LINES: Final = 4.0  # of the sentence and the boxes together, on a card that is not crowded
KEY_BAR: Final = 1.0  # mm that the bar under the key hangs lower than the words


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
    by_tens = len(walk.totals) > MOST_BOXES and sheet.plan.winding.method != "bundle"
    boxes = []
    for at in walk.tens if by_tens else walk.totals:
        far = walk.stop_of(at) is Post.FAR
        boxes.append(TickBox(_label(sheet, walk, at), ACCENT if far else BLACK, Face.SANS_BOLD, marked=far))
    return boxes


def _ticks_part(sheet: Sheet, width: float, above: float = 0.0, least: float = 0.0) -> Part:
    """The boxes; with ``least`` mm of height even where they are fewer."""
    boxes, size = _boxes(sheet), sheet.sizes.body
    heights = exactly(max(least, tick_boxes_height(sheet, boxes, size, width)))
    alt = winding_words.winding_alt_text(sheet.plan)
    return picture_part("ticks", heights, lambda box: draw_tick_boxes(sheet, boxes, size, box), alt, above=above,
                        facts=("walk", "finish"))  # fmt: skip


def _wind(sheet: Sheet, width: float) -> Sequence[Part]:
    """On a small card: what to wind and how, with the key of the boxes at the end of that, and the boxes.

    Where nothing is crowded it is as high with one row of boxes as with two, so that what follows stands at the same
    height on every card.
    """
    size = sheet.sizes.body
    words = _wind_part(sheet, width)
    usual = leading(size) * USUAL_LINES + KEY_BAR
    least = 0.0 if sheet.picture_share < 1 else usual - words.heights.least - ABOVE_BOXES
    return words, _ticks_part(sheet, width, ABOVE_BOXES * (0.5 if sheet.is_crowded else 1.0), least)


def _wind_part(sheet: Sheet, width: float) -> Part:
    """The sentence, and at the end of its last line, or below it where that is full, what an underlined box means."""
    size = sheet.sizes.body
    length, how = winding_words.wind_in_brief(sheet.plan, sheet.units)
    spans = [Span(length, Face.SANS_BOLD), Span(how)]
    words = words_part(sheet, width, [spans], size)
    last = sheet.set(sheet.lines(spans, size, width), 0.0, cap_height(size), size)[-1]
    is_full = last.x + sheet.wide(last.text, last.face, size) + BEFORE_KEY + _key_width(sheet) > width
    baseline = last.y + (leading(size) if is_full else 0.0)

    def draw(box: Box) -> list[Mark]:
        left = box.left if is_full else box.right - _key_width(sheet)
        key = Box(left, box.top + baseline - cap_height(size), _key_width(sheet), cap_height(size))
        return [*words.draw(box), *_key(sheet, key)]

    return Part(exactly(baseline + KEY_BAR), draw, facts=("warp", "trips", "underlined"))


def _any_is_far(sheet: Sheet) -> bool:
    return any(box.marked for box in _boxes(sheet))


def _key_width(sheet: Sheet) -> float:
    size = sheet.sizes.body
    return tick_side(size) + BEFORE_WORDS + sheet.wide(_key_word(sheet), Face.SANS_BOLD, size)


def _key_word(sheet: Sheet) -> str:
    return winding_words.underlined_in_brief(_any_is_far(sheet))


def _key(sheet: Sheet, place: Box) -> list[Mark]:
    """A box as they are underlined, and the word for it; on a card without any, a plain one for where all stand."""
    is_far, size = _any_is_far(sheet), sheet.sizes.body
    colour = ACCENT if is_far else BLACK
    words = Words(place.right, place.bottom, _key_word(sheet), Face.SANS_BOLD, size, colour, "right")
    side = tick_side(size)
    square = tick_square(place.left, place.bottom - (side + cap_height(size)) / 2, side, colour, marked=is_far)
    return [*square, words_group("paragraph", place, words, alt=winding_words.tick_box_note(is_far))]


def _step(sheet: Sheet, width: float) -> Sequence[Part]:
    """As step 1, where the walk finds no room."""
    note = [Span(winding_words.tick_box_note(_any_is_far(sheet)), colour=SOFT)]
    return [
        step_part(sheet, width, WIND),
        _ticks_part(sheet, width),
        words_part(sheet, width, [note], sheet.sizes.small, above=ABOVE_NOTE, facts=("underlined",)),
        finish_part(sheet, width, drawn=False),
    ]


TICKS = Panel("ticks", _wind)
WALK_IN_TOTALS = Panel("walk-in-totals", _step)
