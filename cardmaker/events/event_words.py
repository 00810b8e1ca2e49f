"""The sentences of an event's pages: what the hours hold, what to pack, and what to keep visitors from."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.event import Event, EventPlan, HoursHeld
from cardmaker.model.plan import Note, Plan
from cardmaker.school import class_words, kit_words
from cardmaker.wording import note_words, phrases, stripe_words, student_words
from cardmaker.wording.formatters import Units, duration, tape_length, warp_length

DAY: Final = "The day"
SHEET: Final = "The tapes on one page"
CARDS: Final = "Field cards"
LABELS: Final = "Labels for the table"
KIND_NAMES: Final = {"day": DAY, "sheet": SHEET, "cards": CARDS, "labels": LABELS}

ASKED: Final = "What visitors ask"
ONLY_RECORDED: Final = (
    "All answers stand in the patterns’ files, under source and notes. What is not here nobody has recorded: "
    "say that you do not know."
)
PACK: Final = "To pack"
CARE: Final = "Visitors and children near the warp"
OWN_NOTES: Final = "Notes for this day"


def document_title(event: Event, kind: str = "") -> str:
    """A document's title."""
    return f"{event.title}: {kind[:1].lower()}{kind[1:]}" if kind else event.title


def head_of_page(event: Event) -> str:
    """What stands over the tapes: the event, and when it is."""
    return f"{event.title}, {event.date}" if event.date else event.title


def line_below_title(event: Event, kind: str) -> str:
    """What a page is, who shows it, when and where."""
    return "  ·  ".join(phrases.capitalised(part) for part in (kind, event.by, event.date, event.ground) if part)


def foot_of_event(event: Event) -> str:
    return phrases.capitalised(phrases.sentence(event.marked_as)) if event.marked_as else ""


# what the hours hold


def hours_heading(event: Event) -> str:
    return f"What {duration(int(event.minutes))} hold"


def shown_there(event: Event) -> str:
    """``threading and weaving are shown, winding is done at home``."""
    acts = [act for act in ("winding", "threading", "weaving") if act in event.shown]
    at_home = [act for act, is_done in (("winding", "wound"), ("threading", "threaded")) if is_done in event.done]
    shown = f"{phrases.listed(acts)} {'is' if len(acts) == 1 else 'are'} shown"
    return f"{shown}, {phrases.listed(at_home)} {_is(at_home)} done at home" if at_home else shown


def _is(words: Sequence[str]) -> str:
    return "is" if len(words) == 1 else "are"


HELD_HEADS: Final = ("tape", "ends", "before weaving", "left to weave", "all of it takes", "woven then")
EACH_ALONE: Final = "Each as if it alone were on the loom."
AT_MOST: Final = "Whoever answers does not weave: this is the most that the hours hold."


def minutes_left(held: HoursHeld) -> int:
    """What is left for weaving once the loom is dressed; below nought it is not dressed in time."""
    if held.time is None:
        raise ValueError("the loom's file tells no pace")
    return held.time.session_minutes - sum(held.time.steps[:3])


def cells_of_hours(held: HoursHeld, units: Units) -> tuple[str, ...]:
    """A row of the table: what is done before weaving, what is left, and how much tape that gives, never more than
    there is."""
    plan, time = held.plan, held.time
    name, whole = (plan.pattern.title, str(plan.ends)), tape_length(plan.lengths.woven_mm, units)
    if time is None:
        return (*name, *[class_words.UNKNOWN] * 4)
    left = minutes_left(held)
    part = tape_length(time.woven_mm, units) if left > 0 and time.woven_mm > 0 else "none"
    return (
        *name,
        duration(sum(time.steps[:3])),
        duration(left) if left > 0 else "none",
        duration(time.steps[3]),
        f"all, {whole}" if time.fits else part,
    )


def hours_sentence(event: Event, held: HoursHeld, units: Units) -> str:
    """What becomes of the tape on the loom in the hours that there are, at the weaver's own pace."""
    plan, time = held.plan, held.time
    if time is None:
        return class_words.no_pace([plan.loom.title])
    if "weaving" not in event.shown:
        return f"Weaving is not shown; what comes before it takes {duration(sum(time.steps[:3]))}."
    if time.fits:
        spare = f", with {duration(time.spare_minutes)} to spare" if time.spare_minutes else ""
        more = ": bring a second warp" if time.spare_minutes >= time.needed_minutes else ""
        return f"The whole warp gets woven off, {tape_length(plan.lengths.woven_mm, units)} on the loom{spare}{more}."
    left, whole = minutes_left(held), tape_length(plan.lengths.woven_mm, units)
    if left <= 0 or time.woven_mm <= 0:
        return f"Not woven at all: the loom is dressed after {duration(sum(time.steps[:3]))}. Do more of it at home."
    return f"{duration(left)} of weaving give about {tape_length(time.woven_mm, units)} on the loom, of {whole}."


# what to pack


def things_to_pack(plan: EventPlan, units: Units, *, sheets: int, cards: int, labels: int) -> list[tuple[str, str]]:
    """What is packed with its counts, each after the words that stand before it in bold. Common practice, no source."""
    event, woven = plan.event, plan.on_loom.plan
    others = [each.pattern.title for each in plan.plans if each is not woven]
    return [
        (f"{woven.pattern.title}, to be woven:", kit_words.kit_holds(woven, event.done)),
        *[("", thing) for thing in _tools(event, woven, units)],
        *([("", _finished(others))] if others else []),
        ("Printed:", _printed(sheets, cards, labels)),
        ("", f"{phrases.plural(cards + 1, 'clip')}, one to a card and one for the page of tapes: paper blows away."),
        ("", "1 rope or bench, to keep visitors from the warp."),
    ]


def _tools(event: Event, woven: Plan, units: Units) -> list[str]:
    loom = woven.loom.title
    yarns = [colour.yarn for colour in woven.colours]
    to_wind = [f"Pegs or posts for a warp of {warp_length(woven.lengths.wind_mm, units)}."]
    to_thread = [
        f"1 loom: {loom}.",
        "1 blunt needle or threading hook, 2 lengths of cord, 2 pins for the first and the last space.",
    ]
    return [
        *([] if "wound" in event.done else to_wind),
        *(["1 length of cord to tie down the loom."] if "threaded" in event.done else to_thread),
        "1 shuttle, 1 pair of scissors, 1 tape measure, 1 lamp.",
        f"For a broken end: {phrases.plural(len(yarns), 'small ball')}, {phrases.listed(yarns)}.",
    ]


def _finished(titles: Sequence[str]) -> str:
    return f"{phrases.plural(len(titles), 'finished tape')} to show: {phrases.listed(titles)}."


def _printed(sheets: int, cards: int, labels: int) -> str:
    counted = phrases.listed(
        [
            phrases.plural(cards, "field card"),
            phrases.plural(labels, "label"),
            f"the tapes on {phrases.plural(sheets, 'page')}",
            "these pages",
        ]
    )
    return f"{counted}."


# visitors and children: common practice, no source; what holds is what the ground's own rules say

GROUND_FIRST: Final = "The rules of the ground and its stewards come first: ask for them before the day."
KEEP_OFF: Final = (
    "A loaded warp is a pulled string at the height of a child’s face: a rope or a bench stands between it and "
    "visitors, and nobody leans on it, walks behind it or stands in line with it."
)
LET_OFF: Final = "Before you leave the loom, let the warp off, and leave somebody of yours with it."
FINGERS: Final = (
    "One child at a time sits beside you, with its grown-up by: fingers stay out of the shed while it changes, and "
    "hair, scarves and cords away from the beam."
)
SHARP: Final = "Scissors, needles and pins lie on your side of the loom, and go home counted."
THREAD: Final = (
    "Thread and loose ends are gathered at once: small children put them into their mouths or round a finger."
)


def cautions_for_ground(event: Event, woven: Plan, units: Units) -> list[str]:
    """What somebody answers for who weaves among visitors; a warp across the way only where one is wound there."""
    across = [Note("caution", "pegs", "across_a_room", {})] if "winding" in event.shown else []
    pull = [note for note in woven.notes if note.key == "pull"]
    told = [note_words.note_sentence(note, units) for note in (*pull, *across)]
    return [GROUND_FIRST, KEEP_OFF, *told, LET_OFF, FINGERS, SHARP, THREAD]


# labels


def label_sentence(plan: Plan, units: Units) -> str:
    """What it is for and how wide, in plain words."""
    return " ".join(student_words.in_plain_words(plan, units))


def label_tape_alt_text(plan: Plan) -> str:
    return f"The tape at life size. {stripe_words.stripes_seen_alt_text(plan)}"
