"""The whole binder as a row of page sides: composed pages and cards, each with its number, in the order of printing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal, NamedTuple

from cardmaker.binder import binder_words
from cardmaker.binder.arranging import SectionHeading
from cardmaker.binder.back_pages import glossary_and_looms, not_made_pages
from cardmaker.binder.contents_pages import contents, section_anchor
from cardmaker.binder.dividers import divider, opening
from cardmaker.binder.face_pages import face_sheets
from cardmaker.binder.index_pages import indexes
from cardmaker.binder.notes_page import notes_marks
from cardmaker.binder.page_numbers import Text, page_number
from cardmaker.binder.title_pages import about_page, title_page
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import flow, pages_needed
from cardmaker.model.binder_contents import Binder, Entry
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


class Parts(NamedTuple):
    """What a binder is made of."""

    binder: Binder
    headings: tuple[SectionHeading, ...]
    looms: tuple[Loom, ...]
    problems: tuple[Problem, ...]
    leaf: Leaf
    units: Units

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


class UnsettledPages(ValueError):
    """No page numbers were found that the contents themselves leave as they are; wrong ones are not printed."""


MOST_TRIES = 6  # until the contents, which tell page numbers, are as long as those numbers say


def assemble(parts: Parts) -> tuple[BinderSide, ...]:
    """All sides. Raises TooWide when a table finds no room on the paper, and UnsettledPages."""
    numbers: dict[str, int] = dict.fromkeys(_anchors(parts), 100 + 2 * len(parts.entries))
    for _ in range(MOST_TRIES):
        runs = list(_runs(parts, numbers))
        new_numbers = _numbered(runs, parts)
        if new_numbers == numbers:
            break
        numbers = new_numbers
    else:
        raise UnsettledPages("the contents grow and shrink with the page numbers that they tell")
    return tuple(_sides(runs, numbers, parts))


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


def _runs(parts: Parts, numbers: Mapping[str, int]) -> Iterator[_Run]:
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


def _opening(parts: Parts, numbers: Mapping[str, int]) -> Text | None:
    """That text with looms, words and cautions below it, when one page holds them all: else those stay at the back."""
    if (heading := _first_text(parts)) is None:
        return None
    text = opening(heading, numbers, glossary_and_looms(parts.looms, parts.leaf), parts.leaf)
    return text if pages_needed(text.blocks, parts.leaf, text.running) == 1 else None


def _numbered(runs: Sequence[_Run], parts: Parts) -> dict[str, int]:
    """The page on which each run begins: with both sides printed, always a right-hand one."""
    numbers, page = {}, 1
    for run in runs:
        if run.anchor:
            numbers[run.anchor] = page
        page += run.pages_needed
        if parts.binder.duplex and page % 2 == 0:
            page += 1
    return numbers


def _sides(runs: Sequence[_Run], numbers: Mapping[str, int], parts: Parts) -> Iterator[BinderSide]:
    listed = _where_listed(runs, numbers)
    headed = any(run.level == 0 and run.anchor.startswith("section ") for run in runs)
    page, first_card = 1, True
    for run in runs:
        marks = [Bookmark(run.title, run.level)]
        if run.entry and first_card and not headed:
            marks.insert(0, Bookmark(binder_words.CARDS))
        first_card = first_card and run.entry is None
        for number, side in enumerate(_sides_of(run, parts, page)):
            back = _back(run, page, listed, numbers)
            extra = (_folio(page, parts, back),) if page > 1 else ()
            bookmarks = (*(() if number else marks), *_index_marks(side, run))
            yield BinderSide(side, run.entry if side is None else None, extra, str(page), bookmarks)
            page += 1


def _sides_of(run: _Run, parts: Parts, page: int) -> Iterator[Page | None]:
    """The pages of a run, each bound on its own side, and what fills the last sheet when both sides are printed."""
    if run.entry is not None:
        yield None
        page += 1
    for number, each in enumerate(_pages_of(run)):
        turned = _bound_for(each, page, parts)
        yield replace(turned, anchor=_anchor(run.anchor, number))
        page += 1
    if parts.binder.duplex and page % 2 == 0:
        yield _filler(run, parts)


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


def _folio(page: int, parts: Parts, back: tuple[str, int]) -> Mark:
    outer: Literal["left", "right"] = "left" if parts.binder.duplex and page % 2 == 0 else "right"
    return page_number(page, parts.leaf, outer, back)


def _back(run: _Run, page: int, listed: Mapping[str, tuple[str, int]], numbers: Mapping[str, int]) -> tuple[str, int]:
    """Where a page's number leads: to the page of the contents that tells of it; on the contents, nowhere."""
    if run.anchor in ("", "contents"):
        return "", 0
    return listed.get(run.anchor, ("contents", numbers["contents"]))


def _where_listed(runs: Sequence[_Run], numbers: Mapping[str, int]) -> dict[str, tuple[str, int]]:
    """For each card the page of the contents that leads to it: that page's anchor and number."""
    listed: dict[str, tuple[str, int]] = {}
    for run in runs:
        if run.anchor == "contents":
            for number, page in enumerate(_pages_of(run)):
                place = (_anchor("contents", number), numbers["contents"] + number)
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
