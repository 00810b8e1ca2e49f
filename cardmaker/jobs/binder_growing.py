"""``binder --since``: of a binder's sides those that are new or changed, with a slip that says where they go."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice
from pathlib import Path
from typing import NamedTuple

from cardmaker.binder import slip_words
from cardmaker.binder.assembling import Assembled
from cardmaker.binder.change_slip import slip_pages
from cardmaker.binder.leaf_comparing import is_printed_in, leaf_changes, leaf_of
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.model.binder_leaves import BoundLeaf, LeafList
from cardmaker.model.marks import Bookmark, Page
from cardmaker.model.problems import Place, Problem, ProblemsFound
from cardmaker.model.record_class import replace
from cardmaker.pdf.draft import Draft, draft_of, with_links_to
from cardmaker.pdf.print_digests import print_digest


class DrawnLeaf(NamedTuple):
    """A leaf with the drafts of its sides."""

    leaf: BoundLeaf
    drafts: tuple[Draft, ...]


class GrownBinder(NamedTuple):
    """What is to be printed, the slip first, and all leaves that the binder has when that is put in.

    ``change`` says how many leaves come and go; it is empty when nothing has changed.
    """

    drafts: tuple[Draft, ...]
    leaves: LeafList
    change: str = ""


def drawn_leaves(assembled: Assembled, drafts: Iterable[Draft], drawn: Mapping[str, str]) -> Iterator[DrawnLeaf]:
    """Leaf by leaf, as their sides are drawn, with the digests of what they print."""
    sides = iter(drafts)
    for place, labels in assembled.leaves:
        own = tuple(islice(sides, len(labels)))
        yield DrawnLeaf(leaf_of(place, drawn)._replace(labels=labels, prints=tuple(map(print_digest, own))), own)


def require_same_paper(old: LeafList, leaf: Leaf, *, duplex: bool, path: Path) -> None:
    """Raises ProblemsFound where the new leaves would not go with the old ones."""
    was, wanted = (old.width_mm, old.height_mm), (leaf.paper.width_mm, leaf.paper.height_mm)
    if was == wanted and old.duplex == duplex:
        return
    message = slip_words.other_paper(was, wanted) if was != wanted else slip_words.other_sides(duplex=old.duplex)
    raise ProblemsFound([Problem(str(path), Place(), "", message)])


def grown_binder(title: str, all_leaves: Iterable[DrawnLeaf], old: LeafList, leaf: Leaf) -> GrownBinder:
    """What makes the new binder out of the old one. Raises TooWide where the slip finds no room."""
    leaves: list[BoundLeaf] = []
    drafts: list[Draft] = []
    there = is_printed_in(old)
    for each, sides in all_leaves:
        leaves.append(each)
        if not there(each):
            drafts += sides
    now = old._replace(leaves=tuple(leaves))
    if not (changes := leaf_changes(old, leaves)):
        return GrownBinder((), now)
    slip = slip_pages(title, changes, leaves, leaf, duplex=old.duplex)
    return GrownBinder((*_slip_drafts(slip), *_by_themselves(drafts)), now, slip_words.out_and_in(changes))


def _slip_drafts(pages: Sequence[Page]) -> Iterator[Draft]:
    for number, page in enumerate(pages):
        marks = () if number else (Bookmark(slip_words.SLIP),)
        yield replace(draft_of(page), label=slip_words.slip_label(number), bookmarks=marks)


def _by_themselves(drafts: Sequence[Draft]) -> Iterator[Draft]:
    """Sides whose links lead to sides that are printed with them; their bookmarks stand in one row."""
    anchors = {draft.anchor for draft in drafts}
    for draft in drafts:
        marks = tuple(Bookmark(mark.title) for mark in draft.bookmarks)
        yield replace(with_links_to(draft, anchors), bookmarks=marks)
