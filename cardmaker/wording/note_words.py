"""The sentences of the notes: every key that reckoning may use."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import Final

from cardmaker.model.plan import Note
from cardmaker.wording.formatters import Units, small_length, tape_length, thickness, yarn_length
from cardmaker.wording.phrases import capitalised, listed

# What pulls, trips and catches: common practice, no source. The figures in them have theirs where they are reckoned.
BENCH_NOTES: Final = {
    "end_sticks": "The {yarn} yarn, about {across} thick, does not pass a hole of {hole}: change yarn or loom.",
    "knot_sticks": "The {yarn} yarn, about {across} thick, passes a hole of {hole}, but no join in it will.",
    "long_float": "Pattern end {end} floats over {rows} picks: past {sensible} it catches and pulls.",
    "same_shed": (
        "Pick-up rows {rows} put two picks in one shed, and from there the weft’s side tells the wrong shed: "
        "add a row of the other shed between, or take one out."
    ),
    "stack_too_high": (
        "{ends} ends stand {stack} high in one layer, and the pegs {peg}: push them down often, "
        "or the last ones come out longer."
    ),
    "longer_route": "{pegs} makes every end {spare} longer than asked: {more} of yarn, counted in here.",
    "no_pegs": "None of the places to wind at hand gives a warp of {length}.",
    "across_a_room": "A warp across a room is a line to trip over: mark it, stay with it, and take it down.",
    "pull": (
        "The warp pulls with about {newtons} N ({kilograms} kg) at rest, more when you lean: tie the loom to what "
        "cannot tip."
    ),
    "estimates": "All figures but the counts are estimates.",
}

# "children" points to 16 CFR 1120, ASTM F1816 and EN 14682; the other rules are common practice, no source.
_NOTES: Final = {
    "weft_differs": "The {weft} weft shows as small dots along the {edge} edges.",
    "edges_differ": "The edges differ: the {weft} weft shows as small dots along the {edge} one.",
    "thick_in_hole": "{thick} {lie} in a hole, where {it} may stick: pull {them} through before the rest is threaded.",
    "thick_counts": (
        "{thick} {lie} in a hole, where {it} may stick: pull {them} through before the rest is threaded. "
        "With {nearest} ends in all, an odd number of them between each two thick ones, every thick one can lie in "
        "a slot."
    ),
    "thick_shift": (
        "{thick} {lie} in a hole, where {it} may stick: pull {them} through before the rest is threaded. "
        "Planned one space further on, every thick one lies in a slot."
    ),
    "alike": "{one} and {other} look alike {ways}: go by their letters and hatching.",
    "moved": "All is moved one space to the {side}, because the {yarn} ends must lie in slots.",
    "short_warp": "Short warps waste a lot: only {share} % of this one becomes tape.",
    "fewer_pieces": "Of the pieces wanted ({wanted}) this warp gives {come}.",
    "turned": "Threaded from the other edge it is the same tape, turned end for end.",
    "other_figure": "Begin at the edge that is named here: from the other one the pick-up rows give another figure.",
    "loom_meant": (
        "The tape of {date} is said to be from {named}, which is not quite {loom}: its figures count as another loom’s."
    ),
    "no_shuttle": ("Nobody has noted to which side the shuttle flies on {loom}: watch it, and write it down here."),
    "no_weight": "Nothing tells what the {yarn} yarn weighs, so its grams are left out.",
    "guessed_length": "No length was asked for: the sums are for {length} of tape.",
    "no_tie_up": (
        "Nobody has noted which foot raises the front heddle of {loom}: press one, and write down here what it does."
    ),
    "chosen_loom": "{loom} is the smallest loom at hand that holds it.",
    "children": (
        "Put no neck, hood or chin cords on young children’s clothes: check the current standard for children’s wear."
    ),
}


# The same for whoever has the file at hand: what to write into it.
_OF_FILE: Final = {
    "thick_counts": (
        "{thick} {lie} in a hole, where {it} may stick. "
        "With {nearest} ends in all, an odd number of them between each two thick ones, every one can lie in a slot "
        "(say spaces: slots in the file)."
    ),
    "thick_shift": ("{thick} {lie} in a hole. Write spaces: slots under that yarn and everything moves by one space."),
    "loom_meant": (
        "The tape of {date} is said to be from {named}; if that is {loom}, spell it so, "
        "or its figures count as another loom’s."
    ),
    "no_shuttle": (
        "The file of {loom} does not say to which side the shuttle flies: write shuttle: {{{shuttle}}}, "
        "or the other way round."
    ),
    "no_tie_up": (
        "The file of {loom} does not say which foot raises the front heddle: press one, and write down what it does, "
        "as in tie_up: {{left_foot: front up, right_foot: back up}}."
    ),
}

# In brief, where the hands meet it; common practice, no source.
_IN_BRIEF: Final = {
    **dict.fromkeys(
        ("thick_in_hole", "thick_counts", "thick_shift"),
        "Thread the {yarn} {end} {where} before all others: {it} may stick.",
    ),
    "end_sticks": "The {yarn} yarn does not pass a hole: change yarn or loom.",
    "knot_sticks": "The {yarn} yarn passes a hole, but no join in it will.",
}


_LENGTHS: Final[dict[str, Callable[[Fraction, Units], str]]] = {
    "across": thickness, "hole": thickness, "stack": small_length, "peg": small_length, "more": yarn_length,
}  # fmt: skip
"""How the lengths of a note are written; all others are lengths of tape."""


def note_sentence(note: Note, units: Units, *, of_file: bool = False) -> str:
    """A note's sentence, with its values put in: as a weaver needs it on paper, or with what to write in her file."""
    sentences = _NOTES | BENCH_NOTES
    return _filled((_OF_FILE if of_file else {}).get(note.key, sentences[note.key]), note, units)


MOST_HOLES: Final = 4  # that are named: more are looked for in the picture


def thick_end_sentences(notes: Sequence[Note], units: Units, holes_of: Callable[[str], Sequence[str]]) -> list[str]:
    """In brief, what a thick yarn does in a hole of the heddle: for a card that is at hand when it is threaded. Which
    ends of a yarn these are is told by the names of their holes."""
    return [
        _filled(_IN_BRIEF[note.key], note, units, _in_holes(holes_of(str(note.values.get("yarn")))))
        for note in notes
        if note.key in _IN_BRIEF
    ]


def _in_holes(names: Sequence[str]) -> str:
    if len(names) > MOST_HOLES:
        return "in holes"
    return f"at {listed(names)}, {'a hole' if len(names) == 1 else 'holes'}," if names else "in a hole"


def _filled(sentence: str, note: Note, units: Units, where: str = "") -> str:
    values = {
        key: _LENGTHS.get(key, tape_length)(value, units) if isinstance(value, Fraction) else str(value)
        for key, value in note.values.items()
    }
    is_one = note.values.get("count") == 1
    thick = _thick_ends(note.values) if "of" in note.values else ""
    lie, it, them, end = ("lies", "it", "it", "end") if is_one else ("lie", "they", "them", "ends")
    counted = {"lie": lie, "it": it, "them": them, "end": end, "thick": thick, "where": where}
    return capitalised(sentence.format(**counted | values))


_ALL: Final = {1: "the", 2: "both"}


def _thick_ends(values: Mapping[str, str | int | Fraction]) -> str:
    """``1 of the 2 thick cord ends``, ``both thick cord ends``."""
    count, of, ends = values["count"], values["of"], f"thick {values['yarn']} {'end' if values['of'] == 1 else 'ends'}"
    if count != of:
        return f"{count} of the {of} {ends}"
    return f"{_ALL.get(int(of), f'all {of}')} {ends}"


NOTES: Final = "Take care"
