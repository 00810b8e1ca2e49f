"""What stands for characters in a page's content, so that a page can be drawn by itself.

A font of a PDF holds 255 characters. Those that cards are mostly made of have their place in the first font of a face
once and for all. A text with others is a placeholder until the page is part of a document, which alone can give them
places; it stands between two control characters, which no text can hold, since they are refused before it is drawn.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from cardmaker.model.marks import Face

_LATIN: Final = "".join(map(chr, (*range(0xA1, 0xAD), *range(0xAE, 0x100))))
# The places are full: raised even digits, which no inch needs above its fraction bar, are met as unusual ones.
_BEYOND: Final = "ŒœŠšŽžŁłŐőŰűĄąĆćĘęŃńŚśŻż‘’“”‚„–—…•·′″⁄×−≈≤≥←→↑↓✓€⅓⅔⅛⅜⅝⅞⁵⁷⁹₀₁₂₃₄₅₆₇₈₉"
SPACE: Final = 32


def _placed() -> list[int]:
    """The code point at each of the 256 places: nothing at 0, a space at 32, and spaces where no place is taken."""
    others = dict.fromkeys("".join(map(chr, range(0x21, 0x7F))) + _LATIN + _BEYOND)
    free = [place for place in range(1, 256) if place != SPACE]
    places = [0] + [SPACE] * 255
    for place, character in zip(free, others, strict=False):
        places[place] = ord(character)
    return places


PLACES: Final = tuple(_placed())
CODES: Final = {chr(point): f"{place:02x}" for place, point in enumerate(PLACES) if place and point != SPACE} | {
    " ": "20", "\N{NO-BREAK SPACE}": "20",
}  # fmt: skip
FONT_NAMES: Final = {face: f"F{number}" for number, face in enumerate(Face, start=1)}


def usual(text: str) -> str | None:
    """The codes of a text in hexadecimal, or None when a character of it has no place of its own."""
    try:
        return "".join([CODES[character] for character in text])
    except KeyError:
        return None


_BEGIN, _END = "\x01", "\x02"
_CUT: Final = re.compile(f"[{_BEGIN}{_END}]")
_LETTERS: Final = dict(zip(Face, "abcdefgh", strict=False))
FACES: Final = {letter: face for face, letter in _LETTERS.items()}


def text_placeholder(face: Face, size: str, text: str) -> str:
    """Asks for the operator that shows this text, the face being set at this size already."""
    return f"{_BEGIN}{_LETTERS[face]}{size} {text}{_END}"


def has_placeholders(content: str) -> bool:
    """Whether a content asks for anything."""
    return _BEGIN in content


def filled(content: str, answers: Mapping[str, str]) -> str:
    """``content`` with every placeholder replaced by the answer to it."""
    pieces = _CUT.split(content)
    pieces[1::2] = [answers[placeholder] for placeholder in pieces[1::2]]
    return "".join(pieces)
