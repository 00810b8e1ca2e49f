"""Yarn for one warp: the legend of letters and the quantities in one table, in metres, yards and grams."""

from __future__ import annotations

from collections.abc import Callable

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.sheet import Drawing, Sheet, headed, heading_height, whole_panel
from cardmaker.card.table import CardColumn, card_row_height, fits, set_card_table, table_height, table_rule
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, OUTLINE, hatching
from cardmaker.layout.lettering import hatch_width
from cardmaker.layout.stacking import HeightRange, exactly
from cardmaker.layout.type_setting import Span, figure, leading
from cardmaker.model.marks import Box, Dot, Mark, Rectangle
from cardmaker.model.plan import YarnAmount
from cardmaker.wording import stripe_words, yarn_words
from cardmaker.wording.formatters import grams_up, metres, metres_up, yards, yards_up
from cardmaker.wording.units_in_words import unit_name

SWATCH = 6.0
LETTERS = 11.5  # where the table begins, after the swatch and the snip
ALL = "all"  # above the sum of warp and weft
ABOVE_WORDS = 2.4
SNIP = 1.7  # the radius of a circle to knot a snip of the yarn through


def _columns(sheet: Sheet, width: float) -> list[CardColumn]:
    """The columns as full as the table has room for: beside the names what the labels call the colours; then the names
    alone; then the unit alone above the sum. Warp and weft never stand without their unit."""
    table = width - LETTERS
    if _shades_in_table(sheet, width):
        return _columns_with(sheet, shades=True)
    columns = _columns_with(sheet)
    return columns if fits(sheet, columns, table) else _columns_with(sheet, total="")


def _shades_in_table(sheet: Sheet, width: float) -> bool:
    return fits(sheet, _columns_with(sheet, shades=True), width - LETTERS)


def _columns_with(sheet: Sheet, *, shades: bool = False, total: str = ALL) -> list[CardColumn]:
    amounts = sheet.plan.amounts
    ends = {colour.yarn: colour.ends for colour in sheet.plan.colours}
    lengths = [("m", metres_up, metres), ("yd", yards_up, yards)]
    if sheet.units == "us":
        lengths.reverse()
    (unit, up, part), (other, other_up, _) = lengths

    def column(head: str, cell: Callable[[YarnAmount], str], *, strong: bool = True, head_alt: str = "") -> CardColumn:
        return CardColumn(head, tuple(cell(amount) for amount in amounts), "right", strong, head_alt)

    letters = tuple(sheet.letters(amount.yarn) for amount in amounts)
    yarns = [sheet.plan.pattern.yarn(amount.yarn) for amount in amounts]
    names = tuple(yarn_words.name_and_shade(yarn) if shades else yarn.name for yarn in yarns)
    in_words = unit_name(unit)
    return [
        CardColumn("", letters, strong=True, head_alt=stripe_words.LETTERS),
        CardColumn("yarn", names),
        column("ends", lambda amount: str(ends[amount.yarn])),
        column(f"warp {unit}", lambda amount: part(amount.warp_mm), strong=False, head_alt=f"warp, {in_words}"),
        column(f"weft {unit}", lambda amount: part(amount.weft_mm), strong=False, head_alt=f"weft, {in_words}"),
        column(f"{total} {unit}".strip(), lambda amount: up(amount.total_mm), head_alt=f"all, {in_words}"),
        column(other, lambda amount: other_up(amount.total_mm), head_alt=unit_name(other)),
        column("g", lambda amount: grams_up(amount.grams), head_alt=unit_name("g")),
    ]


def _words(sheet: Sheet, width: float) -> Paragraph:
    plan = sheet.plan
    yarns = [plan.pattern.yarn(amount.yarn) for amount in plan.amounts]
    kinds = yarn_words.yarn_kinds(yarns, with_shades=not _shades_in_table(sheet, width))
    weft = f"{yarn_words.weft_line(plan)}."
    sentences = (kinds, weft, yarn_words.spare(plan), yarn_words.dyes(yarns))
    return [Span(text) for text in sentences if text]


def _heights(sheet: Sheet, width: float) -> HeightRange:
    words = paragraph_height(sheet, _words(sheet, width), sheet.sizes.small, width)
    return exactly(heading_height(sheet) + table_height(len(sheet.plan.amounts), sheet) + ABOVE_WORDS + words)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, yarn_words.YARN)
    columns = _columns(sheet, body.width)
    marks += set_card_table(sheet, columns, body.left + LETTERS, body.top, body.width - LETTERS)
    table = table_height(len(sheet.plan.amounts), sheet)
    alt_text = stripe_words.swatches_alt_text([amount.yarn for amount in sheet.plan.amounts])
    marks.append(figure("swatches", Box(body.left, body.top, LETTERS, table), _swatches(sheet, body), alt_text))
    words, below = _words(sheet, body.width), body.inset(top=table + ABOVE_WORDS)
    return Drawing((*marks, *paragraph(sheet, words, sheet.sizes.small, below)))


def _swatches(sheet: Sheet, body: Box) -> list[Mark]:
    """The yarn's colour and hatching beside its row, as the stripes show them."""
    marks: list[Mark] = []
    first, height = table_rule(sheet, body.top) + 1.4, leading(sheet.sizes.body) - 0.4
    for number, amount in enumerate(sheet.plan.amounts):
        ink = sheet.inks[amount.yarn]
        cell = Box(body.left, first + number * card_row_height(sheet.sizes.body), SWATCH, height)
        marks.append(Rectangle(cell, fill=ink.fill))
        marks += hatching(cell, ink, hatch_width(ink))
        marks.append(Rectangle(cell, stroke=BLACK, width=OUTLINE))
        marks.append(Dot(cell.right + 0.9 + SNIP, cell.top + cell.height / 2, SNIP, None, FAINT, HAIRLINE))
    return marks


YARN = whole_panel("yarn", _heights, _draw)
