"""Yarn for one warp: the legend of letters and the quantities in one table, in metres, yards and grams."""

from __future__ import annotations

from collections.abc import Callable

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.sheet import Drawing, HeightRange, Panel, Sheet, exactly, headed, heading_height
from cardmaker.card.table import CardColumn, card_row_height, set_card_table, table_height, table_rule
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, OUTLINE, WHITE, hatching
from cardmaker.layout.type_setting import Span, figure, leading
from cardmaker.model.marks import Box, Dot, Mark, Rectangle
from cardmaker.model.plan import YarnAmount
from cardmaker.wording import stripe_words, yarn_words
from cardmaker.wording.formatters import grams_up, metres, metres_up, yards, yards_up
from cardmaker.wording.units_in_words import unit_name

SWATCH = 13.0
ABOVE_WORDS = 2.4
SNIP = 1.7  # the radius of a circle to knot a snip of the yarn through


def _columns(sheet: Sheet) -> list[CardColumn]:
    amounts = sheet.plan.amounts
    ends = {colour.yarn: colour.ends for colour in sheet.plan.colours}
    lengths = [("m", metres_up, metres), ("yd", yards_up, yards)]
    if sheet.units == "us":
        lengths.reverse()
    (unit, up, part), (other, other_up, _) = lengths

    def column(head: str, cell: Callable[[YarnAmount], str], *, strong: bool = True, head_alt: str = "") -> CardColumn:
        return CardColumn(head, tuple(cell(amount) for amount in amounts), "right", strong, head_alt)

    letters = tuple(sheet.letters(amount.yarn) for amount in amounts)
    return [
        CardColumn("", letters, strong=True, head_alt=stripe_words.LETTERS),
        CardColumn("yarn", tuple(amount.yarn for amount in amounts)),
        column("ends", lambda amount: str(ends[amount.yarn])),
        column("warp", lambda amount: part(amount.warp_mm), strong=False),
        column("weft", lambda amount: part(amount.weft_mm), strong=False),
        column(unit, lambda amount: up(amount.total_mm), head_alt=unit_name(unit)),
        column(other, lambda amount: other_up(amount.total_mm), head_alt=unit_name(other)),
        column("g", lambda amount: grams_up(amount.grams), head_alt=unit_name("g")),
    ]


def _words(sheet: Sheet) -> Paragraph:
    plan = sheet.plan
    yarns = [plan.pattern.yarn(amount.yarn) for amount in plan.amounts]
    weft = f"{yarn_words.weft_line(plan)}."
    sentences = (yarn_words.yarn_kinds(yarns), weft, yarn_words.spare(plan), yarn_words.dyes(yarns))
    return [Span(text) for text in sentences if text]


def _heights(sheet: Sheet, width: float) -> HeightRange:
    words = paragraph_height(sheet, _words(sheet), sheet.sizes.small, width)
    return exactly(heading_height(sheet) + table_height(len(sheet.plan.amounts), sheet) + ABOVE_WORDS + words)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, yarn_words.YARN, yarn_words.yarn_aside(sheet.units))
    marks += set_card_table(sheet, _columns(sheet), body.left + SWATCH, body.top, body.width - SWATCH)
    table = table_height(len(sheet.plan.amounts), sheet)
    alt_text = stripe_words.swatches_alt_text([amount.yarn for amount in sheet.plan.amounts])
    marks.append(figure("swatches", Box(body.left, body.top, SWATCH, table), _swatches(sheet, body), alt_text))
    return Drawing((*marks, *paragraph(sheet, _words(sheet), sheet.sizes.small, body.inset(top=table + ABOVE_WORDS))))


def _swatches(sheet: Sheet, body: Box) -> list[Mark]:
    """The yarn's colour and hatching beside its row, as the stripes show them."""
    marks: list[Mark] = []
    first, height = table_rule(sheet, body.top) + 1.4, leading(sheet.sizes.body) - 0.4
    for number, amount in enumerate(sheet.plan.amounts):
        ink = sheet.inks[amount.yarn]
        cell = Box(body.left, first + number * card_row_height(sheet.sizes.body), SWATCH - 7.0, height)
        marks.append(Rectangle(cell, fill=ink.fill))
        marks += hatching(cell, ink, OUTLINE if ink.on == WHITE else HAIRLINE)
        marks.append(Rectangle(cell, stroke=BLACK, width=OUTLINE))
        marks.append(Dot(cell.right + 1.2 + SNIP, cell.top + cell.height / 2, SNIP, None, FAINT, HAIRLINE))
    return marks


YARN = Panel("yarn", _heights, _draw)
