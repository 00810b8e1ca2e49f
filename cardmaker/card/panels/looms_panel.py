"""The other looms at hand, and whether they hold this warp."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import run_in_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import loom_words, note_words, view_words


def _heading(sheet: Sheet) -> str:
    return f"{loom_words.LOOMS}{f', {view_words.FROM_BEHIND}' if sheet.plan.view.from_behind else ''}"


def _looms(sheet: Sheet) -> Paragraph:
    spans: Paragraph = []
    for other in sheet.plan.other_looms:
        spans += [Span(f"{other.title}:", Face.SANS_SEMIBOLD), Span(loom_words.on_other_loom(other))]
    return spans


def _why(sheet: Sheet) -> Paragraph:
    """Why the card is for the loom that it is for."""
    return [Span(note_words.note_sentence(note, sheet.units)) for note in sheet.plan.notes if note.about == "loom"]


def _parts(sheet: Sheet, width: float) -> list[Part]:
    size = sheet.sizes.small
    parts = run_in_part(sheet, width, _heading(sheet), _looms(sheet), facts=("looms",))
    why = _why(sheet)
    if why:
        parts.append(words_part(sheet, width, [why], size, above=0.6, facts=("why this loom",), priority=16))
    return parts


LOOMS = Panel("looms", _parts, applies=lambda sheet: bool(sheet.plan.other_looms))
