"""The head of a small card, and what is asked of the beam while weaving."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.name_head import name_part, rule_part
from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import beam_words, length_words, phrases, winding_words

ABOVE_FACTS: Final = 2.0  # mm under the rule
BETWEEN_FACTS: Final = 1.0


def _head(sheet: Sheet, width: float) -> Sequence[Part]:
    """Name and number; the ends, as many trips, and the loom; what to wind, and how far that is to walk."""
    plan, size = sheet.plan, sheet.sizes.body
    trips = f"{phrases.end_count(plan.ends)}, {phrases.plural(plan.ends, 'trip')}"
    wind, walk = length_words.wind(plan.lengths, sheet.units), winding_words.walking(plan, sheet.units)
    lines = (trips, plan.loom.title, ("ends", "loom", "trips")), (wind, walk, ("warp", "trips"))
    return [
        name_part(sheet, width),
        rule_part(sheet),
        *[
            words_part(
                sheet, width, [[Span(f"{first}  ·", Face.SANS_BOLD), Span(second)]], size, above=above, facts=facts
            )
            for (first, second, facts), above in zip(lines, (ABOVE_FACTS, BETWEEN_FACTS), strict=True)
        ],
    ]


def _turns(sheet: Sheet, width: float) -> Sequence[Part]:
    beam = planned(sheet.plan.beam)
    words = beam_words.turns_left_in_brief(beam, sheet.plan.lengths, sheet.units)
    return [words_part(sheet, width, [[Span(words)]], sheet.sizes.body, facts=("turns left",))]


HEAD = Panel("head", _head)
LAST_TURNS = Panel("last-turns", _turns, applies=lambda sheet: sheet.plan.beam is not None)
