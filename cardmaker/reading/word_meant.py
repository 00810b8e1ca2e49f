"""Which key or word was meant by one that is not known: other spellings, other words for it, a space left out.

Only a file that is refused asks for these; nothing is ever read as what it may have meant.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from cardmaker.reading.value_words import closest_names, quoted

_KEYS: Final = {
    "name": ("title",), "stripes": ("warp",), "threads": ("warp",), "sequence": ("warp",), "order": ("warp",),
    "colours": ("yarns",), "colors": ("yarns",), "materials": ("yarns",), "use": ("for",), "uses": ("for",),
    "purpose": ("for",), "description": ("about",), "material": ("fibre",), "size": ("count",), "ply": ("count",),
    "number": ("count", "ends"), "epi": ("ends_per_inch",), "wpi": ("wraps_per_inch",), "ypp": ("yards_per_pound",),
    "ppi": ("picks_per_inch",), "sett": ("ends_per_inch",), "hex": ("colour",), "times": ("repeat",),
    "warp": ("stripes",),
    "eyes": ("holes",), "long": ("length",), "note": ("notes",), "author": ("credit",), "licence": ("credit",),
}  # fmt: skip
CHOSEN_LATER: Final = {"loom": "loom", "layout": "layout", "paper": "paper", "hand": "hand", "units": "units"}
"""What a pattern does not say, because the command does."""
_WORDS: Final = {
    "flax": "linen", "silken": "silk", "woollen": "wool", "woolen": "wool", "merino": "wool", "worsted": "wool",
    "acrylic": "other", "polyester": "other", "nylon": "other", "rayon": "other", "viscose": "other",
    "slot": "slots", "slits": "slots", "eye": "hole", "imperial": "us", "inches": "us", "inch": "us", "yards": "us",
    "american": "us", "cm": "metric", "centimetres": "metric", "metres": "metric", "lefthanded": "left",
    "righthanded": "right", "back": "behind",
}  # fmt: skip


def other_names(key: str) -> Sequence[str]:
    """The keys that somebody may call by this name."""
    return _KEYS.get(key.casefold().strip(), ())


def closest_word(text: str, choices: Sequence[str]) -> str:
    """The choice that was meant: spelt nearly so, standing in the text beside other words, or called otherwise."""
    if near := closest_names(text, choices):
        return near
    words = re.findall(r"[^\W\d_]+", text.casefold())
    told = [word for word in (*words, *(_WORDS.get(each, "") for each in words)) if word in choices]
    around = [choice for choice in choices if len(words) == 1 and words[0] in choice.split()]
    return told[0] if told else around[0] if len(around) == 1 else ""


def glued_key(key: str, known: Iterable[str]) -> tuple[str, str, str] | None:
    """The known key in ``count:20/2`` or ``count=20/2``, what is wrong and what to write; None where there is none."""
    parts = re.fullmatch(r"\s*([^\s:=]+)\s*([:=])\s*(.+?)\s*", key)
    if not parts or not (name := closest_names(parts[1], known)):
        return None
    wrong = f"there is no space after '{parts[1]}:'." if parts[2] == ":" else f"{quoted(key)} has = for its colon."
    return name, wrong, f"Write '{name}: {parts[3]}'."
