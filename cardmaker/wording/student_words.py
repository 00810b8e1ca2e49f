"""What a student's, an event's and a visitor's card says besides: six numbers, the kit's tag, plain words."""

from __future__ import annotations

from collections import Counter
from typing import Final

from cardmaker.model.pattern import Source
from cardmaker.model.plan import Plan
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.wording import heddle_words, phrases, source_words
from cardmaker.wording.formatters import Units, warp_length
from cardmaker.wording.phrases import NO_BREAK
from cardmaker.wording.title_words import likely_width
from cardmaker.wording.view_words import seen_from


def three_figures(plan: Plan, units: Units) -> list[tuple[str, str, str]]:
    """Ends, warp to wind, first space: each with its label and what stands below the figure."""
    warp, _, other = warp_length(plan.lengths.wind_mm, units).partition(" (")
    return [
        ("end" if plan.ends == 1 else "ends", str(plan.ends), ""),
        ("warp to wind", warp, f"({other}"),
        (
            first_space_label(plan),
            heddle_words.first_place(plan),
            heddle_words.empty_spaces(plan, brief=True),
        ),
    ]


def first_space_label(plan: Plan) -> str:
    """What it counts from, from where it is seen, and of which loom: ``End 1, from 0 as you sit, on Middle box:``."""
    seat = seen_from(plan.loom, brief=True)
    return f"End 1, {heddle_words.from_mark(plan.loom)} {seat}, on {plan.loom.title}:"


NAME_LINE: Final = "Name"
DATE_LINE: Final = "Date"
NAMED_ALT_TEXT: Final = "Blank lines for a name and a date."
FOR_STUDENT: Final = "For you"
TO_STUDENTS: Final = "To a student"  # on a card that is not hers
DONE: Final = "done for you"


def wound(plan: Plan, *, is_threaded: bool = False) -> str:
    """What a student sees to before she threads a warp that was wound beforehand; of one wound in order also where its
    ends come from: one after the other from the cross (common practice, no source)."""
    ends = phrases.end_count(plan.ends)
    if plan.winding.method == "bundle":
        return f"wound: {ends} in {phrases.plural(plan.winding.bundles, 'bundle')}"
    return f"wound: {ends}" if is_threaded else f"wound: {ends}; take them in turn from the cross"


def from_the_crosses(plan: Plan) -> str:
    """The same of a warp in bundles, each of which has its own cross; else nothing."""
    return "Each end comes next from its own bundle’s cross." if plan.winding.method == "bundle" else ""


WINDING: Final = "Winding: "


def student_notes(plan: Plan, *, is_wound: bool) -> list[str]:
    """What the file tells a student; what it marks as of winding only where she winds herself."""
    notes = plan.pattern.notes.student
    kept = [note for note in notes if not (is_wound and note.startswith(WINDING))]
    return [phrases.capitalised(note.removeprefix(WINDING)) for note in kept]


def warp_facts(plan: Plan, units: Units) -> list[str]:
    """What tells a warp from another: ends, length, loom, first space."""
    return [
        phrases.end_count(plan.ends),
        warp_length(plan.lengths.wind_mm, units),
        plan.loom.title,
        f"first space {heddle_words.first_place_seen(plan)}",
    ]


KNOW, GUESS, NOT_KNOWN, SURE, NEW_HERE = "Known", "Guessed", "Not known", "How sure", "New"
_SEEN_IN: Final = {"C": "Only words", "D": "Only a picture"}  # of the tape itself nothing is left


_BECAUSE: Final = ", because "


def known(source: Source | None, *, brief: bool = False) -> list[tuple[str, str]]:
    """Honest sentences with their labels, always in this order: what is known, how sure it is, what is guessed or not
    known, what is new. Where the source says nothing, so does the card.

    Of a tape that only words or a picture suggest these are what is known, and the tape is a guess unless somebody says
    how sure it is; one that is made in a manner is a guess. How sure somebody was is free text, of what is certain and
    of what is not: it stands under a label of its own. In ``brief`` what is new is told without its reasons.
    """
    if source is None:
        return [(NOT_KNOWN, "where it comes from.")]
    if source.grade == "F":
        return [(NEW_HERE, source_words.source_sentence(source))]
    sure = [(SURE, phrases.sentence(source.certainty))] if source.certainty else []
    changed = [each.split(_BECAUSE)[0] if brief else each for each in source.differences]
    new = [(NEW_HERE, "; ".join(changed) + ".")] if changed else []
    return [*_known_of(source), *sure, *_guessed(source, is_sure=bool(sure)), *new]


def _known_of(source: Source) -> list[tuple[str, str]]:
    """What there is to go by; nothing of a manner, which no piece was copied for."""
    what = source.what or "a tape"
    if seen_in := _SEEN_IN.get(source.grade):
        return [(KNOW, f"{seen_in}: {source.what or 'of a tape'}.")]
    if source.grade == "A":
        return [(KNOW, f"{what}, seen and copied.")]
    if source.grade == "B":
        return [(KNOW, f"from {'a photograph' if source.photograph else 'a photograph or record'} of {what}.")]
    return []


def _guessed(source: Source, *, is_sure: bool) -> list[tuple[str, str]]:
    """How it was woven, where none was seen or copied; its colours, where somebody believes that they were others; the
    look of a manner."""
    colours = source_words.guessed_colours(source)
    if source.grade == "E":
        told = source_words.source_sentence(source)
    elif source.grade in _SEEN_IN and not is_sure:
        told = "how it was woven." if colours else "how it was woven, and its colours."
    elif colours or is_sure:
        return [(GUESS, colours)] if colours else []
    else:
        return [(NOT_KNOWN, "all that the source does not say.")]
    return [(GUESS, f"{told} {phrases.capitalised(colours)}".strip())]


def in_plain_words(plan: Plan, units: Units, drawn: float = 1.0) -> list[str]:
    """What it is for and how wide, for somebody who has never seen a tape loom; and whether it is drawn smaller
    beside them, ``drawn`` times life size."""
    uses = [_with_article(purpose) for purpose in plan.pattern.purposes]
    what = f"A tape for {phrases.listed(uses, 'or')}" if uses else "A tape"
    wide = f"about {likely_width(plan.width, units, alone=True)}"
    return [f"{what},", f"{wide}{' wide' if drawn == 1 else DRAWN_SMALLER}."]


DRAWN_SMALLER: Final = ", drawn smaller"


def threads_by_colour(plan: Plan) -> str:
    """How many of the threads are of which colour, in the order in which they come: ``6 red, 19 white and 6 blue``; of
    a yarn that is more than a colour ``2 of brown cord``."""
    counts = Counter(plan.end_yarns)
    if len(counts) == 1:
        return f"All of {'it' if plan.ends == 1 else 'them'} {plan.end_yarns[0]}."
    told = [f"{count}{NO_BREAK}{'of ' if ' ' in yarn else ''}{yarn}" for yarn, count in counts.items()]
    return f"{phrases.listed(told)}."


def threads(plan: Plan) -> tuple[str, str]:
    """The number of threads, and the word for them: a visitor knows no ends."""
    return str(plan.ends), "thread" if plan.ends == 1 else "threads"


SHORT_NAME: Final = 16  # letters of a use that stay in one line


def _with_article(noun: str) -> str:
    """``a garter``, ``an apron tie``, not parted at the end of a line; nothing before a plural or what has an article
    of its own."""
    if noun.lower().startswith(("a ", "an ", "the ")) or (noun.endswith("s") and not noun.endswith("ss")):
        return noun
    together = noun.replace(" ", NO_BREAK) if len(noun) <= SHORT_NAME else noun
    return f"{'an' if noun[0].lower() in 'aeiou' else 'a'}{NO_BREAK}{together}"


ASK: Final = "Ask: "
HIDDEN_WEFT: Final = "Which thread goes from side to side, and why can you hardly see it?"
SHOWN_WEFT: Final = "Where can you see the thread that goes from side to side?"
PICKED_UP: Final = "Which threads did the fingers lift to make the figure?"
BARS: Final = "How can threads that run lengthwise make bars across?"
MIDDLE: Final = "Which thread is the middle one, and what colour is it?"
UNLIKE_EDGES: Final = "How do its two edges differ?"
LEAST_BAR: Final = 6  # ends of two yarns in turn: fewer make no bar that anybody sees


def visitor_notes(plan: Plan) -> list[str]:
    """What the file tells a visitor, without what it asks."""
    return [note for note in plan.pattern.notes.visitor if not note.startswith(ASK)]


def visitor_question(plan: Plan) -> str:
    """The one question to ask: the file's own, or one that this tape answers, so that tapes that lie side by side do
    not all ask the same."""
    asked = [note.removeprefix(ASK) for note in plan.pattern.notes.visitor if note.startswith(ASK)]
    if asked:
        return phrases.capitalised(asked[0])
    if plan.pickup is not None:
        return PICKED_UP
    if any(len(each.yarns) == 2 and each.ends >= LEAST_BAR for each in hand_counted(plan.runs)):
        return BARS
    if plan.end_yarns[0] != plan.end_yarns[-1]:
        return UNLIKE_EDGES
    if any(edge != plan.weft.yarn for edge in (plan.end_yarns[0], plan.end_yarns[-1])):
        return SHOWN_WEFT
    return MIDDLE if plan.same_both_ways and plan.ends % 2 and len(set(plan.end_yarns)) > 1 else HIDDEN_WEFT
