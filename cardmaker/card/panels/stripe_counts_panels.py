"""The stripes of a small card: counts very large in cells of their colours, and what the letters stand for."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.parts import picture_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.stripe_cells import draw_stripe_cells, stripe_cells
from cardmaker.layout.stacking import HeightRange, Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import stripe_words

ABOVE_LEGEND = 1.8
BELOW_BEGIN = 1.4


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    cells = stripe_cells(sheet, width)
    alt = stripe_words.order_alt_text(sheet.plan, sheet.segments)
    exact = HeightRange(cells.height, cells.height)
    picture = picture_part(
        "stripes", exact, lambda box: draw_stripe_cells(sheet, cells, box), alt, above=BELOW_BEGIN, facts=("stripes",)
    )
    legend = [Span(stripe_words.legend(sheet.plan))]
    small = sheet.sizes.small
    return [
        *_begin(sheet, width),
        picture,
        words_part(sheet, width, [legend], small, above=ABOVE_LEGEND, facts=("legend",)),
    ]


def _begin(sheet: Sheet, width: float) -> Sequence[Part]:
    """At which edge the stripes begin, where that is not the usual."""
    begins = stripe_words.begins_at(sheet.plan, brief=True)
    if not begins:
        return ()
    return (words_part(sheet, width, [[Span(begins, Face.SANS_SEMIBOLD)]], sheet.sizes.small, facts=("view",)),)


COUNTS = Panel("counts", _parts)
