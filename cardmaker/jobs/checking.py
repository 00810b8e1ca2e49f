"""``check``: everything that is wrong with a file of any kind."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from cardmaker.jobs import file_lookup, loading
from cardmaker.jobs.class_planning import plan_class
from cardmaker.jobs.own_settings import OwnFiles, own_files_named
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.problems import Problem, ProblemsFound, Refusal, path_in_words, problem_from
from cardmaker.model.record_class import replace
from cardmaker.model.school_class import ClassPlan
from cardmaker.reading.read_file import FileKind, read_binder, read_pegs, read_settings
from cardmaker.reckoning.advice import loom_notes
from cardmaker.reckoning.file_notes import notes_of_file
from cardmaker.reckoning.planning import smallest_loom
from cardmaker.wording.note_words import note_sentence

if TYPE_CHECKING:
    from cardmaker.model.event import EventPlan


def files_to_check(paths: Iterable[Path]) -> list[Path]:
    """The files that are named, and those inside the folders that are. Raises WrongUsage for a folder without any."""
    files: list[Path] = []
    for path in paths:
        inside = (
            sorted(file for file in path.rglob("*") if file.suffix in file_lookup.ENDINGS)
            if path.is_dir()
            else _files_named(path)
        )
        if not inside:
            raise file_lookup.WrongUsage(f"There is no .yaml file in the folder {path}")
        files += inside
    return files


def _files_named(path: Path) -> list[Path]:
    """The file at a path; where there is none, those at hand whose stem it is."""
    if path.exists() or file_lookup.is_path(str(path)):
        return [path]
    kinds = file_lookup.FOLDERS
    return [files[path.name] for kind in kinds if path.name in (files := file_lookup.files_by_stem(kind))] or [path]


class LoomsToTry(NamedTuple):
    """The looms that a pattern is tried on, and whether they are the user's own."""

    looms: Sequence[Loom]
    are_own: bool


def looms_to_try() -> LoomsToTry:
    """Her looms: those that the settings name, or that lie in her folder; where there are none, all at hand."""
    try:
        own = own_files_named(loading.load_settings())
    except ProblemsFound:  # checking the settings tells of it
        own = OwnFiles()
    files = own.looms or tuple(file_lookup.own_files("loom").values()) or ((own.loom,) if own.loom else ())
    return LoomsToTry(loading.load_looms(sound_only=True, named=files), bool(files))


def problems_of_file(path: Path, to_try: LoomsToTry | None = None) -> list[Problem]:
    """Every problem of one file, whatever its kind, in the order of its lines; of a sound one what to look at.

    ``to_try`` are the looms to try a pattern on: where many files are checked, they are read once.

    A class has every kit reckoned, so that a pattern that does not fit a student's loom is told as well.
    """
    try:
        read = _LOADERS[loading.kind_at(path) or "pattern"](path)
    except ProblemsFound as error:
        return list(error.problems)
    if isinstance(read, Pattern):
        problems = [*_problems_of_photograph(read), *_problems_of_letters(read)]
        if any(not problem.is_note for problem in problems):
            return problems
        return sorted([*problems, *_pattern_notes(read, to_try or looms_to_try())], key=lambda note: note.place)
    if isinstance(read, ClassPlan):
        return list(read.notes)
    return _loom_notes(read) if isinstance(read, Loom) else []


def _problems_of_photograph(pattern: Pattern) -> list[Problem]:
    """Why the photograph that the file allows to be printed cannot be."""
    try:
        loading.photograph_of_pattern(pattern)
    except ProblemsFound as error:
        return list(error.problems)
    return []


def _pattern_notes(pattern: Pattern, to_try: LoomsToTry) -> list[Problem]:
    """Looms are read again only where a record of a tape names one: it may be any that there is."""
    looms = loading.load_looms(sound_only=True) if any(record.loom for record in pattern.measured) else ()
    places = pattern.places
    notes = [
        Problem(
            places.file, places.of(path), path_in_words(path), note_sentence(note, "metric", of_file=True), is_note=True
        )
        for path, note in notes_of_file(pattern, looms)
    ]
    return sorted([*notes, *_no_loom_holds(pattern, to_try)], key=lambda note: note.place)


def _problems_of_letters(pattern: Pattern) -> list[Problem]:
    """Letters that no card can set."""
    from cardmaker.jobs.pattern_letters import pattern_letter_problems

    return pattern_letter_problems(pattern)


def _no_loom_holds(pattern: Pattern, to_try: LoomsToTry) -> list[Problem]:
    """A note that no loom holds the pattern; its file is none the worse for that."""
    if not to_try.looms:
        return []
    try:
        smallest_loom(pattern, to_try.looms)
    except Refusal as refusal:
        found = problem_from(refusal, pattern.places)
        none = "None of your looms holds it" if to_try.are_own else "No loom at hand holds it"
        return [replace(found, message=f"{none}: {found.message}", is_note=True)]
    return []


def _loom_notes(loom: Loom) -> list[Problem]:
    places, path = loom.places, ("kind",)
    return [
        Problem(
            places.file, places.of(path), path_in_words(path), note_sentence(note, "metric", of_file=True), is_note=True
        )
        for note in loom_notes(loom)
    ]


def _planned_event(path: Path) -> EventPlan:
    """An event with every tape reckoned, so that one that its loom does not hold is told as well."""
    from cardmaker.jobs.event_making import load_event_setup, plan_event

    event = loading.load_event(path)
    return plan_event(event, load_event_setup(event))


_LOADERS: Final[dict[FileKind, Callable[[Path], object]]] = {
    "pattern": loading.load_pattern,
    "yarn": loading.load_yarn,
    "loom": loading.load_loom,
    "pegs": read_pegs,
    "card layout": loading.load_layout,
    "sheet": loading.load_sheet,
    "class": lambda path: plan_class(loading.load_class(path)),
    "event": _planned_event,
    "binder": read_binder,
    "settings": read_settings,
}
