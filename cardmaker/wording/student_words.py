"""What a student's, an event's and a visitor's card says besides: six numbers, the kit's tag, plain words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.pattern import Source
from cardmaker.model.plan import Plan
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.reckoning.threading.placement import space_label
from cardmaker.wording import heddle_words, phrases, shed_words, source_words, stripe_words, title_words, yarn_words
from cardmaker.wording.measures import Units, warp_length

WOVEN: Final = "how it is woven, which you see here."


def six_numbers(plan: Plan, segments: Sequence[Segment], units: Units) -> list[tuple[str, list[str]]]:
    """Ends, stripes, first space, empties, next shed, warp to wind: each label with its lines."""
    placement, loom = plan.placement, plan.loom
    stripes = ", ".join(_stripe(segment, plan).replace(" ", phrases.NO_BREAK) for segment in segments)
    rules = [
        f"{phrases.weavers_side(drawn, loom).upper()}: {shed_words.shed_word(loom, down)}".replace(
            " ", phrases.NO_BREAK
        )
        for drawn, down in ((loom.shuttle_down.other, True), (loom.shuttle_up.other, False))
    ]
    empty = heddle_words.empty_spaces(placement, loom).replace(" empty", "")
    return [
        ("ends", [str(plan.ends)]),
        (f"stripes from the {phrases.weavers_side('left', loom)}", [stripes]),
        (f"letters: {stripe_words.legend(plan).rstrip('.')}", []),
        (f"first space, {loom.title}", [heddle_words.first_place(plan)]),
        ("empty", [empty]),
        ("weft hangs: next shed", rules),
        ("warp to wind", [warp_length(plan.lengths.wind_mm, units)]),
    ]


def _stripe(segment: Segment, plan: Plan) -> str:
    letters = " ".join(plan.letters(yarn) for yarn in segment.yarns)
    return f"{segment.ends} {stripe_words.in_turn(letters) if segment.in_turn else letters}"


# the student

NAME_LINE: Final = "Name"
DATE_LINE: Final = "Date"
FOR_STUDENT: Final = "For you"


def history(source: Source | None) -> str:
    return source_words.source_sentence(source)


# the tag

TAG_CUT: Final = "cut here: tag for the kit"


def kit_tag(plan: Plan, units: Units) -> list[str]:
    """What lies on a kit so that nobody threads the wrong warp with it."""
    pattern = plan.pattern
    placement = plan.placement
    first = f"first space {space_label(placement.first_space, plan.loom)}, {phrases.a_space(placement.first_kind)}"
    yarns = yarn_words.yarn_kinds([pattern.yarn(colour.yarn) for colour in plan.colours])
    return [
        " ".join(
            part for part in (pattern.code, pattern.title, f"v{pattern.version}" if pattern.version else "") if part
        ),
        f"{phrases.end_count(plan.ends)} · {warp_length(plan.lengths.wind_mm, units)} · {plan.loom.title} · {first}",
        f"{yarns} {pattern.date}".strip(),
    ]


# the visitor

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
            (GUESS, f"{sentence} There is no single source. {phrases.capitalised(guessed) if guesses else ''}".strip()),
        ]
    else:
        rows = [(KNOW, sentence), (GUESS, guessed)]
    if source.differences:
        rows.append((NEW_HERE, "; ".join(source.differences) + "."))
    return rows


def in_plain_words(plan: Plan, units: Units) -> str:
    """What it is for and how wide, for somebody who has never seen a tape loom."""
    uses = phrases.listed(plan.pattern.purposes, "or") if plan.pattern.purposes else ""
    wide = title_words.width_fact(plan.width, units)
    return (
        f"Tape for {uses}, {wide} wide, of {plan.ends} threads."
        if uses
        else f"Tape, {wide} wide, of {plan.ends} threads."
    )


NAMED_ALT_TEXT: Final = "Blank lines for a name and a date."
