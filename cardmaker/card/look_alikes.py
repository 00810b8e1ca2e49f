"""The warning of yarns that look alike, where a card tells which is which."""

from __future__ import annotations

from typing import Final

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Sheet
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes
from cardmaker.wording import note_words

BEFORE_OTHERS: Final = -4  # its priority among what stands only where there is room
LATER_WHERE_FULL: Final = 9  # and on a crowded card, whose sheds would become too small for it


def look_alike_parts(sheet: Sheet, width: float, above: float) -> list[Part]:
    """A part for two yarns that lie side by side and look alike, if there are any: a stripe that is taken for another
    is counted wrongly. It comes before all else that stands only where there is room, but on a crowded card."""
    told = [note_words.note_sentence(note, sheet.units) for note in colour_clash_notes(sheet.plan)]
    words: Paragraph = [Span(sentence, Face.SANS_SEMIBOLD) for sentence in told]
    facts, priority = ("alike",), LATER_WHERE_FULL if sheet.is_crowded else BEFORE_OTHERS
    part = words_part(sheet, width, [words], sheet.sizes.small, above=above, facts=facts, priority=priority)
    return [part] if told else []
