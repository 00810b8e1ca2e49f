"""The stripes of a small card: counts very large with letters below, or all in one line of type."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, alt_text_panel, paragraph_height
from cardmaker.card.sheet import Drawing, Sheet, whole_panel
from cardmaker.layout.stacking import HeightRange, exactly
from cardmaker.layout.type_setting import Span, cap_height, figure, side_by_side
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.wording import stripe_words

GAP = 3.0  # between stripes
ABOVE_LETTERS, BELOW_LETTERS = 1.2, 3.0
ABOVE_LEGEND = -0.6  # it stands a little nearer than a next line would


def _counts_and_letters(sheet: Sheet) -> list[tuple[str, str]]:
    """(Count, letters) of every stripe; what is counted in turn stays one."""
    stripes = []
    for segment in sheet.segments:
        letters = " ".join(sheet.letters(yarn) for yarn in segment.yarns)
        stripes.append((str(segment.ends), stripe_words.in_turn(letters) if segment.in_turn else letters))
    return stripes


def _lines(sheet: Sheet, width: float) -> list[list[tuple[str, str, float]]]:
    """The stripes in lines: each with the width it takes."""
    stripes = []
    for count, letters in _counts_and_letters(sheet):
        wide = sheet.wide(count, Face.SANS_BOLD, sheet.sizes.count)
        stripes.append((count, letters, max(wide, sheet.wide(letters, Face.SANS_SEMIBOLD, sheet.sizes.body))))
    return side_by_side(stripes, lambda stripe: stripe[-1], GAP, width)


def _line_height(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.count) + ABOVE_LETTERS + cap_height(sheet.sizes.body) + BELOW_LETTERS


def _begins(sheet: Sheet) -> list[Span]:
    """At which edge the stripes begin, where that is not the usual."""
    begins = stripe_words.begins_at(sheet.plan, brief=True)
    return [Span(begins, Face.SANS_SEMIBOLD)] if begins else []


def _legend(sheet: Sheet) -> list[Span]:
    """What the letters stand for."""
    return [*_begins(sheet), Span(stripe_words.legend(sheet.plan))]


def _heights(sheet: Sheet, width: float) -> HeightRange:
    counts = len(_lines(sheet, width)) * _line_height(sheet) + ABOVE_LEGEND
    return exactly(counts + paragraph_height(sheet, _legend(sheet), sheet.sizes.small, width))


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks: list[Mark] = []
    sizes, lines = sheet.sizes, _lines(sheet, box.width)
    for number, line in enumerate(lines):
        y = box.top + number * _line_height(sheet) + cap_height(sizes.count)
        below = y + ABOVE_LETTERS + cap_height(sizes.body)
        x = box.left
        for count, letters, wide in line:
            marks.append(Words(x + wide / 2, y, count, Face.SANS_BOLD, sizes.count, align="middle"))
            marks.append(Words(x + wide / 2, below, letters, Face.SANS_SEMIBOLD, sizes.body, align="middle"))
            x += wide + GAP
    first = box.top + len(lines) * _line_height(sheet) + ABOVE_LEGEND + cap_height(sizes.small)
    marks += sheet.set(sheet.lines(_legend(sheet), sizes.small, box.width), box.left, first, sizes.small)
    return Drawing((figure("stripes", box, marks, _alt_text(sheet)),))


def _alt_text(sheet: Sheet) -> str:
    return stripe_words.order_alt_text(sheet.plan, sheet.segments)


def _in_a_line(sheet: Sheet) -> list[Paragraph]:
    """For a card that has no room for large counts."""
    stripes = ", ".join(f"{count} {letters}" for count, letters in _counts_and_letters(sheet))
    return [[*_begins(sheet), Span(stripes, Face.SANS_BOLD)], [Span(stripe_words.legend(sheet.plan))]]


COUNTS = whole_panel("counts", _heights, _draw)
STRIPES = alt_text_panel("stripes", _in_a_line, _alt_text)
