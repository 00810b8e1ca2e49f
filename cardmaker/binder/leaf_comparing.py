"""What a weaver does to turn the binder on her shelf into the new one, and the numbers that its leaves get."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from itertools import groupby
from pathlib import PurePath
from typing import NamedTuple

from cardmaker.binder.assembling import LeafPlace
from cardmaker.binder.leaf_labels import heaviest_rising, label_parts, labels_between
from cardmaker.model.binder_leaves import CARD, BoundLeaf, LeafList


class LeafChange(NamedTuple):
    """A leaf to take out, one to put in after the leaf with the numbers ``after``, or one for the other."""

    old: BoundLeaf | None
    new: BoundLeaf | None
    after: tuple[str, ...] = ()


def leaf_of(place: LeafPlace, drawn: Mapping[str, str]) -> BoundLeaf:
    """The leaf at a place, without numbers. ``drawn`` has the digest of each card by its anchor."""
    title, entry = place.title, place.entry
    if entry is None:
        return BoundLeaf((), place.holds, title, place.part)
    stem = PurePath(entry.anchor.partition(" ")[2]).stem
    return BoundLeaf((), place.holds, title, place.part, entry.code, stem, drawn.get(entry.anchor, ""))


def grown_labels(old: LeafList, drawn: Mapping[str, str], places: Sequence[LeafPlace]) -> list[tuple[str, ...]]:
    """The numbers of a binder that grew out of the ``old`` one: each leaf that was there, at its place among those that
    stay, keeps its own, changed or not; the others get new ones between them."""
    leaves = [leaf_of(place, drawn) for place in places]
    staying = _staying(old.leaves, leaves)
    labels = [old.leaves[staying[at]].labels if at in staying else () for at in range(len(leaves))]
    taken = {label for leaf in old.leaves for label in leaf.labels}
    for (before, after), gap in _gaps(labels):
        new = iter(labels_between(before, after, sum(places[at].sides for at in gap), taken))
        for at in gap:
            labels[at] = tuple(next(new) for _ in range(places[at].sides))
    return labels


def _staying(old: Sequence[BoundLeaf], new: Sequence[BoundLeaf]) -> dict[int, int]:
    """Which new leaf takes the number of which old one: of all that are the same the most that kept their order, first
    of all of those that did not change."""
    same = _same(old, new)
    places = sorted(same)
    weights = [len(new) if new[at].drawn and new[at].drawn == old[same[at]].drawn else 1 for at in places]
    chain = heaviest_rising([same[at] for at in places], weights)
    return {places[at]: same[places[at]] for at in chain}


_Key = Callable[[BoundLeaf], Hashable]
_SAMENESS: tuple[_Key, ...] = (  # by what a leaf is known again, the surest first; by nothing where it is empty
    lambda leaf: leaf.drawn and (leaf.drawn, leaf.stem, leaf.part),
    lambda leaf: leaf.drawn and (leaf.drawn, leaf.part),
    lambda leaf: leaf.code and (leaf.code, leaf.stem, leaf.part),
    lambda leaf: leaf.code and (leaf.code, leaf.part),
    lambda leaf: leaf.stem and (leaf.stem, leaf.part),
    lambda leaf: leaf.holds == CARD and (leaf.title.casefold(), leaf.part),
    lambda leaf: leaf.holds != CARD and (leaf.holds, leaf.part),
)


def _same(old: Sequence[BoundLeaf], new: Sequence[BoundLeaf]) -> dict[int, int]:
    """For each new leaf that was there before the old one: by print, by code, by file name, by title; each once."""
    found: dict[int, int] = {}
    left_old, left_new = dict(enumerate(old)), dict(enumerate(new))
    for key in _SAMENESS:
        by_key: dict[Hashable, list[int]] = {}
        for at, leaf in left_old.items():
            by_key.setdefault(key(leaf), []).append(at)
        for at, leaf in list(left_new.items()):
            if (own := key(leaf)) and (those := by_key.get(own)):
                found[at] = those.pop(0)
                del left_old[found[at]], left_new[at]
    return found


_Ends = tuple[str | None, str | None]


def _gaps(labels: Sequence[tuple[str, ...]]) -> Iterator[tuple[_Ends, list[int]]]:
    """The places without labels that follow each other, with the labels before and after them."""
    before: str | None = None
    for is_labelled, places in groupby(range(len(labels)), key=lambda at: bool(labels[at])):
        group = list(places)
        if is_labelled:
            before = labels[group[-1]][-1]
        else:
            after = labels[group[-1] + 1][0] if group[-1] + 1 < len(labels) else None
            yield (before, after), group


def is_printed_in(old: LeafList) -> Callable[[BoundLeaf], bool]:
    """Whether the old binder has a leaf that prints just what another one does, numbers and all."""
    there = {(each.labels, each.prints) for each in old.leaves}
    return lambda leaf: (leaf.labels, leaf.prints) in there


def leaf_changes(old: LeafList, new: Sequence[BoundLeaf]) -> list[LeafChange]:
    """All that is to be done, from the front of the binder to its back."""
    there, then = ({leaf.labels: leaf for leaf in leaves} for leaves in (old.leaves, new))
    before = dict(zip((leaf.labels for leaf in new), ((), *(leaf.labels for leaf in new)), strict=False))
    changes = []
    for labels in sorted(there.keys() | then.keys(), key=lambda labels: label_parts(labels[0])):
        out, put = there.get(labels), then.get(labels)
        if out is None or put is None or out.prints != put.prints:
            changes.append(LeafChange(out, put, before.get(labels, ())))
    return changes
