"""The head of a small card, and what is asked of the beam while weaving."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.name_head import name_part, rule_part
from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import NO_BREAK, Span
from cardmaker.model.marks import Face
from cardmaker.wording import beam_words, phrases, winding_words

ABOVE_FACTS: Final = 2.0  # mm under the rule


def _head(sheet: Sheet, width: float) -> Sequence[Part]:
    """Name and number; the ends, the loom, and how far winding is to walk."""
    plan = sheet.plan
    facts = [
        Span(f"{phrases.end_count(plan.ends)}  ·", Face.SANS_BOLD),
        Span(f"{plan.loom.title}  ·"),
        Span(winding_words.walking(plan, sheet.units).replace(" ", NO_BREAK)),
    ]
    return [
        name_part(sheet, width),
        rule_part(sheet),
        words_part(
            sheet,
            width,
            [facts],
            sheet.sizes.body,
            above=ABOVE_FACTS * (0.6 if sheet.is_crowded else 1.0),
            facts=("ends", "loom", "trips"),
        ),
    ]


def _turns(sheet: Sheet, width: float) -> Sequence[Part]:
    beam = planned(sheet.plan.beam)
    words = beam_words.turns_left_in_brief(beam, sheet.plan.lengths, sheet.units)
    return [words_part(sheet, width, [[Span(words)]], sheet.sizes.body, facts=("turns left",))]


HEAD = Panel("head", _head)
LAST_TURNS = Panel("last-turns", _turns, applies=lambda sheet: sheet.plan.beam is not None)
