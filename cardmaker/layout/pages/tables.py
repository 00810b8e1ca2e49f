"""Tables that never overflow: how wide each column is, in which size of type, and what one row looks like."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from cardmaker.layout.ink import BLACK, HAIRLINE, OUTLINE, RULE, SOFT
from cardmaker.layout.pages.blocks import Column, Row, Table
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.type_setting import SetLine, Span, cap_height, leading, set_lines, tail_depth, unparted
from cardmaker.model.marks import Box, Face, Group, Line, Link, Mark, Rectangle, Words

GAP: Final = 4.0  # between columns
LEAST_GAP: Final = 2.0
MOST_GAP: Final = 8.0
COMFORTABLE: Final = 30.0  # words that grow, while something else can be left out
NARROWEST: Final = 11.0  # a column of words; a longer word is broken
TICKS: Final = 5.4  # what boxes to tick take before the rows
ABOVE: Final = 1.5  # the words of a row
BELOW: Final = 0.5


class TooWide(ValueError):
    """The figures of a table do not fit side by side even in the smallest type."""


class Set(NamedTuple):
    """A table with its measures: the size of type, the left edge and the width of each column, and its own width."""

    table: Table
    leaf: Leaf
    size: float
    lefts: tuple[float, ...]
    widths: tuple[float, ...]

    @property
    def width(self) -> float:
        return self.lefts[-1] + self.widths[-1]


def set_table(table: Table, leaf: Leaf, width: float) -> Set:
    """The table in the largest size, from that of sentences down to the smallest, at which its figures fit.

    Words wrap, figures never do; what is spare is left out where nothing else helps. Raises TooWide.
    """
    room = width - (TICKS if table.ticks else 0.0)
    while (found := _set(table, leaf, room)) is None or _is_cramped(found):
        table = _without_spare(table, width)
    return found


def _is_cramped(found: Set) -> bool:
    """Whether the words that grow are left too little for what they say, while another column could give way."""
    can_give = any(column.spare for column in found.table.columns)
    return can_give and any(
        column.grows and width < min(COMFORTABLE, _widest(found.table, index, found.leaf, found.size))
        for index, (column, width) in enumerate(zip(found.table.columns, found.widths, strict=True))
    )


def _without_spare(table: Table, width: float) -> Table:
    """Without the columns that are needed least. Raises TooWide when all are needed."""
    most = max(column.spare for column in table.columns)
    if not most:
        raise TooWide(f"the table '{table.name}' is wider than {width:.0f} mm")
    kept = [index for index, column in enumerate(table.columns) if column.spare < most]
    rows = tuple(row._replace(cells=tuple(row.cells[index] for index in kept)) for row in table.rows)
    return table._replace(columns=tuple(table.columns[index] for index in kept), rows=rows)


def _set(table: Table, leaf: Leaf, width: float) -> Set | None:
    size = leaf.sizes.body
    while True:
        for gap in (GAP, LEAST_GAP):
            widths = _widths(table, leaf, size, width - gap * (len(table.columns) - 1))
            if widths is not None:
                return _spread(table, leaf, size, widths, width)
        if size <= leaf.sizes.smallest:
            return None
        size = max(leaf.sizes.smallest, size - 0.5)


def _spread(table: Table, leaf: Leaf, size: float, widths: list[float], width: float) -> Set:
    """What is left over goes to the columns that grow, or else between the columns, evenly and within reason."""
    gaps = len(widths) - 1
    growing = [index for index, column in enumerate(table.columns) if column.grows]
    spare = width - sum(widths)
    gap = min(GAP if growing else MOST_GAP, spare / gaps) if gaps else 0.0
    for index in growing:
        widths[index] += (spare - gap * gaps) / len(growing)
    indent = TICKS if table.ticks else 0.0
    lefts = tuple(indent + sum(widths[:index]) + gap * index for index in range(len(widths)))
    return Set(table, leaf, size, lefts, tuple(widths))


def _widths(table: Table, leaf: Leaf, size: float, room: float) -> list[float] | None:
    """The widths at which the columns fill at most ``room``, or None: heads wrap first, then the widest words do."""
    cells = [_widest(table, index, leaf, size) for index in range(len(table.columns))]
    heads = [leaf.wide(column.head, Face.SANS, leaf.sizes.small) for column in table.columns]
    for wanted in (heads, [_head_width(column.head, leaf) for column in table.columns]):
        widths = [max(pair) for pair in zip(cells, wanted, strict=True)]
        if sum(widths) <= room + 1e-6:
            return widths
    least = [
        wide if column.align == "right" else min(wide, max(head, _longest(table, index, leaf, size)))
        for index, (column, wide, head) in enumerate(zip(table.columns, widths, wanted, strict=True))
    ]
    if sum(least) > room:
        least = [
            wide if column.align == "right" else min(wide, max(head, NARROWEST))
            for column, wide, head in zip(table.columns, widths, wanted, strict=True)
        ]
    return _capped(widths, least, room) if sum(least) <= room else None


def _head_width(head: str, leaf: Leaf) -> float:
    """The least width at which a head takes no more than two lines."""
    words = unparted(head)
    parted = [(" ".join(words[:first]), " ".join(words[first:])) for first in range(len(words) + 1)]
    return min(max(leaf.wide(part, Face.SANS, leaf.sizes.small) for part in pair) for pair in parted)


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


def _widest(table: Table, index: int, leaf: Leaf, size: float) -> float:
    column = table.columns[index]
    held = leaf.wide(column.holds, Face.SANS_SEMIBOLD if column.strong else Face.SANS, size) if column.holds else 0.0
    return max([held, *(leaf.wide(row.cells[index], _face(column, row), size) for row in table.rows)])


def _longest(table: Table, index: int, leaf: Leaf, size: float) -> float:
    column = table.columns[index]
    words = (_longest_word(row.cells[index], _face(column, row), size, leaf) for row in table.rows)
    return max(words, default=0.0)


def _longest_word(text: str, face: Face, size: float, leaf: Leaf) -> float:
    """The width of the longest piece that setting does not part, such as a number and its unit."""
    return max((leaf.wide(word, face, size) for word in unparted(text)), default=0.0)


def table_head_height(table: Set) -> float:
    """The head of the table with the rule under it."""
    lines = max(len(lines) for lines in _head_lines(table))
    size = table.leaf.sizes.small
    return (lines - 1) * leading(size) + cap_height(size) + tail_depth(size) + 0.7


def _head_lines(table: Set) -> list[list[SetLine]]:
    size = table.leaf.sizes.small
    return [
        table.leaf.lines([Span(column.head, colour=SOFT)], size, width + 0.01)
        for column, width in zip(table.table.columns, table.widths, strict=True)
    ]


def draw_head(table: Set, box: Box) -> tuple[Mark, ...]:
    """The heads, standing on the rule, as a row of header cells."""
    size = table.leaf.sizes.small
    foot = box.bottom - 0.7 - tail_depth(size)
    cells: list[Mark] = []
    for (place, column), lines in zip(_cell_boxes(table, box), _head_lines(table), strict=True):
        first = foot - (len(lines) - 1) * leading(size)
        words = _words(column, lines, place, first, size, table.leaf)
        cells.append(Group("header cell", column.head, place, words))
    right = box.left + table.width
    row = Group("row", "head", box._replace(width=table.width), tuple(cells))
    return (row, Line(box.left, box.bottom, right, box.bottom, RULE))


def _cell_boxes(table: Set, box: Box) -> list[tuple[Box, Column]]:
    """The part of a row's box that each column has."""
    return [
        (Box(box.left + left, box.top, width, box.height), column)
        for left, width, column in zip(table.lefts, table.widths, table.table.columns, strict=True)
    ]


def _row_lines(table: Set, row: Row) -> list[list[SetLine]]:
    """Each cell's lines; a figure is one line whatever its width."""
    return [
        [(Span(cell, _face(column, row)),)]
        if column.align == "right"
        else table.leaf.lines([Span(cell, _face(column, row))], table.size, width + 0.01)
        for width, column, cell in zip(table.widths, table.table.columns, row.cells, strict=True)
    ]


def row_height(table: Set, row: Row) -> float:
    """As high as its longest cell."""
    lines = max(1, *(len(lines) for lines in _row_lines(table, row)))
    return (lines - 1) * leading(table.size) + cap_height(table.size) + tail_depth(table.size) + _padding(table)


def _padding(table: Set) -> float:
    return (ABOVE + BELOW) * table.leaf.air


def draw_row(table: Set, row: Row, box: Box, *, is_last: bool) -> tuple[Mark, ...]:
    """One row, all its cells on one first baseline; a rule above a total, a hairline below where it is due."""
    first = box.top + ABOVE * table.leaf.air + cap_height(table.size)
    cells = [
        _cell(column, row, _words(column, lines, place, first, table.size, table.leaf), place)
        for (place, column), lines in zip(_cell_boxes(table, box), _row_lines(table, row), strict=True)
    ]
    marks: list[Mark] = [Group("row", row.cells[0], box._replace(width=table.width), tuple(cells))]
    right = box.left + table.width
    if table.table.ticks and not row.strong:
        side = cap_height(table.size)
        marks.append(Rectangle(Box(box.left + 0.2, first - side, side, side), None, BLACK, OUTLINE))
    if row.strong:
        marks.append(Line(box.left, box.top, right, box.top, RULE))
    if is_last or table.table.ruled:
        marks.append(Line(box.left, box.bottom, right, box.bottom, HAIRLINE, BLACK))
    return tuple(marks)


def _cell(column: Column, row: Row, words: tuple[Mark, ...], box: Box) -> Group:
    """The cell, its words a link when the row leads somewhere and there are any."""
    if row.target and any(isinstance(mark, Words) and mark.text for mark in words):
        words = (Link(box, row.target, words, row.told or row.cells[0]),)
    return Group("cell", column.head, box, words)


def _words(
    column: Column, lines: Sequence[SetLine], box: Box, first: float, size: float, leaf: Leaf
) -> tuple[Mark, ...]:
    if column.align == "left":
        return tuple(set_lines(lines, box.left, first, size, leaf.ruler))
    return tuple(
        Words(box.right, first + number * leading(size), span.text, span.face, size, span.colour, "right")
        for number, line in enumerate(lines)
        for span in line
    )
