"""What a run of pages is made of: headings, paragraphs, tables, pictures and gaps, as data."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, NamedTuple

from cardmaker.layout.table_setting import Table
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
