"""Every end of the warp in columns, to look one up when it breaks: its number, yarn and space, and how to count to it.

In the first half the number of an end is its count from the nearer edge; in the second half the count from the other
edge stands beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil
from typing import Final

from cardmaker.card.fitting import GUTTER
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import columns_part, heading_part, in_small_type, stack_part, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.ink import HAIRLINE
from cardmaker.layout.lettering import hatched_cell
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part
from cardmaker.layout.table_setting import (
    Column,
    Row,
    SetTable,
    Table,
    TableAir,
    draw_table,
    row_boxes,
    set_table,
    table_head_height,
    table_height,
    unwrapped_width,
)
from cardmaker.layout.type_setting import Span, cap_height, figure, leading, text_height
from cardmaker.model.bench import EndPlace
from cardmaker.model.marks import Box, Face, Mark
from cardmaker.model.record_class import record, replace
from cardmaker.wording import rescue_words, stripe_words, trouble_words
from cardmaker.wording.view_words import seen_if_behind

SWATCH: Final = 4.4  # mm
AFTER_SWATCH: Final = 1.2  # mm
LEAST_GAP, MOST_GAP = 1.3, 1.8  # mm between the columns of a table
CLOSEST: Final = 1.25  # mm from the letters of a row to those above, where rows are closest
LOOSEST: Final = 0.4  # mm that they may be farther apart than the lines of a sentence
ABOVE_WORDS: Final = 2.0  # mm
FEW: Final = 16  # ends stand in two columns, with the words beside them
LEAST_WORDS: Final = 55.0  # mm that the words need there


@record
class _Columns:
    """The tables side by side: where each begins, how wide it may be, and what stands in it."""

    lefts: tuple[float, ...]
    width: float
    tables: tuple[Table, ...]
    places: tuple[tuple[EndPlace, ...], ...]


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    heading = heading_part(sheet, width, rescue_words.RESCUE, rescue_words.of_back_heddle(sheet.plan))
    columns = _columns(sheet, width)
    if columns is None:
        return (heading, Part(NO_ROOM, lambda box: (), facts=("rescue",)))
    ends, used = _ends(sheet, columns), columns.lefts[-1] + columns.width + GUTTER
    beside = width - used
    if beside >= LEAST_WORDS:
        words = stack_part([words_part(sheet, beside, _words(sheet), sheet.sizes.small)])
        return (heading, columns_part([(0.0, used - GUTTER, ends), (used, beside, words)], above=0.0))
    above = ABOVE_WORDS * (0.6 if sheet.is_crowded else 1.0)
    return (heading, ends, words_part(sheet, width, _words(sheet), sheet.sizes.small, above=above))


def _columns(sheet: Sheet, width: float) -> _Columns | None:
    """Two columns for either half of the warp at the quarters of the width, or one for either; None where these do not
    fit."""
    ends = planned(sheet.plan.rescue).ends
    for quarters in (4, 2):
        wide = (width - (quarters - 1) * GUTTER) / quarters
        in_columns = _in_columns(ends, 2 if quarters == 4 and len(ends) > FEW else 1)
        tables = tuple(_table(sheet, places) for places in in_columns)
        if max(_wide(sheet, table) for table in tables) <= wide:
            lefts = tuple(number * (wide + GUTTER) for number in range(len(tables)))
            return _Columns(lefts, wide, tables, in_columns)
    return None


def _in_columns(ends: Sequence[EndPlace], each_half: int) -> tuple[tuple[EndPlace, ...], ...]:
    """The ends in order, those from the one edge apart from those from the other; the longer columns first."""
    middle = ceil(len(ends) / 2)
    halves = [half for half in (tuple(ends[:middle]), tuple(ends[middle:])) if half]
    rows = ceil(middle / each_half)
    return tuple(half[at : at + rows] for half in halves for at in range(0, len(half), rows))


def _wide(sheet: Sheet, table: Table) -> float:
    """The least width of a table and its swatches: its heads wrap, its rows do not."""
    heads = tuple(replace(column, head=_widest(sheet, column.head.split() or [""])) for column in table.columns)
    return SWATCH + AFTER_SWATCH + unwrapped_width(replace(table, columns=heads), in_small_type(sheet), LEAST_GAP)


def _table(sheet: Sheet, places: Sequence[EndPlace]) -> Table:
    """All tables have the same columns, each as wide as the widest of the warp; the second half one more."""
    plan, every = sheet.plan, planned(sheet.plan.rescue).ends
    columns = [
        Column(rescue_words.END, "right", strong=True, holds=str(len(every))),
        Column("", holds=_widest(sheet, (sheet.letters(place.yarn) for place in every)), head_alt=stripe_words.LETTERS),
        Column(
            rescue_words.SPACE, holds=_widest(sheet, (rescue_words.space_and_kind(place, plan.loom) for place in every))
        ),
    ]
    if _is_counted_back(places):
        columns.append(Column(rescue_words.from_edge(places[0].nearer), "right", holds=str(len(every) // 2)))
    return Table("ends", tuple(columns), tuple(_row(sheet, place) for place in places))


def _is_counted_back(places: Sequence[EndPlace]) -> bool:
    """Whether these are counted from the edge of the last end."""
    return places[-1].count != places[-1].end_number


def _row(sheet: Sheet, place: EndPlace) -> Row:
    cells = (str(place.end_number), sheet.letters(place.yarn), rescue_words.space_and_kind(place, sheet.plan.loom))
    return Row((*cells, str(place.count)) if _is_counted_back([place]) else cells)


def _widest(sheet: Sheet, texts: Iterable[str]) -> str:
    return max(texts, key=lambda text: sheet.wide(text, Face.SANS, sheet.sizes.small))


def _air(sheet: Sheet, below: float) -> TableAir:
    return TableAir(MOST_GAP, LEAST_GAP, MOST_GAP, CLOSEST - 0.5, below, above_rule=0.5, below_rule=0.6)


def _set(sheet: Sheet, table: Table, width: float, below: float) -> SetTable:
    return set_table(table, in_small_type(sheet), width - SWATCH - AFTER_SWATCH, _air(sheet, below))


def _ends(sheet: Sheet, columns: _Columns) -> Part:
    """The tables, their first rows level, with as much air between the rows as there is room for, up to that of
    sentences."""
    rows, size = len(columns.tables[0].rows), sheet.sizes.small
    closest = [_set(sheet, table, columns.width, 0.0) for table in columns.tables]
    head = max(table_head_height(table) for table in closest)
    least = max(head - table_head_height(table) + table_height(table) for table in closest)
    spare = rows * (leading(size) + LOOSEST - text_height(1, size) - (CLOSEST - 0.5))
    alt = [stripe_words.swatches_alt_text([place.yarn for place in places]) for places in columns.places]

    def draw(box: Box) -> list[Mark]:
        below = (box.height - least) / rows
        marks: list[Mark] = []
        for left, table, places, told in zip(columns.lefts, columns.tables, columns.places, alt, strict=True):
            as_set = _set(sheet, table, columns.width, below)
            at = box.inset(left=left + SWATCH + AFTER_SWATCH, top=head - table_head_height(as_set))
            marks += _draw(sheet, as_set, places, told, at)
        return marks

    return Part(HeightRange(least, least + spare), draw, facts=("rescue",))


def _draw(sheet: Sheet, table: SetTable, places: Sequence[EndPlace], alt: str, box: Box) -> list[Mark]:
    """The rows, and before each of them a cell of its yarn; neighbouring cells stand apart as ends do."""
    left, high = box.left - SWATCH - AFTER_SWATCH, cap_height(table.size) + 0.5
    cells = [Box(left, row.top + table.air.above - 0.25, SWATCH, high) for row in row_boxes(table, box)]
    marks = [
        mark
        for cell, place in zip(cells, places, strict=True)
        for mark in hatched_cell(cell, sheet.inks[place.yarn], outline=HAIRLINE)
    ]
    whole = Box(left, cells[0].top, SWATCH, cells[-1].bottom - cells[0].top)
    return [*draw_table(table, box), figure("swatches", whole, marks, alt)]


def _words(sheet: Sheet) -> list[Paragraph]:
    """From where it is seen, how to count, what a skipped space costs, and how long a new end is."""
    rescue = planned(sheet.plan.rescue)
    texts = (
        seen_if_behind(sheet.plan.loom),
        rescue_words.which_edge(rescue.ends),
        trouble_words.skipped(rescue, brief=True),
        rescue_words.replacement(rescue.replacements, sheet.units, brief=True),
    )
    return [[Span(text) for text in texts if text]]


EVERY_END: Final = Panel("every-end", _parts, lambda sheet: sheet.plan.rescue is not None)
