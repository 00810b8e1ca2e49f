"""A binder's sides put together: every card drawn, everything else composed, and the list of its leaves with them."""

from __future__ import annotations

import pickle
import zlib
from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from typing import Final, NamedTuple

from cardmaker.binder.assembling import BinderSide, Parts, assemble
from cardmaker.binder.leaf_comparing import grown_labels
from cardmaker.jobs.binder_growing import DrawnLeaf, drawn_leaves, grown_binder
from cardmaker.jobs.leaf_lists import carried_leaf_list
from cardmaker.jobs.parallel import with_progress_bar
from cardmaker.model.binder_contents import Entry
from cardmaker.model.binder_leaves import BoundLeaf, LeafList
from cardmaker.model.carried_file import About, Carried
from cardmaker.model.record_class import replace
from cardmaker.pdf.draft import Draft, draft_of, with_marks
from cardmaker.pdf.page_resources import Form
from cardmaker.pdf.painter import paint_drafts

CARD_PAGE: Final = "card "  # before the name of a card's file: the name of its page


class BinderCard(NamedTuple):
    """A card that is ready to be bound. ``packed`` are the drafts of its sides, which wait until all are there.

    ``face`` is the form that its small picture is stamped from, ``digest`` of what the card prints.
    """

    entry: Entry
    packed: bytes
    face: Form
    digest: str
    sources: tuple[Carried, ...]
    left_out: tuple[str, ...]
    photograph: str = ""  # the name of its file, which is printed but not carried


class BoundBinder(NamedTuple):
    """A binder's PDF with its pages, and which cards are on them (their anchors).

    ``change`` says how many leaves come and go since an old one; there is no PDF when none does.
    """

    pdf: bytes
    pages: int
    anchors: frozenset[str]
    change: str = ""


def bound_binder(
    parts: Parts,
    cards: dict[str, BinderCard],
    about: About,
    files: Sequence[Carried],
    old: LeafList | None,
    *,
    quiet: bool,
) -> BoundBinder:
    """The whole binder; or since the ``old`` one what is new or changed, and the slip. Takes the cards.

    Raises TooWide, UnsettledPages.
    """
    drawn = {card.entry.anchor: card.digest for card in cards.values()}
    if old:
        parts = parts._replace(labelling=partial(grown_labels, old, drawn))
    assembled = assemble(parts)
    drafts = with_progress_bar(_drafts(assembled.sides, cards), len(assembled.sides), "binding", quiet=quiet)
    leaves = drawn_leaves(assembled, drafts, drawn)
    if old:
        grown = grown_binder(parts.binder.title, leaves, old, parts.leaf)
        pdf = paint_drafts(grown.drafts, about, [*files, carried_leaf_list(grown.leaves)]) if grown.change else b""
        return BoundBinder(pdf, len(grown.drafts), frozenset(draft.anchor for draft in grown.drafts), grown.change)
    bound: list[BoundLeaf] = []
    paper = parts.leaf.paper
    none_yet = LeafList(paper.width_mm, paper.height_mm, parts.binder.duplex, ())
    pdf = paint_drafts(_noted(leaves, bound), about, _with_list(files, none_yet, bound))
    return BoundBinder(pdf, len(assembled.sides), frozenset(drawn))


def _noted(leaves: Iterable[DrawnLeaf], bound: list[BoundLeaf]) -> Iterator[Draft]:
    """The sides of all leaves, one after the other; which leaves they were is noted in ``bound``."""
    for leaf, drafts in leaves:
        bound.append(leaf)
        yield from drafts


def _with_list(files: Sequence[Carried], none_yet: LeafList, bound: Sequence[BoundLeaf]) -> Iterator[Carried]:
    """The files, and the list of the leaves, which are all there when the files are asked for."""
    yield from files
    yield carried_leaf_list(none_yet._replace(leaves=tuple(bound)))


def _drafts(sides: Sequence[BinderSide], cards: dict[str, BinderCard]) -> Iterator[Draft]:
    """Every side drawn, one at a time; a card is taken out of its wrapping when its turn has come."""
    faces = {card.entry.face.name: card.face for card in cards.values()}
    paths = {card.entry.anchor: path for path, card in cards.items()}
    other_sides: list[Draft] = []
    for side in sides:
        if side.entry is not None and side.is_back:
            draft = other_sides.pop()
        elif side.entry is not None:
            packed = cards.pop(paths[side.entry.anchor]).packed
            draft, *other_sides = pickle.loads(zlib.decompress(packed))
            draft = replace(draft, anchor=side.entry.anchor)
        else:
            assert side.page is not None
            draft = draft_of(side.page)
            draft = replace(draft, forms=draft.forms | {name: faces[name] for name in draft.used if name in faces})
        draft = with_marks(draft, side.extra)
        yield replace(draft, label=side.label, bookmarks=side.bookmarks)
