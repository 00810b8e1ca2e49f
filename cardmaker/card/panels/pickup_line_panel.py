"""On a card without the rows of a figure: that they stand on the pick-up card. Where these rows found no room, also
what would have been told below them of a doubled shed."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span


def _line(sheet: Sheet, width: float) -> Sequence[Part]:
    from cardmaker.wording import pickup_words

    words = [Span(pickup_words.ON_PICKUP_CARD), *(doubled_shed(sheet) if "pickup" in sheet.layout.panels else ())]
    return [words_part(sheet, width, [words], sheet.sizes.body, facts=("pickup card",))]


def doubled_shed(sheet: Sheet) -> Paragraph:
    """Where two picks of a figure lie in one shed, and from there the weft's side tells the wrong one; else nothing."""
    from cardmaker.wording.note_words import note_sentence

    return [Span(note_sentence(note, sheet.units)) for note in sheet.plan.notes if note.key == "same_shed"]


PICKUP_LINE = Panel("pickup-line", _line, lambda sheet: sheet.plan.pickup is not None)
