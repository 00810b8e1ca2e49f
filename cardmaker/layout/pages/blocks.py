"""What a run of pages is made of: headings, paragraphs, tables, pictures and gaps, as data."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, NamedTuple

from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Box, Mark


class Heading(NamedTuple):
    """A heading over what follows, with which it stays; ``aside`` stands beside it where it fits, else it is below."""

    text: str
    aside: str = ""


class Paragraph(NamedTuple):
    """Some sentences. With a ``mark`` they hang beside a box to tick or a dot."""

    spans: tuple[Span, ...]
    size: Literal["body", "small", "smallest"] = "body"
    mark: Literal["none", "tick", "dot"] = "none"


class Column(NamedTuple):
    """One column of a table: its head and how it is ranged.

    Words are ranged left and wrap where the table is full. Figures are ranged right and are never wrapped or cut.
    ``grows``: takes the room that is left over. ``holds`` is a text that it has room for even if no row needs it, so
    that the columns of several tables stand in line. ``spare``: the table does without it where the paper is too
    narrow for it or leaves the words that grow too little, the highest number first; 0 is never left out.
    """

    head: str
    align: Literal["left", "right"] = "left"
    strong: bool = False
    grows: bool = False
    holds: str = ""
    spare: int = 0


class Row(NamedTuple):
    """One row of a table; ``strong`` is a total under a rule.

    ``target`` names the place that it leads to; ``told`` says so for whoever cannot see it, or else its first cell.
    """

    cells: tuple[str, ...]
    target: str = ""
    told: str = ""
    strong: bool = False


class Table(NamedTuple):
    """A table, whose head is repeated on every page that it reaches; ``ruled`` draws a hairline between its rows.

    ``ticks`` puts a box to tick before every row but totals.
    """

    name: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    ruled: bool = False
    ticks: bool = False


class Item(NamedTuple):
    """One line of an index, or a part of one: a code or a name or both, the page, and the place that it leads to.

    ``told`` says the same to whoever cannot see where it stands. ``figure`` is what it is sorted by, set before it.
    """

    code: str
    name: str
    page: str
    target: str
    told: str
    figure: str = ""


class Listing(NamedTuple):
    """The lines of an index under one key, which is said again where they go on. Without names they stand side by side.

    ``longest_code`` and ``longest_page`` are what it has room for, so that several listings stand in line. ``beside``
    sets the one item that it has on the line of its key.
    """

    key: str
    items: tuple[Item, ...]
    longest_code: str
    longest_page: str
    beside: bool = False


class Picture(NamedTuple):
    """A drawing as wide as the page and ``height_mm`` high, and in words what it shows.

    Without words it draws groups that have their own.
    """

    name: str
    height_mm: float
    draw: Callable[[Box], tuple[Mark, ...]]
    alt: str = ""


class Gap(NamedTuple):
    """Room left free, but not at the top of a page."""

    height_mm: float


class Break(NamedTuple):
    """What follows begins a new page."""


class KeepTogether(NamedTuple):
    """Blocks that are not parted by the end of a page, unless they are longer than a page."""

    blocks: tuple[Block, ...]


Block = Heading | Paragraph | Table | Listing | Picture | Gap | Break | KeepTogether
