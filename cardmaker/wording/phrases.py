"""The small words that all sentences are made with: counts, lists, sides, capitals and stops."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from cardmaker.model.loom import Loom, Space


def end_count(count: int) -> str:
    return plural(count, "end")


def plural(count: int, noun: str, nouns: str = "") -> str:
    return f"{count} {noun if count == 1 else nouns or noun + 's'}"


_TAKES_AN_S: Final = r"(?!.* (?:for|of|to|with|on|in) )[A-Za-z -]*[bcdegklmnprtw]"  # compiled when it is asked
_CHANGES: Final = ("fe", "man", "child", "foot", "tooth")  # have another plural


def so_many(count: int, thing: str) -> str:
    """``8 bookmarks``; with a sign, ``8 × brush``, where a name that somebody chose takes more than an s."""
    if count == 1:
        return f"1{NO_BREAK}{thing}"
    is_plain = re.fullmatch(_TAKES_AN_S, thing, re.ASCII) and not thing.endswith(_CHANGES)
    return f"{count}{NO_BREAK}{thing}s" if is_plain else f"{count}{NO_BREAK}×{NO_BREAK}{thing}"


def listed(words: Sequence[str], last: str = "and") -> str:
    """``a, b and c``."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"


def weavers_side(drawn: str, loom: Loom) -> str:
    """What the weaver calls the side that is drawn ``left`` or ``right``: the other one on a mirrored drawing."""
    return {"left": "right", "right": "left"}.get(drawn, drawn) if loom.sides_swapped else drawn


def capitalised(text: str) -> str:
    """The sentence with a capital first letter."""
    return f"{text[:1].upper()}{text[1:]}"


def sentence(text: str) -> str:
    """The text with a full stop, unless it has an ending of its own."""
    return text if text.endswith((".", "!", "?")) else f"{text}."


def a_space(kind: Space) -> str:
    return "a hole" if kind is Space.HOLE else "a slot"


NO_BREAK: Final = "\N{NO-BREAK SPACE}"


def page_in_words(number: str) -> str:
    """A bare number beside other numbers, for whoever cannot see where it stands."""
    return f"page {number}"


def page_briefly(number: str) -> str:
    """The number of a page beside a code, with which it might be read as one."""
    return f"p.{NO_BREAK}{number}"


def text_paragraphs(text: str) -> list[str]:
    """The paragraphs of a file's text: a line for each, as it was read."""
    return [" ".join(line.split()) for line in text.splitlines() if line.strip()]


def page_of(number: int, pages: int) -> str:
    """The number of a page among several: ``2 of 3``; nothing when it is the only one."""
    return f"{number} of {pages}" if pages > 1 else ""


def did_you_mean(name: str, known: Iterable[str], otherwise: str) -> str:
    """The known name that is most like ``name``, offered; ``otherwise`` where none is like it."""
    from difflib import get_close_matches

    near = get_close_matches(name, list(known), 1)
    return f"Did you mean {near[0]}?" if near else otherwise


LONGEST_TAPE: Final = 32  # letters of a tape's name beside a figure (ours)


def tape_named(pattern: str, date: str) -> str:
    """A tape that something was measured on: ``Three Paths, 2026``. A name is cut rather than crowd out a figure."""
    name = pattern if len(pattern) <= LONGEST_TAPE else f"{pattern[: LONGEST_TAPE - 1].rstrip()}…"
    return f"{name}, {date}" if date else name
