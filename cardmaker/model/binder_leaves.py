"""The leaves of a binder as it stands on its shelf: what each prints, under which numbers, and of what it is."""

from __future__ import annotations

from typing import Final, NamedTuple

CARD: Final = "card"  # what a leaf holds that is a card; others have the name of their text
LEAF_LIST: Final = "leaves-of-the-binder.json"  # no file of the weaver's is carried under a name that ends so


class BoundLeaf(NamedTuple):
    """One leaf of paper. ``labels`` are the numbers of its sides, ``prints`` the digests of all that is printed there.

    ``holds`` says what it belongs to, and ``part`` how many leaves of that are before it. Of a card ``code`` and
    ``stem`` (of its file) tell which it is, and ``drawn`` is the digest of the card without its page number.
    """

    labels: tuple[str, ...]
    holds: str
    title: str
    part: int = 0
    code: str = ""
    stem: str = ""
    drawn: str = ""
    prints: tuple[str, ...] = ()


class LeafList(NamedTuple):
    """All leaves in their order, on paper of one size in mm."""

    width_mm: float
    height_mm: float
    duplex: bool
    leaves: tuple[BoundLeaf, ...]
