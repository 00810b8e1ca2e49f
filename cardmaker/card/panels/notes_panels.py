"""Warnings and advice; and at the foot of a card, cautions, the version and the small print."""

from __future__ import annotations

from cardmaker.card.panels.ribbon_panel import ribbon_is_marked
from cardmaker.card.paragraphs import (
    Paragraph,
    paragraph,
    paragraph_height,
    paragraphs_height,
    paragraphs_panel,
    set_paragraphs,
)
from cardmaker.card.sheet import Drawing, Sheet, whole_panel
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import HeightRange, exactly
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Box, Face
from cardmaker.model.plan import Note
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes
from cardmaker.wording import change_words, loom_words, note_words, phrases, title_words


def _notes(sheet: Sheet) -> list[Paragraph]:
    faces = {"warning": Face.SANS_SEMIBOLD, "advice": Face.SANS}  # in their order
    return [
        [Span(note_words.note_sentence(note, sheet.units), face)]
        for kind, face in faces.items()
        for note in _printed(sheet)
        if note.kind == kind
    ]


def _printed(sheet: Sheet) -> list[Note]:
    """Cautions stand at the foot, and what the heddle's own words say is not said twice."""
    notes = (*colour_clash_notes(sheet.plan), *sheet.plan.notes)
    return [note for note in notes if note.kind != "caution" and note.about not in ("loom", "shift")]


def _small_print(*sentences: str) -> Paragraph:
    return [Span(" ".join(phrases.capitalised(phrases.sentence(each)) for each in sentences if each), colour=SOFT)]


def _foot_rows(sheet: Sheet) -> list[Paragraph]:
    """The version line in black, then the small print."""
    pattern = sheet.plan.pattern
    cautions = [note_words.note_sentence(note, sheet.units) for note in sheet.plan.notes if note.about == "use"]
    marked = "" if ribbon_is_marked(sheet) else pattern.marked_as
    version = change_words.latest_change(pattern)
    small_print = _small_print(
        *cautions, title_words.BAR_SHORT, pattern.credit, marked, loom_words.loom_mark(sheet.plan)
    )
    return [*([[Span(version)]] if version else []), small_print]


def _foot_height(sheet: Sheet, width: float) -> float:
    return paragraphs_height(sheet, _foot_rows(sheet), sheet.sizes.smallest, width)


def _draw_foot(sheet: Sheet, box: Box) -> Drawing:
    top = box.bottom - _foot_height(sheet, box.width)
    return Drawing(tuple(set_paragraphs(sheet, _foot_rows(sheet), sheet.sizes.smallest, box.inset(top=top - box.top))))


def _cautions(sheet: Sheet) -> Paragraph:
    cautions = [note_words.note_sentence(note, sheet.units) for note in sheet.plan.notes if note.kind == "caution"]
    return _small_print(*cautions, sheet.plan.pattern.marked_as, loom_words.loom_mark(sheet.plan))


def _cautions_heights(sheet: Sheet, width: float) -> HeightRange:
    return exactly(paragraph_height(sheet, _cautions(sheet), sheet.sizes.smallest, width))


def _draw_cautions(sheet: Sheet, box: Box) -> Drawing:
    return Drawing(tuple(paragraph(sheet, _cautions(sheet), sheet.sizes.smallest, box)))


NOTES = paragraphs_panel("notes", _notes, note_words.NOTES, applies=lambda sheet: bool(_printed(sheet)))
CAUTIONS = whole_panel("cautions", _cautions_heights, _draw_cautions, sinks=True)
FOOT = whole_panel("foot", lambda sheet, width: exactly(_foot_height(sheet, width)), _draw_foot, sinks=True)
