"""The one setter of tables: how wide each column is, in which size of type, and what a row looks like.

Cards set a table as a whole, sheets of several pages row by row. Figures are never wrapped or cut, nor is a name cut
off: heads wrap where a table is full, then words do, then the type is smaller.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from typing import Final, Literal

from cardmaker.layout.ink import BLACK, HAIRLINE, RULE, SOFT
from cardmaker.layout.tick_squares import tick_square_beside
from cardmaker.layout.type_setting import (
    SetLine,
    Span,
    TypeSpace,
    cap_height,
    leading,
    set_lines,
    tail_depth,
    text_height,
    unparted,
)
from cardmaker.model.marks import Box, Face, Group, Line, Link, Mark, Words
from cardmaker.model.record_class import record, replace

COMFORTABLE: Final = 30.0  # words that grow, while something else can be left out
NARROWEST: Final = 11.0  # a column of words; a longer word is broken
TICKS: Final = 5.4  # what boxes to tick take before the rows


@record
class Column:
    """One column of a table: its head and how it is ranged.

    Words are ranged left and wrap where the table is full. Figures are ranged right and are never wrapped or cut.
    ``grows``: takes the room that is left over. ``holds`` is a text that it has room for even if no row needs it, so
    that the columns of several tables stand in line. ``spare``: the table does without it where the paper is too
    narrow for it or leaves the words that grow too little, the highest number first; 0 is never left out.
    ``head_alt`` is said for a short or blank head.
    """

    head: str
    align: Literal["left", "right"] = "left"
    strong: bool = False
    grows: bool = False
    holds: str = ""
    spare: int = 0
    head_alt: str = ""


@record
class Row:
    """One row of a table; ``strong`` is a total under a rule.

    ``target`` names the place that it leads to; ``told`` says so for whoever cannot see it, or else its first cell.
    """

    cells: tuple[str, ...]
    target: str = ""
    told: str = ""
    strong: bool = False


@record
class Table:
    """A table, whose head is repeated on every page that it reaches; ``ruled`` draws a hairline between its rows.

    ``ticks`` puts a box to tick before every row but totals.
    """

    name: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    ruled: bool = False
    ticks: bool = False


@record
class TableAir:
    """The free space in a table, in mm: between its columns, and over and under its words.

    Columns stand ``gap`` apart, or ``least_gap`` before a head or words wrap or the type is smaller, and where nothing
    grows up to ``most_gap``.
    """

    gap: float = 4.0
    least_gap: float = 2.0
    most_gap: float = 8.0
    above: float = 1.5  # over the words of a row
    below: float = 0.5
    above_rule: float = 0.7  # from the heads to the rule under them
    below_rule: float = 0.0  # from there to the first row


class TooWide(ValueError):
    """The figures of a table do not fit side by side even in the smallest type."""


@record
class SetTable:
    """A table with its measures: the size of type, the left edge and the width of each column, and its own width."""

    table: Table
    space: TypeSpace
    air: TableAir
    size: float
    lefts: tuple[float, ...]
    widths: tuple[float, ...]

    @property
    def width(self) -> float:
        return self.lefts[-1] + self.widths[-1]


def unwrapped_width(table: Table, space: TypeSpace, gap: float) -> float:
    """The width at which no head and no word wraps, with columns ``gap`` apart, in the size of sentences."""
    cells = (_widest(table, index, space, space.sizes.body) for index in range(len(table.columns)))
    heads = (space.wide(column.head, Face.SANS, space.sizes.small) for column in table.columns)
    return sum(max(pair) for pair in zip(cells, heads, strict=True)) + gap * (len(table.columns) - 1)


def set_table(table: Table, space: TypeSpace, width: float, air: TableAir) -> SetTable:
    """The table in the largest size, from that of sentences down to the smallest, at which its figures fit.

    Words wrap, figures never do; what is spare is left out where nothing else helps. Raises TooWide.
    """
    room = width - (TICKS if table.ticks else 0.0)
    while (found := _set(table, space, room, air)) is None or _is_cramped(found):
        table = _without_spare(table, width)
    return found


def _is_cramped(found: SetTable) -> bool:
    """Whether the words that grow are left too little for what they say, while another column could give way."""
    can_give = any(column.spare for column in found.table.columns)
    return can_give and any(
        column.grows and width < min(COMFORTABLE, _widest(found.table, index, found.space, found.size))
        for index, (column, width) in enumerate(zip(found.table.columns, found.widths, strict=True))
    )


def _without_spare(table: Table, width: float) -> Table:
    """Without the columns that are needed least. Raises TooWide when all are needed."""
    most = max(column.spare for column in table.columns)
    if not most:
        raise TooWide(f"the table '{table.name}' is wider than {width:.0f} mm")
    kept = [index for index, column in enumerate(table.columns) if column.spare < most]
    rows = tuple(replace(row, cells=tuple(row.cells[index] for index in kept)) for row in table.rows)
    return replace(table, columns=tuple(table.columns[index] for index in kept), rows=rows)


def _set(table: Table, space: TypeSpace, width: float, air: TableAir) -> SetTable | None:
    size = space.sizes.body
    while True:
        for gap in (air.gap, air.least_gap):
            widths = _widths(table, space, size, width - gap * (len(table.columns) - 1))
            if widths is not None:
                return _spread(table, space, air, size, widths, width)
        if size <= space.sizes.smallest:
            return None
        size = max(space.sizes.smallest, size - 0.5)


def _spread(table: Table, space: TypeSpace, air: TableAir, size: float, widths: list[float], width: float) -> SetTable:
    """What is left over goes to the columns that grow, or else between the columns, evenly and within reason."""
    gaps = len(widths) - 1
    growing = [index for index, column in enumerate(table.columns) if column.grows]
    spare = width - sum(widths)
    gap = min(air.gap if growing else air.most_gap, spare / gaps) if gaps else 0.0
    for index in growing:
        widths[index] += (spare - gap * gaps) / len(growing)
    indent = TICKS if table.ticks else 0.0
    lefts = tuple(indent + sum(widths[:index]) + gap * index for index in range(len(widths)))
    return SetTable(table, space, air, size, lefts, tuple(widths))


def _widths(table: Table, space: TypeSpace, size: float, room: float) -> list[float] | None:
    """The widths at which the columns fill at most ``room``, or None: heads wrap first, then the widest words do."""
    cells = [_widest(table, index, space, size) for index in range(len(table.columns))]
    heads = [space.wide(column.head, Face.SANS, space.sizes.small) for column in table.columns]
    for wanted in (heads, [_head_width(column.head, space) for column in table.columns]):
        widths = [max(pair) for pair in zip(cells, wanted, strict=True)]
        if sum(widths) <= room + 1e-6:
            return widths
    least = [
        wide if column.align == "right" else min(wide, max(head, _longest(table, index, space, size)))
        for index, (column, wide, head) in enumerate(zip(table.columns, widths, wanted, strict=True))
    ]
    if sum(least) > room:
        least = [
            wide if column.align == "right" else min(wide, max(head, NARROWEST))
            for column, wide, head in zip(table.columns, widths, wanted, strict=True)
        ]
    return _capped(widths, least, room) if sum(least) <= room else None


def _head_width(head: str, space: TypeSpace) -> float:
    """The least width at which a head takes no more than two lines."""
    words = unparted(head)
    parted = [(" ".join(words[:first]), " ".join(words[first:])) for first in range(len(words) + 1)]
    return min(max(space.wide(part, Face.SANS, space.sizes.small) for part in pair) for pair in parted)


def _capped(widths: list[float], least: list[float], room: float) -> list[float]:
    """The widest columns made narrower, all to one measure, none below its least, until they fill the room."""
    low, high = 0.0, max(widths)
    for _ in range(60):  # halving: far finer than any printer
        cap = (low + high) / 2
        if sum(_under(widths, least, cap)) > room:
            high = cap
        else:
            low = cap
    return _under(widths, least, low)


def _under(widths: list[float], least: list[float], cap: float) -> list[float]:
    return [max(fewest, min(wide, cap)) for wide, fewest in zip(widths, least, strict=True)]


def _face(column: Column, row: Row) -> Face:
    return Face.SANS_SEMIBOLD if column.strong or row.strong else Face.SANS


def _widest(table: Table, index: int, space: TypeSpace, size: float) -> float:
    column = table.columns[index]
    held = space.wide(column.holds, Face.SANS_SEMIBOLD if column.strong else Face.SANS, size) if column.holds else 0.0
    return max([held, *(space.wide(row.cells[index], _face(column, row), size) for row in table.rows)])


def _longest(table: Table, index: int, space: TypeSpace, size: float) -> float:
    column = table.columns[index]
    words = (_longest_word(row.cells[index], _face(column, row), size, space) for row in table.rows)
    return max(words, default=0.0)


def _longest_word(text: str, face: Face, size: float, space: TypeSpace) -> float:
    """The width of the longest piece that setting does not part, such as a number and its unit."""
    return max((space.wide(word, face, size) for word in unparted(text)), default=0.0)


def table_head_height(table: SetTable) -> float:
    """The head of the table with the rule under it."""
    lines = max(len(lines) for lines in _head_lines(table))
    size = table.space.sizes.small
    return text_height(lines, size) + table.air.above_rule


def _head_lines(table: SetTable) -> list[list[SetLine]]:
    size = table.space.sizes.small
    return [
        table.space.lines([Span(column.head, colour=SOFT)], size, width + 0.01) or [(Span(""),)]
        for column, width in zip(table.table.columns, table.widths, strict=True)
    ]


def draw_head(table: SetTable, box: Box) -> tuple[Mark, ...]:
    """The heads, standing on the rule, as a row of header cells."""
    size = table.space.sizes.small
    foot = box.bottom - table.air.above_rule - tail_depth(size)
    cells: list[Mark] = []
    for (place, column), lines in zip(_cell_boxes(table, box), _head_lines(table), strict=True):
        first = foot - (len(lines) - 1) * leading(size)
        words = _words(column, lines, place, first, size, table.space)
        cells.append(Group("header cell", column.head, place, words, column.head_alt))
    right = box.left + table.width
    row = Group("row", "head", box._replace(width=table.width), tuple(cells))
    return (row, Line(box.left, box.bottom, right, box.bottom, RULE))


def _cell_boxes(table: SetTable, box: Box) -> list[tuple[Box, Column]]:
    """The part of a row's box that each column has."""
    return [
        (Box(box.left + left, box.top, width, box.height), column)
        for left, width, column in zip(table.lefts, table.widths, table.table.columns, strict=True)
    ]


def _row_lines(table: SetTable, row: Row) -> list[list[SetLine]]:
    """Each cell's lines; a figure is one line whatever its width."""
    return [
        [(Span(cell, _face(column, row)),)]
        if column.align == "right"
        else table.space.lines([Span(cell, _face(column, row))], table.size, width + 0.01)
        for width, column, cell in zip(table.widths, table.table.columns, row.cells, strict=True)
    ]


def row_height(table: SetTable, row: Row) -> float:
    """As high as its longest cell."""
    lines = max([1, *(len(lines) for lines in _row_lines(table, row))])
    return table.air.above + text_height(lines, table.size) + table.air.below


def draw_row(table: SetTable, row: Row, box: Box, *, is_last: bool) -> tuple[Mark, ...]:
    """One row, all its cells on one first baseline; a rule above a total, a hairline below where it is due."""
    first = box.top + table.air.above + cap_height(table.size)
    cells = [
        _cell(column, row, _words(column, lines, place, first, table.size, table.space), place)
        for (place, column), lines in zip(_cell_boxes(table, box), _row_lines(table, row), strict=True)
    ]
    marks: list[Mark] = [Group("row", row.cells[0], box._replace(width=table.width), tuple(cells))]
    right = box.left + table.width
    if table.table.ticks and not row.strong:
        marks += tick_square_beside(box.left, first, table.size)
    if row.strong:
        marks.append(Line(box.left, box.top, right, box.top, RULE))
    if is_last or table.table.ruled:
        marks.append(Line(box.left, box.bottom, right, box.bottom, HAIRLINE, BLACK))
    return tuple(marks)


def table_height(table: SetTable) -> float:
    """Head, rule and rows."""
    return table_head_height(table) + table.air.below_rule + sum(row_height(table, row) for row in table.table.rows)


def row_boxes(table: SetTable, box: Box, *, upward: bool = False) -> list[Box]:
    """Where each row stands, the first one first, in a table whose head begins at the top of ``box``.

    ``upward``: the first row stands at the foot and each later one above it.
    """
    heights = [row_height(table, row) for row in table.table.rows]
    top = box.top + table_head_height(table) + table.air.below_rule
    tops = accumulate(reversed(heights) if upward else heights, initial=top)
    boxes = [
        Box(box.left, at, table.width, height)
        for at, height in zip(tops, reversed(heights) if upward else heights, strict=False)
    ]
    return boxes[::-1] if upward else boxes


def draw_table(table: SetTable, box: Box, *, upward: bool = False) -> list[Mark]:
    """The whole table from the top of ``box`` down; read aloud, its first row is the first, ``upward`` as well."""
    boxes = row_boxes(table, box, upward=upward)
    foot = max(place.bottom for place in boxes)
    marks = list(draw_head(table, Box(box.left, box.top, table.width, table_head_height(table))))
    for row, place in zip(table.table.rows, boxes, strict=True):
        marks += draw_row(table, row, place, is_last=place.bottom == foot)
    return [Group("table", table.table.name, Box(box.left, box.top, table.width, foot - box.top), tuple(marks))]


def row_group(cells: Sequence[Group]) -> Group:
    """The cells of one row of a table that is set by hand."""
    first, last = cells[0].box, cells[-1].box
    return Group("row", "", Box(first.left, first.top, last.right - first.left, first.height), tuple(cells))


def _cell(column: Column, row: Row, words: tuple[Mark, ...], box: Box) -> Group:
    """The cell, its words a link when the row leads somewhere and there are any."""
    if row.target and any(isinstance(mark, Words) and mark.text for mark in words):
        words = (Link(box, row.target, words, row.told or row.cells[0]),)
    return Group("cell", column.head, box, words)


def _words(
    column: Column, lines: Sequence[SetLine], box: Box, first: float, size: float, space: TypeSpace
) -> tuple[Mark, ...]:
    if column.align == "left":
        return tuple(set_lines(lines, box.left, first, size, space.ruler))
    return tuple(
        Words(box.right, first + number * leading(size), span.text, span.face, size, span.colour, "right")
        for number, line in enumerate(lines)
        for span in line
    )
