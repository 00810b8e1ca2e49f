"""The same tape in another yarn: a column for each yarn of the file beside that of the pattern's own, all reckoned."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.parts import heading_part, in_small_type, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part
from cardmaker.layout.table_setting import (
    Column,
    Row,
    SetTable,
    Table,
    TableAir,
    TooWide,
    draw_table,
    set_table,
    table_height,
)
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Box, Mark
from cardmaker.model.plan import SecondPlan
from cardmaker.model.record_class import replace
from cardmaker.wording import second_yarn_words

SIDE_BY_SIDE: Final = 2  # other yarns beside the first; more of them have a table of their own below
FACT: Final = "second yarns"
LEAST_GAP: Final = 3.0  # mm between the columns
CLOSEST, LOOSEST = 0.75, 1.6  # mm over the words of a row
BETWEEN_TABLES: Final = 3.0  # mm


def _reckoned(sheet: Sheet) -> list[SecondPlan]:
    return [other for other in sheet.plan.second if other.plan is not None]


def _table(sheet: Sheet, others: Sequence[SecondPlan]) -> Table:
    """What is told down the side, a yarn in each column; of the pattern's own that it is told in front as well."""
    heads = (second_yarn_words.AS_IN_FRONT, *(other.title for other in others))
    columns = (Column("", head_alt=second_yarn_words.WHAT), *(Column(head, grows=True) for head in heads))
    rows = second_yarn_words.comparisons(sheet.plan, others, sheet.units)
    return Table("second yarns", columns, tuple(Row((row.label, *row.of_each)) for row in rows))


def _set(sheet: Sheet, table: Table, width: float, above: float = CLOSEST) -> SetTable | None:
    air = TableAir(LEAST_GAP, LEAST_GAP, above=above, below=0.0, above_rule=0.5, below_rule=0.7)
    try:
        return set_table(table, in_small_type(sheet), width, air)
    except TooWide:
        return None


def _table_part(sheet: Sheet, table: Table, width: float) -> Part:
    """Its lines as far apart as there is room for, up to those of sentences and a little."""
    closest = _set(sheet, table, width)
    if closest is None:
        return Part(NO_ROOM, lambda box: (), facts=(FACT,))
    least, rows = table_height(closest), len(table.rows)

    def draw(box: Box) -> list[Mark]:
        looser = _set(sheet, table, width, CLOSEST + (box.height - least) / rows)
        return draw_table(looser or closest, box)

    return Part(HeightRange(least, least + rows * (LOOSEST - CLOSEST)), draw, facts=(FACT,))


def _parts(sheet: Sheet, width: float) -> list[Part]:
    others, size = _reckoned(sheet), sheet.sizes.small
    parts = [heading_part(sheet, width, second_yarn_words.SECOND_YARNS, second_yarn_words.SAME_STRIPES)]
    for at in range(0, len(others), SIDE_BY_SIDE):
        table = _table_part(sheet, _table(sheet, others[at : at + SIDE_BY_SIDE]), width)
        parts.append(replace(table, above=BETWEEN_TABLES if at else 0.0))
    for line in second_yarn_words.what_else(sheet.plan, sheet.plan.second, sheet.units):
        parts.append(words_part(sheet, width, [[Span(line)]], size, facts=(FACT,)))
    return parts


SECOND_YARNS: Final = Panel("second-yarns", _parts, lambda sheet: bool(sheet.plan.second))
