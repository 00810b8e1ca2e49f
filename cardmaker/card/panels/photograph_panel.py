"""The photograph of the tape that the pattern was counted from, where its file allows it to be printed."""

from __future__ import annotations

from typing import Final

from cardmaker.card.closing_columns import TWO_COLUMNS
from cardmaker.card.fitting import GUTTER
from cardmaker.card.parts import columns_part, picture_part, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.stacking import HeightRange, Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Box, Face, Mark, PlacedPhotograph
from cardmaker.wording import source_words

LEAST_HIGH, MOST_HIGH = 30.0, 55.0  # mm


def _parts(sheet: Sheet, width: float) -> list[Part]:
    """The picture as large as there is room for, at the left; its caption beside it, or below where that is narrow."""
    photograph = planned(sheet.plan.photograph)
    widest = (width - GUTTER) / 2 if width >= TWO_COLUMNS else width
    heights = HeightRange(min(LEAST_HIGH, widest / photograph.shape), min(MOST_HIGH, widest / photograph.shape))
    alt = source_words.photograph_alt_text(sheet.plan.pattern)

    def draw(box: Box) -> list[Mark]:
        return [PlacedPhotograph(Box(box.left, box.top, box.height * photograph.shape, box.height), photograph)]

    picture = picture_part("photograph", heights, draw, alt, above=0.0, facts=("photograph",))
    wide = (width - GUTTER) / 2
    beside = wide if wide >= heights.most * photograph.shape else 0.0
    caption = [
        Span(source_words.PHOTOGRAPH, Face.SANS_SEMIBOLD),
        Span(source_words.photograph_caption(sheet.plan.pattern.source)),
    ]
    if beside < LEAST_CAPTION:
        return [picture, words_part(sheet, width, [caption], sheet.sizes.small, above=1.2)]
    words = words_part(sheet, beside, [caption], sheet.sizes.small)
    return [columns_part([(0.0, wide, picture), (wide + GUTTER, beside, words)], above=0.0)]


LEAST_CAPTION: Final = 30.0  # mm
PHOTOGRAPH: Final = Panel("photograph", _parts, lambda sheet: sheet.plan.photograph is not None)
