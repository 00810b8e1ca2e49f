"""The same tape in another yarn: a column for each yarn of the file beside that of the pattern's own, all reckoned."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.parts import heading_part, in_small_type, table_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import Part
from cardmaker.layout.table_setting import Column, Row, SetTable, Table, TableAir, TooWide, set_table
from cardmaker.layout.type_setting import Span
from cardmaker.model.plan import SecondPlan
from cardmaker.wording import second_yarn_words

SIDE_BY_SIDE: Final = 2  # other yarns beside the first; more of them have a table of their own below
FACT: Final = "second yarns"
LEAST_GAP: Final = 3.0  # mm between the columns
BETWEEN_TABLES: Final = 3.0  # mm


def _reckoned(sheet: Sheet) -> list[SecondPlan]:
    return [other for other in sheet.plan.second if other.plan is not None]


def _table(sheet: Sheet, others: Sequence[SecondPlan]) -> Table:
    """What is told down the side, a yarn in each column; of the pattern's own that it is told in front as well."""
    heads = (second_yarn_words.AS_IN_FRONT, *(other.title for other in others))
    columns = (Column("", head_alt=second_yarn_words.WHAT), *(Column(head, grows=True) for head in heads))
    rows = second_yarn_words.comparisons(sheet.plan, others, sheet.units)
    return Table("second yarns", columns, tuple(Row((row.label, *row.of_each)) for row in rows))


def _set(sheet: Sheet, table: Table, width: float) -> SetTable | None:
    """In lines as close as those of small words."""
    air = TableAir(LEAST_GAP, LEAST_GAP, above=0.55, below=0.0, above_rule=0.5, below_rule=0.7)
    try:
        return set_table(table, in_small_type(sheet), width, air)
    except TooWide:
        return None


def _parts(sheet: Sheet, width: float) -> list[Part]:
    others, size = _reckoned(sheet), sheet.sizes.small
    parts = [heading_part(sheet, width, second_yarn_words.SECOND_YARNS, second_yarn_words.SAME_STRIPES)]
    for at in range(0, len(others), SIDE_BY_SIDE):
        table = _set(sheet, _table(sheet, others[at : at + SIDE_BY_SIDE]), width)
        parts.append(table_part(table, above=BETWEEN_TABLES if at else 0.0, facts=(FACT,)))
    for line in second_yarn_words.what_else(sheet.plan, sheet.plan.second, sheet.units):
        parts.append(words_part(sheet, width, [[Span(line)]], size, facts=(FACT,)))
    return parts


SECOND_YARNS: Final = Panel("second-yarns", _parts, lambda sheet: bool(sheet.plan.second))
