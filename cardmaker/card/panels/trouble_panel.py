"""When it goes wrong: a symptom and what to do, the commonest first; the rest where there is room."""

from __future__ import annotations

from typing import Final

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import heading_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import rescue_words

ALWAYS: Final = 2  # symptoms: fewer are not worth a heading
BETWEEN: Final = 1.0  # mm from one symptom to the next
FIRST_PRIORITY: Final = 30  # of the symptoms that stand where there is room
FUZZY: Final = frozenset({"linen", "wool", "hemp"})


def _symptoms(sheet: Sheet) -> list[Paragraph]:
    fuzzy = any(yarn.fibre in FUZZY for yarn in sheet.plan.pattern.yarns)
    return [
        [Span(question, Face.SANS_SEMIBOLD), Span(answer)]
        for question, answer in rescue_words.trouble(fuzzy, brief=sheet.brief)
    ]


def _parts(sheet: Sheet, width: float) -> list[Part]:
    parts = [heading_part(sheet, width, rescue_words.TROUBLE)]
    for number, symptom in enumerate(_symptoms(sheet)):
        is_always = number < ALWAYS
        priority, fact = (0, "trouble") if is_always else (FIRST_PRIORITY + number, "more trouble")
        above = BETWEEN if number else 0.0
        parts.append(
            words_part(sheet, width, [symptom], sheet.sizes.small, above=above, facts=(fact,), priority=priority)
        )
    return parts


TROUBLE: Final = Panel("trouble", _parts)
