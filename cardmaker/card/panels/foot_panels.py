"""The foot of a card: cautions, the version and the small print."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.wording import change_words, loom_words, note_words, phrases, source_words, title_words


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
        title_words.BAR_SHORT, pattern.credit, pattern.marked_as, loom_words.marks_of_files(sheet.plan),
    )  # fmt: skip
    version = "" if "changes" in sheet.layout.panels else change_words.latest_change(pattern)
    parts = [words_part(sheet, width, [[Span(version)]], size, facts=("version",))] if version else []
    if cautions:
        told: Paragraph = [Span(" ".join(map(phrases.sentence, cautions)))]
        parts.append(words_part(sheet, width, [told], size, above=1.0, facts=("cautions",)))
    return [*parts, words_part(sheet, width, [small_print], size, above=0.8, facts=("credit",))]


def _cautions(sheet: Sheet) -> Paragraph:
    """What keeps people safe in black; that the data are invented, in grey. Drawn steps tell the pull themselves."""
    told = {"pull"} if any(name.startswith("dressing") for name in sheet.layout.panels) else set[str]()
    cautions = [
        note_words.note_sentence(note, sheet.units)
        for note in sheet.plan.notes
        if note.kind == "caution" and note.key not in told
    ]
    small_print = _small_print(sheet.plan.pattern.marked_as, loom_words.marks_of_files(sheet.plan))
    return [*(Span(phrases.sentence(caution)) for caution in cautions), *small_print]


def _cautions_parts(sheet: Sheet, width: float) -> list[Part]:
    return [words_part(sheet, width, [_cautions(sheet)], sheet.sizes.smallest, facts=("cautions",))]


CAUTIONS = Panel("cautions", _cautions_parts, sinks=True)
FOOT = Panel("foot", _foot_parts, sinks=True)
