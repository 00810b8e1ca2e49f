"""Six ways to find a card again: close lines in columns, each leading to its card."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial
from typing import Final

from cardmaker.binder import binder_words
from cardmaker.binder.arranging import by_code, grouped, natural
from cardmaker.binder.page_numbers import Text, unnumbered
from cardmaker.layout.pages.blocks import Block, Heading, Item, Listing
from cardmaker.layout.pages.leaf import BETWEEN_COLUMNS, Leaf
from cardmaker.layout.pages.page_flow import Running
from cardmaker.model.binder_contents import Entry
from cardmaker.model.marks import Face
from cardmaker.wording import phrases
from cardmaker.wording.formatters import Units, small_length

COLUMN: Final = 48.0  # mm: the least that code, name and page stand in well
Keyed = tuple[str, list[Entry]]
_Keyed = Callable[[Sequence[Entry]], Iterator[Keyed]]


def indexes(entries: Sequence[Entry], numbers: Mapping[str, int], leaf: Leaf, units: Units) -> Text:
    """All indexes one after the other; one with nothing in it is left out.

    The card of a colour or a loom is told by its code alone, when every card has one of its own: those indexes name
    each card several times.
    """
    blocks: list[Block] = []
    in_order = by_code(entries)
    codes = [entry.code for entry in entries]
    short = all(codes) and len(set(codes)) == len(codes)
    longest = _longest(codes, leaf), _longest((str(numbers[entry.anchor]) for entry in entries), leaf)
    ways: tuple[_Keyed, ...] = (_by_code, _by_ends, partial(_by_width, units=units), _by_colour, _by_use, _by_loom)
    for title, keyed in zip(binder_words.INDEX_TITLES, ways, strict=True):
        bare = short and title in binder_words.OFTEN_NAMED
        listings = [
            Listing(key, tuple(_item(entry, numbers[entry.anchor], bare) for entry in cards), *longest)
            for key, cards in keyed(in_order)
        ]
        if listings:
            blocks += [Heading(title), *listings]
    columns = max(1, int((leaf.printable.width + BETWEEN_COLUMNS) / (COLUMN + BETWEEN_COLUMNS)))
    return Text(blocks, Running(binder_words.INDEXES, binder_words.INDEXES_ASIDE, number=unnumbered), columns)


def _longest(texts: Iterable[str], leaf: Leaf) -> str:
    return max(texts, key=lambda text: leaf.wide(text, Face.SANS, leaf.sizes.small), default="")


def _item(entry: Entry, page: int, bare: bool) -> Item:
    return Item(entry.code, "" if bare else entry.title, str(page), entry.anchor, binder_words.link_target(entry, page))


def _by_code(entries: Sequence[Entry]) -> Iterator[Keyed]:
    if coded := [entry for entry in entries if entry.code]:
        yield binder_words.CODES, coded


def _by_ends(entries: Sequence[Entry]) -> Iterator[Keyed]:
    of_count = grouped(entries, lambda entry: entry.ends)
    yield from ((phrases.end_count(ends), of_count[ends]) for ends in sorted(of_count))


def _by_width(entries: Sequence[Entry], units: Units) -> Iterator[Keyed]:
    of_width = grouped(entries, lambda entry: small_length(entry.width_mm, units))
    yield from sorted(of_width.items(), key=lambda keyed: min(entry.width_mm for entry in keyed[1]))


def _by_key(entries: Sequence[Entry], keys_of: Callable[[Entry], Sequence[str]]) -> Iterator[Keyed]:
    """Under every key that an entry has, keys in the order of their letters; capitals make no other key."""
    groups: dict[str, list[Entry]] = {}
    spelled: dict[str, str] = {}
    for entry in entries:
        for key in dict.fromkeys(keys_of(entry)):
            folded = key.casefold()
            spelled.setdefault(folded, phrases.capitalised(key))
            if entry not in groups.setdefault(folded, [])[-1:]:
                groups[folded].append(entry)
    for folded in sorted(groups, key=natural):
        yield spelled[folded], groups[folded]


def _by_colour(entries: Sequence[Entry]) -> Iterator[Keyed]:
    yield from _by_key(entries, lambda entry: tuple(entry.colours))


def _by_use(entries: Sequence[Entry]) -> Iterator[Keyed]:
    yield from _by_key(entries, lambda entry: entry.purposes)


def _by_loom(entries: Sequence[Entry]) -> Iterator[Keyed]:
    yield from _by_key(entries, lambda entry: entry.looms)
