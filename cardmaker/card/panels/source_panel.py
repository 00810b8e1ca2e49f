"""Where a pattern comes from: how it may be spoken of, and the recorded facts, the most honest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from cardmaker.card.fitting import GUTTER
from cardmaker.card.paragraphs import Paragraph, paragraph
from cardmaker.card.parts import aside_fits, heading_part, run_in_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span, text_height
from cardmaker.model.marks import Box, Face, Mark
from cardmaker.model.record_class import record, replace
from cardmaker.wording import phrases, source_words

ALWAYS: Final = 3  # facts: how sure, what was changed, the grade
FULL_WIDTH_LINES: Final = 3  # a value that would take so many lines in a column has the whole width
KNOWN_PANEL: Final = "known"
MAY_BE_KNOWN: Final = {"how sure": "how sure", "changed here": "new"}  # what that panel may tell, by its label here
BETWEEN_ROWS: Final = 1.5  # mm: more than between the lines of one fact, or two facts run into each other
FIRST_PRIORITY: Final = 20  # of the facts that stand where there is room


@record
class _Cell:
    """What is recorded, after its label, in its column."""

    spans: Paragraph
    left: float
    width: float


def _line_count(sheet: Sheet, cell: _Cell) -> int:
    return len(sheet.lines(cell.spans, sheet.sizes.small, cell.width))


def _rows(sheet: Sheet, width: float) -> Iterator[list[_Cell]]:
    """The facts two by two; one that is long has a row of its own."""
    source = sheet.plan.pattern.source
    facts = source_words.source_facts(source) if source else []
    column = (width - GUTTER) / 2
    waiting: list[_Cell] = []
    for label, value in facts:
        left = column + GUTTER if waiting else 0.0
        spans = [Span(f"{phrases.capitalised(label)}:", colour=SOFT), Span(phrases.sentence(value))]
        cell = _Cell(spans, left, column)
        if _line_count(sheet, cell) >= FULL_WIDTH_LINES:
            if waiting:
                yield waiting
                waiting = []
            yield [replace(cell, left=0.0, width=width)]
            continue
        waiting.append(cell)
        if len(waiting) == 2:
            yield waiting
            waiting = []
    if waiting:
        yield waiting


def _row_part(sheet: Sheet, row: Sequence[_Cell], number: int, told: int) -> Part:
    height = text_height(max(_line_count(sheet, cell) for cell in row), sheet.sizes.small)
    priority = 0 if told < ALWAYS else FIRST_PRIORITY + number
    fact = "honest" if told < ALWAYS else "source"
    words = [span for cell in row for span in cell.spans]
    return Part(exactly(height), lambda box: _draw_row(sheet, row, box), BETWEEN_ROWS, (fact,), priority, (words,))


def _draw_row(sheet: Sheet, row: Sequence[_Cell], box: Box) -> list[Mark]:
    places = (Box(box.left + cell.left, box.top, cell.width, box.height) for cell in row)
    size = sheet.sizes.small
    return [mark for cell, place in zip(row, places, strict=True) for mark in paragraph(sheet, cell.spans, size, place)]


def _parts(sheet: Sheet, width: float) -> list[Part]:
    """How it may be spoken of, or that nothing is recorded, stands beside the heading where it finds room."""
    source = sheet.plan.pattern.source
    sentence = source_words.source_sentence(source)
    beside = aside_fits(sheet, width, source_words.SOURCE, sentence)
    parts = [heading_part(sheet, width, source_words.SOURCE, sentence if beside else "", strong=True)]
    if beside:
        parts = [replace(parts[0], facts=("honest",))]
    else:
        words: Paragraph = [Span(sentence, Face.SANS_SEMIBOLD)]
        parts.append(words_part(sheet, width, [words], sheet.sizes.small, above=0.0, facts=("honest",)))
    told = 0
    for number, row in enumerate(_rows(sheet, width)):
        part = _row_part(sheet, row, number, told)
        parts.append(replace(part, above=0.0) if number == 0 and beside else part)
        told += len(row)
    return parts


def _lines(sheet: Sheet, width: float) -> list[Part]:
    """How it may be spoken of, after the heading; then the recorded facts, running on from each other."""
    if KNOWN_PANEL in sheet.layout.panels:
        return _after_known(sheet, width)
    source, size = sheet.plan.pattern.source, sheet.sizes.small
    sentence: Paragraph = [Span(source_words.source_sentence(source))]
    facts: Paragraph = []
    fields = source_words.source_facts_in_brief if sheet.brief else source_words.source_facts
    for label, value in fields(source) if source else []:
        facts += [Span(f"{phrases.capitalised(label)}:", colour=SOFT), Span(phrases.sentence(value))]
    parts = run_in_part(sheet, width, source_words.SOURCE, sentence, facts=("history",))
    return [*parts, *([words_part(sheet, width, [facts], size, above=0.6, facts=("source",))] if facts else [])]


def _after_known(sheet: Sheet, width: float) -> list[Part]:
    """Of a card that says what is known of the tape the recorded facts alone; those that it may tell in front each by
    itself, so that they can be left out."""
    source, size = sheet.plan.pattern.source, sheet.sizes.small
    fields = source_words.source_facts_in_brief if sheet.brief else source_words.source_facts
    by_fact: dict[str, Paragraph] = {"source": []}
    for label, value in fields(source) if source else []:
        spans = [Span(f"{phrases.capitalised(label)}:", colour=SOFT), Span(phrases.sentence(value))]
        by_fact.setdefault(MAY_BE_KNOWN.get(label, "source"), []).extend(spans)
    first = run_in_part(sheet, width, source_words.SOURCE, by_fact.pop("source"), facts=("source",))
    return [*first, *(words_part(sheet, width, [own], size, above=0.6, facts=(fact,)) for fact, own in by_fact.items())]


def _sentence(sheet: Sheet, width: float) -> list[Part]:
    """Said with its label, as it may stand below something else."""
    label = Span(f"{source_words.SOURCE}:", Face.SANS_SEMIBOLD)
    words = [label, Span(source_words.source_sentence(sheet.plan.pattern.source))]
    return [words_part(sheet, width, [words], sheet.sizes.small, facts=("history",))]


SOURCE = Panel("source", _parts)
SOURCE_LINES = Panel("source-lines", _lines, applies=lambda sheet: sheet.plan.pattern.source is not None)
HISTORY = Panel("history", _sentence, applies=lambda sheet: sheet.plan.pattern.source is not None)
