"""``--watch``: which files a card is made from, and which of them were saved since it was made.

Why they are looked at again and again, and no library is told by the system: they are a few dozen, so a look takes less
than a millisecond; it works on drives of a network and in folders that are kept in step with another computer, where
systems tell nothing; and a file that an editor saves under another name and moves to its place is the same to it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from time import sleep
from typing import Final

from cardmaker.jobs.file_lookup import (
    ENDINGS,
    FOLDERS,
    SETTINGS_FILE,
    Kind,
    folder_around,
    is_path,
    own_folder,
    shipped,
)

_NOT_OF_A_CARD: Final[frozenset[Kind]] = frozenset({"pattern", "class", "event", "binder"})
_PHOTOGRAPHS: Final = (".jpg", ".jpeg", ".png")
_INTERVAL: Final = 0.25  # seconds between two looks


FileState = tuple[int, int, int]  # what differs once it is saved: when it was, how long it is, and which file it is
FileStates = Mapping[str, FileState]


def file_states(patterns: Sequence[str], others: Sequence[str]) -> FileStates:
    """Every file that cards of these patterns may be made from, as it stands: the patterns and what lies beside them to
    be printed with them, the settings, and all that is at hand, since another loom may be chosen. ``others`` are the
    names of layouts, looms and places to wind of the command."""
    files = [own_folder() / SETTINGS_FILE, *(Path(name) for name in others if is_path(name))]
    for name in patterns:
        files += _files_of_pattern(name)
    for root in _roots():
        for kind, folder in FOLDERS.items():
            if kind not in _NOT_OF_A_CARD:
                files += _inside(root / folder, ENDINGS)
    return {str(file): state for file in files if (state := _state(file))}


def _files_of_pattern(name: str) -> Iterator[Path]:
    if is_path(name):
        places = [Path(name)]
        if (around := folder_around(Path(name), "pattern")) is not None:
            yield from _inside(around / FOLDERS["yarn"], ENDINGS)
    else:
        folders = [root / FOLDERS["pattern"] for root in _roots()]
        places = [folder / (name + ending) for folder in folders for ending in ENDINGS]
    yield from places
    for folder in dict.fromkeys(place.parent for place in places):
        yield from _inside(folder, _PHOTOGRAPHS)


def _roots() -> list[Path]:
    """The user's own folder and what is shipped: in a checkout they may be one."""
    roots = {os.path.realpath(root): root for root in (shipped(), own_folder())}
    return [*roots.values()]


def _inside(folder: Path, endings: tuple[str, ...]) -> list[Path]:
    try:
        return [folder / name for name in sorted(os.listdir(folder)) if name.lower().endswith(endings)]
    except OSError:
        return []


def _state(file: Path) -> FileState | None:
    try:
        state = os.stat(file)
    except OSError:
        return None
    return state.st_mtime_ns, state.st_size, state.st_ino


def wait_for_saves(
    before: FileStates, patterns: Sequence[str], others: Sequence[str]
) -> tuple[FileStates, list[tuple[str, bool]]]:
    """Waits until files differ from how they stood ``before`` and stand as they are for a moment, for an editor may
    write one in several steps, or away and back. Returns how they stand, and which were saved, each with
    whether it is gone."""
    last = before
    while True:
        sleep(_INTERVAL)
        now = file_states(patterns, others)
        if now == last != before:
            return now, [
                (file, file not in now) for file in sorted({*before, *now}) if before.get(file) != now.get(file)
            ]
        last = now
