"""Files that a job asks for by name: read, checked as far as their kind allows, or refused with all their problems."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from cardmaker.jobs.file_lookup import FOLDERS, WrongUsage, at_hand, find, folder_around, is_path, own_settings_file
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.carried_file import LARGEST_FILE
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern, ShelfYarn
from cardmaker.model.problems import Place, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.model.settings import Settings
from cardmaker.reading import read_file
from cardmaker.reading.read_file import FileKind
from cardmaker.reckoning.amounts.width import width_refusals
from cardmaker.reckoning.amounts.yarn_counts import count_refusal, count_refusals
from cardmaker.reckoning.stripes.stripe_counts import stripe_refusals

if TYPE_CHECKING:
    from cardmaker.model.event import Event
    from cardmaker.model.peg_plan import Pegs
    from cardmaker.model.photograph import Photograph
    from cardmaker.model.school_class import SchoolClass

_NAMED_BY: Final[dict[FileKind, str]] = {
    "loom": "; a loom is named with --loom",
    "pegs": "; a place to wind is named with --pegs",
    "card layout": "; a layout is named with --layout",
    "class": "; a class is made with: cardmaker class",
    "event": "; an event is made with: cardmaker event",
    "binder": "; a binder is made with: cardmaker binder",
}


def load_pattern(path: Path, around: Path | None = None) -> Pattern:
    """The pattern in a file, its stripes and counts checked as well; yarns that it names are looked for first in the
    folder that it lies in, if that is laid out as hers, or is ``around`` it. Raises ProblemsFound with all of them."""
    pattern, problems = pattern_with_problems(path, around)
    if problems or pattern is None:
        raise ProblemsFound(problems)
    return pattern


def pattern_with_problems(path: Path, around: Path | None = None) -> tuple[Pattern | None, list[Problem]]:
    """What reading finds and what reckoning refuses, together, so that one look shows everything."""
    if wrong_kind := _problem_of_kind(path, "pattern"):
        return None, wrong_kind
    draft = read_file.read_pattern_draft(path, shelf_of(path, around))
    refusals: list[Refusal] = []
    if draft.warp is not None:
        refusals += stripe_refusals(draft.warp, draft.mirror, draft.stated_ends)
    if draft.pattern is not None:
        refusals += count_refusals(draft.pattern)
        refusals += () if refusals else width_refusals(draft.pattern)
    return draft.pattern, [*draft.problems, *(problem_from(refusal, draft.places) for refusal in refusals)]


def shelf_of(path: Path, around: Path | None = None) -> Callable[[str], ShelfYarn]:
    """The yarns that a pattern file may name: those of the folder laid out as hers that it lies in, then all others."""
    folder = folder_around(path, "pattern")
    is_below = around is not None and Path(os.path.realpath(path)).is_relative_to(os.path.realpath(around))
    return partial(yarn_on_shelf, around=folder or (around if is_below else None))


def yarn_on_shelf(name: str, around: Path | None = None) -> ShelfYarn:
    """The yarn of a file, named by its stem: a pattern that names it so finds it wherever both are taken together.

    Raises Refusal, ProblemsFound.
    """
    if is_path(name):
        message = f"'{name}' is a path, and a yarn is named by its file's stem alone."
        raise Refusal((), message, f"Put the file into {FOLDERS['yarn']}, and write {Path(name).stem}.")
    try:
        return load_yarn(find("yarn", name, around))
    except WrongUsage as error:
        raise Refusal((), str(error)) from None


def load_yarn(path: Path) -> ShelfYarn:
    """The yarn in a file, its count checked as well. Raises ProblemsFound."""
    if wrong_kind := _problem_of_kind(path, "yarn"):
        raise ProblemsFound(wrong_kind)
    yarn = read_file.read_yarn(path)
    if refusal := count_refusal(yarn.yarn):
        at_key = Refusal(refusal.path[2:], refusal.message, refusal.remedy)  # without yarns and its name
        raise ProblemsFound([problem_from(at_key, yarn.places)])
    return yarn


def photograph_of_pattern(pattern: Pattern) -> Photograph | None:
    """The photograph that a pattern's file names and allows to be printed; None where it does not.

    It lies beside that file. Raises ProblemsFound.
    """
    if pattern.source is None or not pattern.source.photograph:
        return None
    from cardmaker.model.photograph import photograph_to_print

    name = photograph_to_print(pattern.source)
    return _photograph(name, pattern) if name else None


def _photograph(name: str, pattern: Pattern) -> Photograph:
    from cardmaker.reading.photograph_file import NotPrintable, read_photograph

    try:
        if Path(name).name != name or "\\" in name or name.startswith("."):
            raise NotPrintable("is not the name of a file alone", "Put the picture beside the pattern file.")
        return read_photograph(Path(pattern.places.file).parent / name)
    except NotPrintable as error:
        refusal = Refusal(("source", "photograph"), f"the photograph '{name}' {error}.", error.remedy)
        raise ProblemsFound([problem_from(refusal, pattern.places)]) from None


def _problem_of_kind(path: Path, wanted: FileKind) -> list[Problem]:
    """One plain problem for a file of another kind than is wanted, instead of one for every key of it."""
    kind = kind_at(path)
    if kind in (None, wanted):
        return []
    message = (
        f"This is {'an' if kind == 'event' else 'a'} {kind} file." if kind != "pegs" else "This file describes pegs."
    )
    remedy = f"{'An' if wanted == 'event' else 'A'} {wanted} file is wanted here{_NAMED_BY.get(kind or 'pattern', '')}."
    return [Problem(str(path), Place(), "", message, remedy)]


def kind_at(path: Path) -> FileKind | None:
    """What a file tells of itself; None when it tells nothing or cannot be read, so that reading it tells why."""
    try:
        if not path.is_file():
            return None
        with path.open("rb") as file:
            return read_file.kind_of_file(file.read(LARGEST_FILE))
    except OSError:
        return None


def load_class(path: Path) -> SchoolClass:
    """The class in a file. Raises ProblemsFound."""
    if wrong_kind := _problem_of_kind(path, "class"):
        raise ProblemsFound(wrong_kind)
    return read_file.read_class(path)


def load_event(path: Path) -> Event:
    """The event in a file. Raises ProblemsFound."""
    if wrong_kind := _problem_of_kind(path, "event"):
        raise ProblemsFound(wrong_kind)
    return read_file.read_event(path)


def load_loom(path: Path) -> Loom:
    """The loom in a file; where it tells of a warp that wove well, that one can have been. Raises ProblemsFound."""
    if wrong_kind := _problem_of_kind(path, "loom"):
        raise ProblemsFound(wrong_kind)
    loom = read_file.read_loom(path)
    if loom.measured_press is not None:
        from cardmaker.reckoning.on_loom.press_gauge import standard_levels

        try:
            standard_levels(loom)
        except Refusal as refusal:
            raise ProblemsFound([problem_from(refusal, loom.places)]) from None
    return loom


def load_settings() -> Settings:
    """The settings of the user's own folder, or the usual ones where it has none. Raises ProblemsFound."""
    file = own_settings_file()
    return read_file.read_settings(file) if file else Settings()


def load_looms(*, sound_only: bool = False, named: Sequence[Path] = ()) -> tuple[Loom, ...]:
    """All looms at hand, or those ``named``; with ``sound_only`` those whose files have no problems.

    Raises ProblemsFound.
    """
    looms = []
    for path in named or at_hand("loom").values():
        try:
            looms.append(load_loom(path))
        except ProblemsFound:
            if not sound_only:
                raise
    return tuple(looms)


def load_pegs(*, named: Sequence[Path] = ()) -> tuple[Pegs, ...]:
    """All places to wind a warp at hand, or those ``named``. Raises ProblemsFound."""
    return tuple(read_file.read_pegs(path) for path in named or at_hand("pegs").values())


def load_sheet(path: Path) -> CardLayout:
    """The layout of a sheet on which several tapes stand. Raises ProblemsFound."""
    if wrong_kind := _problem_of_kind(path, "sheet"):
        raise ProblemsFound(wrong_kind)
    return load_layout(path)


def load_layout(path: Path) -> CardLayout:
    """A card layout whose panels all exist, and may stand on its kind of card. Raises ProblemsFound."""
    from cardmaker.card.composing import wrong_names

    layout = read_file.read_card_layout(path)
    if wrong := wrong_names(layout):
        raise ProblemsFound(problem_from(refusal, layout.places) for refusal in wrong)
    return layout
