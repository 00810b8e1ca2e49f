"""``check``: everything that is wrong with a file of any kind."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Final

from cardmaker.jobs import file_lookup, loading
from cardmaker.jobs.class_making import plan_class
from cardmaker.model.problems import Problem, ProblemsFound
from cardmaker.reading.read_file import FileKind, read_binder, read_pegs


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
    """Every problem of one file, whatever its kind, in the order of its lines.

    A class has every kit reckoned, so that a pattern that does not fit a student's loom is told as well.
    """
    try:
        _LOADERS[loading.kind_at(path) or "pattern"](path)
    except ProblemsFound as error:
        return list(error.problems)
    return []


_LOADERS: Final[dict[FileKind, Callable[[Path], object]]] = {
    "pattern": loading.load_pattern,
    "loom": loading.load_loom,
    "pegs": read_pegs,
    "card layout": loading.load_layout,
    "class": lambda path: plan_class(loading.load_class(path)),
    "binder": read_binder,
}
