"""The document's outline and the names of its pages, as viewers show them (ISO 32000-1:2008, 12.3.3 and 12.4.2)."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from cardmaker.model.marks import Bookmark
from cardmaker.pdf.document import Document, Raw, add_entries, pdf_array, text_string


class _Entry:
    def __init__(self, title: str, page: str) -> None:
        self.title, self.page = title, page
        self.kids: list[_Entry] = []

    def count(self) -> int:
        """How many lines it and all below it take when everything is open."""
        return 1 + sum(kid.count() for kid in self.kids)


def bookmark_tree(document: Document, bookmarks: Sequence[tuple[Bookmark, str]]) -> None:
    """The bookmarks with the pages that they lead to, in order. Raises ValueError where a level is skipped."""
    if not bookmarks:
        return
    top = _Entry("", "")
    open_entries = [top]
    for bookmark, page in bookmarks:
        if bookmark.level >= len(open_entries):
            raise ValueError(f"bookmark '{bookmark.title}' skips a level")
        del open_entries[bookmark.level + 1 :]
        entry = _Entry(bookmark.title, page)
        open_entries[-1].kids.append(entry)
        open_entries.append(entry)
    numbers = document.reserve(top.count())
    first = numbers.start
    objects = [""] * top.count()
    _write(top.kids, first, first + 1, first, objects)
    objects[0] = f"<</Type/Outlines{_ends(top.kids, first + 1)}/Count {len(top.kids)}>>"
    document.pack(numbers, [entry.encode() for entry in objects])
    add_entries(document.Catalog, Outlines=f"{first} 0 R", PageMode="/UseOutlines")


def _write(entries: Sequence[_Entry], parent: int, number: int, first: int, objects: list[str]) -> None:
    """The entries of one level, numbered from ``number``, each before those below it; levels below are closed."""
    numbers = _numbers(entries, number)
    for place, (entry, own) in enumerate(zip(entries, numbers, strict=True)):
        parts = [f"/Title {text_string(entry.title)}/Parent {parent} 0 R/Dest[{entry.page}/XYZ null null null]"]
        if place:
            parts.append(f"/Prev {numbers[place - 1]} 0 R")
        if place + 1 < len(numbers):
            parts.append(f"/Next {numbers[place + 1]} 0 R")
        if entry.kids:
            parts.append(f"{_ends(entry.kids, own + 1)}/Count -{len(entry.kids)}")
            _write(entry.kids, own, own + 1, first, objects)
        objects[own - first] = f"<<{''.join(parts)}>>"


def _numbers(entries: Sequence[_Entry], number: int) -> list[int]:
    return list(accumulate((entry.count() for entry in entries[:-1]), initial=number))


def _ends(entries: Sequence[_Entry], number: int) -> str:
    numbers = _numbers(entries, number)
    return f"/First {numbers[0]} 0 R/Last {numbers[-1]} 0 R"


def page_labels(document: Document, labels: Sequence[str]) -> None:
    """What viewers call each page; without any label they count from 1 by themselves."""
    if any(labels):
        nums = (f"{page} <</P {text_string(label)}>>" for page, label in enumerate(labels))
        add_entries(document.Catalog, PageLabels=Raw(f"/Nums {pdf_array(nums)}"))
