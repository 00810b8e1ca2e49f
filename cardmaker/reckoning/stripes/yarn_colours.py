"""What colour a yarn goes by, in a word: its name says it, else its label, else what is printed for it."""

from __future__ import annotations

import re

from cardmaker.model.marks import Colour
from cardmaker.model.named_colours import NAMED_COLOURS
from cardmaker.model.pattern import Yarn


def colour_words(text: str) -> frozenset[str]:
    """The words of a name, in small letters; ``gray`` is ``grey``."""
    return frozenset(re.findall(r"[^\W\d_]+", text.casefold().replace("gray", "grey")))


def basic_colours(yarn: Yarn) -> frozenset[str]:
    """The common colours that a yarn is of: by its name, else by its shade, else the one that is printed most nearly.

    None where nothing tells.
    """
    for text in (yarn.name, yarn.shade):
        if found := colour_words(text) & NAMED_COLOURS.keys():
            return frozenset(found)
    return frozenset({nearest_colour(yarn.colour)} if yarn.colour else ())


def is_called(yarn: Yarn, colour: str) -> bool:
    """Whether a yarn is ``blue``, or ``tide blue``: all the words are in its name, its shade or its common colour."""
    return colour_words(colour) <= colour_words(f"{yarn.name} {yarn.shade}") | basic_colours(yarn)


def nearest_colour(colour: Colour) -> str:
    """The common colour whose sign (``#rrggbb``) lies nearest, by red, green and blue alone (a rule of ours)."""
    names = [name for name in NAMED_COLOURS if name != "gray"]
    return min(
        names,
        key=lambda name: sum((a - b) ** 2 for a, b in zip(_parts(colour), _parts(NAMED_COLOURS[name]), strict=True)),
    )


def _parts(colour: Colour) -> tuple[int, ...]:
    return tuple(int(colour[at : at + 2], 16) for at in (1, 3, 5))
