"""The lines of an index: set close in narrow columns, each leading to a page, under a key that is said again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Final, NamedTuple

from cardmaker.layout.ink import HAIRLINE, SOFT
from cardmaker.layout.pages.blocks import Item, Listing
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.type_setting import Span, cap_height, leading, set_lines, tail_depth
from cardmaker.model.marks import Box, Face, Group, Line, Link, Mark, Words
from cardmaker.wording import phrases

GAP: Final = 2.0  # between code, name and page
BETWEEN: Final = 4.5  # between items that stand side by side
MOST_OF_CODE: Final = 0.4  # of the width; a longer code has a line of its own
_BELOW_KEY: Final = 0.9

Draw = Callable[[Box], tuple[Mark, ...]]


class Measures(NamedTuple):
    """How a listing is set: the room for a code and for a page number, the width of a place, and places in a line."""

    code: float
    page: float
    place: float
    places: int


def listing_measures(listing: Listing, leaf: Leaf) -> Measures:
    """All codes stand in line, and so do all page numbers; short items stand side by side."""
    size, width = leaf.sizes.small, leaf.column_width
    code, page = leaf.wide(listing.longest_code, Face.SANS, size), leaf.wide(listing.longest_page, Face.SANS, size)
    if any(item.name for item in listing.items):
        return Measures(min(code, MOST_OF_CODE * width), page, width, 1)
    places = max(1, int((width + BETWEEN) / (code + GAP + page + BETWEEN)))
    return Measures(code, page, (width - (places - 1) * BETWEEN) / places, places)


def listing_parts(listing: Listing, leaf: Leaf) -> tuple[tuple[float, Draw], list[tuple[float, Draw]]]:
    """The key, and the lines under it, each with its height."""
    how = listing_measures(listing, leaf)
    rows = [listing.items[at : at + how.places] for at in range(0, len(listing.items), how.places)]
    lines = leaf.lines([Span(listing.key, Face.SANS_SEMIBOLD)], leaf.sizes.small, leaf.column_width)
    size = leaf.sizes.small
    height = (len(lines) - 1) * leading(size) + cap_height(size) + tail_depth(size) + _BELOW_KEY
    key = height, partial(_draw_key, listing, leaf)
    return key, [(_height(row, how, leaf), partial(_draw_row, row, how, leaf)) for row in rows]


def _draw_key(listing: Listing, leaf: Leaf, box: Box) -> tuple[Mark, ...]:
    size = leaf.sizes.small
    lines = leaf.lines([Span(listing.key, Face.SANS_SEMIBOLD)], size, box.width)
    words = tuple(set_lines(lines, box.left, box.top + cap_height(size), size, leaf.ruler))
    row = Group("row", "head", box, (Group("header cell", listing.key, box, words),))
    rule = box.bottom - _BELOW_KEY + 0.3
    return row, Line(box.left, rule, box.right, rule, HAIRLINE)


def _apart(item: Item, how: Measures, leaf: Leaf) -> bool:
    """Whether a code is too long to stand beside its name."""
    return bool(item.name) and leaf.wide(item.code, Face.SANS, leaf.sizes.small) > how.code + 1e-6


def _code_lines(item: Item, how: Measures, leaf: Leaf) -> int:
    return len(leaf.lines([Span(item.code)], leaf.sizes.small, how.place)) if _apart(item, how, leaf) else 0


def _height(row: Sequence[Item], how: Measures, leaf: Leaf) -> float:
    return leading(leaf.sizes.small) * (1 + max(_code_lines(item, how, leaf) for item in row))


def _draw_row(row: Sequence[Item], how: Measures, leaf: Leaf, box: Box) -> tuple[Mark, ...]:
    places = (
        Box(box.left + index * (how.place + BETWEEN), box.top, how.place, box.height) for index in range(len(row))
    )
    links = tuple(_link(item, how, leaf, place) for item, place in zip(row, places, strict=True))
    return (Group("row", row[0].told, box, (Group("cell", "", box, links),)),)


def _link(item: Item, how: Measures, leaf: Leaf, box: Box) -> Link:
    size = leaf.sizes.small
    last = box.bottom - tail_depth(size)
    marks: list[Mark] = []
    if _apart(item, how, leaf):
        above = leaf.lines([Span(item.code)], size, how.place)
        marks += set_lines(above, box.left, last - len(above) * leading(size), size, leaf.ruler)
    elif item.code:
        marks.append(Words(box.left, last, item.code, Face.SANS, size))
    indent = how.code + GAP if how.code else 0.0
    if item.name:
        room = box.width - indent - GAP - how.page
        marks.append(Words(box.left + indent, last, leaf.cut(item.name, Face.SANS, size, room), Face.SANS, size))
    page = Words(box.right, last, item.page, Face.SANS, size, SOFT, "right")
    marks.append(Group("span", "page", box, (page,), phrases.page_in_words(item.page)))
    return Link(box, item.target, tuple(marks), item.told)
