"""Yarn for one warp: the legend of letters and the quantities in one table, in metres, yards and grams."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, NamedTuple

from cardmaker.card.paragraphs import Paragraph, paragraphs_height, set_paragraphs
from cardmaker.card.parts import heading_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.table import (
    CardColumn,
    card_row_height,
    column_widths,
    fits,
    set_card_table,
    table_height,
    table_rule,
)
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, OUTLINE, hatching
from cardmaker.layout.lettering import hatch_width
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span, figure, leading
from cardmaker.model.marks import Box, Dot, Mark, Rectangle
from cardmaker.model.plan import YarnAmount
from cardmaker.wording import stripe_words, yarn_words
from cardmaker.wording.formatters import grams_up, metres, metres_up, yards, yards_up
from cardmaker.wording.units_in_words import unit_name

SWATCH: Final = 6.0  # mm
LETTERS: Final = 11.5  # mm: where the table begins, after the swatch and the snip
ALL: Final = "all"  # above the sum of warp and weft
SNIP: Final = 1.7  # mm: the radius of a circle to knot a snip of the yarn through
ABOVE_WORDS: Final = 2.4  # mm, where they stand below the table
BESIDE: Final = 5.0  # mm from the table to words beside it
LEAST_BESIDE: Final = 38.0  # mm: words in less are better off below
WIDEST_GAP: Final = 4.0  # mm between the columns of a table with words beside it


class _Setting(NamedTuple):
    """How the table and the words stand in the panel."""

    columns: list[CardColumn]
    table: float  # width, with the swatches
    words: list[Paragraph]
    beside: bool


def _setting(sheet: Sheet, width: float) -> _Setting:
    """The words beside the table where they find room; the columns as full as the table has room for."""
    columns = _columns_with(sheet, shades=True)
    wide = LETTERS + sum(column_widths(sheet, columns)) + WIDEST_GAP * (len(columns) - 1)
    table = min(wide, width - BESIDE - LEAST_BESIDE)
    if fits(sheet, columns, table - LETTERS) and table > 0:
        return _Setting(columns, table, _words(sheet, with_shades=False), True)
    columns = _columns_with(sheet)
    wide = LETTERS + sum(column_widths(sheet, columns)) + WIDEST_GAP * (len(columns) - 1)
    table = min(wide, width - BESIDE - LEAST_BESIDE)
    if fits(sheet, columns, table - LETTERS) and table > 0:
        return _Setting(columns, table, _words(sheet, with_shades=True), True)
    for columns in (_columns_with(sheet, shades=True), _columns_with(sheet)):
        if fits(sheet, columns, width - LETTERS):
            return _Setting(columns, width, _words(sheet, with_shades=columns[1].head == "yarn"), False)
    return _Setting(_columns_with(sheet, total=""), width, _words(sheet, with_shades=True), False)


def _columns_with(sheet: Sheet, *, shades: bool = False, total: str = ALL) -> list[CardColumn]:
    """Warp and weft never stand without their unit; the sum may have its unit alone above it."""
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


def _words(sheet: Sheet, *, with_shades: bool) -> list[Paragraph]:
    plan = sheet.plan
    yarns = [plan.pattern.yarn(amount.yarn) for amount in plan.amounts]
    kinds = yarn_words.yarn_kinds(yarns, with_shades=with_shades)
    sentences = (kinds, f"{yarn_words.weft_line(plan)}.", yarn_words.spare(plan), yarn_words.dyes(yarns))
    return [[Span(text) for text in sentences if text]]


def _parts(sheet: Sheet, width: float) -> list[Part]:
    setting, small = _setting(sheet, width), sheet.sizes.small
    table = table_height(len(sheet.plan.amounts), sheet)
    words_width = width - setting.table - BESIDE if setting.beside else width
    words = paragraphs_height(sheet, setting.words, small, words_width)
    height = max(table, words) if setting.beside else table + ABOVE_WORDS + words
    return [
        heading_part(sheet, width, yarn_words.YARN, yarn_words.SNIPS),
        Part(exactly(height), lambda box: _draw(sheet, setting, box), facts=("yarn", "weft", "legend")),
    ]


def _draw(sheet: Sheet, setting: _Setting, box: Box) -> list[Mark]:
    marks = set_card_table(sheet, setting.columns, box.left + LETTERS, box.top, setting.table - LETTERS)
    table = table_height(len(sheet.plan.amounts), sheet)
    alt_text = stripe_words.swatches_alt_text([amount.yarn for amount in sheet.plan.amounts])
    marks.append(figure("swatches", Box(box.left, box.top, LETTERS, table), _swatches(sheet, box), alt_text))
    words = box.inset(left=setting.table + BESIDE) if setting.beside else box.inset(top=table + ABOVE_WORDS)
    return [*marks, *set_paragraphs(sheet, setting.words, sheet.sizes.small, words)]


def _swatches(sheet: Sheet, body: Box) -> Sequence[Mark]:
    """The yarn's colour and hatching beside its row, as the stripes show them, and a circle for a snip of it."""
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


YARN = Panel("yarn", _parts)
