"""The sentences of the notes: every key that reckoning may use; and of versions."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from cardmaker.composing.bench_notes import BENCH_NOTES
from cardmaker.composing.measures import Units, tape_length
from cardmaker.composing.wording import capitalised
from cardmaker.nouns.pattern import Pattern
from cardmaker.nouns.plan import Note

_NOTES: Final = {
    "weft_differs": "The {weft} weft shows as small dots along the {edge} edges.",
    "edges_differ": "The edges differ: the {weft} weft shows as small dots along the {edge} one.",
    "thick_in_hole": "{count} of the {of} thick {yarn} ends {lie} in a hole, where {it} may stick: try {them} first.",
    "thick_counts": (
        "{count} of the {of} thick {yarn} ends {lie} in a hole, where {it} may stick. "
        "With {nearest} ends in all, every one can lie in a slot (say spaces: slots in the file)."
    ),
    "thick_shift": (
        "{count} of the {of} thick {yarn} ends {lie} in a hole. Write spaces: slots under that yarn "
        "and everything moves by one space."
    ),
    "alike": "{one} and {other} look alike {ways}: go by their letters and hatching.",
    "moved": "All is moved one space to the {side}, because the {yarn} ends must lie in slots.",
    "short_warp": "Short warps waste a lot: only {share} % of this one becomes tape.",
    "turned": "Threaded from the other edge it is the same tape, turned end for end.",
    "no_weight": "Nothing tells what the {yarn} yarn weighs, so its grams are left out.",
    "guessed_length": "No length was asked for: the sums are for {length} of tape.",
    "chosen_loom": "{loom} is the smallest loom at hand that holds it.",
    "children": (
        "No neck, hood or chin cords on young children’s clothes: check the current standard for children’s wear."
    ),
}


def note(note: Note, units: Units) -> str:
    """A note's sentence, with its values put in."""
    values = {key: _said(value, units) for key, value in note.values.items()}
    one = note.values.get("count") == 1
    values |= {"lie": "lies" if one else "lie", "it": "it" if one else "they", "them": "it" if one else "them"}
    return capitalised((_NOTES | BENCH_NOTES)[note.key].format(**values))


def _said(value: str | int | Fraction, units: Units) -> str:
    return tape_length(value, units) if isinstance(value, Fraction) else str(value)


def superseded(pattern: Pattern) -> str:
    """What this version replaces, and why: the last line of the history and the one before it.

    Nothing when the history stops at another version than the card's: the two would contradict each other.
    """
    if not pattern.changes:
        return ""
    latest = pattern.changes[-1]
    if pattern.version and latest.version != pattern.version:
        return ""
    told = f"Version {latest.version}, {latest.date}: {latest.what}."
    if len(pattern.changes) > 1:
        return f"{told[:-1]}; replaces version {pattern.changes[-2].version}."
    return told
