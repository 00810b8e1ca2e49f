"""A problem in a file: where it stands, what was found, and what to write instead."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping
from typing import Final, NamedTuple

from cardmaker.model.record_class import record

Key = str | int
KeyPath = tuple[Key, ...]


class Place(NamedTuple):
    """Line and column in a file, both counted from 1."""

    line: int = 1
    column: int = 1


NO_LINE: Final = Place(0, 0)  # of a file that has no lines, whose places have names
_NO_KEYS: Final[Mapping[KeyPath, Place]] = {}


@record
class Places:
    """Where each key of a file stands, so that a later room can name the line of what it refuses.

    ``raw`` is the file as it was read, byte for byte: what was printed can be given back.
    """

    file: str = ""
    at: Mapping[KeyPath, Place] = _NO_KEYS
    raw: bytes = b""

    def of(self, path: KeyPath) -> Place:
        """The place of the key at ``path``, or of its nearest ancestor that has one."""
        while path:
            if path in self.at:
                return self.at[path]
            path = path[:-1]
        return self.at.get((), Place())


NOWHERE: Final = Places()  # of a record that no file describes


@record
class Problem:
    """One thing wrong in one file, told in one line: place, what was found, what to write instead.

    A note is not wrong, and fails nothing; its line says so.
    """

    file: str
    place: Place
    where: str
    message: str
    remedy: str = ""
    is_note: bool = False

    def __str__(self) -> str:
        note = "note: " if self.is_note else ""
        where = f"{self.where}: " if self.where else ""
        remedy = f" {self.remedy}" if self.remedy else ""
        place = f":{self.place.line}:{self.place.column}" if self.place != NO_LINE else ""
        return on_one_line(f"{self.file}{place}: {note}{where}{self.message}{remedy}")


class ProblemsFound(Exception):
    """Raised once per file with all of its problems, in the order of their lines."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(problems, key=lambda problem: (problem.file, problem.place)))
        super().__init__("\n".join(map(str, self.problems)))


class Refusal(Exception):
    """The arithmetic says no: ``path`` is the key of the pattern to point at.

    Reckoning does not know lines; the jobs turn a refusal into a :class:`Problem` with the file's places.
    """

    def __init__(self, path: KeyPath, message: str, remedy: str = "") -> None:
        self.path, self.message, self.remedy = path, message, remedy
        super().__init__(f"{message} {remedy}".strip())


def on_one_line(text: str) -> str:
    """The text as a terminal may be sent it: a sign that cannot be seen, or moves the cursor, is spelled out.

    Why: a file's name may hold line ends, escape sequences and marks that turn the line round.
    """
    if text.isprintable():
        return text
    visible = (sign.isprintable() or unicodedata.category(sign) == "Zs" for sign in text)
    return "".join(sign if plain else f"[U+{ord(sign):04X}]" for sign, plain in zip(text, visible, strict=True))


def path_in_words(path: KeyPath) -> str:
    """A key path as a person says it: ``yarns.red.colour``, ``warp item 3`` (counted from 1)."""
    words = ""
    for key in path:
        if isinstance(key, int):
            words += f" item {key + 1}"
        else:
            words += f".{key}" if words else str(key)
    return words


def problem_from(refusal: Refusal, places: Places) -> Problem:
    """The refusal with its line: the same words, placed in the file they are about."""
    return Problem(places.file, places.of(refusal.path), path_in_words(refusal.path), refusal.message, refusal.remedy)
