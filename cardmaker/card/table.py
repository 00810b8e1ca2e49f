"""A small table: columns ranged by their kind, a rule under the head, no boxes."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from typing import Literal

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, HAIRLINE, RULE, SOFT
from cardmaker.layout.type_setting import cap_height, cut, leading, words_group
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Words
from cardmaker.model.record_class import record, replace

GAP = 4.0  # between columns
LEAST_GAP = 1.4


@record
class CardColumn:
    """One column: its head, its cells, and how they are ranged; ``head_alt`` is said for a short or blank head."""

    head: str
    cells: tuple[str, ...]
    align: Literal["left", "right"] = "left"
    strong: bool = False
    head_alt: str = ""

    @property
    def face(self) -> Face:
        return Face.SANS_SEMIBOLD if self.strong else Face.SANS


def card_row_height(size: float) -> float:
    return leading(size) + 0.5


def table_rule(sheet: Sheet, top: float) -> float:
    """Where the rule under the head of a table stands that begins at ``top``."""
    return top + card_row_height(sheet.sizes.small) - 0.8


def table_height(rows: int, sheet: Sheet) -> float:
    """Head, rule and rows."""
    return card_row_height(sheet.sizes.small) + 0.8 + rows * card_row_height(sheet.sizes.body)


def column_widths(sheet: Sheet, columns: Sequence[CardColumn]) -> list[float]:
    """What each column needs, for its head and its widest cell."""
    heads = (sheet.wide(column.head, Face.SANS, sheet.sizes.small) for column in columns)
    cells = ([sheet.wide(cell, column.face, sheet.sizes.body) for cell in column.cells] for column in columns)
    return [max([head, *widths]) for head, widths in zip(heads, cells, strict=True)]


def fits(sheet: Sheet, columns: Sequence[CardColumn], width: float) -> bool:
    """Whether the table has room without cutting anything short."""
    return _over(column_widths(sheet, columns), width) <= 0


def _over(widths: Sequence[float], width: float) -> float:
    return sum(widths) + LEAST_GAP * (len(widths) - 1) - width


def _fitting(sheet: Sheet, columns: Sequence[CardColumn], width: float) -> Sequence[CardColumn]:
    """The columns, with the names of the widest one cut short where the table would not fit otherwise.

    A number is never cut: columns ranged right stay as they are.
    """
    widths = column_widths(sheet, columns)
    over = _over(widths, width)
    names = [index for index, column in enumerate(columns) if column.align == "left" and not column.strong]
    if over <= 0 or not names:
        return columns
    widest = max(names, key=lambda index: widths[index])
    column, size = columns[widest], sheet.sizes.body
    shown = max(sheet.wide("Mm…", column.face, size), widths[widest] - over)
    cells = tuple(cut(cell, column.face, size, shown, sheet.ruler) for cell in column.cells)
    return [*columns[:widest], replace(column, cells=cells), *columns[widest + 1 :]]


def set_card_table(
    sheet: Sheet, columns: Sequence[CardColumn], left: float, top: float, width: float, *, upward: bool = False
) -> list[Mark]:
    """The table's marks; spare width goes between the columns, evenly but never more than twice the usual gap.

    ``upward``: the first row stands at the foot and each later one above it; it is still the first to be read aloud.
    """
    shown = _fitting(sheet, columns, width)
    widths = column_widths(sheet, shown)
    spare = width - sum(widths)
    gap = min(GAP * 2, spare / (len(shown) - 1)) if len(shown) > 1 else 0.0
    *lefts, after = accumulate((wide + gap for wide in widths), initial=left)
    right, rule = after - gap, table_rule(sheet, top)
    bottom = rule + len(columns[0].cells) * card_row_height(sheet.sizes.body) + 1.0
    places = [Box(at, top, wide, 0.0) for at, wide in zip(lefts, widths, strict=True)]
    rows = [_head(sheet, shown, places)]
    numbers = range(len(columns[0].cells))
    lines = reversed(numbers) if upward else numbers
    rows += (_row(sheet, columns, shown, places, rule, *at) for at in zip(numbers, lines, strict=True))
    rules = (Line(left, rule, right, rule, RULE), Line(left, bottom, right, bottom, HAIRLINE))
    return [Group("table", "", Box(left, top, right - left, bottom - top), (*rows, *rules))]


def _head(sheet: Sheet, columns: Sequence[CardColumn], places: Sequence[Box]) -> Group:
    size = sheet.sizes.small
    cells = []
    for column, place in zip(columns, places, strict=True):
        y = place.top + cap_height(size)
        words = Words(_at(column, place), y, column.head, Face.SANS, size, SOFT, column.align)
        cells.append(words_group("header cell", _cell_box(place, words), words, alt=column.head_alt))
    return in_a_row(cells)


def _row(
    sheet: Sheet,
    whole: Sequence[CardColumn],
    shown: Sequence[CardColumn],
    places: Sequence[Box],
    rule: float,
    number: int,
    line: int,
) -> Group:
    """One row, on a line counted from the rule down; a name that is shown cut short is told whole."""
    size = sheet.sizes.body
    y = rule + 0.9 + line * card_row_height(size) + cap_height(size) + 0.8
    cells = []
    for full, column, place in zip(whole, shown, places, strict=True):
        text, name = column.cells[number], full.cells[number]
        words = Words(_at(column, place), y, text, column.face, size, BLACK, column.align)
        cells.append(words_group("cell", _cell_box(place, words), words, alt=name if text != name else ""))
    return in_a_row(cells)


def _at(column: CardColumn, place: Box) -> float:
    return place.left if column.align == "left" else place.right


def _cell_box(place: Box, words: Words) -> Box:
    return Box(place.left, words.y - cap_height(words.size), place.width, card_row_height(words.size))


def in_a_row(cells: Sequence[Group]) -> Group:
    """The cells of one row of a table."""
    first, last = cells[0].box, cells[-1].box
    return Group("row", "", Box(first.left, first.top, last.right - first.left, first.height), tuple(cells))
