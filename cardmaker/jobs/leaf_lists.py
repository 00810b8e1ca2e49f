"""The list of its leaves that a binder's PDF carries: written, and read back from a file that nobody need trust."""

from __future__ import annotations

import json
from collections.abc import Iterable
from itertools import pairwise
from math import isfinite
from pathlib import Path
from typing import Any, Final

from cardmaker.binder import slip_words
from cardmaker.binder.leaf_labels import label_parts
from cardmaker.jobs.restoring import carried_by
from cardmaker.model.binder_leaves import LEAF_LIST, BoundLeaf, LeafList
from cardmaker.model.carried_file import Carried
from cardmaker.model.problems import Place, Problem, ProblemsFound

_KIND: Final = "leaves of a binder"
_EDITION: Final = 1
_TEXTS: Final = ("holds", "title", "code", "stem", "drawn")


def carried_leaf_list(leaves: LeafList) -> Carried:
    """The list as a file to be carried."""
    written = {
        "kind": _KIND, "edition": _EDITION, "width_mm": leaves.width_mm, "height_mm": leaves.height_mm,
        "duplex": leaves.duplex, "leaves": [each._asdict() for each in leaves.leaves],
    }  # fmt: skip
    data = json.dumps(written, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return Carried(LEAF_LIST, data.encode("utf-8", "surrogatepass"), "leaf list")


def leaf_list_in(path: Path) -> LeafList:
    """What the binder at ``path`` says of its leaves.

    Raises ProblemsFound: for a file that is no binder, is damaged or was changed in any byte, and for a torn list.
    """
    held = carried_by(path)
    if not held.leaf_list:
        raise _problem(path, slip_words.NO_LIST)
    if not held.as_written:
        raise _problem(path, slip_words.NOT_AS_WRITTEN)
    try:
        return _read(json.loads(held.leaf_list))
    except (ValueError, TypeError, KeyError, RecursionError):
        raise _problem(path, slip_words.TORN_LIST) from None


def _problem(path: Path, message: str) -> ProblemsFound:
    return ProblemsFound([Problem(str(path), Place(), "", message)])


def _read(told: Any) -> LeafList:
    """The list from plain data. Raises ValueError, TypeError, KeyError for anything that is not as it was written."""
    if (told["kind"], told["edition"]) != (_KIND, _EDITION) or not isinstance(told["duplex"], bool):
        raise ValueError("no list of leaves")
    width, height = (float(told[side]) for side in ("width_mm", "height_mm"))
    leaves = tuple(map(_leaf, told["leaves"]))
    sides = 2 if told["duplex"] else 1
    labels = [label_parts(label) for leaf in leaves for label in leaf.labels]
    rising = all(before < after for before, after in pairwise(labels))
    whole = all(len(leaf.labels) == len(leaf.prints) == sides for leaf in leaves)
    if not (leaves and rising and whole and isfinite(width) and isfinite(height)):
        raise ValueError("leaves that cannot be")
    return LeafList(width, height, told["duplex"], leaves)


def _leaf(told: Any) -> BoundLeaf:
    if told.keys() != set(BoundLeaf._fields) or not isinstance(told["part"], int):
        raise ValueError("no leaf")
    texts = {name: _text(told[name]) for name in _TEXTS}
    return BoundLeaf(part=told["part"], labels=_texts(told["labels"]), prints=_texts(told["prints"]), **texts)


def _texts(told: Iterable[Any]) -> tuple[str, ...]:
    return tuple(map(_text, told))


def _text(told: Any) -> str:
    if not isinstance(told, str):
        raise TypeError("no text")
    return told
