"""A table as a part of a panel. Few cards have one, so that its setter is loaded for those alone."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.stacking import NO_ROOM, Part, exactly
from cardmaker.layout.table_setting import SetTable, Table, TableAir, TooWide, draw_table, set_table, table_height
from cardmaker.layout.type_setting import leading, text_height
from cardmaker.model.marks import Box, Mark

LEAST_GAP: Final = 1.4  # mm between the columns of a table


def table_air(sheet: Sheet) -> TableAir:
    """The free space in a card's tables, whose lines are as far apart as those of its sentences, and a hair more."""
    below = leading(sheet.sizes.body) - text_height(1, sheet.sizes.body) - 0.2
    above_rule = leading(sheet.sizes.small) - text_height(1, sheet.sizes.small) - 0.3
    return TableAir(LEAST_GAP, LEAST_GAP, above=0.7, below=below, above_rule=above_rule, below_rule=1.0)


def card_table(sheet: Sheet, table: Table, width: float) -> SetTable | None:
    """The table as it is set in ``width`` mm: None where its figures do not fit."""
    try:
        return set_table(table, sheet, width, table_air(sheet))
    except TooWide:
        return None


def table_part(
    table: SetTable | None,
    draw: Callable[[SetTable, Box], Sequence[Mark]] = draw_table,
    *,
    above: float = 1.6,
    facts: tuple[str, ...] = (),
) -> Part:
    """A table, drawn as ``draw`` says where something stands beside its rows; nothing can be drawn of None."""
    if table is None:
        return Part(NO_ROOM, lambda box: (), above, facts)
    return Part(exactly(table_height(table)), lambda box: draw(table, box), above, facts)
