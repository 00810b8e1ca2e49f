"""A small table: columns ranged by their kind, a rule under the head, no boxes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from cardmaker.composing.ink import BLACK, HAIRLINE, RULE, SOFT
from cardmaker.composing.setting import leading
from cardmaker.composing.sheet import Sheet, cap_height
from cardmaker.noun import noun, replace
from cardmaker.nouns.marks import Face, Line, Mark, Words

GAP = 4.0  # between columns
LEAST_GAP = 1.6


@noun
class Column:
    """One column: its head, its cells, and how they are ranged."""

    head: str
    cells: tuple[str, ...]
    align: Literal["left", "right"] = "left"
    strong: bool = False

    @property
    def face(self) -> Face:
        return Face.SANS_SEMIBOLD if self.strong else Face.SANS


def row_height(size: float) -> float:
    return leading(size) + 0.5


def table_height(rows: int, sheet: Sheet) -> float:
    """Head, rule and rows."""
    return row_height(sheet.sizes.small) + 0.8 + rows * row_height(sheet.sizes.body)


def column_widths(sheet: Sheet, columns: Sequence[Column]) -> list[float]:
    return [
        max(
            [sheet.wide(cell, column.face, sheet.sizes.body) for cell in column.cells]
            + [sheet.wide(column.head, Face.SANS, sheet.sizes.small)]
        )
        for column in columns
    ]


def _fitting(sheet: Sheet, columns: Sequence[Column], width: float) -> Sequence[Column]:
    """The columns, with the names of the widest one cut short where the table would not fit otherwise.

    A number is never cut: columns ranged right stay as they are.
    """
    widths = column_widths(sheet, columns)
    over = sum(widths) + LEAST_GAP * (len(columns) - 1) - width
    names = [index for index, column in enumerate(columns) if column.align == "left" and not column.strong]
    if over <= 0 or not names:
        return columns
    widest = max(names, key=lambda index: widths[index])
    room = max(sheet.wide("Mm…", columns[widest].face, sheet.sizes.body), widths[widest] - over)
    cells = tuple(cut_to(sheet, cell, columns[widest].face, room) for cell in columns[widest].cells)
    return [*columns[:widest], replace(columns[widest], cells=cells), *columns[widest + 1 :]]


def cut_to(sheet: Sheet, text: str, face: Face, room: float) -> str:
    """The text, or as much of it as fits with an ellipsis."""
    if sheet.wide(text, face, sheet.sizes.body) <= room:
        return text
    while text and sheet.wide(f"{text}…", face, sheet.sizes.body) > room:
        text = text[:-1]
    return f"{text.rstrip()}…"


def set_table(sheet: Sheet, columns: Sequence[Column], left: float, top: float, width: float) -> list[Mark]:
    """The table's marks; spare width goes between the columns, evenly but never more than twice the usual gap."""
    columns = _fitting(sheet, columns, width)
    widths = column_widths(sheet, columns)
    spare = width - sum(widths)
    gap = min(GAP * 2, spare / (len(columns) - 1)) if len(columns) > 1 else 0.0
    marks: list[Mark] = []
    head = top + cap_height(sheet.sizes.small)
    rule = top + row_height(sheet.sizes.small) - 0.8
    x = left
    for column, wide in zip(columns, widths, strict=True):
        at = x if column.align == "left" else x + wide
        marks.append(Words(at, head, column.head, Face.SANS, sheet.sizes.small, SOFT, column.align))
        for number, cell in enumerate(column.cells):
            y = rule + 0.9 + number * row_height(sheet.sizes.body) + cap_height(sheet.sizes.body) + 0.8
            marks.append(Words(at, y, cell, column.face, sheet.sizes.body, BLACK, column.align))
        x += wide + gap
    right = x - gap
    marks.append(Line(left, rule, right, rule, RULE))
    bottom = rule + len(columns[0].cells) * row_height(sheet.sizes.body) + 1.0
    marks.append(Line(left, bottom, right, bottom, HAIRLINE))
    return marks
