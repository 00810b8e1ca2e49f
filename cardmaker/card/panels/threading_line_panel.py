"""Threading in a line, on a card for winding and dressing: where end 1 goes, and how many spaces stay empty."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.parts import aside_fits, close_heading, heading_alone, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.record_class import replace
from cardmaker.wording import heddle_words
from cardmaker.wording.step_words import THREAD


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """All of it at the end of the heading's line where it finds room; else what stays empty, and of two heddles how an
    end goes through both, in a line below; and where there is room, from where the first space is counted."""
    plan, facts = sheet.plan, ("first space", "view")
    first, empty = heddle_words.first_line(plan), heddle_words.empty_line(plan)
    counted = words_part(
        sheet, width, [[Span(heddle_words.first_counted(plan))]], sheet.sizes.small, above=1.2, priority=4
    )
    lines = ("; ".join(filter(None, (first, order, empty))) for order in heddle_words.spaces_in_order(plan))
    in_line = next((line for line in lines if aside_fits(sheet, width, THREAD.name, line, step=True)), "")
    if plan.placement.back is None and in_line:
        return (heading_alone(sheet, step_part(sheet, width, THREAD, in_line, strong=True), facts), counted)
    if not aside_fits(sheet, width, THREAD.name, first, step=True):
        words = [Span(f"{first}; {empty}.")]
        return (step_part(sheet, width, THREAD), words_part(sheet, width, [words], sheet.sizes.body, facts=facts))
    rule = [Span(heddle_words.through_both(plan.loom, brief=True))] if plan.placement.back else []
    below = words_part(sheet, width, [[Span(f"{empty[:1].upper()}{empty[1:]}."), *rule]], sheet.sizes.small, above=0.0)
    heading = replace(step_part(sheet, width, THREAD, first, strong=True), facts=facts)
    return (close_heading(sheet, heading), below, counted)


THREADING: Final = Panel("threading", _parts)
