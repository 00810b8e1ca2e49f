"""What a document says of how it was made, read back from a file that nobody need trust: where each of its files
belongs, and the command that makes it again."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from typing import Any, Final, NamedTuple

from cardmaker.jobs.file_lookup import FOLDERS, SETTINGS_FILE
from cardmaker.jobs.files_to_carry import EDITION, KIND, folder_kind
from cardmaker.model.carried_file import Carried, is_plain_place
from cardmaker.model.file_names import name_anywhere
from cardmaker.pdf.attachments import CannotRestore, Held
from cardmaker.reading.read_file import FileKind, kind_of_file

_FILES: Final = frozenset({"--layout", "--loom", "--looms", "--pegs", "--places", "--prefer", "--to"})
_FLAGS: Final = frozenset({"--back", "--backs", "--duplex", "--one", "--stages"})
_TEXTS: Final = frozenset(
    {
        "--paper",
        "--hand",
        "--from",
        "--units",
        "--warp",
        "--title",
        "--by",
        "--supersedes",
        "--since",
        "--end",
        "--woven",
        "--turns-left",
    }
)
_OLD_PDFS: Final = frozenset({"--supersedes", "--since"})
_COMMANDS: Final = frozenset({"card", "binder", "sheet", "class", "event", "rescue"})
_LONGEST_TEXT: Final = 500
_TORN: Final = "what it says of how it was made is torn, or was not written by cardmaker"


class HowMade(NamedTuple):
    """Where each file belongs, by its name in the document; and the command, empty where it says none.

    ``options`` hold the names of files in the document where they are about files. ``needs`` are files that the command
    needs and the document does not carry.
    """

    places: Mapping[str, str]
    command: str = ""
    subjects: tuple[str, ...] = ()
    options: tuple[tuple[str, tuple[str, ...]], ...] = ()
    needs: tuple[str, ...] = ()

    @staticmethod
    def is_of_files(option: str) -> bool:
        """Whether an option names files."""
        return option in _FILES


def read_how_made(held: Held) -> HowMade:
    """What a document says of how it was made; of one that says nothing, where files of their kinds belong.

    Raises CannotRestore where a file would go to a place that is none, or two to one, or the rest is not as it was
    written.
    """
    try:
        told = _read(json.loads(held.how_made), held.files) if held.how_made else HowMade({})
    except (ValueError, TypeError, KeyError, RecursionError):
        raise CannotRestore(_TORN) from None
    places = {file.name: told.places.get(file.name) or _place_by_kind(file) for file in held.files}
    for file in held.files:
        _require_sound(places[file.name], file)
    if len({name_anywhere(place) for place in places.values()}) < len(places):
        raise CannotRestore("it carries two files for one place")
    return told._replace(places=places)


def _place_by_kind(file: Carried) -> str:
    kind = kind_of_file(file.data)
    folder = FOLDERS[folder_kind(kind)] if kind and kind != "settings" else FOLDERS["pattern"]
    return f"{folder}/{file.name}"


def _require_sound(place: str, file: Carried) -> None:
    """Raises CannotRestore for a place outside of the folder, for settings, and for a file that is none of ours in a
    folder that is none of ours."""
    name = place.rpartition("/")[2]
    if not is_plain_place(place) or name.casefold() == SETTINGS_FILE:
        raise CannotRestore(f"it carries a file for {place[:60]!a}, which is no place for it")
    kind: FileKind | None = kind_of_file(file.data)
    if place.rpartition("/")[0] not in FOLDERS.values() and kind in (None, "settings"):
        raise CannotRestore(f"it carries a file for {place[:60]!a}, which is not of any kind that cardmaker reads")


def _read(told: Any, files: Collection[Carried]) -> HowMade:
    """From plain data. Raises ValueError, TypeError, KeyError for anything that is not as it was written."""
    names = {file.name for file in files}
    if (told["kind"], told["edition"]) != (KIND, EDITION):
        raise ValueError("not of how it was made")
    places = {_text(name): _text(place) for name, place in dict(told["places"]).items()}
    if not told.get("command"):
        return HowMade(places)
    command, needs = told["command"], tuple(map(_text, told["needs"]))
    subjects = tuple(_known(name, names) for name in told["of"])
    if command not in _COMMANDS or not subjects:
        raise ValueError("no command of ours")
    return HowMade(places, command, subjects, tuple(_option(each, names) for each in told["options"]), needs)


def _option(told: Any, names: Collection[str]) -> tuple[str, tuple[str, ...]]:
    option, *values = told
    if option in _FLAGS and not values:
        return option, ()
    if option in _FILES and values:
        return option, tuple(_known(value, names) for value in values)
    if option in _TEXTS and len(values) == 1:
        value = _text(values[0])
        if option in _OLD_PDFS and ("/" in value or "\\" in value):
            raise ValueError("no file beside")
        return option, (value,)
    raise ValueError("no option of ours")


def _known(name: Any, names: Collection[str]) -> str:
    if name not in names:
        raise ValueError("no file of the document")
    return str(name)


def _text(told: Any) -> str:
    if not isinstance(told, str) or not told.isprintable() or not 0 < len(told) <= _LONGEST_TEXT:
        raise TypeError("no text")
    return told
