"""The settings of the user's own folder as the jobs ask for them: files in the stead of names, and where PDFs go."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from cardmaker.jobs.file_lookup import Kind, WrongUsage, find, own_folder
from cardmaker.model.problems import KeyPath, ProblemsFound, Refusal, problem_from
from cardmaker.model.record_class import record, replace
from cardmaker.model.settings import Settings

USUAL_LAYOUT: Final = "record"
ANY: Final = "any"  # the loom of whoever's is not known
ANY_LAYOUT: Final = "any-loom"  # the card for it
_USUAL_OUT: Final = "out"


@record
class OwnFiles:
    """The files that the settings name: the loom to thread, the looms that she has, where she winds."""

    loom: Path | None = None
    looms: tuple[Path, ...] = ()
    pegs: tuple[Path, ...] = ()


@record
class AtHand:
    """What a command says to be at hand, whatever the settings say and whatever lies in her folder; None: as those say.

    Where it names ``looms``, the loom of the settings is forgotten: ``prefer`` stands for it.
    """

    looms: Sequence[str] | None = None
    places: Sequence[str] | None = None  # to wind at
    prefer: str | None = None


AS_USUAL: Final = AtHand()


def own_files_named(settings: Settings, at_hand: AtHand = AS_USUAL) -> OwnFiles:
    """The files that a command names, or else the settings. Raises ProblemsFound at a name in the settings that means
    nothing, and WrongUsage for one of the command."""
    if at_hand.places is not None:
        settings = replace(settings, pegs=())
    if at_hand.looms is not None:
        settings = replace(settings, loom="", looms=())
    own = _files_of_settings(settings)
    prefer = find("loom", at_hand.prefer) if at_hand.prefer else own.loom
    looms = tuple(find("loom", name) for name in at_hand.looms or ()) or own.looms
    return OwnFiles(prefer, looms, tuple(find("pegs", name) for name in at_hand.places or ()) or own.pegs)


def _files_of_settings(settings: Settings) -> OwnFiles:
    loom = files_of_setting("loom", [settings.loom], settings, ("loom",)) if settings.loom else []
    looms = files_of_setting("loom", settings.looms, settings, ("looms",))
    pegs = files_of_setting("pegs", settings.pegs, settings, ("pegs",))
    return OwnFiles(next(iter(loom), None), (*looms, *(each for each in loom if looms and each not in looms)), pegs)


def files_of_setting(kind: Kind, names: Sequence[str], settings: Settings, path: KeyPath) -> tuple[Path, ...]:
    """The files that the settings name at ``path``, where a path begins at their folder. Raises ProblemsFound."""
    try:
        return tuple(_from_own_folder(find(kind, name)) for name in names)
    except WrongUsage as error:
        raise ProblemsFound([problem_from(Refusal(path, str(error), ""), settings.places)]) from None


def _from_own_folder(path: Path) -> Path:
    inside = own_folder() / path
    return inside if inside.is_file() else path


def own_out(settings: Settings) -> Path:
    """The folder that finished PDFs are written into."""
    return own_folder() / (settings.out or _USUAL_OUT)
