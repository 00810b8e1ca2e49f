"""``restore``: what a printed card gives back, from its PDF or from paper; and what has changed since."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Final, NamedTuple, TypeVar

from cardmaker.files import NamesThere
from cardmaker.jobs.editor_schemas import write_new
from cardmaker.jobs.file_lookup import (
    ENDINGS,
    FOLDERS,
    Kind,
    WrongUsage,
    files_by_stem,
    is_path,
    own_folder,
    shipped_files,
)
from cardmaker.jobs.files_to_carry import content_digest
from cardmaker.jobs.how_made import HowMade, read_how_made
from cardmaker.model.carried_file import Carried
from cardmaker.model.pattern import Pattern, ShelfYarn
from cardmaker.model.problems import Place, Problem, ProblemsFound
from cardmaker.pdf.attachments import CannotRestore, Held, held_in
from cardmaker.reading.pattern_file import no_shelf, parse_pattern
from cardmaker.reading.read_file import kind_of_file
from cardmaker.reading.yarn_file import parse_yarn
from cardmaker.wording import restore_words

if TYPE_CHECKING:
    from cardmaker.wording.change_words import Replaced

_AGAIN: Final = "again"  # the folder that a document is made again into, so that it takes no other's place

T = TypeVar("T")


class Restored(NamedTuple):
    """What came of the files of a document: the paths, those written first, each with what is to be said of it; what is
    said of each that was not written although it differs; and how to make the document again, or what to do next."""

    paths: tuple[tuple[Path, str], ...]
    not_written: tuple[str, ...]
    next_steps: tuple[str, ...]


def restore(path: Path, out: Path | None, *, force: bool) -> Restored:
    """Write the files that a document carries to where they are found by name, in the user's own folder or in one laid
    out like it, byte for byte. Of a scan or a photograph it is the pattern file in the code on it.

    What is there and differs stays as it is, unless ``force`` allows to replace it. What is shipped just the same
    is not written beside it, or it would be hers from then on, and chosen before all others. Raises WrongUsage,
    ProblemsFound and CannotWrite.
    """
    if out is not None and out.exists() and not out.is_dir():
        raise WrongUsage(f"{out} is a file: name a folder.")
    held = carried_by(path)
    made = _what_is_told(path, partial(read_how_made, held))
    folder = own_folder() if out is None else out
    new: dict[Path, bytes] = {}
    same: list[tuple[Path, str]] = []
    not_written: list[str] = []
    before_shipped: set[Path] = set()
    there = NamesThere()
    for file in sorted(held.files, key=lambda file: _order(made.places[file.name])):
        target = folder / made.places[file.name]
        may_replace = force and _is_inside(target, folder)
        twin = there.at(target)
        reason = _why_not(target, twin, file.data, made.places[file.name], own=out is None, force=may_replace)
        if reason in (restore_words.SAME, restore_words.SHIPPED):
            same.append((target, reason))
        elif reason:
            not_written.append(reason)
        else:
            new[target] = file.data
            if out is None and _shipped_of_name(made.places[file.name]):
                before_shipped.add(target)
    write_new(new, folder, may_replace=force)
    if not_written:
        steps = [restore_words.as_it_was(path.as_posix(), _new_folder(path))]
    else:
        steps = _next_steps(path, made, held, out)
    steps = [*_what_was_changed(held), *steps]
    shadowing = [(target, restore_words.BEFORE_SHIPPED if target in before_shipped else "") for target in new]
    return Restored((*shadowing, *same), tuple(not_written), tuple(steps))


def _is_inside(target: Path, folder: Path) -> bool:
    """Whether a file really lies in a folder: a link on the way may lead elsewhere."""
    return Path(os.path.realpath(target)).is_relative_to(os.path.realpath(folder))


def _why_not(target: Path, there: Path | None, data: bytes, place: str, *, own: bool, force: bool) -> str:
    """Why a file is not written: it is there, or what is there differs; empty where it is to be written.

    ``there`` is what lies at its place, or beside it under a name that another system takes for the same.
    """
    if there is not None and there != target:
        return restore_words.hidden_by(str(target), str(there))
    if there is not None:
        if target.is_file() and _bytes_of(target) == data:
            return restore_words.SAME
        may_replace = force and target.is_file() and not target.is_symlink()
        return "" if may_replace else restore_words.kept(str(target))
    for other in (target.with_suffix(ending) for ending in ENDINGS):
        if other.exists():
            return restore_words.hidden_by(str(target), str(other))
    shipped_one = _shipped_of_name(place) if own else None
    return restore_words.SHIPPED if shipped_one and _bytes_of(shipped_one) == data else ""


def _shipped_of_name(place: str) -> Path | None:
    """The shipped file that a stem means where she has no file at that place."""
    kind = _kind_of_place(place)
    return shipped_files(kind).get(PurePosixPath(place).stem) if kind else None


def _kind_of_place(place: str) -> Kind | None:
    """The kind whose files lie in the folder of a place; None for a folder that is of no kind."""
    parent = str(PurePosixPath(place).parent)
    return next((kind for kind, folder in FOLDERS.items() if folder == parent), None)


def _order(place: str) -> tuple[int, str]:
    """Patterns first, as the folders are named; then by name."""
    kind = _kind_of_place(place)
    return (list(FOLDERS).index(kind) if kind else len(FOLDERS)), place


def _new_folder(document: Path) -> str:
    """A folder that is not there yet, named for the document."""
    names = (f"{document.stem}-restored{number}" for number in ("", *map(str, range(2, 100))))
    return next((name for name in names if not Path(name).exists()), f"{document.stem}-restored")


def _what_was_changed(held: Held) -> list[str]:
    """That files are no longer those that the document was made from: which, or that there is one."""
    if held.changed:
        return [restore_words.changed(held.changed)]
    is_another = held.digest and content_digest(held.files) != held.digest
    return [restore_words.CHANGED] if is_another else []


# What to do next


def _next_steps(path: Path, made: HowMade, held: Held, out: Path | None) -> list[str]:
    """The command that makes the document again; or what to do with the one pattern that there is."""
    names = partial(_name_to_type, made.places, out)
    if not made.command:
        patterns = [file.name for file in held.files if _kind_of_place(made.places[file.name]) == "pattern"]
        told = [] if held.is_picture else [restore_words.NOT_SAID]
        return [*told, *(restore_words.next_card(names(name)) for name in patterns if len(patterns) == 1)]
    words = ["cardmaker", made.command, *map(names, made.subjects)]
    for option, values in made.options:
        typed = list(map(names, values)) if made.is_of_files(option) else list(values)
        starts_as_option = typed and typed[0].startswith("-")
        words += [f"{option}={typed[0]}"] if starts_as_option else [option, *typed]
    words += ["--out", _AGAIN if made.command in ("class", "event") else f"{_AGAIN}/{path.stem}.pdf"]
    needed = [restore_words.needs_more(made.needs)] if made.needs else []
    return [restore_words.make_again(words), *needed]


def _name_to_type(places: Mapping[str, str], out: Path | None, name: str) -> str:
    """How a file that was restored is named in a command: by its stem where that means it, else by its path."""
    place = PurePosixPath(places[name])
    kind = _kind_of_place(str(place))
    means_it = out is None and kind is not None and not is_path(place.stem)
    if means_it and (kind != "binder" or place.stem not in files_by_stem("pattern")):
        return place.stem
    return (own_folder() if out is None else out).joinpath(place).as_posix()


def _bytes_of(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except OSError:
        return None


def replaced_by(pattern: Pattern, old: Path) -> Replaced:
    """What a card of ``pattern`` must say when it replaces the printed card ``old``. Raises ProblemsFound."""
    from cardmaker.wording.change_words import replaced_by_new

    held = carried_by(old).files
    files = [file for file in held if kind_of_file(file.data) == "pattern"]
    # A binder carries a thousand: of those with the pattern's file name, if there are any, the others are not read.
    files = [file for file in files if Path(file.name).stem == pattern.stem] or files
    shelf = partial(_yarn_carried, held, old)
    printed = [parse_pattern(file.data, f"{file.name} in {old}", Path(file.name).stem, shelf) for file in files]
    same = [each for each in printed if _is_the_same(each, pattern)] or (printed if len(printed) == 1 else [])
    if not same:
        message = f"It carries no pattern that is called {pattern.title} or has its code."
        raise ProblemsFound([Problem(str(old), Place(), "", message)])
    return replaced_by_new(same[0], pattern)


def _yarn_carried(held: Sequence[Carried], old: Path, name: str) -> ShelfYarn:
    """The yarn of a name among the files of a document. Raises Refusal, ProblemsFound."""
    for file in held:
        if Path(file.name).stem == name and kind_of_file(file.data) == "yarn":
            return parse_yarn(file.data, f"{file.name} in {old}", name)
    return no_shelf(name)


def _is_the_same(old: Pattern, new: Pattern) -> bool:
    if old.code and new.code:
        return old.code == new.code
    return old.title.casefold() == new.title.casefold() or old.stem == new.stem


def carried_by(path: Path) -> Held:
    """What the document at ``path`` carries. Raises ProblemsFound, WrongUsage."""
    return _what_is_told(path, partial(held_in, path))


def _what_is_told(path: Path, read: Callable[[], T]) -> T:
    """What reading a document gives. Raises ProblemsFound, WrongUsage."""
    try:
        return read()
    except ModuleNotFoundError as error:
        raise WrongUsage(f"{path}: {error}") from None
    except CannotRestore as error:
        message = str(error)
    except FileNotFoundError:
        message = "there is no such file"
    except (OSError, ValueError) as error:
        message = f"it cannot be read: {getattr(error, 'strerror', None) or error}"
    raise ProblemsFound([Problem(str(path), Place(), "", f"{message[0].upper()}{message[1:]}.")])
