"""Where a pattern comes from: how it may be spoken of, and the recorded facts."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraphs_panel
from cardmaker.card.sheet import Drawing, Sheet, headed, heading_height, whole_panel
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.type_setting import Span, text_height
from cardmaker.model.marks import Box, Face
from cardmaker.wording import phrases, source_words

LEAST_FACTS = 3  # grade, holder, object


def _source(sheet: Sheet, facts: int | None = None) -> Paragraph:
    """How the tape may be spoken of, then the first ``facts`` recorded facts, or all."""
    source = sheet.plan.pattern.source
    spans = [Span(source_words.source_sentence(source), Face.SANS_SEMIBOLD)]
    if source is not None:
        for label, value in source_words.source_facts(source)[:facts]:
            spans += [Span(f"{phrases.capitalised(label)}:", colour=SOFT), Span(phrases.sentence(value))]
    return spans


def _height_by_facts(sheet: Sheet, width: float) -> list[float]:
    """The height with none of the recorded facts, with the first, and so on to all of them."""
    counts = sheet.line_counts(_source(sheet), sheet.sizes.small, width)
    return [heading_height(sheet) + text_height(lines, sheet.sizes.small) for lines in counts[::2]]


def _heights(sheet: Sheet, width: float) -> HeightRange:
    heights = _height_by_facts(sheet, width)
    return HeightRange(heights[min(LEAST_FACTS, len(heights) - 1)], heights[-1])


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, source_words.SOURCE)
    heights = _height_by_facts(sheet, box.width)
    shown = len(heights) - 1
    while shown > LEAST_FACTS and heights[shown] > box.height + 1e-6:
        shown -= 1
    marks += paragraph(sheet, _source(sheet, shown), sheet.sizes.small, body)
    return Drawing(tuple(marks))


SOURCE = whole_panel("source", _heights, _draw)
HISTORY = paragraphs_panel("history", lambda sheet: [[Span(source_words.source_sentence(sheet.plan.pattern.source))]])
