"""The turns that are left on the beam and what they still give, in a line: for a card that has no table of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import beam_words

MOST_IN_A_LINE: Final = 4  # numbers of turns


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    lengths = sheet.plan.lengths
    head = Span(beam_words.turns_left_head(lengths), Face.SANS_SEMIBOLD)
    told = beam_words.turns_left_in_a_line(planned(sheet.plan.beam), lengths, sheet.units, MOST_IN_A_LINE)
    return [words_part(sheet, width, [[head, Span(told)]], sheet.sizes.body, facts=("turns left",))]


LEFT: Final = Panel("turns-left", _parts, lambda sheet: sheet.plan.beam is not None)
