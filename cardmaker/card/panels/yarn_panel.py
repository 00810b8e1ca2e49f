"""Yarn for one warp: the legend of letters and the quantities in one table, in metres, yards and grams."""

from __future__ import annotations

from cardmaker.card.paragraphs import paragraph
from cardmaker.card.sheet import Drawing, HeightRange, Panel, Sheet, headed, heading_height
from cardmaker.card.table import CardColumn, card_row_height, set_card_table, table_height
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, OUTLINE, WHITE
from cardmaker.layout.lines_of_type import Span, cap_height, leading, text_height
from cardmaker.layout.palette import hatching
from cardmaker.layout.roles import figure
from cardmaker.model.marks import Box, Dot, Mark, Rectangle
from cardmaker.wording import stripe_words, yarn_words
from cardmaker.wording.measures import grams_up, metres, metres_up, yards, yards_up
from cardmaker.wording.units_in_words import unit_name

SWATCH = 13.0
SNIP = 1.7  # the radius of a circle to knot a snip of the yarn through


def _columns(sheet: Sheet) -> list[CardColumn]:
    plan = sheet.plan
    amounts = plan.amounts
    ends = {colour.yarn: colour.ends for colour in plan.colours}
    lengths = [("m", metres_up, metres), ("yd", yards_up, yards)]
    if sheet.units == "us":
        lengths.reverse()
    unit, up, part = lengths[0]
    other, other_up, _ = lengths[1]
    return [
        CardColumn("", tuple(sheet.letters(amount.yarn) for amount in amounts), strong=True, told=stripe_words.LETTERS),
        CardColumn("yarn", tuple(amount.yarn for amount in amounts)),
        CardColumn("ends", tuple(str(ends[amount.yarn]) for amount in amounts), "right", True),
        CardColumn("warp", tuple(part(amount.warp_mm) for amount in amounts), "right"),
        CardColumn("weft", tuple(part(amount.weft_mm) for amount in amounts), "right"),
        CardColumn(unit, tuple(up(amount.total_mm) for amount in amounts), "right", True, unit_name(unit)),
        CardColumn(other, tuple(other_up(amount.total_mm) for amount in amounts), "right", True, unit_name(other)),
        CardColumn("g", tuple(grams_up(amount.grams) for amount in amounts), "right", True, unit_name("g")),
    ]


def _spans(sheet: Sheet) -> list[Span]:
    plan = sheet.plan
    yarns = [plan.pattern.yarn(amount.yarn) for amount in plan.amounts]
    said = [
        yarn_words.yarn_kinds(yarns),
        f"{yarn_words.weft_line(plan)}.",
        yarn_words.spare(plan),
        yarn_words.dyes(yarns),
    ]
    return [Span(text) for text in said if text]


def _room(sheet: Sheet, width: float) -> HeightRange:
    words = text_height(len(sheet.lines(_spans(sheet), sheet.sizes.small, width)), sheet.sizes.small)
    height = heading_height(sheet) + table_height(len(sheet.plan.amounts), sheet) + 2.4 + words
    return HeightRange(height, height)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, yarn_words.YARN, yarn_words.yarn_aside(sheet.units))
    marks += set_card_table(sheet, _columns(sheet), body.left + SWATCH, body.top, body.width - SWATCH)
    size, table = sheet.sizes.small, table_height(len(sheet.plan.amounts), sheet)
    told = stripe_words.swatches_alt_text([amount.yarn for amount in sheet.plan.amounts])
    marks.append(figure("swatches", Box(body.left, body.top, SWATCH, table), _swatches(sheet, body), told))
    first = body.top + table + 2.4 + cap_height(size)
    marks += paragraph(sheet, sheet.lines(_spans(sheet), size, body.width), body.left, first, size, body.width)
    return Drawing(tuple(marks))


def _swatches(sheet: Sheet, body: Box) -> list[Mark]:
    """The yarn's colour and hatching beside its row, as the stripes show them."""
    marks: list[Mark] = []
    rule = body.top + card_row_height(sheet.sizes.small) - 0.8
    for number, amount in enumerate(sheet.plan.amounts):
        ink = sheet.inks[amount.yarn]
        cell = Box(
            body.left,
            rule + 1.4 + number * card_row_height(sheet.sizes.body),
            SWATCH - 7.0,
            leading(sheet.sizes.body) - 0.4,
        )
        marks.append(Rectangle(cell, fill=ink.fill))
        marks += hatching(cell, ink, OUTLINE if ink.on == WHITE else HAIRLINE)
        marks.append(Rectangle(cell, stroke=BLACK, width=OUTLINE))
        marks.append(Dot(cell.right + 1.2 + SNIP, cell.top + cell.height / 2, SNIP, None, FAINT, HAIRLINE))
    return marks


YARN = Panel("yarn", _room, _draw)
