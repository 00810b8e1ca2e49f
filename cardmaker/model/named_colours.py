"""Colours that go by a word: the signs that print them. Light and dark of one colour are two colours."""

from __future__ import annotations

from typing import Final

NAMED_COLOURS: Final = {
    "white": "#F4F0E4", "cream": "#EFE6CC", "natural": "#D9CBAA", "yellow": "#D9B13B", "gold": "#C08F2C",
    "orange": "#C4692E", "red": "#9C2F2B", "pink": "#CF8A8A", "purple": "#5E3B66", "blue": "#2F4A7D",
    "green": "#4A6B3F", "brown": "#6B4A2F", "grey": "#8A8A86", "gray": "#8A8A86", "black": "#26242A",
}  # fmt: skip
_SHADES: Final = {
    "light": 255, "lighter": 255, "pale": 255, "dark": 0, "darker": 0, "deep": 0,
}  # fmt: skip
_SHARE: Final = 0.45  # of the way to white or black: told apart in a grey copy, and still of its colour (by eye)


def named_colour(name: str) -> str:
    """The colour that a name speaks of, as # and six signs, or none: ``dark blue`` is darker than the table's blue."""
    words = name.casefold().replace("-", " ").split()
    colour = next((NAMED_COLOURS[word] for word in words if word in NAMED_COLOURS), "")
    towards = next((_SHADES[word] for word in words if word in _SHADES), None)
    if not colour or towards is None:
        return colour
    parts = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return "#" + "".join(f"{round(part + _SHARE * (towards - part)):02X}" for part in parts)
