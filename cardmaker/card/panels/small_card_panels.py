"""The head of a small card, what is woven, and how much of it the last turns of the beam give."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.name_head import HOLE_ROOM, name_part, rule_part
from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import HeightRange, Part
from cardmaker.layout.type_setting import Span, cap_height, tail_depth, words_group
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.model.record_class import replace
from cardmaker.wording import beam_words, length_words, phrases

ABOVE_FACTS: Final = 2.0  # mm under the rule
UNDER_FRAMES, LEAST_UNDER_FRAMES = 1.9, 0.5  # mm, over what is woven, and at the least on a crowded card
ABOVE_TURNS: Final = 1.8  # mm
TURNS: Final = 5  # the last turns give way before how to find the shed again
BEFORE_DATE: Final = 4.0  # mm


def _head(sheet: Sheet, width: float) -> Sequence[Part]:
    """Name, code and version; under the rule the ends and the loom, and at the end of that line the date."""
    return [name_part(sheet, width, dated=False), rule_part(sheet), _facts(sheet, width)]


def _facts(sheet: Sheet, width: float) -> Part:
    """The date stands on every card, as it is what tells an old one: below where the loom's name fills the line."""
    plan, size = sheet.plan, sheet.sizes.body
    facts = [Span(f"{phrases.end_count(plan.ends)}  ·", Face.SANS_BOLD), Span(plan.loom.title)]
    date, face = plan.pattern.date, Face.SANS_SEMIBOLD
    above, told = ABOVE_FACTS * (0.5 if sheet.is_closest else 0.6 if sheet.is_crowded else 1.0), ("ends", "loom")
    lines = sheet.lines(facts, size, width)
    right = width - (HOLE_ROOM if sheet.layout.punch == "corner" else 0.0)  # under the number, which keeps off the hole
    last = sheet.set(lines, 0.0, 0.0, size)[-1]
    used = last.x + sheet.wide(last.text, last.face, size)
    if not date or used + BEFORE_DATE + sheet.wide(date, face, size) > right:
        dated = [facts, [Span(date, face)]] if date else [facts]
        return words_part(sheet, width, dated, size, above=above, facts=told)
    words = words_part(sheet, width, [facts], size, above=above, facts=told)

    def draw(box: Box) -> list[Mark]:
        baseline = box.bottom - tail_depth(size)
        wide = sheet.wide(date, face, size)
        place = Box(box.left + right - wide, baseline - cap_height(size), wide, cap_height(size))
        at_right = Words(box.left + right, baseline, date, face, size, align="right")
        return [*words.draw(box), words_group("paragraph", place, at_right)]

    return replace(words, draw=draw)


def woven_size_part(sheet: Sheet, width: float, size: float, *, brief: bool = False) -> Part:
    """How long the tape or each of its pieces is woven, with what lies between two, how wide and how close: in as few
    lines as can be, and the fullest words that take no more; ``brief`` in the fewest words of all."""
    told = length_words.weave_in_brief if brief else length_words.weave_in_a_line
    tries = [[Span(words)] for words in told(sheet.plan, sheet.units)]
    words = min(tries, key=lambda each: len(sheet.lines(each, size, width)))
    pieces = sheet.plan.lengths.pieces_come
    facts = ("pieces on the loom", *(["between pieces"] if pieces > 1 else [])) if pieces else ("length to weave",)
    return words_part(sheet, width, [words], size, facts=(*facts, "width", "closeness"))


def _woven_size(sheet: Sheet, width: float) -> Sequence[Part]:
    return [_under_frames(sheet, woven_size_part(sheet, width, sheet.sizes.body)), *_turns(sheet, width)]


def _woven_size_in_brief(sheet: Sheet, width: float) -> Sequence[Part]:
    """The same in the fewest words, and without the last turns, before a card is refused."""
    return [_under_frames(sheet, woven_size_part(sheet, width, sheet.sizes.body, brief=True))]


def _under_frames(sheet: Sheet, part: Part) -> Part:
    """Under the frames of the sheds, off them by itself: what is woven belongs to their step."""
    least, high = LEAST_UNDER_FRAMES if sheet.is_crowded else UNDER_FRAMES, part.heights.least
    heights = HeightRange(high + least, high + UNDER_FRAMES)
    return replace(part, heights=heights, draw=lambda box: part.draw(box.inset(top=box.height - high)))


def _turns(sheet: Sheet, width: float) -> list[Part]:
    """How much tape the last turns of the beam still give, where there is room."""
    if sheet.plan.beam is None:
        return []
    words = beam_words.turns_left_in_brief(sheet.plan.beam, sheet.plan.lengths, sheet.units)
    size, told = sheet.sizes.body, ("turns left",)
    return [words_part(sheet, width, [[Span(words)]], size, above=ABOVE_TURNS, facts=told, priority=TURNS)]


HEAD = Panel("head", _head)
WOVEN_SIZE = Panel("woven-size", _woven_size)
WOVEN_SIZE_IN_BRIEF = Panel("woven-size-in-brief", _woven_size_in_brief)
