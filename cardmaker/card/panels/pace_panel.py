"""Weaving in figures, on a card for winding and dressing: how it begins, wraps and fills, picks and hours."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.paragraphs import Paragraph, paragraph_height
from cardmaker.card.parts import aside_fits, close_heading, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.record_class import replace
from cardmaker.wording import length_words, shed_words, time_words
from cardmaker.wording.phrases import capitalised
from cardmaker.wording.step_words import WEAVE

CLOSENESS: Final = "closeness"


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """The step's heading with the first throw and how close it is beaten; below it what the loom's file tells, on a
    crowded card in a line."""
    plan = sheet.plan
    heading = _heading(sheet, width)
    facts = tuple(fact for fact, there in (("wraps", plan.shuttle), ("hours", plan.pace)) if there)
    told = [*(_weft(sheet) if plan.shuttle else ()), *(_hours(sheet) if plan.pace else ()), *_on_pegs(sheet)]
    if sheet.is_crowded and facts:
        told = _in_a_line(sheet, width)
    if CLOSENESS not in heading.facts:
        told, facts = [Span(f"{length_words.closeness(plan)}."), *told], (CLOSENESS, *facts)
    below = [words_part(sheet, width, [told], sheet.sizes.small, above=0.0, facts=facts)] if told else []
    return [close_heading(sheet, heading) if below else heading, *below]


def _in_a_line(sheet: Sheet, width: float) -> Paragraph:
    """Wraps and hours, and for which warp where that takes no line more; at the pegs it is told in full."""
    told: Paragraph = [Span(time_words.wraps_and_time(sheet.plan.shuttle, sheet.plan.pace))]
    if not time_words.weft_on_pegs(sheet.plan, sheet.units):
        return told
    on_pegs = [*told, Span(f"{capitalised(length_words.for_warp_wound(sheet.plan.lengths, sheet.units))}.")]
    high = [paragraph_height(sheet, each, sheet.sizes.small, width) for each in (told, on_pegs)]
    return on_pegs if high[0] == high[1] else told


def _heading(sheet: Sheet, width: float) -> Part:
    """How weaving begins and, where both find room in words, how close it is beaten."""
    begins, close = shed_words.begin_tries(sheet.plan), length_words.closeness(sheet.plan)
    tries: list[tuple[str, tuple[str, ...]]] = [(f"{begin}; {close}", ("begin", CLOSENESS)) for begin in begins]
    tries += [(begin, ("begin",)) for begin in begins]
    aside, facts = next((told for told in tries if aside_fits(sheet, width, WEAVE.name, told[0], step=True)), ("", ()))
    return replace(step_part(sheet, width, WEAVE, aside, strong=True), facts=facts)


def _hours(sheet: Sheet) -> Paragraph:
    assert sheet.plan.pace is not None
    return [Span(time_words.picks_and_hours(sheet.plan.pace, sheet.units, brief=True))]


def _weft(sheet: Sheet) -> Paragraph:
    """The weft on the shuttle."""
    assert sheet.plan.shuttle is not None
    return [Span(time_words.wraps(sheet.plan.shuttle, sheet.plan.weft.buy_mm, sheet.units))]


def _on_pegs(sheet: Sheet) -> Paragraph:
    """For which warp all of it is, where the pegs give another length than was asked."""
    told = time_words.weft_on_pegs(sheet.plan, sheet.units)
    return [Span(told)] if told else []


PACE: Final = Panel("weaving", _parts)
