"""What a student's, an event's and a visitor's card says besides: six numbers, the kit's tag, plain words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.pattern import Source
from cardmaker.model.plan import Plan
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import heddle_words, phrases, shed_words, source_words, stripe_words, title_words, yarn_words
from cardmaker.wording.formatters import Units, warp_length
from cardmaker.wording.view_words import but_from_seat, edge_of_end_1, seen_from

WOVEN: Final = "how it is woven, which you see here."


def six_numbers(plan: Plan, segments: Sequence[Segment], units: Units) -> list[tuple[str, list[str]]]:
    """Ends, stripes, first space, empties, next shed, warp to wind: each label with its lines."""
    placement, loom = plan.placement, plan.loom
    stripes = ", ".join(_stripe(segment, plan).replace(" ", phrases.NO_BREAK) for segment in segments)
    rules = [
        f"{phrases.weavers_side(side, loom).upper()}: {opens.in_capitals}".replace(" ", phrases.NO_BREAK)
        for side, opens in shed_words.next_shed_rules(loom)
    ]
    seat = but_from_seat(plan.view)
    empty = heddle_words.empty_spaces(placement, loom).replace(" empty", "")
    guess = "" if loom.shuttle_stated else " (a guess)"
    try_it = " (try which foot)" if shed_words.TRY_IT in shed_words.next_shed_hints(loom) else ""
    return [
        ("ends", [str(plan.ends)]),
        (f"stripes from {edge_of_end_1(plan.view, brief=True)}", [stripes]),
        (f"letters: {stripe_words.legend(plan).rstrip('.')}", []),
        (f"first space, {loom.title}, {seen_from(loom, brief=True)}", [heddle_words.first_place(plan)]),
        (f"empty{heddle_words.in_front(placement)}", [empty]),
        (f"weft hangs{f', {seat}' if seat else ''}: next shed{try_it}{guess}", rules),
        ("warp to wind", [warp_length(plan.lengths.wind_mm, units)]),
    ]


def _stripe(segment: Segment, plan: Plan) -> str:
    letters = " ".join(plan.letters(yarn) for yarn in segment.yarns)
    return f"{segment.ends} {stripe_words.in_turn(letters) if segment.in_turn else letters}"


NAME_LINE: Final = "Name"
DATE_LINE: Final = "Date"
NAMED_ALT_TEXT: Final = "Blank lines for a name and a date."
FOR_STUDENT: Final = "For you"
DONE: Final = "done for you"
TAG_CUT: Final = "cut here: tag for the kit"


def wound(plan: Plan) -> str:
    """What a student sees to before she threads a warp that was wound beforehand."""
    return f"wound: {phrases.end_count(plan.ends)}, the cross is kept"


def warp_facts(plan: Plan, units: Units) -> list[str]:
    """What tells a warp from another: ends, length, loom, first space."""
    return [
        phrases.end_count(plan.ends),
        warp_length(plan.lengths.wind_mm, units),
        plan.loom.title,
        f"first space {heddle_words.first_place_seen(plan)}",
    ]


def kit_tag(plan: Plan, units: Units) -> list[str]:
    """What lies on a kit so that nobody threads the wrong warp with it."""
    pattern = plan.pattern
    parts = (pattern.code, pattern.title, title_words.version(pattern.version, brief=True))
    yarns = yarn_words.yarn_kinds([pattern.yarn(colour.yarn) for colour in plan.colours])
    return [
        " ".join(part for part in parts if part),
        " · ".join(warp_facts(plan, units)),
        f"{yarns} {pattern.date}".strip(),
    ]


KNOW, GUESS, SURE, NEW_HERE = "What we know:", "What we guess:", "How sure:", "What is new here:"


def known(source: Source | None) -> list[list[tuple[str, str]]]:
    """Honest sentences with their labels, in paragraphs; where the source says nothing, so does the card.

    How sure somebody was is free text, of what is certain and of what is not: it is neither knowledge nor a guess, and
    stands under a label of its own beside what was taken from the source.
    """
    if source is None:
        return [[(KNOW, WOVEN)], [(GUESS, f"where it comes from. {source_words.NO_SOURCE}.")]]
    sentence = source_words.source_sentence(source)
    if source.grade == "F":
        return [[(NEW_HERE, f"the design. {sentence}")], [(KNOW, WOVEN)]]
    guess = source_words.guessed_colours(source)
    sure = [(SURE, phrases.sentence(source.certainty))] if source.certainty else []
    if source.grade == "E":
        style = f"{sentence} There is no single source. {phrases.capitalised(guess)}".strip()
        rows = [[(KNOW, WOVEN)], [(GUESS, style), *sure]]
    else:
        rows = [[(KNOW, sentence), *sure]]
        if guess or not sure:
            rows.append([(GUESS, guess or "all that the source does not say.")])
    if source.differences:
        rows.append([(NEW_HERE, "; ".join(source.differences) + ".")])
    return rows


def in_plain_words(plan: Plan, units: Units) -> str:
    """What it is for and how wide, for somebody who has never seen a tape loom."""
    uses = f" for {phrases.listed(plan.pattern.purposes, 'or')}" if plan.pattern.purposes else ""
    return f"Tape{uses}, {title_words.width_fact(plan.width, units)} wide, of {phrases.plural(plan.ends, 'thread')}."
