"""The visitor's side: the name as a sign, the tape in plain words, and how much is known of it."""

from __future__ import annotations

from cardmaker.card.panels.title_panels import title_group
from cardmaker.card.paragraphs import Paragraph, body, paragraphs_panel
from cardmaker.card.sheet import Drawing, Sheet, whole_panel
from cardmaker.layout.stacking import exactly
from cardmaker.layout.type_setting import Span, cap_height
from cardmaker.model.marks import Box, Face
from cardmaker.wording import student_words


def _draw_name(sheet: Sheet, box: Box) -> Drawing:
    """The name alone, as a sign."""
    return Drawing((title_group(sheet, box),))


def _plain_words(sheet: Sheet) -> list[Paragraph]:
    rows = [[Span(student_words.in_plain_words(sheet.plan, sheet.units), Face.SANS_SEMIBOLD)]]
    return rows + [[Span(note)] for note in sheet.plan.pattern.notes.visitor]


def _known(sheet: Sheet) -> list[Paragraph]:
    return [
        [span for label, text in row for span in (Span(label, Face.SANS_SEMIBOLD), Span(text))]
        for row in student_words.known(sheet.plan.pattern.source)
    ]


VISITOR_NAME = whole_panel(
    "visitor-name", lambda sheet, width: exactly(cap_height(sheet.sizes.title) + 2.6), _draw_name
)
VISITOR = paragraphs_panel("visitor", _plain_words, size_of=body)
KNOWN = paragraphs_panel("known", _known, size_of=body)
