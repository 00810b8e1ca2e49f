"""Which files a binder is made of: names, folders and a binder file's sections, each file once."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from pathlib import Path

from cardmaker.binder.arranging import natural
from cardmaker.jobs import lookup
from cardmaker.jobs.lookup import WrongUsage
from cardmaker.model.binder_contents import Binder, Section
from cardmaker.model.carried import LARGEST_FILE
from cardmaker.model.problems import Problem, ProblemsFound
from cardmaker.reading.read_file import FileKind, kind_of_file, read_binder


def binder_of_request(names: Sequence[str]) -> Binder | None:
    """The binder file, when that is what was named. Raises ProblemsFound, and WrongUsage for more than one."""
    found = [path for path in map(_meant, names) if path.suffix in lookup.ENDINGS and _kind(path) == "binder"]
    if not found:
        return None
    if len(names) > 1:
        raise WrongUsage(f"{found[0]} is a binder file: name it alone.")
    return read_binder(found[0])


def _meant(name: str) -> Path:
    """A path, or the binder at hand of that name unless a pattern or a folder has the name too."""
    path = Path(name)
    if len(path.parts) != 1 or path.exists() or name in lookup.at_hand("pattern"):
        return path
    return lookup.at_hand("binder").get(name, path)


def _kind(path: Path) -> FileKind | None:
    """What a file tells of itself; nothing when it cannot be read, so that reading it tells why."""
    try:
        with path.open("rb") as file:
            return kind_of_file(file.read(LARGEST_FILE))
    except OSError:
        return None


def pattern_paths(names: Iterable[str]) -> list[Path]:
    """The files that are named, each once; of a folder, its patterns. Raises WrongUsage."""
    paths: list[Path] = []
    for name in names:
        if Path(name).is_dir():
            paths += patterns_inside(Path(name))
        else:
            paths.append(lookup.find("pattern", name))
    return _once(paths)


def patterns_inside(folder: Path) -> list[Path]:
    """The patterns in a folder and all below it, T9 before T10. Raises WrongUsage when there is none.

    Looms, layouts and other files that are right in their place are passed over, and so is what is hidden. A file that
    tells nothing of itself is taken for a pattern, so that somebody is told of it.
    """
    found = [path.relative_to(folder) for path in folder.rglob("*") if path.suffix in lookup.ENDINGS]
    files = [folder / path for path in found if not any(part.startswith(".") for part in path.parts)]
    inside = [path for path in files if path.is_file() and _kind(path) in (None, "pattern")]
    if not inside:
        raise WrongUsage(f"There is no pattern in the folder {folder}")
    return sorted(inside, key=lambda path: (natural(path.as_posix()), path))


def _once(paths: Iterable[Path]) -> list[Path]:
    """Each file once, under the first name that it is given."""
    found: dict[str, Path] = {}
    for path in paths:
        found.setdefault(os.path.realpath(path), path)
    return list(found.values())


def section_paths(binder: Binder) -> dict[Section, list[Path]]:
    """The files of each section, a file under the first name that it is given anywhere.

    Raises ProblemsFound with every name that means nothing.
    """
    found = _found_paths(binder)
    named: dict[str, Path] = {}
    for path in (path for paths in found.values() for path in paths):
        named.setdefault(os.path.realpath(path), path)
    return {section: _once(named[os.path.realpath(path)] for path in paths) for section, paths in found.items()}


def _found_paths(binder: Binder) -> dict[Section, list[Path]]:
    folder = Path(binder.places.file).parent
    problems: list[Problem] = []
    found: dict[Section, list[Path]] = {}
    for number, section in enumerate(binder.sections):
        found[section] = []
        for index, name in enumerate(section.patterns):
            beside = folder / name
            try:
                path = beside if beside.is_file() else lookup.find("pattern", name)
                found[section].append(lookup.yaml_file(path, name))
            except WrongUsage as no:
                place = binder.places.of(("sections", number, "patterns", index))
                problems.append(Problem(binder.places.file, place, f"sections: {number + 1}: patterns", str(no)))
    if problems:
        raise ProblemsFound(problems)
    return found
