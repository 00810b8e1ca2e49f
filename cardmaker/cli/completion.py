"""What the Tab key completes in a shell: commands, options, and the names of the files at hand.

The shell runs the command itself to ask, as ``argcomplete`` has it, so that a pattern written a minute ago is among
them. Loaded only then.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable
from contextlib import suppress
from typing import Final

from cardmaker.jobs import file_lookup, loading
from cardmaker.jobs.layout_lookup import ALL
from cardmaker.model.problems import ProblemsFound

_KINDS: Final[dict[str, file_lookup.Kind]] = {
    "patterns": "pattern", "pattern": "pattern", "loom": "loom", "looms": "loom", "prefer": "loom", "pegs": "pegs",
    "places": "pegs", "school_class": "class", "event": "event",
}  # fmt: skip
"""What kind of file an argument names."""

_Completer = Callable[..., Iterable[str]]


def answer_shell(parser: argparse.ArgumentParser) -> None:
    """Tells the shell what may stand where the cursor is, and ends the process.

    Without the package it says nothing: nothing may be made because somebody pressed a key.
    """
    try:
        from argcomplete import autocomplete
    except ModuleNotFoundError:
        raise SystemExit(1) from None
    for group in parser._actions:
        if isinstance(group, argparse._SubParsersAction):
            for command in group.choices.values():
                _set_completers(command)
    autocomplete(parser)


def _set_completers(command: argparse.ArgumentParser) -> None:
    for action in command._actions:
        if action.dest in _KINDS:
            completer: _Completer = _names_of(_KINDS[action.dest])
        elif action.dest in _OTHERS and action.choices is None:
            completer = _OTHERS[action.dest]
        else:
            continue
        action.completer = completer  # type: ignore[attr-defined]


def _names_of(kind: file_lookup.Kind) -> _Completer:
    def names(prefix: str, **_: object) -> Iterable[str]:
        """Stems; or files, once what is typed is a path."""
        if file_lookup.is_path(prefix) or prefix.startswith("."):
            from argcomplete.completers import FilesCompleter

            return FilesCompleter(("yaml", "yml"))(prefix)
        return file_lookup.files_by_stem(kind)

    return names


def _layouts(prefix: str, **_: object) -> Iterable[str]:
    """One, or another after a comma; or all."""
    before = prefix[: prefix.rfind(",") + 1]
    named = before.split(",")
    stems = [*file_lookup.files_by_stem("layout"), *([] if before else [ALL])]
    return [before + stem for stem in stems if stem not in named]


def _papers(**_: object) -> Iterable[str]:
    """Of every layout that has no problems."""
    names: list[str] = []
    for path in file_lookup.files_by_stem("layout").values():
        with suppress(ProblemsFound):
            names += [paper.name for paper in loading.load_layout(path).papers]
    return dict.fromkeys(names)


_OTHERS: Final[dict[str, _Completer]] = {"layout": _layouts, "paper": _papers}
