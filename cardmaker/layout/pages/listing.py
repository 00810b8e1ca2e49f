"""The lines of an index: set close in narrow columns, each leading to a page, under a key that is said again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Final, NamedTuple

from cardmaker.layout.ink import HAIRLINE, SOFT
from cardmaker.layout.pages.blocks import Item, Listing
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.type_setting import SetLine, Span, cap_height, leading, set_lines, tail_depth, text_height
from cardmaker.model.marks import Box, Face, Group, Line, Link, Mark, Words
from cardmaker.wording import phrases

GAP: Final = 2.0  # between figure, code, name and page
BETWEEN: Final = 4.5  # between items that stand side by side
HANG: Final = 3.0  # how far a name stands in that goes on under its key
MOST_OF_CODE: Final = 0.4  # of the width; a longer code has lines of its own
_BELOW_KEY: Final = 0.9
_BELOW_RULE: Final = 0.3  # less than that is between the rule and what follows

Draw = Callable[[Box], tuple[Mark, ...]]


class Measures(NamedTuple):
    """How a listing is set: the room for a figure, for a code and for a page number, the width of a place, and places
    in a line."""

    figure: float
    code: float
    page: float
    place: float
    places: int

    @property
    def indent(self) -> float:
        """Where names begin."""
        return sum(wide + GAP for wide in (self.figure, self.code) if wide)

    @property
    def name(self) -> float:
        """The room for a line of a name."""
        return self.place - self.indent - GAP - self.page


def listing_measures(listing: Listing, leaf: Leaf) -> Measures:
    """All codes stand in line, and so do all page numbers; short items stand side by side."""
    size, width = leaf.sizes.small, leaf.column_width
    figure = max((leaf.wide(item.figure, Face.SANS_SEMIBOLD, size) for item in listing.items), default=0.0)
    code, page = leaf.wide(listing.longest_code, Face.SANS, size), leaf.wide(listing.longest_page, Face.SANS, size)
    if any(item.name for item in listing.items):
        return Measures(figure, min(code, MOST_OF_CODE * width), page, width, 1)
    page = leaf.wide(phrases.page_briefly(listing.longest_page), Face.SANS, size)
    places = max(1, int((width + BETWEEN) / (code + GAP + page + BETWEEN)))
    return Measures(0.0, min(code, width - GAP - page), page, (width - (places - 1) * BETWEEN) / places, places)


def listing_parts(listing: Listing, leaf: Leaf) -> list[tuple[float, Draw]]:
    """The key with its height, and the lines under it with theirs; a key with its one item beside it is one part."""
    if listing.beside:
        return [_beside(listing, leaf)]
    how = listing_measures(listing, leaf)
    rows = [listing.items[at : at + how.places] for at in range(0, len(listing.items), how.places)]
    lines = leaf.lines([Span(listing.key, Face.SANS_SEMIBOLD)], leaf.sizes.small, leaf.column_width)
    size = leaf.sizes.small
    height = (len(lines) - 1) * leading(size) + cap_height(size) + tail_depth(size) + _BELOW_KEY
    key = height, partial(_draw_key, listing, leaf)
    return [key, *((_height(row, how, leaf), partial(_draw_row, row, how, leaf)) for row in rows)]


def _draw_key(listing: Listing, leaf: Leaf, box: Box) -> tuple[Mark, ...]:
    size = leaf.sizes.small
    lines = leaf.lines([Span(listing.key, Face.SANS_SEMIBOLD)], size, box.width)
    rule = box.bottom - _BELOW_KEY + _BELOW_RULE
    key = _key(listing, set_lines(lines, box.left, box.top + cap_height(size), size, leaf.ruler), box)
    return key, Line(box.left, rule, box.right, rule, HAIRLINE)


def _key(listing: Listing, words: Sequence[Words], box: Box) -> Group:
    return Group("row", "head", box, (Group("header cell", listing.key, box, tuple(words)),))


# A key with its one item beside it


def _beside(listing: Listing, leaf: Leaf) -> tuple[float, Draw]:
    """A key with its item after it on the same line, or below it, standing in, where there is no room."""
    (item,), size = listing.items, leaf.sizes.small
    page = leaf.wide(item.page, Face.SANS, size)
    room = leaf.column_width - GAP - page
    keys = leaf.lines([Span(listing.key, Face.SANS_SEMIBOLD)], size, room)
    name = " ".join(part for part in (item.code, item.name) if part)
    used = sum(leaf.wide(span.text, span.face, size) for span in keys[-1]) + GAP if keys else 0.0
    fits = used + leaf.wide(name, Face.SANS, size) <= room
    names = leaf.lines([Span(name)], size, room if fits else room - HANG)
    count = len(keys) + len(names) - fits

    def draw(box: Box) -> tuple[Mark, ...]:
        first = box.top + cap_height(size)
        last = first + (count - 1) * leading(size)
        at = first + (len(keys) - fits) * leading(size)
        words = set_lines(names, box.left + (used if fits else HANG), at, size, leaf.ruler)
        cell = Link(box, item.target, (*words, _page(item, item.page, last, leaf, box)), item.told)
        row = Group("row", item.told, box, (Group("cell", "", box, (cell,)),))
        return _key(listing, set_lines(keys, box.left, first, size, leaf.ruler), box), row

    return text_height(count, size), draw


# Items under a key


def _apart(item: Item, how: Measures, leaf: Leaf) -> bool:
    """Whether a code is too long to stand beside its name, or its page."""
    return leaf.wide(item.code, Face.SANS, leaf.sizes.small) > how.code + 1e-6


def _code_lines(item: Item, how: Measures, leaf: Leaf) -> list[SetLine]:
    """The lines of a code above its name: none where it stands beside it."""
    size, room = leaf.sizes.small, how.place - (how.figure + GAP if how.figure else 0.0)
    return leaf.lines([Span(item.code)], size, room) if _apart(item, how, leaf) else []


def _name_lines(item: Item, how: Measures, leaf: Leaf) -> list[SetLine]:
    return leaf.lines([Span(item.name)], leaf.sizes.small, how.name) if item.name else []


def _height(row: Sequence[Item], how: Measures, leaf: Leaf) -> float:
    lines = (len(_code_lines(item, how, leaf)) + max(1, len(_name_lines(item, how, leaf))) for item in row)
    return leading(leaf.sizes.small) * max(lines)


def _draw_row(row: Sequence[Item], how: Measures, leaf: Leaf, box: Box) -> tuple[Mark, ...]:
    places = (
        Box(box.left + index * (how.place + BETWEEN), box.top, how.place, box.height) for index in range(len(row))
    )
    links = tuple(_link(item, how, leaf, place) for item, place in zip(row, places, strict=True))
    return (Group("row", row[0].told, box, (Group("cell", "", box, links),)),)


def _link(item: Item, how: Measures, leaf: Leaf, box: Box) -> Link:
    """Figure, code and name on their first line, the page on the last."""
    size = leaf.sizes.small
    first = box.top + leading(size) - tail_depth(size)
    marks: list[Mark] = []
    left = box.left + (how.figure + GAP if how.figure else 0.0)
    if item.figure:
        marks.append(Words(left - GAP, first, item.figure, Face.SANS_SEMIBOLD, size, align="right"))
    codes, names = _code_lines(item, how, leaf), _name_lines(item, how, leaf)
    marks += set_lines(codes or ([(Span(item.code),)] if item.code else []), left, first, size, leaf.ruler)
    marks += set_lines(names, box.left + how.indent, first + len(codes) * leading(size), size, leaf.ruler)
    last = first + (len(codes) + max(1, len(names)) - 1) * leading(size)
    page = item.page if item.name else phrases.page_briefly(item.page)
    return Link(box, item.target, (*marks, _page(item, page, last, leaf, box)), item.told)


def _page(item: Item, text: str, baseline: float, leaf: Leaf, box: Box) -> Group:
    words = Words(box.right, baseline, text, Face.SANS, leaf.sizes.small, SOFT, "right")
    return Group("span", "page", box, (words,), phrases.page_in_words(item.page))
