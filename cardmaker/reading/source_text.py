"""From a file to text: its size, its encoding, and no sign in it that cannot be seen.

Why: everything after this works on ordinary text whose lines end alike, so that a place is what an editor shows.
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Final

from cardmaker.model.carried_file import LARGEST_FILE
from cardmaker.model.problems import Place, Problem, ProblemsFound

_MOST_SIGNS_LISTED: Final = 20
_SAVE: Final = "Save it again as plain text, with the encoding UTF-8."
_MARKS_OF_OTHER_ENCODINGS: Final = (b"\xff\xfe", b"\xfe\xff", b"\x00\x00\xfe\xff")
# C0 and C1 controls but for tab and line feed; separators that count as line ends; marks that reorder what is seen.
_UNWELCOME: Final = (
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufeff\ufffe\uffff]"
)
_NO_BREAK_INDENT: Final = re.compile(r"^ *(?:- *)?(\u00a0)", re.MULTILINE)
_OTHER_FORMATS: Final = (
    (b"{\\rtf", "a word processor's document (RTF)"), (b"PK\x03\x04", "a word processor's or spreadsheet's document"),
    (b"\xd0\xcf\x11\xe0", "an old word processor's or spreadsheet's document"), (b"%PDF-", "a PDF"),
    (b"\x89PNG", "a picture"), (b"\xff\xd8\xff", "a picture"), (b"<html", "a web page"),
    (b"<!doctype html", "a web page"),
)  # fmt: skip
_TAB_INDENT: Final = re.compile(r"^ *\t", re.MULTILINE)
_CONTROL_NAMES: Final = {
    0x00: "NUL", 0x07: "BELL", 0x08: "BACKSPACE", 0x0B: "VERTICAL TAB", 0x0C: "FORM FEED", 0x1A: "SUBSTITUTE",
    0x1B: "ESCAPE", 0x7F: "DELETE", 0x85: "NEXT LINE",
}  # fmt: skip
_INVISIBLE: Final = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u2800\u3164\uffa0") | {
    chr(n) for n in range(0xFE00, 0xFE10)
}


def file_bytes(path: Path) -> bytes:
    """All bytes of the file at ``path``. Raises ProblemsFound when there is no such file or it cannot be read."""
    try:
        if path.is_dir():
            raise _refused(path, "this is a folder, not a file.", "Name a file in it.")
        if path.stat().st_size > LARGEST_FILE:
            raise _too_large(str(path))
        if not path.is_file():
            raise _refused(path, "this is not an ordinary file.", "Name a text file.")
        with path.open("rb") as stream:
            return stream.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        from cardmaker.reading.missing_file import name_meant

        raise _refused(path, "there is no such file.", name_meant(path)) from None
    except PermissionError:
        raise _refused(path, "this file may not be read.", "Ask its owner for leave to read it.") from None
    except (OSError, ValueError):
        raise _refused(path, "this file cannot be read.", "Check its name, its folder and the disk.") from None


def text_of(raw: bytes, file: str) -> str:
    """The text of a file, without byte order mark, every line ended by a line feed. Raises ProblemsFound.

    A byte order mark of UTF-8 and the line ends of any system are simply accepted.
    """
    if len(raw) > LARGEST_FILE:
        raise _too_large(file)
    if found := next((what for mark, what in _OTHER_FORMATS if raw[:20].lower().startswith(mark.lower())), ""):
        raise ProblemsFound([Problem(file, Place(), "", f"this is {found}, not plain text.", _of_format(found, file))])
    text = _decoded(raw.removeprefix(b"\xef\xbb\xbf"), file).replace("\r\n", "\n").replace("\r", "\n")
    problems = [*_unwelcome_signs(text, file), *_tabs(text, file), *_no_break_spaces(text, file)]
    if problems:
        raise ProblemsFound(problems)
    return text


def sign_in_words(sign: str) -> str:
    """A sign that cannot be seen, by name: ``NUL (U+0000)``, ``RIGHT-TO-LEFT OVERRIDE (U+202E)``."""
    code = ord(sign)
    name = _CONTROL_NAMES.get(code) or unicodedata.name(sign, "CONTROL CHARACTER")
    return f"{name} (U+{code:04X})"


@cache
def _unwelcome() -> re.Pattern[str]:
    """Compiled when a text is not plain ASCII: that takes a millisecond."""
    return re.compile(_UNWELCOME)


def unwelcome_sign(text: str) -> str:
    """The first sign of ``text`` that no file may hold, or an empty text."""
    sign = None if text.isascii() and text.isprintable() else _unwelcome().search(text)
    return sign[0] if sign else ""


def invisible_sign(name: str) -> str:
    """The first sign of a name that cannot be seen, or an empty text. Two names that look alike must be alike."""
    for sign in name:
        if not sign.isascii() and (unicodedata.category(sign) in ("Cf", "Cc", "Zl", "Zp") or sign in _INVISIBLE):
            return sign
    return unwelcome_sign(name)


def word_of_sign(text: str, most: int = 60) -> str:
    """A text as a message may repeat it: on one line, not too long, every sign that cannot be seen spelled out."""
    line = " ".join(text[: 4 * most].split())
    line = line if len(line) <= most else f"{line[: most - 1]}…"
    if line.isascii() and line.isprintable():
        return line
    return "".join(f"[U+{ord(sign):04X}]" if invisible_sign(sign) else sign for sign in line)


def place_at(text: str, index: int) -> Place:
    """Line and column of a sign of the text, both counted from 1."""
    return Place(text.count("\n", 0, index) + 1, index - text.rfind("\n", 0, index))


def _refused(path: Path, message: str, remedy: str) -> ProblemsFound:
    return ProblemsFound([Problem(str(path), Place(), "", message, remedy)])


def _of_format(found: str, file: str) -> str:
    if found == "a PDF":
        return f"If it is a card, its files are in it: cardmaker restore {file}"
    return f"{_SAVE} Its name ends in .yaml."


def _too_large(file: str) -> ProblemsFound:
    message = "this file is larger than 1 MiB, more than any pattern, loom, pegs or card layout needs."
    return ProblemsFound([Problem(file, Place(), "", message, "Name the file that you typed.")])


def _decoded(raw: bytes, file: str) -> str:
    if raw.startswith(_MARKS_OF_OTHER_ENCODINGS) or _looks_like_utf_16(raw):
        message = "this file is saved as UTF-16 or UTF-32."
        raise ProblemsFound([Problem(file, Place(), "", message, _SAVE)])
    try:
        return raw.decode()
    except UnicodeDecodeError as error:
        before = raw[: error.start].decode().replace("\r\n", "\n").replace("\r", "\n")
        letter = raw[error.start : error.start + 1].decode("cp1252", errors="replace")
        message = f"the sign here, perhaps {letter}, is not saved as UTF-8."
        if not letter.isprintable() or letter == "\ufffd":
            message = f"the byte {raw[error.start]:#04X} here is not UTF-8 text.".replace("0X", "0x")
        place = place_at(before + " ", len(before))
        raise ProblemsFound([Problem(file, place, "", message, _SAVE)]) from None


def _looks_like_utf_16(raw: bytes) -> bool:
    """Whether every second byte of the beginning is nought or nearly so, as in English text saved as UTF-16."""
    start = raw[:400]
    return len(start) >= 4 and any(start[side::2].count(0) * 5 >= len(start[side::2]) * 4 for side in (0, 1))


def _unwelcome_signs(text: str, file: str) -> list[Problem]:
    if text.isascii() and text.replace("\n", "").replace("\t", "").isprintable():
        return []
    return [
        Problem(file, place_at(text, sign.start()), "", f"the sign {sign_in_words(sign[0])} stands here.", "Delete it.")
        for sign in islice(_unwelcome().finditer(text), _MOST_SIGNS_LISTED)
    ]


def _tabs(text: str, file: str) -> list[Problem]:
    """One problem for all lines that begin with a tab: YAML takes spaces only."""
    tabs = list(_TAB_INDENT.finditer(text))
    if not tabs:
        return []
    others = (
        f", and {len(tabs) - 1:,} more lines do so" if len(tabs) > 2 else ", and one more does so" if tabs[1:] else ""
    )
    message = f"this line is moved in with a tab{others}."
    return [Problem(file, place_at(text, tabs[0].end() - 1), "", message, "Use spaces, two for each step.")]


def _no_break_spaces(text: str, file: str) -> list[Problem]:
    """Spaces that word processors make, where a plain one tells how far a line is moved in."""
    found = None if text.isascii() else _NO_BREAK_INDENT.search(text)
    if not found:
        return []
    message = "the space here is one that word processors make, which is not a plain space."
    remedy = "Delete the spaces before the words of this line and type them again."
    return [Problem(file, place_at(text, found.start(1)), "", message, remedy)]
