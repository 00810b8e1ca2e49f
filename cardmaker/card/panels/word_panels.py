"""The panels that are words: lengths, source, notes, versions; and the line at the foot."""

from __future__ import annotations

from cardmaker.card.panels.ribbon_panel import marked_beside
from cardmaker.card.paragraphs import BETWEEN, Paragraph, paragraph, paragraphs_height, paragraphs_panel, set_paragraphs
from cardmaker.card.sheet import Drawing, HeightRange, Panel, Sheet, headed, heading_height
from cardmaker.layout.ink import SOFT
from cardmaker.layout.lines_of_type import Span, cap_height, text_height
from cardmaker.model.marks import Box, Face
from cardmaker.model.plan import Note
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes
from cardmaker.wording import (
    change_words,
    length_words,
    loom_words,
    note_words,
    phrases,
    source_words,
    time_words,
    title_words,
)

LEAST_FACTS = 3  # of a source: grade, holder, object


def _lengths(sheet: Sheet) -> list[Paragraph]:
    lengths = sheet.plan.lengths
    said = [*length_words.length_sum(lengths, sheet.units), length_words.length_basis(lengths)]
    return [[Span(line) for line in said if line]]


def _answer(sheet: Sheet) -> Paragraph:
    """What to wind, in large type: the answer before its sum."""
    lengths = sheet.plan.lengths
    return [
        Span(length_words.wind(lengths, sheet.units), Face.SANS_BOLD),
        Span(f"which {length_words.gives(lengths, sheet.units)}."),
    ]


def _lengths_room(sheet: Sheet, width: float) -> HeightRange:
    answer = text_height(len(sheet.lines(_answer(sheet), sheet.sizes.body, width)), sheet.sizes.body)
    working = paragraphs_height(sheet, _lengths(sheet), sheet.sizes.small, width)
    height = heading_height(sheet) + answer + BETWEEN + working
    return HeightRange(height, height)


def _draw_lengths(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, length_words.LENGTHS)
    marks += set_paragraphs(sheet, [_answer(sheet)], sheet.sizes.body, body)
    answer = text_height(len(sheet.lines(_answer(sheet), sheet.sizes.body, body.width)), sheet.sizes.body)
    marks += set_paragraphs(sheet, _lengths(sheet), sheet.sizes.small, body.inset(top=answer + BETWEEN))
    return Drawing(tuple(marks))


def _source(sheet: Sheet, facts: int | None = None) -> list[Paragraph]:
    """How the tape may be spoken of, then the first ``facts`` recorded facts, or all."""
    source = sheet.plan.pattern.source
    said = [Span(source_words.source_sentence(source), Face.SANS_SEMIBOLD)]
    if source is not None:
        for label, value in source_words.source_facts(source)[:facts]:
            said += [Span(f"{phrases.capitalised(label)}:", colour=SOFT), Span(phrases.sentence(value))]
    return [said]


def _source_heights(sheet: Sheet, width: float) -> list[float]:
    """The height with none of the recorded facts, with the first, and so on to all of them."""
    counts = sheet.line_counts(_source(sheet)[0], sheet.sizes.small, width)
    return [heading_height(sheet) + text_height(lines, sheet.sizes.small) for lines in counts[::2]]


def _facts_that_fit(heights: list[float], height: float) -> int:
    facts = len(heights) - 1
    while facts > LEAST_FACTS and heights[facts] > height + 1e-6:
        facts -= 1
    return facts


def _source_room(sheet: Sheet, width: float) -> HeightRange:
    heights = _source_heights(sheet, width)
    return HeightRange(heights[min(LEAST_FACTS, len(heights) - 1)], heights[-1])


def _draw_source(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, source_words.SOURCE)
    heights = _source_heights(sheet, box.width)
    shown = _facts_that_fit(heights, box.height)
    marks += set_paragraphs(sheet, _source(sheet, shown), sheet.sizes.small, body)
    hidden = len(heights) - 1 - shown
    return Drawing(tuple(marks), left_out=source_words.facts_left_out(hidden) if hidden else "")


def _notes(sheet: Sheet) -> list[Paragraph]:
    order = {"warning": 0, "advice": 1}
    paragraphs = []
    for note in sorted(_printed(sheet), key=lambda note: order[note.kind]):
        face = Face.SANS_SEMIBOLD if note.kind == "warning" else Face.SANS
        paragraphs.append([Span(note_words.note_sentence(note, sheet.units), face)])
    return paragraphs


def _printed(sheet: Sheet) -> list[Note]:
    """Cautions stand at the foot, and what the heddle's own words say is not said twice."""
    notes = (*colour_clash_notes(sheet.plan), *sheet.plan.notes)
    return [note for note in notes if note.kind != "caution" and note.about not in ("loom", "shift")]


def _changes(sheet: Sheet) -> list[Paragraph]:
    return [
        [Span(f"{change.version}, {change.date}:", Face.SANS_SEMIBOLD), Span(change.what)]
        for change in sheet.plan.pattern.changes
    ]


def _looms(sheet: Sheet) -> list[Paragraph]:
    said = [Span(note_words.note_sentence(note, sheet.units)) for note in sheet.plan.notes if note.about == "loom"]
    for other in sheet.plan.other_looms:
        said += [Span(f"{other.title}:", Face.SANS_SEMIBOLD), Span(loom_words.on_other_loom(other))]
    return [said]


def _foot_rows(sheet: Sheet) -> list[list[Span]]:
    """The version line in black, then the small print."""
    told = change_words.latest_change(sheet.plan.pattern)
    return [*([[Span(told)]] if told else []), _foot_spans(sheet)]


def _foot_spans(sheet: Sheet) -> list[Span]:
    pattern = sheet.plan.pattern
    cautions = [note_words.note_sentence(note, sheet.units) for note in sheet.plan.notes if note.about == "use"]
    marked = "" if marked_beside(sheet, sheet.paper.height_mm - 2 * sheet.layout.margin_mm) else pattern.marked_as
    parts = [*cautions, title_words.BAR_SHORT, pattern.credit, marked]
    return [Span(" ".join(phrases.capitalised(phrases.sentence(part)) for part in parts if part), colour=SOFT)]


def _foot_height(sheet: Sheet, width: float) -> float:
    size = sheet.sizes.smallest
    return paragraphs_height(sheet, _foot_rows(sheet), size, width)


def _foot_room(sheet: Sheet, width: float) -> HeightRange:
    height = _foot_height(sheet, width)
    return HeightRange(height, height)


def _foot(sheet: Sheet, box: Box) -> Drawing:
    top = box.bottom - _foot_height(sheet, box.width)
    return Drawing(tuple(set_paragraphs(sheet, _foot_rows(sheet), sheet.sizes.smallest, box.inset(top=top - box.top))))


def _weaving(sheet: Sheet) -> list[Paragraph]:
    """Wraps and fills, picks and hours, as far as the loom's file tells."""
    plan = sheet.plan
    said = []
    if plan.shuttle is not None:
        said.append([Span(time_words.wraps(plan.shuttle, plan.weft.buy_mm, sheet.units))])
    if plan.pace is not None:
        said.append([Span(time_words.picks_and_hours(plan.pace, sheet.units, brief=True))])
    return said


WEAVING = paragraphs_panel(
    "weaving", _weaving, time_words.WEAVING, applies=lambda sheet: bool(sheet.plan.shuttle or sheet.plan.pace)
)


def _caution_spans(sheet: Sheet) -> list[Span]:
    pattern = sheet.plan.pattern
    said = [note_words.note_sentence(note, sheet.units) for note in sheet.plan.notes if note.kind == "caution"]
    return [
        Span(
            " ".join(phrases.capitalised(phrases.sentence(part)) for part in (*said, pattern.marked_as) if part),
            colour=SOFT,
        )
    ]


def _cautions_room(sheet: Sheet, width: float) -> HeightRange:
    size = sheet.sizes.smallest
    height = text_height(len(sheet.lines(_caution_spans(sheet), size, width)), size)
    return HeightRange(height, height)


def _cautions(sheet: Sheet, box: Box) -> Drawing:
    size = sheet.sizes.smallest
    lines = sheet.lines(_caution_spans(sheet), size, box.width)
    return Drawing(tuple(paragraph(sheet, lines, box.left, box.top + cap_height(size), size, box.width)))


CAUTIONS = Panel("cautions", _cautions_room, _cautions, sinks=True)
LENGTHS = Panel("lengths", _lengths_room, _draw_lengths)
SOURCE = Panel("source", _source_room, _draw_source)
NOTES = paragraphs_panel("notes", _notes, note_words.NOTES, applies=lambda sheet: bool(_printed(sheet)))
CHANGES = paragraphs_panel(
    "changes", _changes, change_words.CHANGES, applies=lambda sheet: bool(sheet.plan.pattern.changes)
)
LOOMS = paragraphs_panel("looms", _looms, loom_words.LOOMS, applies=lambda sheet: bool(sheet.plan.other_looms))
FOOT = Panel("foot", _foot_room, _foot, sinks=True)
