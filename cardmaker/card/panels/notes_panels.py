"""Warnings and advice."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import run_in_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.model.plan import Note
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes
from cardmaker.wording import heddle_words, note_words


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


def _notes_parts(sheet: Sheet, width: float) -> list[Part]:
    spans = [span for note in _notes(sheet) for span in note]
    return run_in_part(sheet, width, note_words.NOTES, spans, facts=("notes",))


def _thick_ends(sheet: Sheet) -> list[str]:
    return heddle_words.thick_ends_first(sheet.plan, sheet.units)


def _thick_ends_parts(sheet: Sheet, width: float) -> list[Part]:
    words: Paragraph = [Span(" ".join(_thick_ends(sheet)), Face.SANS_SEMIBOLD)]
    return [words_part(sheet, width, [words], sheet.sizes.small, facts=("thick ends",))]


THICK_ENDS = Panel("thick-ends", _thick_ends_parts, applies=lambda sheet: bool(_thick_ends(sheet)))
NOTES = Panel("notes", _notes_parts, applies=lambda sheet: bool(_printed(sheet)))
