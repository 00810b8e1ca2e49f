"""On a card without the rows of a figure: that they stand on the pick-up card."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span


def _line(sheet: Sheet, width: float) -> Sequence[Part]:
    from cardmaker.wording import pickup_words

    return [words_part(sheet, width, [[Span(pickup_words.ON_PICKUP_CARD)]], sheet.sizes.body, facts=("pickup card",))]


PICKUP_LINE = Panel("pickup-line", _line, lambda sheet: sheet.plan.pickup is not None)
