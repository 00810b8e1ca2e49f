"""Weaving in figures, on a card for winding and dressing: how it begins, wraps and fills, picks and hours."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.paragraphs import Paragraph
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
    told = [*(_weft(sheet) if plan.shuttle else ()), *(_hours(sheet) if plan.pace else ())]
    if sheet.is_crowded and facts:
        told = [Span(time_words.wraps_and_time(plan.shuttle, plan.pace))]
    if CLOSENESS not in heading.facts:
        told, facts = [Span(f"{length_words.closeness(plan)}."), *told], (CLOSENESS, *facts)
    below = [words_part(sheet, width, [told], sheet.sizes.small, above=0.0, facts=facts)] if told else []
    return [close_heading(sheet, heading) if below else heading, *below]


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
    """The weft on the shuttle, and for which warp, where the pegs give another length than was asked."""
    plan = sheet.plan
    assert plan.shuttle is not None
    told = length_words.for_what_pegs_give(plan.lengths, sheet.units), time_words.wraps_without_pegs(plan, sheet.units)
    basis = "; ".join(filter(None, told))
    words = Span(time_words.wraps(plan.shuttle, plan.weft.buy_mm, sheet.units))
    return [words, Span(f"{capitalised(basis)}.")] if basis else [words]


PACE: Final = Panel("weaving", _parts)
