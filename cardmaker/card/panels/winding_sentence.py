"""What a small card says of winding: which sentence, how much of it beside the picture of the cross, and what finds
room behind the last of the boxes to tick."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from cardmaker.card.panels.small_cross import Names, beside_small_cross, lines_beside
from cardmaker.card.panels.walk_ticks import walk_tick_box
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import step_indent
from cardmaker.card.sheet import Sheet
from cardmaker.card.tick_boxes import TickBox, end_of_tick_boxes
from cardmaker.layout.type_setting import NO_BREAK, SetLine, Span
from cardmaker.model.marks import Box, Face
from cardmaker.reckoning.winding.walk import Walk, boxed_totals, walk_of
from cardmaker.wording import heddle_words, peg_words, walk_words, winding_words

MANY_STRIPES, MANY_WITH_BALLS = 9, 6
BEFORE_KEY: Final = 3.0  # mm
NAMES: Final = peg_words.NUMBERS_ALONE  # of the ends at the cross
BEFORE_CROSS: Final = 1.9  # mm
LINES_BESIDE: Final = 3  # of the sentence, beside the second and the third of which the cross stands


class ToldWinding(NamedTuple):
    """The card and the width of its panel; the boxes, the sentences from which it chooses, the fullest first, and which
    ends the picture of the cross names."""

    sheet: Sheet
    width: float
    boxes: Sequence[TickBox]
    tries: Sequence[Paragraph]
    names: Names | None  # None: the picture finds no room

    @property
    def line_width(self) -> float:
        """Of a line beside the number of the step, in mm."""
        return self.width - step_indent(self.sheet)


def told_winding(sheet: Sheet, width: float) -> ToldWinding:
    """What is measured once for all that is told of winding."""
    tries: list[Paragraph] = [
        [Span(length, Face.SANS_BOLD), Span(how)]
        for length, how in winding_words.winds_in_brief(sheet.plan, sheet.units)
    ]
    told = ToldWinding(sheet, width, winding_boxes(sheet), tries, None)
    return told._replace(names=_names(told))


def _walk(sheet: Sheet) -> Walk:
    return walk_of(sheet.plan.runs, sheet.plan.winding.method)


def _label(sheet: Sheet, walk: Walk, at: int) -> str:
    """The running total; of a bundle its own count, with its letters."""
    if sheet.plan.winding.method == "bundle":
        return f"{walk.totals[at]} {sheet.letters(walk.strokes[at - 1].yarn)}"
    return str(at)


def winding_boxes(sheet: Sheet) -> list[TickBox]:
    """A box for each total at which she stops; at the far post in the accent, and underlined for a grey copy."""
    walk = _walk(sheet)
    boxes = []
    for at in boxed_totals(walk, sheet.plan.winding.method):
        boxes.append(walk_tick_box(_label(sheet, walk, at), walk.stop_of(at)))
    return boxes


def any_is_far(boxes: Sequence[TickBox]) -> bool:
    """Whether any total falls at the far post."""
    return any(box.marked for box in boxes)


def underlined_key(boxes: Sequence[TickBox]) -> str:
    """What a bar under a box means; nothing where none has one."""
    return winding_words.underlined_in_brief(any_is_far(boxes))


def _names(told: ToldWinding) -> Names | None:
    """Which ends the picture of the cross names; None where it finds no room, and on a card that would else lack
    something where words take fewer lines."""
    sheet, wanted = told.sheet, _wanted(told)
    change, tick = walk_words.change_on_small_card(sheet.plan), winding_words.TICK_IN_BRIEF
    counts = [len(lines_beside_cross(told, [*each, Span(f"{change} {tick}")], NAMES)) for each in wanted]
    if sheet.is_tersest or not all(counts):
        return None
    in_words = min(len(sheet.lines([*each, Span(tick)], sheet.sizes.body, told.line_width)) for each in wanted)
    takes_less = max(LINES_BESIDE, min(counts)) <= in_words + 1 + bool(change)
    return NAMES if takes_less or not sheet.is_terse else None


def _wanted(told: ToldWinding) -> Sequence[Paragraph]:
    """The sentences from which the card chooses."""
    if not is_brief(told.sheet):
        return told.tries[:1]
    return told.tries[1:2] if told.sheet.plan.winding.method == "order" else told.tries[1:]


def lines_beside_cross(told: ToldWinding, sentence: Paragraph, names: Names) -> list[SetLine]:
    """The lines of a sentence whose second and third stand beside the cross; none where a word finds no room there."""
    taken = (0.0, *beside_small_cross(told.sheet, names))
    return lines_beside(told.sheet, [sentence], told.line_width, taken, BEFORE_CROSS)


def _line_count(told: ToldWinding, sentence: Paragraph) -> int:
    """Of the sentence; beside the cross it has three at the least."""
    if told.names:
        return max(LINES_BESIDE, len(lines_beside_cross(told, sentence, told.names)))
    return len(told.sheet.lines(sentence, told.sheet.sizes.body, told.line_width))


def is_brief(sheet: Sheet) -> bool:
    """Whether a crowded card has many stripes to tick, or two heddles to tell of: others have room for all words."""
    many = MANY_WITH_BALLS if sheet.plan.winding.method == "carry" else MANY_STRIPES
    return sheet.is_crowded and (len(sheet.segments) > many or sheet.plan.placement.back is not None)


def has_much_to_tell(sheet: Sheet) -> bool:
    """Whether a crowded card closes up what its steps say: told in fewer words, with many stripes, or of thick ends."""
    return sheet.is_terse or is_brief(sheet) or bool(heddle_words.thick_ends_first(sheet.plan, sheet.units))


def chosen_sentence(told: ToldWinding) -> Paragraph:
    """What to wind and how: where walks without a thread lead to is told as well, unless the card has much to tell;
    there in fewer words still where these take fewer lines."""
    full, shorter, shortest = told.tries
    if not is_brief(told.sheet):
        return full
    if told.sheet.plan.winding.method == "order":
        return shortest if finish_goes_behind(told) else shorter
    tick = Span(winding_words.TICK_IN_BRIEF)
    return min((shorter, shortest), key=lambda sentence: _line_count(told, [*sentence, tick]))


def change_in_sentence(told: ToldWinding) -> Paragraph:
    """What to do at a change, or how balls cross, where it takes no line more than what stands beside the picture of
    the cross."""
    plan = told.sheet.plan
    change = walk_words.change_on_small_card(plan) or winding_words.number_decides_on_small_card(plan)
    if not change or not told.names:
        return []
    sentence, at_change = chosen_sentence(told), [Span(change)]
    return at_change if _line_count(told, [*sentence, *at_change]) == _line_count(told, sentence) else []


def tick_in_sentence(told: ToldWinding) -> str:
    """What the boxes are for, in the words that the last line of the sentence has room for; else nothing."""
    sentence = [*chosen_sentence(told), *change_in_sentence(told)]
    lines = _line_count(told, sentence)
    tries = (winding_words.TICK.replace(" ", NO_BREAK), winding_words.TICK_IN_BRIEF.replace(" ", NO_BREAK))
    return next((tick for tick in tries if _line_count(told, [*sentence, Span(tick)]) == lines), "")


def finish_goes_behind(told: ToldWinding) -> bool:
    """Whether where a warp wound in order ends stands behind the last box, as that saves a crowded card a line."""
    plan = told.sheet.plan
    if plan.winding.method != "order" or not is_brief(told.sheet) or underlined_key(told.boxes):
        return False
    lines = [_line_count(told, sentence) for sentence in told.tries[1:]]
    return lines[1] < lines[0] and has_room_behind(told, winding_words.finish_sentence(plan))


def room_behind(sheet: Sheet, words: str) -> float:
    """What words take behind the last box, in mm."""
    return BEFORE_KEY + sheet.wide(words, Face.SANS, sheet.sizes.small) if words else 0.0


def has_room_behind(told: ToldWinding, words: str) -> bool:
    """Whether the last row of boxes has room for them."""
    room, size = room_behind(told.sheet, words), told.sheet.sizes.body
    right, _ = end_of_tick_boxes(told.sheet, told.boxes, size, Box(0.0, 0.0, told.width, 0.0), behind=room)
    return right + room <= told.width
