"""Which files a binder is made of: names, folders and a binder file's sections, each file once."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from pathlib import Path

from cardmaker.binder.arranging import natural
from cardmaker.jobs import file_lookup
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.loading import kind_at
from cardmaker.model.binder_contents import Binder, Section
from cardmaker.model.problems import Problem, ProblemsFound
from cardmaker.reading.read_file import read_binder


def binder_of_request(names: Sequence[str]) -> Binder | None:
    """The binder file, when that is what was named. Raises ProblemsFound, and WrongUsage for more than one."""
    paths = map(_binder_or_path, names)
    binder = next((path for path in paths if path.suffix in file_lookup.ENDINGS and kind_at(path) == "binder"), None)
    if binder is None:
        return None
    if len(names) > 1:
        raise WrongUsage(f"{binder} is a binder file: name it alone.")
    return read_binder(binder)


def _binder_or_path(name: str) -> Path:
    """A path, or the binder at hand of that name unless a pattern has the name too."""
    path = Path(name)
    if file_lookup.is_path(name) or name in file_lookup.files_by_stem("pattern"):
        return path
    return file_lookup.files_by_stem("binder").get(name, path)


def pattern_paths(names: Iterable[str]) -> list[Path]:
    """The files that are named, each once; of a folder, its patterns. Raises WrongUsage."""
    paths: list[Path] = []
    for name in names:
        paths += _patterns_inside(Path(name)) if _is_folder(name) else [file_lookup.find("pattern", name)]
    return list(_first_names(paths).values())


def _is_folder(name: str) -> bool:
    """Whether a folder is meant; not where a pattern at hand has its name: ``./name`` is the folder then."""
    return Path(name).is_dir() and (file_lookup.is_path(name) or name not in file_lookup.files_by_stem("pattern"))


def _patterns_inside(folder: Path) -> list[Path]:
    """The patterns in a folder and all below it, T9 before T10. Raises WrongUsage when there is none.

    Looms, layouts and other files that are right in their place are passed over, and so is what is hidden. A file that
    tells nothing of itself is taken for a pattern, so that somebody is told of it. In a checkout those that ship are
    taken only where there are none of her own beside them.
    """
    below = [path.relative_to(folder) for path in folder.rglob("*") if path.suffix in file_lookup.ENDINGS]
    files = [folder / path for path in below if not any(part.startswith(".") for part in path.parts)]
    patterns = [path for path in files if path.is_file() and kind_at(path) in (None, "pattern")]
    patterns = [path for path in patterns if not file_lookup.is_shipped(path)] or patterns
    if not patterns:
        raise WrongUsage(f"There is no pattern in the folder {folder}")
    return sorted(patterns, key=lambda path: (natural(path.as_posix()), path))


def _first_names(paths: Iterable[Path]) -> dict[str, Path]:
    """Each file once, where it really lies, with the first name that it is given."""
    names: dict[str, Path] = {}
    for path in paths:
        names.setdefault(os.path.realpath(path), path)
    return names


def section_paths(binder: Binder) -> dict[Section, list[Path]]:
    """The files of each section, a file under the first name that it is given anywhere.

    Raises ProblemsFound with every name that means nothing.
    """
    paths: dict[Section, list[Path]] = {}
    problems: list[Problem] = []
    for number, section in enumerate(binder.sections):
        paths[section] = []
        for index, name in enumerate(section.patterns):
            try:
                paths[section].append(_named_in(binder, name))
            except WrongUsage as error:
                place = binder.places.of(("sections", number, "patterns", index))
                problems.append(Problem(binder.places.file, place, f"sections: {number + 1}: patterns", str(error)))
    if problems:
        raise ProblemsFound(problems)
    first = _first_names(path for inside in paths.values() for path in inside)
    return {
        section: list(dict.fromkeys(first[os.path.realpath(path)] for path in inside))
        for section, inside in paths.items()
    }


def _named_in(binder: Binder, name: str) -> Path:
    """The file of a pattern: beside the binder file, or anywhere at hand. Raises WrongUsage."""
    beside = Path(binder.places.file).parent / name
    around = file_lookup.folder_around(Path(binder.places.file), "binder")
    return file_lookup.yaml_file(beside if beside.is_file() else file_lookup.find("pattern", name, around), name)
