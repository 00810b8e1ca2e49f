"""Two letters for every yarn, so that a stripe has a name on a grey photocopy."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from itertools import count
from typing import Final

# The words of our demonstration patterns (common practice, no source): blue, brown and black must not all be B.
_COMMON: Final = {
    "white": "Wh", "blue": "Bu", "red": "Re", "brown": "Bn", "green": "Gr", "yellow": "Ye", "black": "Bk",
    "grey": "Gy", "gray": "Gy",
}  # fmt: skip
_ALPHABET: Final = "abcdefghijklmnopqrstuvwxyz"
_DIGITS: Final = "0123456789"
_NO_LETTER: Final = "Y"  # for yarn, where a name has no letter at all


def letters(names: Iterable[str]) -> dict[str, str]:
    """A code of two letters for every yarn name, of one for a name of one letter (``N``); no two alike even when
    capitals are ignored.

    Common colour words come first and have a code of their own; then, in the order given, each other name takes its
    first letter with the first that is free of: the first letters of its further words (``dark blue`` Db), its other
    letters, digits, and at last any letter. The same names in the same order always give the same codes.
    """
    in_order = tuple(dict.fromkeys(names))
    codes: dict[str, str] = {}
    for name in in_order:
        code = _COMMON.get(_plain(name), "")
        if code and code not in codes.values():
            codes[name] = code
    taken = {code.casefold() for code in codes.values()}
    for name in in_order:
        if name not in codes:
            codes[name] = next(code for code in _candidates(name) if code.casefold() not in taken)
            taken.add(codes[name].casefold())
    return {name: codes[name] for name in in_order}


def _plain(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold().strip()


def _candidates(name: str) -> Iterator[str]:
    """Codes for one name, the most telling first; then every capital with every letter and digit."""
    words = [word for word in map(_letters_of, _words(name)) if word]
    first = words[0][0].upper() if words else _NO_LETTER
    if len(words) == 1 and len(words[0]) == 1:  # N is N, and N5 is N5
        figures = [sign for sign in unicodedata.normalize("NFC", name) if sign in _DIGITS]
        yield from (first + figure for figure in figures or [""])
    second_letters: list[str] = [word[0] for word in words[1:]] + [letter for word in words for letter in word][1:]
    for second in [*second_letters, *_DIGITS[2:], *_ALPHABET]:
        yield first + second.lower()
    for capital in _ALPHABET.upper():
        for second in _ALPHABET + _DIGITS:
            yield capital + second
    for number in count(10):  # some thousand yarns: no longer two letters, but still no two alike
        yield f"{first}{number}"


def _words(name: str) -> Sequence[str]:
    """The name cut at all that is neither letter, mark nor digit: blanks, hyphens, slashes, underscores."""
    plain = unicodedata.normalize("NFC", name)
    return "".join(sign if unicodedata.category(sign)[0] in "LMN" else " " for sign in plain).split()


def _letters_of(word: str) -> str:
    """The letters that stay one letter in upper and in lower case (a sharp s does not)."""
    return "".join(sign for sign in word if sign.isalpha() and len(sign.upper()) == len(sign.lower()) == 1)
