"""``check``: everything that is wrong with a file of any kind."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from cardmaker.jobs import loading
from cardmaker.model.problems import Problem, ProblemsFound
from cardmaker.reading.read_file import kind_of_file, read_binder, read_loom, read_pegs


def problems_of_file(path: Path) -> list[Problem]:
    """Every problem of one file, whatever its kind, in the order of its lines."""
    try:
        kind = kind_of_file(path.read_bytes()) if path.is_file() else "pattern"
    except OSError:
        kind = "pattern"
    if kind in (None, "pattern"):
        return list(ProblemsFound(loading.pattern_with_problems(path)[1]).problems)
    readers: dict[str, Callable[[Path], object]] = {
        "loom": read_loom, "pegs": read_pegs, "card layout": loading.load_layout, "class": _check_class,
        "binder": read_binder,
    }  # fmt: skip
    reader = readers[kind]
    try:
        reader(path)
    except ProblemsFound as found:
        return list(found.problems)
    return []


def _check_class(path: Path) -> object:
    """A class with every kit reckoned, so that a pattern that does not fit a student's loom is told as well."""
    from cardmaker.jobs.class_making import load_class, plan_class

    return plan_class(load_class(path))
