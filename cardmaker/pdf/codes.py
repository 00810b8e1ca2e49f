"""The codes that stand for the usual characters, the same in every document, so that a page can be drawn by itself.

A font of a PDF holds 255 characters. Those that cards are mostly made of have their place in the first font of a face
once and for all; what is beyond them gets a place when it is met, which only the document can give (:mod:`.tokens`).
"""

from __future__ import annotations

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
