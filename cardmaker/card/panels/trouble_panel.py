"""When it goes wrong: a symptom and what to do, the commonest first; the rest where there is room."""

from __future__ import annotations

from typing import Final

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import BELOW_HEADING, heading_part, run_in_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span, tail_depth
from cardmaker.model.marks import Face
from cardmaker.model.record_class import replace
from cardmaker.wording import shed_words, trouble_words

USUALLY: Final = 3  # symptoms
ALWAYS: Final = 1  # on a crowded card: what makes the tape right comes before what rescues it
COMMONEST: Final = 2
BELOW_TAILS: Final = 1.4  # mm from the tails of the heading to the capitals below it
BETWEEN: Final = 1.0  # mm from one symptom to the next
EARLY: Final = (-3, -2)  # the second and the third there: before any panel that may be left out
LAST_SHED_AT: Final = USUALLY  # where how to find the shed again stands among them
FIRST_PRIORITY: Final = 3  # of the symptoms that stand where there is room


def _symptoms(sheet: Sheet) -> list[Paragraph]:
    """Those that every card has; how to find the shed again; the rest."""
    lines = trouble_words.trouble(trouble_words.is_fuzzy(sheet.plan), brief=sheet.brief, is_wound=sheet.is_wound)
    lines.insert(LAST_SHED_AT, (shed_words.NOT_SURE, shed_words.TUG_IT))
    return [[Span(question, Face.SANS_SEMIBOLD), Span(answer)] for question, answer in lines]


def _heading(sheet: Sheet, width: float) -> Part:
    """In one line or in several, closer to the first symptom than another heading to what it heads."""
    heading = heading_part(sheet, width, trouble_words.TROUBLE)
    last_line = heading.heights.least - BELOW_HEADING
    return replace(heading, heights=exactly(last_line + tail_depth(sheet.sizes.heading) + BELOW_TAILS))


def _parts(sheet: Sheet, width: float) -> list[Part]:
    """The heading with the first symptom, and the others, of which on a crowded card what makes the tape right takes
    the room."""
    symptoms = _symptoms(sheet)
    parts = _headed(sheet, width, symptoms[0])
    always = ALWAYS if sheet.is_crowded else USUALLY
    for number, symptom in enumerate(symptoms[1:], start=1):
        fact = "trouble" if number < COMMONEST else "last shed" if number == LAST_SHED_AT else "more trouble"
        priority = 0 if number < always else EARLY[number - 1] if number < USUALLY else FIRST_PRIORITY + number
        above = BETWEEN * sheet.over_words
        parts.append(
            words_part(sheet, width, [symptom], sheet.sizes.small, above=above, facts=(fact,), priority=priority)
        )
    return parts


def _headed(sheet: Sheet, width: float, first: Paragraph) -> list[Part]:
    """The first symptom under the heading; on a card with the fewest words on its line."""
    if sheet.is_tersest:
        return run_in_part(sheet, width, trouble_words.TROUBLE, first, facts=("trouble",))
    return [
        _heading(sheet, width),
        words_part(sheet, width, [first], sheet.sizes.small, above=0.0, facts=("trouble",)),
    ]


TROUBLE: Final = Panel("trouble", _parts)
