"""Six ways to find a card again, each a table that leads to the cards."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final, NamedTuple

from cardmaker.composing import binder_words as words
from cardmaker.composing.binder.arranging import by_code, natural
from cardmaker.composing.pages import Block, Column, Heading, Leaf, Row, Running, Table
from cardmaker.composing.pages_numbered import Text, unnumbered
from cardmaker.nouns.binder import Entry


class _Line(NamedTuple):
    """One line of an index: what it is looked up by, what stands beside it, and the card."""

    key: str
    aside: str
    entry: Entry


def indexes(entries: Sequence[Entry], numbers: Mapping[str, int], leaf: Leaf) -> Text:
    """All indexes one after the other; one with nothing in it is left out."""
    blocks: list[Block] = []
    in_order = by_code(entries)
    for title, lines_of in zip(words.INDEX_TITLES, _INDEXES, strict=True):
        if lines := list(lines_of(in_order)):
            blocks += [Heading(title), _table(title, lines, numbers)]
    return Text(blocks, Running(words.INDEXES, number=unnumbered))


def _table(title: str, lines: Sequence[_Line], numbers: Mapping[str, int]) -> Table:
    """A key is written once, on the first of its lines."""
    rows, before = [], ""
    for line in lines:
        key = line.key if line.key != before else ""
        before = line.key
        page = numbers[line.entry.anchor]
        cells = (key, line.aside, line.entry.title, str(page))
        rows.append(Row(cells, line.entry.anchor, words.page_told(line.entry, page)))
    key_head, aside_head = _HEADS[title]
    figures = title in (words.INDEX_TITLES[1], words.INDEX_TITLES[2])
    columns = (
        Column(key_head, "right" if figures else "left", strong=True),
        Column(aside_head),
        Column(words.NAME, grows=True),
        Column(words.PAGE, "right"),
    )
    return Table(title, columns, tuple(rows), ruled=True)


_HEADS: Final = dict(
    zip(
        words.INDEX_TITLES,
        (("Code", "Ends"), ("Ends", "Code"), ("Width", "Code"), ("Colour", "Code"), ("Use", "Code"), ("Loom", "Code")),
        strict=True,
    )
)


def _by_code(entries: Sequence[Entry]) -> Iterator[_Line]:
    for entry in entries:
        if entry.code:
            yield _Line(entry.code, str(entry.ends), entry)


def _by_ends(entries: Sequence[Entry]) -> Iterator[_Line]:
    for entry in sorted(entries, key=lambda entry: entry.ends):
        yield _Line(str(entry.ends), entry.code, entry)


def _by_width(entries: Sequence[Entry]) -> Iterator[_Line]:
    for entry in sorted(entries, key=lambda entry: entry.width_mm):
        yield _Line(words.narrow_width(entry), entry.code, entry)


def _by_key(entries: Sequence[Entry], keys_of: Callable[[Entry], Sequence[str]]) -> Iterator[_Line]:
    """Under every key that an entry has, keys in the order of their letters."""
    found: dict[str, dict[str, list[Entry]]] = {}
    for entry in entries:
        for key in keys_of(entry):
            found.setdefault(key.casefold(), {}).setdefault(words.capitalised(key), []).append(entry)
    for folded in sorted(found, key=natural):
        spelled = next(iter(found[folded]))
        for entry in by_code(entry for same in found[folded].values() for entry in same):
            yield _Line(spelled, entry.code, entry)


def _by_colour(entries: Sequence[Entry]) -> Iterator[_Line]:
    yield from _by_key(entries, lambda entry: tuple(entry.colours))


def _by_use(entries: Sequence[Entry]) -> Iterator[_Line]:
    yield from _by_key(entries, lambda entry: entry.purposes)


def _by_loom(entries: Sequence[Entry]) -> Iterator[_Line]:
    yield from _by_key(entries, lambda entry: entry.looms)


_INDEXES: Final = (_by_code, _by_ends, _by_width, _by_colour, _by_use, _by_loom)
