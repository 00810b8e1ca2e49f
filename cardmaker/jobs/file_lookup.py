"""Which file a name means: a path, or the stem of a file at hand, the user's own before those that are shipped.

Her own are what lies in the folders of her own folder; shipped is what the program came with, also in a checkout, where
both lie side by side.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import Final, Literal

Kind = Literal["pattern", "yarn", "loom", "pegs", "layout", "sheet", "class", "event", "binder"]

FOLDERS: Final[dict[Kind, str]] = {
    "pattern": "patterns",
    "yarn": "layouts/yarns",
    "loom": "layouts/looms",
    "pegs": "layouts/pegs",
    "layout": "layouts/cards",
    "sheet": "layouts/sheets",
    "class": "layouts/classes",
    "event": "layouts/events",
    "binder": "layouts/binders",
}
ENDINGS: Final = (".yaml", ".yml")
SETTINGS_FILE: Final = "cardmaker.yaml"
_OWN_ALONE: Final = frozenset({"pattern", "yarn", "loom", "pegs"})  # has she some, no others are chosen
_PACKAGE: Final = Path(__file__).parents[1]
_MOST_LOOKED_AT: Final = 5000  # files of the folder that a name is looked for in, where nothing has it


class WrongUsage(Exception):
    """What was asked for does not exist or does not go together."""


def shipped() -> Path:
    """Where the patterns and layouts lie that came with the program: in the wheel, or beside a checkout."""
    inside = _PACKAGE / "shipped"
    return inside if inside.is_dir() else _PACKAGE.parent


def own_folder() -> Path:
    """The user's own folder: the nearest with a settings file, from where the command runs upwards; else where it runs.

    As a path from where the command runs, so that what is told of a file in it is short.
    """
    folder = ""
    for _ in range(_depth()):
        if os.path.isfile(folder + SETTINGS_FILE):
            return Path(folder)
        folder += "../"
    return Path()


def _depth() -> int:
    """How many folders there are from where the command runs upwards."""
    try:
        return os.getcwd().count(os.sep) + 1
    except OSError:  # the folder has been taken away
        return 0


def own_settings_file() -> Path | None:
    """The settings file of the user's own folder, if it has one."""
    file = own_folder() / SETTINGS_FILE
    return file if file.is_file() else None


def at_hand(kind: Kind) -> dict[str, Path]:
    """The files of a kind to choose from, by their stems: hers; and those shipped, but not beside patterns, yarns,
    looms or places to wind of her own."""
    own = own_files(kind)
    return own if own and kind in _OWN_ALONE else shipped_files(kind) | own


def files_by_stem(kind: Kind) -> dict[str, Path]:
    """Every file of a kind that a stem can mean: hers, then those shipped."""
    return shipped_files(kind) | own_files(kind)


def own_files(kind: Kind) -> dict[str, Path]:
    """The user's own files of a kind by their stems, in the order of their names."""
    return _by_stem(*_own_names(kind))


def _own_names(kind: Kind) -> tuple[Path, list[str]]:
    """The folder in which the user's own files of a kind lie, and their names."""
    folder = own_folder() / FOLDERS[kind]
    names = _inside(folder)
    if _same_folder(folder, shipped() / FOLDERS[kind]):  # a checkout, where both lie side by side
        names = sorted({*names}.difference(_shipped_names_of(kind)))
    return folder, names


def shipped_files(kind: Kind) -> dict[str, Path]:
    """The files of a kind that came with the program, by their stems, in the order of their names."""
    return _by_stem(*_shipped_names(kind))


def _shipped_names(kind: Kind) -> tuple[Path, list[str]]:
    """The same as a folder and names."""
    root = shipped()
    if _same_folder(root, Path()):  # run in the checkout itself: what is told of a file is short
        root = Path()
    return root / FOLDERS[kind], _shipped_names_of(kind)


@cache
def shipped_names() -> tuple[str, ...]:
    """The files that ship, each by its path in a checkout. The wheel is made from the same list."""
    return tuple((_PACKAGE / "shipped_files.txt").read_text("utf-8").split())


def is_shipped(path: Path) -> bool:
    """Whether a file came with the program."""
    real = Path(os.path.realpath(path))
    inside = os.path.realpath(shipped())
    return real.is_relative_to(inside) and real.relative_to(inside).as_posix() in shipped_names()


def _shipped_names_of(kind: Kind) -> list[str]:
    folder = f"{FOLDERS[kind]}/"
    return [name.removeprefix(folder) for name in shipped_names() if name.startswith(folder)]


def _same_folder(one: Path, other: Path) -> bool:
    return os.path.realpath(one) == os.path.realpath(other)


def _by_stem(folder: Path, names: Sequence[str]) -> dict[str, Path]:
    """Names alone are compared: a path for every one that ends otherwise would cost every command time."""
    return {name.removesuffix(ending): folder / name for ending in ENDINGS for name in names if name.endswith(ending)}


def _inside(folder: Path) -> list[str]:
    """The names of what lies in a folder; none where there is none. Raises WrongUsage for one that must not be looked
    into: what lies there would else be missing without a word."""
    try:
        return sorted(os.listdir(folder))
    except PermissionError:
        raise WrongUsage(f"The folder {folder} cannot be looked into: it allows nobody to read it.") from None
    except OSError:
        return []


def is_path(name: str) -> bool:
    """Whether a name is a path: it ends in .yaml, or has a slash in it. Every other name is the stem of a file at hand,
    whatever else lies in the folder."""
    return Path(name).suffix in ENDINGS or "/" in name or os.sep in name


def folder_around(path: Path, kind: Literal["class", "event", "binder", "pattern"]) -> Path | None:
    """The folder laid out as hers that a class, binder or pattern file lies in, if it is another than hers and not the
    shipped one: what the file names is looked for there first."""
    tail = Path(FOLDERS[kind]).parts
    if path.parent.parts[-len(tail) :] != tail:
        return None
    folder = path.parents[len(tail)]
    return None if any(_same_folder(folder, each) for each in (own_folder(), shipped())) else folder


def find(kind: Kind, name: str, around: Path | None = None) -> Path:
    """The file that a name means: a path, or the stem of a file at hand. What lies in the folder ``around`` comes
    first: that of the file that names it. Raises WrongUsage."""
    if around is not None:
        inside = [around / name] if is_path(name) else [around / FOLDERS[kind] / (name + each) for each in ENDINGS]
        if there := [path for path in inside if path.is_file()]:
            return there[-1]
    if is_path(name):
        return _existing(kind, Path(name))
    for place, names in (_own_names(kind), _shipped_names(kind)):
        if called := [name + ending for ending in ENDINGS if name + ending in names]:
            return place / called[-1]
    from cardmaker.wording import lookup_words

    files = files_by_stem(kind)
    if Path(name).is_dir():
        raise WrongUsage(lookup_words.is_folder(kind, name))
    if others := [other for other in FOLDERS if other != kind and name in files_by_stem(other)]:
        raise WrongUsage(lookup_words.of_other_kind(kind, name, others[0], list(files)))
    folder = (own_folder() / FOLDERS[kind]).as_posix()
    raise WrongUsage(lookup_words.not_found(kind, name, list(files), folder, next(_elsewhere(name), "")))


def _existing(kind: Kind, path: Path) -> Path:
    """The path again. Raises WrongUsage for a bare name with its ending where only the stem means a file at hand."""
    if len(path.parts) == 1 and not path.exists() and path.stem in files_by_stem(kind):
        raise WrongUsage(f"There is no file {path} in this folder. Did you mean {path.stem}, without {path.suffix}?")
    return path


def _elsewhere(name: str) -> Iterator[str]:
    """Files of that name anywhere in the user's own folder, but not in the hidden ones."""
    looked_at = 0
    for folder, below, inside in os.walk(own_folder()):
        below[:] = sorted(each for each in below if not each.startswith("."))
        yield from (Path(folder, name + ending).as_posix() for ending in ENDINGS if name + ending in inside)
        looked_at += len(inside)
        if looked_at > _MOST_LOOKED_AT:
            return


def yaml_file(path: Path, name: str) -> Path:
    """The path again, if a file may ask for it by this name. Raises WrongUsage.

    Why: a binder or class file may come from anybody; it opens .yaml files and nothing else of this computer.
    """
    if path.suffix not in ENDINGS:
        raise WrongUsage(f"'{name}' is no .yaml file. Name it by its file's stem, or by a path to one.")
    return path
