"""Running totals with boxes to tick while winding, those that fall at the far post underlined; no picture."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.panels.walk_ticks import walk_tick_box
from cardmaker.card.panels.winding_walk_panel import finish_parts
from cardmaker.card.parts import picture_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import TickBox, draw_tick_boxes, end_of_tick_boxes, tick_boxes_height
from cardmaker.layout.ink import ACCENT, SOFT
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span, cap_height, leading, words_group
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.model.record_class import replace
from cardmaker.reckoning.winding.walk import Walk, ticked_totals, walk_of
from cardmaker.wording import winding_words
from cardmaker.wording.step_words import WIND

ABOVE_NOTE: Final = 1.6
ABOVE_BOXES: Final = 1.8  # mm
BEFORE_KEY: Final = 2.5  # mm
USUAL_LINES: Final = 4.0  # of the sentence and the boxes together, on a card that is not crowded
TAILS: Final = 1.0  # mm under the words


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


def _ticks_part(sheet: Sheet, width: float, above: float = 0.0, least: float = 0.0) -> Part:
    """The boxes; with ``least`` mm of height even where they are fewer."""
    boxes, size = _boxes(sheet), sheet.sizes.body
    heights = exactly(max(least, tick_boxes_height(sheet, boxes, size, width)))
    alt = winding_words.winding_alt_text(sheet.plan)
    return picture_part("ticks", heights, lambda box: draw_tick_boxes(sheet, boxes, size, box), alt, above=above,
                        facts=("walk", "finish"))  # fmt: skip


def _wind(sheet: Sheet, width: float) -> Sequence[Part]:
    """On a small card: what to wind and how, and the boxes, with their key at the end of whichever has room for it.

    Where nothing is crowded it is as high with one row of boxes as with two, so that what follows stands at the same
    height on every card.
    """
    size = sheet.sizes.body
    words = _sentence(sheet, width)
    usual = leading(size) * USUAL_LINES + TAILS
    least = 0.0 if sheet.picture_share < 1 else usual - words.heights.least - ABOVE_BOXES
    ticks = _ticks_part(sheet, width, ABOVE_BOXES * (0.4 if sheet.is_crowded else 1.0), least)
    return words, _with_key(sheet, width, ticks) if _key_goes_below(sheet, width) else ticks


def _key(sheet: Sheet) -> str:
    return winding_words.underlined_in_brief(_any_is_far(sheet))


def _key_room(sheet: Sheet) -> float:
    return BEFORE_KEY + sheet.wide(_key(sheet), Face.SANS, sheet.sizes.small)


def _set_sentence(sheet: Sheet, width: float) -> tuple[Part, float, float]:
    """What to wind and how; where its last line ends, and the baseline of that. On a crowded card in fewer words where
    these leave room for the key, which else would stand on a line of its own."""
    full, end, baseline = _set_words(sheet, width, count_trips=True)
    if sheet.is_crowded and end + _key_room(sheet) > width and not _has_room_below(sheet, width):
        short = _set_words(sheet, width, count_trips=False)
        if short[1] + _key_room(sheet) <= width:
            return short
    return full, end, baseline


def _set_words(sheet: Sheet, width: float, *, count_trips: bool) -> tuple[Part, float, float]:
    size = sheet.sizes.body
    length, how = winding_words.wind_in_brief(sheet.plan, sheet.units, count_trips=count_trips)
    spans = [Span(length, Face.SANS_BOLD), Span(how)]
    last = sheet.set(sheet.lines(spans, size, width), 0.0, cap_height(size), size)[-1]
    return words_part(sheet, width, [spans], size), last.x + sheet.wide(last.text, last.face, size), last.y


def _key_goes_below(sheet: Sheet, width: float) -> bool:
    """Whether the sentence fills its last line, and the last row of boxes has room for the key."""
    _, end, _ = _set_sentence(sheet, width)
    return bool(_key(sheet)) and end + _key_room(sheet) > width and _has_room_below(sheet, width)


def _has_room_below(sheet: Sheet, width: float) -> bool:
    right, _ = end_of_tick_boxes(sheet, _boxes(sheet), sheet.sizes.body, Box(0.0, 0.0, width, 0.0))
    return right + _key_room(sheet) <= width


def _sentence(sheet: Sheet, width: float) -> Part:
    """With what an underlined box means at the end of its last line, or below it where there is no room for that.

    In words alone: a box there would be one to tick too many, and read as the post where winding ends.
    """
    size = sheet.sizes.body
    words, end, baseline = _set_sentence(sheet, width)
    has_key = bool(_key(sheet)) and not _key_goes_below(sheet, width)
    is_full = has_key and end + _key_room(sheet) > width
    foot = baseline + (leading(size) if is_full else 0.0)

    def draw(box: Box) -> list[Mark]:
        key = _draw_key(sheet, box.left if is_full else None, box.right, box.top + foot) if has_key else []
        return [*words.draw(box), *key]

    facts = ("warp", "trips", *(() if _key_goes_below(sheet, width) else ("underlined",)))
    return Part(exactly(foot + TAILS), draw, facts=facts)


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
