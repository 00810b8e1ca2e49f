"""Values and names of a file in the words that its problems are told with."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Final

from cardmaker.reading.source_text import word_of_sign

Sentence = tuple[str, str]
FIGURES: Final = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12,
}  # fmt: skip
FILLERS: Final = frozenset(("x", "×", "*", "end", "ends", "thread", "threads", "of"))  # 2 x blue, 2 ends of blue
_MOST_OF_A_NAME: Final = 80  # longer texts are prose: what has no room stands on the back


def quoted(value: object) -> str:
    """A value as a person wrote it, in single quotes, not longer than a line holds."""
    return f"'{decimal_text(value) if isinstance(value, Fraction) else word_of_sign(str(value))}'"


def decimal_text(value: Fraction | int | float) -> str:
    """A number as typed: ``10000`` as 10,000 and 5/2 as 2.5."""
    return f"{int(value):,}" if value == int(value) else f"{float(value):.10f}".rstrip("0")


def listed_choices(words: Iterable[str]) -> str:
    """``a, b or c``, in the order given."""
    *most, last = words
    return f"{', '.join(most)} or {last}" if most else last


def overlong_text(value: str, most: int) -> Sentence:
    """What is said of a text that is longer than its place; ``most`` signs are the most."""
    why = ", which is what a small card has room for" if most <= _MOST_OF_A_NAME else ""
    return f"{quoted(value)} is {len(value):,} signs long.", f"Write {most:,} at most{why}."


def closest_names(word: str, known: Iterable[str]) -> str:
    """The known word most like this one, or an empty text when none is like it."""
    if len(word) > 60:
        return ""
    folded = {name.casefold(): name for name in known}
    if len(word) > 2 and (longer := [name for name in folded if name.startswith(word.casefold())]):
        return folded[longer[0]]
    from difflib import get_close_matches

    near = get_close_matches(word.casefold(), folded, n=1, cutoff=0.6)
    return folded[near[0]] if near else ""
