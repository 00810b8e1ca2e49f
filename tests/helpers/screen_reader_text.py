"""A page as it is read aloud: from its groups alone, in their order, without a look at where anything stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from cardmaker.model.marks import Group, Link, Mark, Page, Role, Words

_HOLDERS: Final = frozenset({"panel", "table", "row"})  # what stands beside groups in them is decoration


def text_read_aloud(page: Page) -> str:
    """One line for each name, heading, paragraph, drawing and row of a table.

    A drawing is told by its alternative text, and so is whatever else has one. A row names its columns, as a listener
    has them named.
    """
    return "\n".join(_lines(page.marks))


def _lines(marks: Iterable[Mark]) -> Iterator[str]:
    for mark in marks:
        if isinstance(mark, Link):
            yield from _lines(mark.marks)
        elif not isinstance(mark, Group) or mark.role in NOT_READ_ALOUD:
            continue
        elif mark.role == "table":
            yield from _rows(mark)
        elif mark.role in _HOLDERS:
            yield from _lines(mark.marks)
        elif told := _told(mark):
            yield told


def _rows(table: Group) -> Iterator[str]:
    heads: list[str] = []
    for row in (mark for mark in table.marks if isinstance(mark, Group)):
        cells = [mark for mark in row.marks if isinstance(mark, Group)]
        if all(cell.role == "header cell" for cell in cells):
            heads = [_told(cell) for cell in cells]
            continue
        told = [(head, _told(cell)) for head, cell in zip(heads, cells, strict=True)]
        yield "; ".join(f"{head} {text}".strip() for head, text in told if text)


def _told(group: Group) -> str:
    """The words of a leaf, or what is said instead of them."""
    if group.alt:
        return group.alt
    return " ".join(" ".join(_words(group.marks)).split())


def _words(marks: Iterable[Mark]) -> Iterator[str]:
    for mark in marks:
        if isinstance(mark, Words):
            yield mark.text
        elif isinstance(mark, Link):
            yield " ".join(_words(mark.marks)) or mark.alt
        elif isinstance(mark, Group) and mark.role not in NOT_READ_ALOUD:
            yield mark.alt or " ".join(_words(mark.marks))


NOT_READ_ALOUD: frozenset[Role] = frozenset({"artefact", "running head", "running foot"})
