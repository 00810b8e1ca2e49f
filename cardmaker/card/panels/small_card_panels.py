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
from cardmaker.wording import beam_words, phrases, winding_words

ABOVE_FACTS: Final = 2.0  # mm under the rule
BETWEEN_FACTS: Final = 1.0


def _head(sheet: Sheet, width: float) -> Sequence[Part]:
    """Name and number; the ends and the loom; what to wind, in how many trips."""
    plan, size = sheet.plan, sheet.sizes.body
    ends = [Span(f"{phrases.end_count(plan.ends)}  ·", Face.SANS_BOLD), Span(plan.loom.title, Face.SANS_BOLD)]
    wind, _, trips = winding_words.trips_and_walking(plan, sheet.units).partition(": ")
    walk = [Span(f"{wind}:", Face.SANS_BOLD), Span(trips)]
    return [
        name_part(sheet, width),
        rule_part(sheet),
        words_part(sheet, width, [ends], size, above=ABOVE_FACTS, facts=("ends", "loom")),
        words_part(sheet, width, [walk], size, above=BETWEEN_FACTS, facts=("warp", "trips")),
    ]


def _turns(sheet: Sheet, width: float) -> Sequence[Part]:
    beam = planned(sheet.plan.beam)
    words = beam_words.turns_left_in_brief(beam, sheet.plan.lengths, sheet.units)
    return [words_part(sheet, width, [[Span(words)]], sheet.sizes.body, facts=("turns left",))]


HEAD = Panel("head", _head)
LAST_TURNS = Panel("last-turns", _turns, applies=lambda sheet: sheet.plan.beam is not None)
