"""Yarn for one warp: the legend of letters and the quantities in one table, in metres, yards and grams."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from cardmaker.card.fitting import GUTTER
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import (
    COLUMN_GAP,
    aside_fits,
    columns_part,
    heading_part,
    quarters,
    words_part,
)
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.table_parts import LEAST_GAP, card_table, table_part
from cardmaker.layout.ink import FAINT, HAIRLINE
from cardmaker.layout.lettering import hatched_cell
from cardmaker.layout.stacking import Part, stack_heights
from cardmaker.layout.table_setting import Column, Row, SetTable, Table, draw_table, row_boxes, unwrapped_width
from cardmaker.layout.type_setting import Span, cap_height, figure, leading
from cardmaker.model.marks import Box, Dot, Mark
from cardmaker.model.plan import YarnAmount
from cardmaker.wording import stripe_words, yarn_words
from cardmaker.wording.formatters import grams_up, metres, metres_up, yards, yards_up
from cardmaker.wording.units_in_words import unit_name

SWATCH: Final = 6.0  # mm
LETTERS: Final = 11.5  # mm: where the table begins, after the swatch and the snip
ALL: Final = "all"  # above the sum of warp and weft
SNIP: Final = 1.7  # mm: the radius of a circle to knot a snip of the yarn through
ABOVE_WORDS: Final = 3.0  # mm, where they stand below the table


def _arrangements(sheet: Sheet, width: float) -> Iterator[list[Part]]:
    """The words at the last quarter beside the table or below it, with the shades in the table or, where it has no room
    for them beside the words, among these; where it has none either way, the sum stands under its unit alone, and names
    wrap. With more words, or names that wrap, none is ever lower.
    """
    left = quarters(width)[0][3]
    any_fits = False
    for shades in (True, False):
        table, words = _table_with(sheet, shades=shades), _words(sheet, width, with_shades=not shades)
        bare, gaps = unwrapped_width(table, sheet, 0.0), len(table.columns) - 1
        least, wide = LETTERS + bare + LEAST_GAP * gaps, min(LETTERS + bare + COLUMN_GAP * gaps, left - GUTTER)
        if least <= wide:
            beside = words_part(sheet, width - left, words, sheet.sizes.small)
            columns = [(0.0, wide, _table_part(sheet, table, wide)), (left, width - left, beside)]
            yield [columns_part(columns, above=0.0)]
        if least <= width:
            any_fits = True
            yield _one_below_the_other(sheet, table, words, width)
        if least <= wide:
            return
    if not any_fits:
        yield _one_below_the_other(sheet, _table_with(sheet, total=""), _words(sheet, width, with_shades=True), width)


def _one_below_the_other(sheet: Sheet, table: Table, words: list[Paragraph], width: float) -> list[Part]:
    below = words_part(sheet, width, words, sheet.sizes.small, above=ABOVE_WORDS)
    return [_table_part(sheet, table, width), below]


def _table_part(sheet: Sheet, table: Table, width: float) -> Part:
    """The table in ``width`` mm, with the swatches."""
    rows = card_table(sheet, table, width - LETTERS)
    return table_part(rows, lambda rows, box: _draw(sheet, rows, box), above=0.0, facts=("yarn", "weft", "legend"))


def _table_with(sheet: Sheet, *, shades: bool = False, total: str = ALL) -> Table:
    """Warp and weft never stand without their unit; the sum may have its unit alone above it."""
    ends = {colour.yarn: colour.ends for colour in sheet.plan.colours}
    lengths = [("m", metres_up, metres), ("yd", yards_up, yards)]
    if sheet.units == "us":
        lengths.reverse()
    (unit, up, part), (other, other_up, _) = lengths
    in_words = unit_name(unit)

    def cells(amount: YarnAmount) -> tuple[str, ...]:
        yarn = sheet.plan.pattern.yarn(amount.yarn)
        return (
            sheet.letters(amount.yarn),
            yarn_words.name_and_shade(yarn) if shades else yarn.name,
            str(ends[amount.yarn]),
            part(amount.warp_mm),
            part(amount.weft_mm),
            up(amount.total_mm),
            other_up(amount.total_mm),
            grams_up(amount.grams),
        )

    columns = (
        Column("", strong=True, head_alt=stripe_words.LETTERS),
        Column("yarn"),
        Column("ends", "right", strong=True),
        Column(f"warp {unit}", "right", head_alt=f"warp, {in_words}"),
        Column(f"weft {unit}", "right", head_alt=f"weft, {in_words}"),
        Column(f"{total} {unit}".strip(), "right", strong=True, head_alt=f"all, {in_words}"),
        Column(other, "right", strong=True, head_alt=unit_name(other)),
        Column("g", "right", strong=True, head_alt=unit_name("g")),
    )
    return Table("yarn", columns, tuple(Row(cells(amount)) for amount in sheet.plan.amounts))


def _spare_beside_heading(sheet: Sheet, width: float) -> bool:
    return aside_fits(sheet, width, yarn_words.YARN, yarn_words.spare_and_snips(sheet.plan))


def _words(sheet: Sheet, width: float, *, with_shades: bool) -> list[Paragraph]:
    plan = sheet.plan
    yarns = [plan.pattern.yarn(amount.yarn) for amount in plan.amounts]
    kinds = yarn_words.yarn_kinds(yarns, with_shades=with_shades)
    spare = "" if _spare_beside_heading(sheet, width) else yarn_words.spare(plan)
    sentences = (kinds, f"{yarn_words.weft_line(plan)}.", spare, yarn_words.dyes(yarns))
    return [[Span(text) for text in sentences if text]]


def _parts(sheet: Sheet, width: float) -> list[Part]:
    """The first of the lowest arrangements."""
    aside = yarn_words.spare_and_snips(sheet.plan) if _spare_beside_heading(sheet, width) else yarn_words.SNIPS
    heading = heading_part(sheet, width, yarn_words.YARN, aside)
    return [heading, *min(_arrangements(sheet, width), key=lambda parts: stack_heights(parts).least)]


def _draw(sheet: Sheet, table: SetTable, box: Box) -> list[Mark]:
    place = box.inset(left=LETTERS)
    swatches = _swatches(sheet, table, box.left, row_boxes(table, place))
    alt_text = stripe_words.swatches_alt_text([amount.yarn for amount in sheet.plan.amounts])
    return [*draw_table(table, place), figure("swatches", box._replace(width=LETTERS), swatches, alt_text)]


def _swatches(sheet: Sheet, table: SetTable, left: float, rows: Sequence[Box]) -> Sequence[Mark]:
    """The yarn's colour and hatching beside its row, as the stripes show them, and a circle for a snip of it."""
    marks: list[Mark] = []
    height = leading(sheet.sizes.body) - 0.4
    for amount, row in zip(sheet.plan.amounts, rows, strict=True):
        axis = row.top + table.air.above + cap_height(table.size) / 2  # of the capitals of the row
        cell = Box(left, axis - height / 2, SWATCH, height)
        marks += hatched_cell(cell, sheet.inks[amount.yarn])
        marks.append(Dot(cell.right + 0.9 + SNIP, cell.top + cell.height / 2, SNIP, None, FAINT, HAIRLINE))
    return marks


YARN = Panel("yarn", _parts)
