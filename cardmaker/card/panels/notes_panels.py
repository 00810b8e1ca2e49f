"""Warnings and advice; and at the foot of a card, cautions, the version and the small print."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import run_in_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.model.plan import Note
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes
from cardmaker.wording import change_words, loom_words, note_words, phrases, source_words, title_words


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


def _foot_parts(sheet: Sheet, width: float) -> list[Part]:
    """The version line where no panel tells it and the cautions in black, then the small print; of a layout without
    the panel of the source, with what stands for a source where there is none."""
    pattern, size = sheet.plan.pattern, sheet.sizes.smallest
    cautions = [note_words.note_sentence(note, sheet.units) for note in sheet.plan.notes if note.about == "use"]
    says_source = "source" in sheet.layout.panels or pattern.source is not None
    small_print = _small_print(
        "" if says_source else source_words.source_sentence(None),
        title_words.BAR_SHORT, pattern.credit, pattern.marked_as, loom_words.loom_mark(sheet.plan),
    )  # fmt: skip
    version = "" if "changes" in sheet.layout.panels else change_words.latest_change(pattern)
    parts = [words_part(sheet, width, [[Span(version)]], size, facts=("version",))] if version else []
    if cautions:
        told: Paragraph = [Span(" ".join(map(phrases.sentence, cautions)))]
        parts.append(words_part(sheet, width, [told], size, above=1.0, facts=("cautions",)))
    return [*parts, words_part(sheet, width, [small_print], size, above=0.8, facts=("credit",))]


def _cautions(sheet: Sheet) -> Paragraph:
    """What keeps people safe in black; that the data are invented, in grey. Drawn steps tell the pull."""
    told = {"pull"} if any(name.startswith("dressing") for name in sheet.layout.panels) else set[str]()
    cautions = [
        note_words.note_sentence(note, sheet.units)
        for note in sheet.plan.notes
        if note.kind == "caution" and note.key not in told
    ]
    small_print = _small_print(sheet.plan.pattern.marked_as, loom_words.loom_mark(sheet.plan))
    return [*(Span(phrases.sentence(caution)) for caution in cautions), *small_print]


def _cautions_parts(sheet: Sheet, width: float) -> list[Part]:
    return [words_part(sheet, width, [_cautions(sheet)], sheet.sizes.smallest, facts=("cautions",))]


def _notes_parts(sheet: Sheet, width: float) -> list[Part]:
    spans = [span for note in _notes(sheet) for span in note]
    return run_in_part(sheet, width, note_words.NOTES, spans, facts=("notes",))


def _thick_ends(sheet: Sheet) -> list[str]:
    return note_words.thick_end_sentences(sheet.plan.notes, sheet.units)


def _thick_ends_parts(sheet: Sheet, width: float) -> list[Part]:
    words: Paragraph = [Span(" ".join(_thick_ends(sheet)), Face.SANS_SEMIBOLD)]
    return [words_part(sheet, width, [words], sheet.sizes.small, facts=("thick ends",))]


THICK_ENDS = Panel("thick-ends", _thick_ends_parts, applies=lambda sheet: bool(_thick_ends(sheet)))
NOTES = Panel("notes", _notes_parts, applies=lambda sheet: bool(_printed(sheet)))
CAUTIONS = Panel("cautions", _cautions_parts, sinks=True)
FOOT = Panel("foot", _foot_parts, sinks=True)
