"""Rescue where paper is short: the ends stripe by stripe from their nearer edge, and what a new one must be."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import heading_part, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import rescue_words
from cardmaker.wording.view_words import seen_if_behind


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    rescue, size = planned(sheet.plan.rescue), sheet.sizes.small
    new_end = rescue_words.replacement(rescue.replacements, sheet.units, brief=True)
    return (
        heading_part(sheet, width, rescue_words.RESCUE),
        words_part(sheet, width, _ends(sheet), size, above=0.0, facts=("rescue",)),
        words_part(sheet, width, [[Span(new_end)]], size, above=1.2, facts=("rescue in brief",)),
    )


def _ends(sheet: Sheet) -> list[Paragraph]:
    """A paragraph for each edge; then of which kind the spaces are, and from where they are seen."""
    plan, places = sheet.plan, planned(sheet.plan.rescue).ends
    edges = [
        [Span(edge, Face.SANS_SEMIBOLD), Span("  ·  ".join(stripes))]
        for edge, stripes in rescue_words.ends_by_stripe(plan, places)
    ]
    last = [seen_if_behind(plan.loom), rescue_words.kinds_in_turn(plan, places)]
    return [*edges, [Span(text) for text in last if text]]


STRIPE_ENDS: Final = Panel("stripe-ends", _parts, lambda sheet: sheet.plan.rescue is not None)
