"""``check``: everything that is wrong with a file of any kind."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Final

from cardmaker.jobs import file_lookup, loading
from cardmaker.jobs.class_making import plan_class
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.problems import Problem, ProblemsFound, path_in_words
from cardmaker.reading.read_file import FileKind, read_binder, read_pegs, read_settings
from cardmaker.reckoning.advice import loom_notes
from cardmaker.reckoning.file_notes import notes_of_file
from cardmaker.wording.note_words import note_sentence


def files_to_check(paths: Iterable[Path]) -> list[Path]:
    """The files that are named, and those inside the folders that are. Raises WrongUsage for a folder without any."""
    files: list[Path] = []
    for path in paths:
        inside = (
            sorted(file for file in path.rglob("*") if file.suffix in file_lookup.ENDINGS) if path.is_dir() else [path]
        )
        if not inside:
            raise file_lookup.WrongUsage(f"There is no .yaml file in the folder {path}")
        files += inside
    return files


def problems_of_file(path: Path) -> list[Problem]:
    """Every problem of one file, whatever its kind, in the order of its lines; of a sound one what to look at.

    A class has every kit reckoned, so that a pattern that does not fit a student's loom is told as well.
    """
    try:
        read = _LOADERS[loading.kind_at(path) or "pattern"](path)
    except ProblemsFound as error:
        return list(error.problems)
    if isinstance(read, Pattern):
        return _problems_of_photograph(read) or _pattern_notes(read)
    return _loom_notes(read) if isinstance(read, Loom) else []


def _problems_of_photograph(pattern: Pattern) -> list[Problem]:
    """Why the photograph that the file allows to be printed cannot be."""
    try:
        loading.photograph_of_pattern(pattern)
    except ProblemsFound as error:
        return list(error.problems)
    return []


def _pattern_notes(pattern: Pattern) -> list[Problem]:
    """Looms are read only where a record of a tape names one, and those with problems are passed over."""
    looms = loading.load_looms(sound_only=True) if any(record.loom for record in pattern.measured) else ()
    places = pattern.places
    notes = [
        Problem(
            places.file, places.of(path), path_in_words(path), note_sentence(note, "metric", of_file=True), is_note=True
        )
        for path, note in notes_of_file(pattern, looms)
    ]
    return sorted(notes, key=lambda note: note.place)


def _loom_notes(loom: Loom) -> list[Problem]:
    places, path = loom.places, ("kind",)
    return [
        Problem(
            places.file, places.of(path), path_in_words(path), note_sentence(note, "metric", of_file=True), is_note=True
        )
        for note in loom_notes(loom)
    ]


_LOADERS: Final[dict[FileKind, Callable[[Path], object]]] = {
    "pattern": loading.load_pattern,
    "yarn": loading.load_yarn,
    "loom": loading.load_loom,
    "pegs": read_pegs,
    "card layout": loading.load_layout,
    "class": lambda path: plan_class(loading.load_class(path)),
    "binder": read_binder,
    "settings": read_settings,
}
