"""Reading a file of any kind from its path: all that the jobs need of this room."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

from cardmaker.model.card_layout import CardLayout
from cardmaker.model.loom import Loom
from cardmaker.model.problems import Places, ProblemsFound
from cardmaker.reading.card_file import parse_card_layout
from cardmaker.reading.loom_file import parse_loom
from cardmaker.reading.pattern_file import PatternDraft, Shelf, draft_pattern
from cardmaker.reading.source_text import file_bytes

if TYPE_CHECKING:
    from cardmaker.model.binder_contents import Binder
    from cardmaker.model.event import Event
    from cardmaker.model.pattern import ShelfYarn
    from cardmaker.model.peg_plan import Pegs
    from cardmaker.model.school_class import SchoolClass
    from cardmaker.model.settings import Settings

FileKind = Literal["class", "event", "pattern", "yarn", "loom", "pegs", "card layout", "sheet", "binder", "settings"]

_TOP_KEY: Final = re.compile(r"""^\ufeff?\{?["']?([a-z_]+)["']?[ \t]*:(?:[ \t]+["']?([a-z ]+))?""", re.MULTILINE)
_KEYS_OF_KIND: Final[dict[FileKind, frozenset[str]]] = {
    "class": frozenset({"students", "teacher", "session", "spares", "packages"}),
    "event": frozenset({"hours", "ground", "shown", "on_loom"}),
    "pattern": frozenset({"yarns", "warp"}),
    "yarn": frozenset({"fibre"}),
    "loom": frozenset({"slots", "holes"}),
    "card layout": frozenset({"rows", "papers"}),
    "sheet": frozenset({"rows", "papers", "cells"}),
    "pegs": frozenset({"pegs", "shortest", "longest"}),
    "binder": frozenset({"sections"}),
}
_KEYS_OF_SETTINGS: Final = frozenset({"loom", "looms", "units", "paper", "hand", "from", "layout", "out"})


def read_pattern_draft(path: Path, shelf: Shelf) -> PatternDraft:
    """As much of the pattern in a file as can be read, with every problem of it. Raises nothing."""
    try:
        return draft_pattern(file_bytes(path), str(path), path.stem, shelf)
    except ProblemsFound as error:
        return PatternDraft(error.problems, Places(str(path)))


def read_yarn(path: Path) -> ShelfYarn:
    """The yarn in a file. Raises ProblemsFound."""
    from cardmaker.reading.yarn_file import parse_yarn  # most patterns describe their yarns themselves

    return parse_yarn(file_bytes(path), str(path), path.stem)


def read_loom(path: Path) -> Loom:
    """The loom in a file. Raises ProblemsFound."""
    return parse_loom(file_bytes(path), str(path), path.stem)


def read_pegs(path: Path) -> Pegs:
    """The place to wind a warp in a file. Raises ProblemsFound."""
    from cardmaker.reading.pegs_file import parse_pegs  # most layouts show no pegs

    return parse_pegs(file_bytes(path), str(path), path.stem)


def read_card_layout(path: Path) -> CardLayout:
    """The card layout in a file. Raises ProblemsFound."""
    return parse_card_layout(file_bytes(path), str(path), path.stem)


def read_binder(path: Path) -> Binder:
    """The binder in a file. Raises ProblemsFound."""
    from cardmaker.reading.binder_file import parse_binder

    return parse_binder(file_bytes(path), str(path), path.stem)


def read_class(path: Path) -> SchoolClass:
    """The class in a file. Raises ProblemsFound."""
    from cardmaker.reading.class_file import parse_class

    return parse_class(file_bytes(path), str(path), path.stem)


def read_event(path: Path) -> Event:
    """The event in a file. Raises ProblemsFound."""
    from cardmaker.reading.event_file import parse_event

    return parse_event(file_bytes(path), str(path), path.stem)


def read_settings(path: Path) -> Settings:
    """The settings in a file. Raises ProblemsFound."""
    from cardmaker.reading.settings_file import parse_settings

    return parse_settings(file_bytes(path), str(path))


def kind_of_file(text: bytes) -> FileKind | None:
    """Which kind of file a text is, by its top keys, even when it cannot be read; None when nothing tells."""
    top_keys = dict(_TOP_KEY.findall(text.decode(errors="replace").replace("\r", "\n")))
    stated_kind = top_keys.get("kind", "").strip()
    if stated_kind in ("board", "table", "span"):
        return "pegs"
    if stated_kind in ("one heddle", "two heddles"):
        return "loom"
    scores = {kind: len(keys & top_keys.keys()) for kind, keys in _KEYS_OF_KIND.items()}
    best = max(scores, key=lambda kind: scores[kind])
    is_settings = "title" not in top_keys and not _KEYS_OF_SETTINGS.isdisjoint(top_keys)
    if (is_settings and best == "pegs") or not scores[best]:  # a settings file names the pegs that are used
        return "settings" if is_settings else None
    return best
