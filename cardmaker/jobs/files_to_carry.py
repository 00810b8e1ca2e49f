"""The files that a PDF carries: what it was made from, each once, under plain names, with a digest of them all; where
each belongs in a folder laid out as hers; and the command that makes the PDF again, whatever settings there are."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Final, Literal

from cardmaker.jobs.file_lookup import FOLDERS, SETTINGS_FILE, Kind, shipped
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.carried_file import HOW_MADE, Carried, CarriedKind, is_plain_place, plain_name
from cardmaker.model.file_names import name_anywhere
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Places
from cardmaker.model.record_class import record

EDITION: Final = 1
KIND: Final = "how it was made"
_FOLDER_KINDS: Final[dict[CarriedKind, Kind]] = {"card layout": "layout"}  # where the two names of a kind differ

Value = str | bool | Carried | Sequence[Carried]


@record
class MakingCommand:
    """The command that makes a document again: its name, what it is about, and all of its options but where to write.

    With a ``base``, the folder that its class or binder file lies in, a file below that belongs where it lies, since it
    may be named by its path.
    """

    name: Literal["card", "binder", "sheet", "class", "event", "rescue"]
    subjects: Sequence[Carried]
    options: Mapping[str, Value | None]
    base: Path | None = None
    needs: Sequence[str] = ()  # files that it needs and that are not carried, by their names


def carried_from(places: Places, kind: CarriedKind) -> Carried:
    """The file that a record was read from, not yet named."""
    return Carried("", places.raw, kind, places.file)


def sources_of(plan: Plan) -> tuple[Carried, ...]:
    """The files that a plan was made from, not yet named: the pattern's, the loom's, those of its yarns."""
    yarns = [yarn.shelf for yarn in plan.pattern.all_yarns if yarn.shelf]
    files = [carried_from(yarn.places, "yarn") for yarn in yarns]
    return carried_from(plan.pattern.places, "pattern"), carried_from(plan.loom.places, "loom"), *files


def layout_source(layout: CardLayout) -> Carried:
    """The file of a card layout, not yet named."""
    return carried_from(layout.places, "card layout")


def carried_files(sources: Iterable[Carried]) -> tuple[Carried, ...]:
    """The files, each once, as read, under names fit for any folder; none for a record that no file describes."""
    files: dict[str, Carried] = {}  # by their names, which may not differ in capitals only
    for source in _each_once(sources):
        if source.data:
            name = plain_name(Path(source.path).name, {SETTINGS_FILE, *files})
            files[name_anywhere(name)] = source._replace(name=name)
    return tuple(files.values())


def _each_once(sources: Iterable[Carried]) -> Iterable[Carried]:
    once: dict[object, Carried] = {}
    for source in sources:
        once.setdefault(_identity(source), source)
    return once.values()


def _identity(source: Carried) -> tuple[str, str, bytes]:
    """What is the same for one file, by whatever path it was read."""
    return source.kind, os.path.abspath(source.path), source.data


def files_with_command(sources: Iterable[Carried], command: MakingCommand | None = None) -> tuple[Carried, ...]:
    """The files as they are carried, those that the command names among them, and last of all the command."""
    if command is None:
        return carried_files(sources)
    named = [each for value in command.options.values() for each in _files_in(value)]
    files = carried_files([*sources, *command.subjects, *named])
    return (*files, _written(command, files))


def _files_in(value: Value | None) -> tuple[Carried, ...]:
    if isinstance(value, Carried):
        return (value,)
    return () if value is None or isinstance(value, (str, bool)) else tuple(value)


def _written(command: MakingCommand, files: Sequence[Carried]) -> Carried:
    """The command as a file to be carried."""
    names = {_identity(file): file.name for file in files}

    def name_of(source: Carried) -> str:
        return names[_identity(source)]

    def values_of(value: Value) -> list[str]:
        if isinstance(value, str):
            return [value]
        return list(map(name_of, _files_in(value)))

    places = _places(files, command)
    told: dict[str, object] = {"kind": KIND, "edition": EDITION, "places": places}
    if _finds_all(files, places, command):
        told["command"] = command.name
        told["needs"] = list(command.needs)
        told["of"] = list(map(name_of, command.subjects))
        told["options"] = [[name, *values_of(value)] for name, value in command.options.items() if value]
    return Carried(HOW_MADE, json.dumps(told, ensure_ascii=False).encode("utf-8", "replace"), "command")


def _finds_all(files: Sequence[Carried], places: Mapping[str, str], command: MakingCommand) -> bool:
    """Whether the command finds every file at its place: under its own name, and by the path that another names it by,
    which holds as long as that one stays where it lies."""
    if any(Path(places[file.name]).name != Path(file.path).name for file in files):
        return False
    subject = command.subjects[0]
    usual = Path(command.base or "", FOLDERS[folder_kind(subject.kind)])
    if command.base is None or os.path.realpath(Path(subject.path).parent) == os.path.realpath(usual):
        return True
    return all(str(Path(places[file.name]).parent) == FOLDERS[folder_kind(file.kind)] for file in files)


def _places(files: Sequence[Carried], command: MakingCommand) -> dict[str, str]:
    """Where each file belongs, by its name in the document: no two at one place, on whatever system."""
    places: dict[str, str] = {}
    taken: set[str] = set()
    names_in = {folder: {SETTINGS_FILE} for folder in FOLDERS.values()}
    for file in files:
        folder = FOLDERS[folder_kind(file.kind)]
        place = _place_below(file.path, command.base) if command.base and file.kind != command.name else None
        if place is None or name_anywhere(place) in taken:
            place = f"{folder}/{plain_name(Path(file.path).name, names_in[folder])}"
        places[file.name] = place
        taken.add(name_anywhere(place))
        for above in (each for each in FOLDERS.values() if place.startswith(f"{each}/")):
            names_in[above].add(name_anywhere(Path(place).name))
    return places


def folder_kind(kind: CarriedKind) -> Kind:
    """The kind of a carried file, as it is looked for."""
    return _FOLDER_KINDS.get(kind, kind)  # type: ignore[arg-type]


def _place_below(file: str, base: Path) -> str | None:
    """Where a file lies below a folder, or among what is shipped; None where it lies in neither."""
    real = Path(os.path.realpath(file))
    for folder in (os.path.realpath(base), os.path.realpath(shipped())):
        if real.is_relative_to(folder):
            place = real.relative_to(folder).as_posix()
            return place if is_plain_place(place) and real.name.casefold() != SETTINGS_FILE else None
    return None


def content_digest(files: Iterable[Carried]) -> str:
    """SHA-256 over the SHA-256 of every file, in the order of their names: alike when all of the files are alike."""
    each = b"".join(sha256(file.data).digest() for file in sorted(files) if file.kind != "command")
    return f"sha256:{sha256(each).hexdigest()}"
