"""``restore``: what a printed card gives back, from its PDF or from paper; and what has changed since."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from cardmaker.files import write_many
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.model.pattern import Pattern
from cardmaker.model.problems import Place, Problem, ProblemsFound
from cardmaker.pdf.attachments import CannotRestore, Held, held_in
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.read_file import kind_of_file

if TYPE_CHECKING:
    from cardmaker.wording.change_words import Replaced


def restore(path: Path, out: Path, *, force: bool) -> tuple[list[Path], list[Path]]:
    """Write the files that a document carries into the folder ``out``, byte for byte: all of them or none. Of a scan or
    a photograph it is the pattern file in the code on it.

    Returns those written, and those that were there already, just the same. Raises WrongUsage where another file of
    that name is there and ``force`` does not allow to replace it, ProblemsFound and CannotWrite.
    """
    if out.exists() and not out.is_dir():
        raise WrongUsage(f"{out} is a file: name a folder.")
    files = {out / file.name: file.data for file in carried_by(path).files}
    existing = [target for target in files if target.exists() or target.is_symlink()]
    same = [target for target in existing if target.is_file() and _bytes_of(target) == files[target]]
    differing = [target for target in existing if target not in same]
    if differing and not force:
        more = f" and {len(differing) - 1} more" if len(differing) > 1 else ""
        raise WrongUsage(f"{differing[0]}{more} is there already, and differs. Name another folder, or say --force.")
    new = {target: data for target, data in files.items() if target not in same}
    write_many(new)
    return list(new), same


def _bytes_of(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except OSError:
        return None


def replaced_by(pattern: Pattern, old: Path) -> Replaced:
    """What a card of ``pattern`` must say when it replaces the printed card ``old``. Raises ProblemsFound."""
    from cardmaker.wording.change_words import replaced_by_new

    files = [file for file in carried_by(old).files if kind_of_file(file.data) == "pattern"]
    # A binder carries a thousand: of those with the pattern's file name, if there are any, the others are not read.
    files = [file for file in files if Path(file.name).stem == pattern.stem] or files
    printed = [parse_pattern(file.data, f"{file.name} in {old}", Path(file.name).stem) for file in files]
    same = [each for each in printed if _is_the_same(each, pattern)] or (printed if len(printed) == 1 else [])
    if not same:
        message = f"It carries no pattern that is called {pattern.title} or has its code."
        raise ProblemsFound([Problem(str(old), Place(), "", message)])
    return replaced_by_new(same[0], pattern)


def _is_the_same(old: Pattern, new: Pattern) -> bool:
    if old.code and new.code:
        return old.code == new.code
    return old.title.casefold() == new.title.casefold() or old.stem == new.stem


def carried_by(path: Path) -> Held:
    """What the document at ``path`` carries. Raises ProblemsFound, WrongUsage."""
    try:
        return held_in(path)
    except ModuleNotFoundError as error:
        raise WrongUsage(f"{path}: {error}") from None
    except CannotRestore as error:
        message = str(error)
    except FileNotFoundError:
        message = "there is no such file"
    except (OSError, ValueError) as error:
        message = f"it cannot be read: {getattr(error, 'strerror', None) or error}"
    raise ProblemsFound([Problem(str(path), Place(), "", f"{message[0].upper()}{message[1:]}.")])
