"""The sentences of the notes: every key that reckoning may use."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from cardmaker.model.plan import Note
from cardmaker.wording.formatters import Units, tape_length
from cardmaker.wording.phrases import capitalised

BENCH_NOTES: Final = {
    "end_sticks": "The {yarn} yarn, about {across} mm thick, does not pass a hole of {hole} mm: change yarn or loom.",
    "knot_sticks": "The {yarn} yarn, about {across} mm thick, passes a hole of {hole} mm, but no join in it will.",
    "long_float": "Pattern end {end} floats over {rows} picks: past {sensible} it catches and pulls.",
    "stack_too_high": (
        "{ends} ends stand {stack} mm high in one layer, and the pegs {peg} mm: push them down often, "
        "or the last ones come out longer."
    ),
    "longer_route": "{pegs} makes every end {spare} longer than asked: have {metres} m of yarn more than the sums say.",
    "across_a_room": "A warp across a room is a line to trip over: mark it, stay with it, and take it down.",
    "pull": (
        "The warp pulls with about {newtons} N ({kilograms} kg) at rest, more when you lean: tie the loom to what "
        "cannot tip."
    ),
    "estimates": "All figures but the counts are estimates.",
}

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


def note_sentence(note: Note, units: Units) -> str:
    """A note's sentence, with its values put in."""
    values = {key: _value_in_words(value, units) for key, value in note.values.items()}
    lie, it, them = ("lies", "it", "it") if note.values.get("count") == 1 else ("lie", "they", "them")
    values |= {"lie": lie, "it": it, "them": them}
    return capitalised((_NOTES | BENCH_NOTES)[note.key].format(**values))


def _value_in_words(value: str | int | Fraction, units: Units) -> str:
    return tape_length(value, units) if isinstance(value, Fraction) else str(value)


NOTES: Final = "Take care"
