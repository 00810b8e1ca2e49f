"""The visitor's side: the name as a sign, the tape in plain words, and how much is known of it."""

from __future__ import annotations

from cardmaker.card.name_head import sign_part
from cardmaker.card.paragraphs import Paragraph, body, paragraphs_panel
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import student_words


def _plain_words(sheet: Sheet) -> list[Paragraph]:
    rows = [[Span(student_words.in_plain_words(sheet.plan, sheet.units), Face.SANS_SEMIBOLD)]]
    return rows + [[Span(note)] for note in sheet.plan.pattern.notes.visitor]


def _known(sheet: Sheet) -> list[Paragraph]:
    return [
        [span for label, text in row for span in (Span(label, Face.SANS_SEMIBOLD), Span(text))]
        for row in student_words.known(sheet.plan.pattern.source)
    ]


VISITOR_NAME = Panel("visitor-name", lambda sheet, width: [sign_part(sheet, width)])
VISITOR = paragraphs_panel("visitor", _plain_words, size_of=body)
KNOWN = paragraphs_panel("known", _known, size_of=body)
