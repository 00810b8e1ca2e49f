"""Six ways to find a card again: close lines in columns, each leading to its card."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import partial
from typing import Final, NamedTuple

from cardmaker.binder import binder_words
from cardmaker.binder.arranging import Place, by_code, ends_place, grouped, natural, width_place
from cardmaker.binder.page_numbers import Text, unnumbered
from cardmaker.layout.pages.blocks import Block, Heading, Item, Listing
from cardmaker.layout.pages.leaf import BETWEEN_COLUMNS, Leaf
from cardmaker.layout.pages.page_flow import Running
from cardmaker.model.binder_contents import Entry
from cardmaker.model.marks import Face
from cardmaker.wording import phrases
from cardmaker.wording.formatters import Units

COLUMN: Final = 48.0  # mm: the least that code, name and page stand in well
FEWEST: Final = 2  # cards that a key has lines of its own for
Keyed = tuple[str, list[Entry]]
_Figure = Callable[[Entry], str]  # what an entry is sorted by


class _Way(NamedTuple):
    """One index: its cards under their keys, and what is told of each card besides."""

    keyed: Callable[[Sequence[Entry]], Iterator[Keyed]]
    figure: _Figure = lambda entry: ""


def indexes(entries: Sequence[Entry], numbers: Mapping[str, str], leaf: Leaf, units: Units) -> Text:
    """All indexes one after the other; one with nothing in it is left out.

    The card of a colour or a loom is told by its code alone, when every card has one of its own: those indexes name
    each card several times. A key with one card stands with it on one line.
    """
    blocks: list[Block] = []
    in_order = by_code(entries)
    codes = [entry.code for entry in entries]
    short = all(codes) and len(set(codes)) == len(codes)
    longest = _longest(codes, leaf), _longest((numbers[entry.anchor] for entry in entries), leaf)
    for title, way in zip(binder_words.INDEX_TITLES, _ways(units), strict=True):
        bare = short and title in binder_words.OFTEN_NAMED
        listings = [_listing(key, cards, way.figure, numbers, longest, bare) for key, cards in way.keyed(in_order)]
        if listings:
            blocks += [Heading(title), *listings]
    columns = max(1, int((leaf.printable.width + BETWEEN_COLUMNS) / (COLUMN + BETWEEN_COLUMNS)))
    return Text(blocks, Running(binder_words.INDEXES, binder_words.INDEXES_ASIDE, number=unnumbered), columns)


def _ways(units: Units) -> tuple[_Way, ...]:
    return (
        _Way(_by_code),
        _Way(partial(_by_place, ends_place, lambda entry: entry.ends), lambda entry: str(entry.ends)),
        _Way(
            partial(_by_place, partial(width_place, units=units, brief=True), lambda entry: entry.width_mm),
            lambda entry: binder_words.width_briefly(entry.width_mm, units),
        ),
        _Way(_by_colour),
        _Way(_by_use),
        _Way(_by_loom),
    )


def _longest(texts: Iterable[str], leaf: Leaf) -> str:
    return max(texts, key=lambda text: leaf.wide(text, Face.SANS, leaf.sizes.small), default="")


def _listing(
    key: str, cards: Sequence[Entry], figure: _Figure, numbers: Mapping[str, str], longest: tuple[str, str], bare: bool
) -> Listing:
    beside = len(cards) < FEWEST and not figure(cards[0])
    items = tuple(_item(entry, numbers[entry.anchor], figure(entry), bare and not beside) for entry in cards)
    return Listing(key, items, *longest, beside=beside)


def _item(entry: Entry, page: str, figure: str, bare: bool) -> Item:
    name = "" if bare else entry.title
    return Item(entry.code, name, page, entry.anchor, binder_words.link_target(entry, page), figure)


def _by_code(entries: Sequence[Entry]) -> Iterator[Keyed]:
    if coded := [entry for entry in entries if entry.code]:
        yield binder_words.CODES, coded


def _by_place(
    place_of: Callable[[Entry], Place], value_of: Callable[[Entry], Fraction | int], entries: Sequence[Entry]
) -> Iterator[Keyed]:
    """Under the headings of a binder that is sorted so, the least first, also under each heading."""
    groups = grouped(entries, place_of)
    for place in sorted(groups):
        yield str(place[-1]), sorted(groups[place], key=value_of)


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
