"""How much to wind, what tape or pieces it gives, and the sum that leads there."""

from __future__ import annotations

from cardmaker.card.paragraphs import BETWEEN, Paragraph, body, paragraph, paragraph_height, paragraphs_panel
from cardmaker.card.sheet import Drawing, Sheet, headed, heading_height, whole_panel
from cardmaker.layout.stacking import HeightRange, exactly
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Box, Face
from cardmaker.wording import length_words, piece_words


def _answer(sheet: Sheet) -> Paragraph:
    """What to wind, in large type: the answer before its sum."""
    lengths = sheet.plan.lengths
    return [
        Span(length_words.wind_on_pegs(lengths, sheet.units), Face.SANS_BOLD),
        Span(f"which {length_words.gives(lengths, sheet.units)}."),
    ]


def _sum(sheet: Sheet) -> Paragraph:
    lengths = sheet.plan.lengths
    lines = [
        piece_words.pieces_in_brief(lengths, sheet.units),
        *length_words.length_sum(sheet.plan, sheet.units),
        length_words.length_basis(lengths),
    ]
    return [Span(line) for line in lines if line]


def _answer_height(sheet: Sheet, width: float) -> float:
    return paragraph_height(sheet, _answer(sheet), sheet.sizes.body, width) + BETWEEN


def _heights(sheet: Sheet, width: float) -> HeightRange:
    working = paragraph_height(sheet, _sum(sheet), sheet.sizes.small, width)
    return exactly(heading_height(sheet) + _answer_height(sheet, width) + working)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, length_words.LENGTHS)
    marks += paragraph(sheet, _answer(sheet), sheet.sizes.body, body)
    marks += paragraph(sheet, _sum(sheet), sheet.sizes.small, body.inset(top=_answer_height(sheet, body.width)))
    return Drawing(tuple(marks))


def _pieces(sheet: Sheet) -> list[Paragraph]:
    return [[Span(line)] for line in piece_words.piece_lines(sheet.plan.lengths, sheet.units)]


LENGTHS = whole_panel("lengths", _heights, _draw)
PIECES = paragraphs_panel(
    "pieces", _pieces, piece_words.PIECES, body, applies=lambda sheet: bool(sheet.plan.lengths.pieces)
)
