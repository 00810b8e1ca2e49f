"""The other looms at hand, and whether they hold this warp."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, paragraphs_panel
from cardmaker.card.sheet import Sheet
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import loom_words, note_words, phrases, view_words


def _looms(sheet: Sheet) -> list[Paragraph]:
    spans = [Span(note_words.note_sentence(note, sheet.units)) for note in sheet.plan.notes if note.about == "loom"]
    if sheet.plan.view.from_behind:
        spans.append(Span(f"{phrases.capitalised(view_words.FROM_BEHIND)}:"))
    for other in sheet.plan.other_looms:
        spans += [Span(f"{other.title}:", Face.SANS_SEMIBOLD), Span(loom_words.on_other_loom(other))]
    return [spans]


LOOMS = paragraphs_panel("looms", _looms, loom_words.LOOMS, applies=lambda sheet: bool(sheet.plan.other_looms))
