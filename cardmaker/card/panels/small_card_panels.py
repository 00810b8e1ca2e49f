"""The head of a small card, and what is asked of the beam while weaving."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.name_head import name_part, rule_part
from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span, cap_height, tail_depth, words_group
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.model.record_class import replace
from cardmaker.wording import beam_words, phrases

ABOVE_FACTS: Final = 2.0  # mm under the rule
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
    last = sheet.set(lines, 0.0, 0.0, size)[-1]
    used = last.x + sheet.wide(last.text, last.face, size)
    if not date or used + BEFORE_DATE + sheet.wide(date, face, size) > width:
        dated = [facts, [Span(date, face)]] if date else [facts]
        return words_part(sheet, width, dated, size, above=above, facts=told)
    words = words_part(sheet, width, [facts], size, above=above, facts=told)

    def draw(box: Box) -> list[Mark]:
        baseline = box.bottom - tail_depth(size)
        wide = sheet.wide(date, face, size)
        place = Box(box.right - wide, baseline - cap_height(size), wide, cap_height(size))
        at_right = Words(box.right, baseline, date, face, size, align="right")
        return [*words.draw(box), words_group("paragraph", place, at_right)]

    return replace(words, draw=draw)


def _turns(sheet: Sheet, width: float) -> Sequence[Part]:
    beam = planned(sheet.plan.beam)
    words = beam_words.turns_left_in_brief(beam, sheet.plan.lengths, sheet.units)
    return [words_part(sheet, width, [[Span(words)]], sheet.sizes.body, facts=("turns left",))]


HEAD = Panel("head", _head)


def _turns_if_room(sheet: Sheet, width: float) -> Sequence[Part]:
    """The same as what gives way first, for the narrowest of cards; before it does the steps draw closer."""
    return [replace(part, priority=-2) for part in _turns(sheet, width)]


LAST_TURNS = Panel("last-turns", _turns, applies=lambda sheet: sheet.plan.beam is not None)
LAST_TURNS_IF_ROOM = Panel("last-turns-if-room", _turns_if_room, applies=lambda sheet: sheet.plan.beam is not None)
