"""The whole binder as a row of page sides: composed pages and cards, each with its number, in the order of printing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import islice
from math import ceil
from typing import Literal, NamedTuple

from cardmaker.binder import binder_words
from cardmaker.binder.arranging import SectionHeading
from cardmaker.binder.back_pages import glossary_and_looms, not_made_pages
from cardmaker.binder.contents_pages import contents, section_anchor
from cardmaker.binder.dividers import divider, opening
from cardmaker.binder.face_pages import face_sheets
from cardmaker.binder.index_pages import indexes
from cardmaker.binder.leaf_labels import plain_labels
from cardmaker.binder.notes_page import notes_marks
from cardmaker.binder.page_numbers import Text, page_number
from cardmaker.binder.title_pages import about_page, title_page
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import flow, pages_needed
from cardmaker.model.binder_contents import Binder, Entry
from cardmaker.model.binder_leaves import CARD
from cardmaker.model.loom import Loom
from cardmaker.model.marks import Bookmark, Group, Link, Mark, Page
from cardmaker.model.problems import Problem
from cardmaker.model.record_class import replace
from cardmaker.wording import title_words
from cardmaker.wording.formatters import Units


class BinderSide(NamedTuple):
    """One side of a sheet: a page that is composed here, or the card of ``entry``, drawn already.

    ``extra`` is put on top of either: the page's number.
    """

    page: Page | None
    entry: Entry | None
    extra: tuple[Mark, ...]
    label: str
    bookmarks: tuple[Bookmark, ...]
    is_back: bool = False  # of a card: its other side


class LeafPlace(NamedTuple):
    """A leaf in the row before it has its numbers: how many sides it has, and what it belongs to.

    ``part`` is how many leaves of that are before it. A card has its ``entry``.
    """

    holds: str
    title: str
    part: int
    sides: int
    entry: Entry | None


Labelling = Callable[[Sequence[LeafPlace]], Sequence[Sequence[str]]]


def numbered_on(places: Sequence[LeafPlace]) -> list[list[str]]:
    """The numbers of a whole binder: 1, 2, 3 and so on, side by side."""
    numbers = iter(plain_labels(sum(place.sides for place in places)))
    return [[next(numbers) for _ in range(place.sides)] for place in places]


class Assembled(NamedTuple):
    """All sides in the order of printing, and the leaves that they are on with the numbers of each."""

    sides: tuple[BinderSide, ...]
    leaves: tuple[tuple[LeafPlace, tuple[str, ...]], ...]


class Parts(NamedTuple):
    """What a binder is made of."""

    binder: Binder
    headings: tuple[SectionHeading, ...]
    looms: tuple[Loom, ...]
    problems: tuple[Problem, ...]
    leaf: Leaf
    units: Units
    labelling: Labelling = numbered_on  # how the pages are numbered
    has_backs: bool = False  # cards have pages of their own for their other side

    @property
    def entries(self) -> list[Entry]:
        return [entry for heading in self.headings for entry in heading.entries]


class _Run(NamedTuple):
    """What follows each other under one bookmark: a text, or one page, or a card, whose page is not here."""

    anchor: str
    title: str
    level: int
    text: Text | None = None
    leaf: Leaf | None = None  # that the text is set on
    page: Page | None = None
    entry: Entry | None = None

    @property
    def pages_needed(self) -> int:
        """How many pages it fills."""
        return pages_needed(self.text.blocks, self.leaf, self.text.running) if self.text and self.leaf else 1

    @property
    def holds(self) -> str:
        """What its leaves belong to, in one word that stays when other leaves come and go."""
        return CARD if self.entry else self.anchor or ("about" if self.text else "title")


class _LabelledRun(NamedTuple):
    """A run with the number of each of its sides, those that fill a leaf too."""

    run: _Run
    labels: tuple[str, ...]


class UnsettledPages(ValueError):
    """No page numbers were found that the contents themselves leave as they are; wrong ones are not printed."""


MOST_TRIES = 6  # until the contents, which tell page numbers, are as long as those numbers say


def assemble(parts: Parts) -> Assembled:
    """All sides. Raises TooWide when a table finds no room on the paper, and UnsettledPages."""
    numbers: dict[str, str] = dict.fromkeys(_anchors(parts), str(100 + 2 * len(parts.entries)))
    for _ in range(MOST_TRIES):
        runs = list(_runs(parts, numbers))
        leaves = [_leaves_of(run, parts) for run in runs]
        places = [place for own in leaves for place in own]
        labels = [tuple(each) for each in parts.labelling(places)]
        labelled = list(_labelled(runs, map(len, leaves), labels))
        new_numbers = {run.anchor: own[0] for run, own in labelled if run.anchor}
        if new_numbers == numbers:
            break
        numbers = new_numbers
    else:
        raise UnsettledPages("the contents grow and shrink with the page numbers that they tell")
    return Assembled(tuple(_sides(labelled, numbers, parts)), tuple(zip(places, labels, strict=True)))


def _leaves_of(run: _Run, parts: Parts) -> list[LeafPlace]:
    """The leaves that a run fills: with both sides printed, always whole ones, so that a card begins on the right."""
    sides = 2 if parts.binder.duplex else 1
    return [LeafPlace(run.holds, run.title, part, sides, run.entry) for part in range(ceil(run.pages_needed / sides))]


def _labelled(runs: Sequence[_Run], counts: Iterable[int], labels: Sequence[tuple[str, ...]]) -> Iterator[_LabelledRun]:
    """Each run with the labels of its leaves, of which it has so many."""
    left = iter(labels)
    for run, count in zip(runs, counts, strict=True):
        yield _LabelledRun(run, tuple(label for leaf in islice(left, count) for label in leaf))


def _anchors(parts: Parts) -> Iterator[str]:
    yield from ("contents", *_BACKS)
    for heading in parts.headings:
        yield section_anchor(heading)
        yield from (entry.anchor for entry in heading.entries)


_BACKS = {
    "indexes": binder_words.INDEXES,
    "faces": binder_words.FACES,
    "back": binder_words.BACK,
    "not made": binder_words.NOT_MADE,
}


def _runs(parts: Parts, numbers: Mapping[str, str]) -> Iterator[_Run]:
    """Everything in order, with the page numbers that are known so far."""
    binder, leaf = parts.binder, parts.leaf
    entries = parts.entries
    yield _Run("", binder.title, 0, page=title_page(binder, entries, leaf))
    if about := about_page(binder, entries, leaf):
        yield _text_run("", binder_words.ABOUT, about, leaf)
    front = _opening(parts, numbers)
    backs = [(anchor, title) for anchor, title in _BACKS.items() if _stands_at_back(anchor, parts, front)]
    listed = contents(parts.headings, numbers, backs, leaf, parts.units)
    yield _text_run("contents", binder_words.CONTENTS, listed, leaf)
    for heading in parts.headings:
        if heading.title:
            is_front = front is not None and heading is _first_text(parts)
            text = front if front and is_front else divider(heading, numbers, leaf, parts.units)
            yield _text_run(section_anchor(heading), heading.title, text, leaf)
        for entry in heading.entries:
            yield _Run(entry.anchor, title_words.card_title(entry), 1, entry=entry)
    texts = {
        "indexes": lambda: indexes(entries, numbers, leaf, parts.units),
        "faces": lambda: face_sheets(entries, numbers, leaf, parts.units),
        "back": lambda: glossary_and_looms(parts.looms, leaf),
        "not made": lambda: not_made_pages(parts.problems, leaf),
    }
    yield from (_text_run(anchor, title, texts[anchor](), leaf) for anchor, title in backs)


def _text_run(anchor: str, title: str, text: Text, leaf: Leaf) -> _Run:
    return _Run(anchor, title, 0, text, text.settled(leaf))


def _stands_at_back(anchor: str, parts: Parts, front: Text | None) -> bool:
    """Whether there is anything of a kind to be put at the back."""
    if anchor == "back":
        return front is None
    return bool(parts.problems if anchor == "not made" else parts.entries)


def _first_text(parts: Parts) -> SectionHeading | None:
    """The text right before the first section with cards, if there is one."""
    before = None
    for heading in parts.headings:
        if heading.entries:
            return before
        before = heading if heading.title else None
    return None


def _opening(parts: Parts, numbers: Mapping[str, str]) -> Text | None:
    """That text with looms, words and cautions below it, when one page holds them all: else those stay at the back."""
    if (heading := _first_text(parts)) is None:
        return None
    text = opening(heading, numbers, glossary_and_looms(parts.looms, parts.leaf), parts.leaf)
    return text if pages_needed(text.blocks, parts.leaf, text.running) == 1 else None


def _sides(labelled: Sequence[_LabelledRun], numbers: Mapping[str, str], parts: Parts) -> Iterator[BinderSide]:
    listed = _where_listed(labelled)
    headed = any(run.level == 0 and run.anchor.startswith("section ") for run, _ in labelled)
    place, first_card = 1, True
    for run, labels in labelled:
        marks = [Bookmark(run.title, run.level)]
        if run.entry and first_card and not headed:
            marks.insert(0, Bookmark(binder_words.CARDS))
        first_card = first_card and run.entry is None
        sides = _sides_of(run, parts, place)
        for number, (side, label) in enumerate(zip(sides, labels, strict=True)):
            extra = (_folio(label, place, parts, _back(run, listed, numbers)),) if place > 1 else ()
            bookmarks = (*(() if number else marks), *_index_marks(side, run))
            yield BinderSide(side, run.entry if side is None else None, extra, label, bookmarks, number > 0)
            place += 1


def _sides_of(run: _Run, parts: Parts, place: int) -> Iterator[Page | None]:
    """The pages of a run, each bound on its own side, and what fills the last sheet when both sides are printed."""
    if run.entry is not None:
        yield None
        place += 1
    for number, each in enumerate(_pages_of(run)):
        turned = _bound_for(each, place, parts)
        yield replace(turned, anchor=_anchor(run.anchor, number))
        place += 1
    if parts.binder.duplex and place % 2 == 0:
        yield None if run.entry is not None and parts.has_backs else _filler(run, parts)


def _pages_of(run: _Run) -> Sequence[Page]:
    if run.text and run.leaf:
        return flow(run.text.blocks, run.leaf, run.text.running)
    return [run.page] if run.page else []


def _anchor(anchor: str, number: int) -> str:
    return anchor if number == 0 or not anchor else f"page {number + 1} of {anchor}"


def _bound_for(page: Page, number: int, parts: Parts) -> Page:
    """On a left-hand page the margin for binding is on the right: everything moves outwards by the difference."""
    leaf = parts.leaf
    if not parts.binder.duplex or number % 2 or leaf.binding_side != "left":
        return page
    from cardmaker.layout.transforms import shifted

    return replace(page, marks=shifted(page.marks, leaf.margin_mm - leaf.binding_mm))


def _filler(run: _Run, parts: Parts) -> Page:
    """The back of a card is for notes and samples; other backs are left empty."""
    paper, leaf = parts.leaf.paper, parts.leaf
    marks: tuple[Mark, ...] = ()
    if run.entry is not None:
        area = leaf.printable
        if leaf.binding_side == "left":  # this is a left-hand page
            area = area._replace(left=leaf.margin_mm)
        marks = (Group("panel", "notes", area, notes_marks(run.entry, leaf, area)),)
    return Page(paper.width_mm, paper.height_mm, marks)


def _folio(label: str, place: int, parts: Parts, back: tuple[str, str]) -> Mark:
    outer: Literal["left", "right"] = "left" if parts.binder.duplex and place % 2 == 0 else "right"
    return page_number(label, parts.leaf, outer, back)


def _back(run: _Run, listed: Mapping[str, tuple[str, str]], numbers: Mapping[str, str]) -> tuple[str, str]:
    """Where a page's number leads: to the page of the contents that tells of it; on the contents, nowhere."""
    if run.anchor in ("", "contents"):
        return "", ""
    return listed.get(run.anchor, ("contents", numbers["contents"]))


def _where_listed(labelled: Sequence[_LabelledRun]) -> dict[str, tuple[str, str]]:
    """For each card the page of the contents that leads to it: that page's anchor and number."""
    listed: dict[str, tuple[str, str]] = {}
    for run, labels in labelled:
        if run.anchor == "contents":
            for number, page in enumerate(_pages_of(run)):
                place = (_anchor("contents", number), labels[number])
                listed |= {target: place for target in _targets(page.marks) if target not in listed}
    return listed


def _targets(marks: Sequence[Mark]) -> Iterator[str]:
    for mark in marks:
        if isinstance(mark, Link):
            yield mark.target
        elif isinstance(mark, Group):
            yield from _targets(mark.marks)


def _index_marks(page: Page | None, run: _Run) -> Iterator[Bookmark]:
    """A bookmark for each index that begins on a page."""
    if page is None or run.anchor != "indexes":
        return
    for mark in page.marks:
        if isinstance(mark, Group):
            for inner in mark.marks:
                if isinstance(inner, Group) and inner.role == "heading":
                    yield Bookmark(inner.name, 1)
