"""What the slip says that comes with the new leaves of a binder, and what the terminal says of it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.binder.leaf_comparing import LeafChange
from cardmaker.model.binder_leaves import CARD, BoundLeaf
from cardmaker.wording.phrases import plural

SLIP: Final = "Take out, put in"
SLIP_TABLE: Final = "what to take out and put in"
SLIP_HEADS: Final = ("Take out", "Put in", "Where", "The leaf")
IN_ITS_PLACE: Final = "in its place"
NOTHING_THERE: Final = "nothing in its place"
GO_THROUGH: Final = (
    "Go from the front of the binder to its back, and tick each line when it is done. A leaf is called by the number "
    "in its lower corner. Those that stay keep their numbers."
)
GO_THROUGH_DUPLEX: Final = (
    "Go from the front of the binder to its back, and tick each line when it is done. A leaf is called by the numbers "
    "in the lower corners of its front and its back, as 5/6. Those that stay keep their numbers."
)
COPY_NOTES: Final = "What is written on a leaf by hand goes out with it: copy it first, or keep the leaf."
KEEP_FILE: Final = (
    "This slip does not belong in the binder. Keep the file that it was printed from, and give it with --since next "
    "time: it knows every leaf that the binder has now."
)


def slip_label(number: int) -> str:
    """What viewers call a page of the slip."""
    return f"slip {number + 1}" if number else "slip"


def leaf_label(labels: Sequence[str]) -> str:
    """What a leaf is called: the numbers of its sides."""
    return "/".join(labels)


def go_through(*, duplex: bool) -> str:
    return GO_THROUGH_DUPLEX if duplex else GO_THROUGH


def out_and_in(changes: Sequence[LeafChange]) -> str:
    """How many leaves come and go."""
    out, put = sum(change.old is not None for change in changes), sum(change.new is not None for change in changes)
    return f"{plural(out, 'leaf', 'leaves')} to take out, {put} to put in"


def leaf_count(leaves: Sequence[BoundLeaf]) -> str:
    """What is counted when all is done."""
    last = leaf_label(leaves[-1].labels)
    return f"Then the binder has {plural(len(leaves), 'leaf', 'leaves')}, and the last is {last}."


def change_cells(change: LeafChange) -> tuple[str, str, str, str]:
    """One line of the slip."""
    old, new, after = change
    where = NOTHING_THERE if new is None else IN_ITS_PLACE if old else f"after {leaf_label(after)}"
    out, put = (leaf_label(leaf.labels) if leaf else "" for leaf in (old, new))
    return out, put, where, _name(old, new)


def _name(old: BoundLeaf | None, new: BoundLeaf | None) -> str:
    names = [leaf_name(leaf) for leaf in (new, old) if leaf]
    return names[0] if len({*names}) == 1 else f"{names[0]}; until now {names[1]}"


_TITLE_PAGE: Final = ("Title page (without a number)", "Title page (without a number on its front)")


def leaf_name(leaf: BoundLeaf) -> str:
    """What is on a leaf."""
    if leaf.holds == CARD:
        return leaf.title
    name = _TITLE_PAGE[len(leaf.labels) - 1] if leaf.holds == "title" else leaf.title
    if leaf.holds.startswith("section "):
        name = f"The page before {leaf.title}"
    return name if not leaf.part else f"{name}, continued"


NO_LIST: Final = (
    "It is no binder that tells of its leaves. Give a binder's PDF as cardmaker wrote it, or make the binder whole."
)
NOT_AS_WRITTEN: Final = (
    "It is not as cardmaker wrote it: it is damaged, or another program has saved it anew. Give the file as it was "
    "written, or leave --since out and print the binder whole."
)
TORN_LIST: Final = "Its list of leaves cannot be read. Leave --since out and print the binder whole."


def other_sides(*, duplex: bool) -> str:
    """Why leaves printed on one side do not go with those printed on both; ``duplex`` is the old binder."""
    if duplex:
        return "It is printed on both sides of the paper: say --duplex, or print the binder whole."
    return "It is printed on one side of the paper: leave --duplex out, or print the binder whole."


def other_paper(old: tuple[float, float], new: tuple[float, float]) -> str:
    """Why leaves of one size do not go with those of another."""
    was, wanted = (f"{width:g} × {height:g} mm" for width, height in (old, new))
    return f"It is on paper of {was}, this binder on {wanted}: choose the same with --paper, or print it whole."
