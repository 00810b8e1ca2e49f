"""The stripes of a small card: counts very large in cells of their colours, and what the letters stand for."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import picture_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.stripe_cells import StripeCells, stripes_in_cells
from cardmaker.card.stripe_drawing import draw_stripe_cells
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import pickup_words, stripe_words

ABOVE_LEGEND = 1.3  # mm, on every card


def _parts(sheet: Sheet, width: float, *, only_band: bool = False) -> Sequence[Part]:
    cells = stripes_in_cells(sheet, width, only_band=only_band)
    alt = partial(stripe_words.order_alt_text, sheet.plan, sheet.segments)
    return [
        picture_part(
            "stripes", cells.heights, lambda box: draw_stripe_cells(sheet, cells, box), alt, facts=("stripes",)
        ),
        words_part(
            sheet,
            width,
            [_legend(sheet, width, cells)],
            sheet.sizes.small,
            above=ABOVE_LEGEND,
            facts=("legend", "weft", *(["pickup card"] if sheet.plan.pickup else [])),
        ),
    ]


def _legend(sheet: Sheet, width: float, cells: StripeCells) -> Paragraph:
    """At which edge the stripes begin, where that is not the usual; what the letters stand for, and the weft;
    where a figure is picked up, that another card has it."""
    begins = stripe_words.begins_at(sheet.plan, brief=True)
    full, short = (
        [
            *([Span(begins, Face.SANS_SEMIBOLD)] if begins else []),
            Span(stripe_words.legend_with_weft(sheet.plan, turns=not cells.tells_turns)),
            *figure_spans(sheet, brief=brief),
        ]
        for brief in (False, True)
    )
    lines = [len(sheet.lines(words, sheet.sizes.small, width)) for words in (full, short)]
    return short if sheet.is_crowded and lines[1] < lines[0] else full


def figure_spans(sheet: Sheet, *, brief: bool = False) -> Paragraph:
    """That the stripes are not all of the pattern, where a figure is picked up."""
    words = pickup_words.PICKUP_CARD_IN_BRIEF if brief else pickup_words.SEE_PICKUP_CARD
    return [Span(words, Face.SANS_SEMIBOLD)] if sheet.plan.pickup else []


COUNTS = Panel("counts", _parts)
COUNTS_UNDER_BAND = Panel("counts-under-band", partial(_parts, only_band=True))
