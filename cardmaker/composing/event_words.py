"""The sentences of the small cards: the student's trouble lines, the kit's tag, the visitor's plain words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.composing import heddle_words, source_words, wording, yarn_words
from cardmaker.composing.measures import Units, both, decimal, warp_length
from cardmaker.nouns.pattern import Source
from cardmaker.nouns.plan import Plan
from cardmaker.reckoning.placement import space_label
from cardmaker.reckoning.segments import Segment
from cardmaker.units import MM_PER_YARD

WOVEN: Final = "how it is woven, which you see here."


def ticks(any_is_far: bool) -> str:
    """What the boxes are for, and what sets those at the far post apart, if there are any."""
    where = "a box with a foot is at the far post" if any_is_far else "every total is reached at home"
    return f"Tick as you wind; {where}."


def six_numbers(plan: Plan, segments: Sequence[Segment], units: Units) -> list[tuple[str, list[str]]]:
    """Ends, stripes, first space, empties, next shed, warp to wind: each label with its lines."""
    placement, loom = plan.placement, plan.loom
    stripes = ", ".join(_stripe(segment, plan).replace(" ", wording.NO_BREAK) for segment in segments)
    rules = [
        f"{wording.side(drawn, loom).upper()}: {wording.shed_word(loom, down)}".replace(" ", wording.NO_BREAK)
        for drawn, down in ((loom.shuttle_down.other, True), (loom.shuttle_up.other, False))
    ]
    empty = (
        f"{placement.empty_left} {wording.side('left', loom)}, {placement.empty_right} {wording.side('right', loom)}"
    )
    return [
        ("ends", [str(plan.ends)]),
        (f"stripes from the {wording.side('left', loom)}", [stripes]),
        (f"letters: {wording.legend(plan).rstrip('.')}", []),
        (f"first space, {loom.title}", [heddle_words.first_place(plan)]),
        ("empty", [empty]),
        ("weft hangs: next shed", rules),
        ("warp to wind", [warp_length(plan.lengths.wind_mm, units)]),
    ]


def _stripe(segment: Segment, plan: Plan) -> str:
    letters = " ".join(plan.letters(yarn) for yarn in segment.yarns)
    return f"{segment.ends} {wording.in_turn(letters) if segment.in_turn else letters}"


# when it goes wrong

TROUBLE: Final = "When it goes wrong"
TROUBLE_LINES: Final = (
    ("Two neighbours move together?", "A space was skipped there: thread again to the nearer edge."),
    ("One place will not open?", "Two ends are crossed: pull that pair out and swap."),
    ("One end or space left over?", "Look at its colour’s total; count it again at the last tick."),
    ("Loops at the edge?", "Pull the weft in after the shed is changed."),
    ("The shed sticks?", "Pluck it sideways; slide a finger behind the heddle."),
    ("An end broke?", "Count from the nearer edge; pin in a new one; no knot near the heddle."),
)


def trouble(is_fuzzy: bool) -> list[tuple[str, str]]:
    """Six lines; damping helps linen and wool only."""
    lines = list(TROUBLE_LINES)
    if is_fuzzy:
        question, answer = lines[4]
        lines[4] = (question, f"{answer[:-1]}; damp the yarn a little.")
    return lines


# the student

NAME_LINE: Final = "Name"
DATE_LINE: Final = "Date"
FOR_STUDENT: Final = "For you"


def history(source: Source | None) -> str:
    return source_words.source_sentence(source)


# the tag

TAG_CUT: Final = "cut here: tag for the kit"


def tag(plan: Plan, units: Units) -> list[str]:
    """What lies on a kit so that nobody threads the wrong warp with it."""
    pattern = plan.pattern
    placement = plan.placement
    first = f"first space {space_label(placement.first_space, plan.loom)}, {wording.a_space(placement.first_kind)}"
    yarns = yarn_words.yarn_kinds([pattern.yarn(colour.yarn) for colour in plan.colours])
    return [
        " ".join(
            part for part in (pattern.code, pattern.title, f"v{pattern.version}" if pattern.version else "") if part
        ),
        f"{wording.ends(plan.ends)} · {warp_length(plan.lengths.wind_mm, units)} · {plan.loom.title} · {first}",
        f"{yarns} {pattern.date}".strip(),
    ]


# the visitor

VISITOR: Final = "For visitors"
KNOW, GUESS, NEW_HERE = "What we know:", "What we guess:", "What is new here:"


def known(source: Source | None) -> list[tuple[str, str]]:
    """Three honest sentences, from what the source says; where it says nothing, so does the card."""
    if source is None:
        return [(KNOW, WOVEN), (GUESS, "where it comes from: no source is recorded.")]
    sentence = source_words.source_sentence(source)
    if source.grade == "F":
        return [(NEW_HERE, f"the design. {sentence}"), (KNOW, WOVEN)]
    guesses = [text for text in (source.certainty, source.colour_reason) if text]
    guessed = "; ".join(guesses) + "." if guesses else "all that the source does not say."
    if source.grade == "E":
        rows = [
            (KNOW, WOVEN),
            (GUESS, f"{sentence} There is no single source. {wording.capitalised(guessed) if guesses else ''}".strip()),
        ]
    else:
        rows = [(KNOW, sentence), (GUESS, guessed)]
    if source.differences:
        rows.append((NEW_HERE, "; ".join(source.differences) + "."))
    return rows


def in_plain_words(plan: Plan, units: Units) -> str:
    """What it is for and how wide, for somebody who has never seen a tape loom."""
    uses = wording.listed(plan.pattern.purposes, "or") if plan.pattern.purposes else ""
    wide = wording.width_fact(plan.width, units)
    return (
        f"Tape for {uses}, {wide} wide, of {plan.ends} threads."
        if uses
        else f"Tape, {wide} wide, of {plan.ends} threads."
    )


def walking(plan: Plan, units: Units) -> str:
    """Trips times length: half a joke, wholly useful."""
    total = plan.ends * plan.lengths.wind_mm
    far = both(f"{decimal(total / 1000, 0)} m", f"{decimal(total / MM_PER_YARD, 0)} yd", units)
    return f"{yarn_words.wind(plan.lengths, units)}: {plan.ends} trips, {far} of walking."
