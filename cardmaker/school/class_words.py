"""The sentences of a class's sheets: who has what, time, tools, what to watch for, what to buy."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from math import ceil
from typing import Final

from cardmaker.model.bench import SessionPlan
from cardmaker.model.pattern import Package, Pattern, Yarn
from cardmaker.model.plan import Plan
from cardmaker.model.school_class import ClassPlan, Done, Kit, SchoolClass
from cardmaker.model.units import GRAMS_PER_POUND, MM_PER_YARD
from cardmaker.wording import heddle_words, phrases, student_words, title_words, view_words, yarn_words
from cardmaker.wording.formatters import Units, decimal, duration, percent, tape_length, warp_length
from cardmaker.wording.time_words import warp_woven_off

HANDOUTS: Final = "Handouts"
TAGS: Final = "Kit tags"
TEACHER: Final = "The teacher’s sheet"
SHOPPING: Final = "What to buy"

CHOOSE: Final = "What to choose from"
SHEET_NAMES: Final = {"choose": CHOOSE, "handouts": HANDOUTS, "tags": TAGS, "teacher": TEACHER, "shopping": SHOPPING}

SPARE: Final = "spare kit"
SPARE_TAG: Final = "Spare kit"


def subtitle(school_class: SchoolClass, sheet: str) -> str:
    """What a sheet is, whose and when: the line below the class's name."""
    parts = (sheet, school_class.teacher, school_class.date, school_class.place)
    return "  ·  ".join(phrases.capitalised(part) for part in parts if part)


def foot(school_class: SchoolClass) -> str:
    return phrases.capitalised(phrases.sentence(school_class.marked_as)) if school_class.marked_as else ""


def hand(left_hand: bool) -> str:
    return "left hand" if left_hand else "right hand"


def numbered(number: int) -> str:
    return f"kit {number}"


def kit_and_hand(kit: Kit) -> str:
    """Which kit goes with a handout, as its tag says; and for which hand it is, if somebody has it."""
    return f"{numbered(kit.number)} · {hand(kit.left_hand)}" if kit.student else numbered(kit.number)


def sheet_title(school_class: SchoolClass, sheet: str) -> str:
    """A document's title."""
    return f"{school_class.title}: {sheet[:1].lower()}{sheet[1:]}" if sheet else school_class.title


# kit tags


def tag_facts(plan: Plan, units: Units, *, left_hand: bool) -> list[str]:
    """What tells a warp from another: ends, length, fibre, first space; and the hand, if it is the left."""
    ends, length, loom, first = student_words.warp_facts(plan, units)
    counted = " · ".join((ends, length, hand(True)) if left_hand else (ends, length))
    kinds = yarn_words.yarn_kinds([plan.pattern.yarn(colour.yarn) for colour in plan.colours])
    return [f"{counted}. {kinds}", f"{loom} · {first}"]


def tag_yarns(plan: Plan) -> list[tuple[str, str]]:
    """Each yarn with its letters and how many ends it has."""
    return [
        (colour.yarn, f"{colour.letters} {colour.yarn}{f' {colour.ends}' if colour.ends else ', weft only'}")
        for colour in plan.colours
    ]


def versioned(pattern: Pattern) -> str:
    """Code, version and date of a pattern."""
    parts = (pattern.code, title_words.version(pattern.version, brief=True), pattern.date)
    return " · ".join(part for part in parts if part)


# who has what

WHO: Final = "Who has what"
WHO_HEADS: Final = (
    "kit", "name", "handout", "loom", "pattern", "ends", "first space", "empty left", "empty right", "winding ends",
)  # fmt: skip
SIDES: Final = f"Left and right are named as the student sits; {view_words.FROM_BEHIND} where it says so."


def handout(kit: Kit, units: Units) -> str:
    """For which hand a student's handout is, and in what it differs from the others."""
    if (student := kit.student) is None:
        return ""
    large = "large" if kit.large_print else ""
    own = _UNITS[student.units] if student.units and student.units != units else ""
    return ", ".join(part for part in ("left" if kit.left_hand else "right", large, own) if part)


_UNITS: Final[dict[Units, str]] = {"metric": "metric", "us": "inches"}


def first_space(plan: Plan) -> str:
    """Where end 1 goes; and from where that is seen, if it is not the usual."""
    place = heddle_words.first_place(plan)
    return f"{place}, {view_words.FROM_BEHIND}" if plan.view.from_behind else place


# the time

TIME: Final = "Does it fit?"
STEPS: Final = ("wind", "thread", "dress", "weave")
# What counts as dressing: common practice, no source.
STEPS_KEY: Final = "Dress is tying on, winding on and the first inches."
DRESS_THREADED: Final = "Dress is the front knot and the first inches; the warp is on the beam: allow less than that."


def steps_key(school_class: SchoolClass) -> str:
    """What the step between threading and weaving is: of a loom that comes threaded the rest of it. Its minutes are
    those of the loom's file, which tells winding on with them."""
    return DRESS_THREADED if school_class.threaded_beforehand else STEPS_KEY


def time_steps(plan: Plan, time: SessionPlan) -> str:
    """The steps with their minutes, and their sum."""
    steps = [f"{step} {duration(minutes)}" for step, minutes in zip(STEPS, time.steps, strict=True) if minutes]
    return f"{pattern_on_loom(plan)}: {', '.join(steps)}; {duration(time.needed_minutes)} in all"


def pattern_on_loom(plan: Plan) -> str:
    return f"{plan.pattern.title} on {plan.loom.title}"


def kits_of(count: int, plan: Plan) -> str:
    """Before what they hold."""
    return f"{count} × {pattern_on_loom(plan)}:"


def pattern_seen(plan: Plan) -> str:
    """The same, and from where the loom is seen if that is not the usual."""
    return f"{pattern_on_loom(plan)}{f', {view_words.FROM_BEHIND}' if plan.view.from_behind else ''}"


def session_sentence(time: SessionPlan, students: Sequence[str], units: Units) -> str:
    """Whether they get done, by how much, and the warp that would just be woven off."""
    names = phrases.listed(students)
    if time.fits:
        spare = time.spare_minutes
        return f"{names}: done with {duration(spare)} to spare." if spare else f"{names}: just done."
    over = f"{names}: not done, by {duration(-time.spare_minutes)}."
    woven_off = warp_woven_off(time.sensible_warp_mm, units)
    if time.sensible_warp_mm is None:
        return f"{over} {phrases.capitalised(woven_off)}."
    return f"{over} About {tape_length(time.woven_mm, units)} gets woven; {woven_off}."


def no_pace(looms: Sequence[str]) -> str:
    return f"No pace is told in the file of {phrases.listed(looms)}, so nobody knows how long it takes there."


def session_of(school_class: SchoolClass, minutes: int) -> str:
    """How long the session is, and what is done before it."""
    done = done_beforehand(school_class)
    return f"session of {duration(minutes)}{f'; {done}' if done else ''}"


def done_beforehand(school_class: SchoolClass) -> str:
    """What is done before the class; nothing where nothing is."""
    if school_class.threaded_beforehand:
        return "the looms are threaded beforehand"
    return "the warps are wound beforehand" if school_class.wound_beforehand else ""


def winding_beforehand(times: Sequence[tuple[int, int]], unknown: int) -> str:
    """How long winding takes that is done before the session: kits, each with its minutes; those of no known pace are
    told apart, never guessed."""
    if not times:
        return ""
    kits, minutes = sum(count for count, _ in times), sum(count * each for count, each in times)
    sums = " + ".join(f"{count} × {duration(each)}" for count, each in times)
    more = f"; {phrases.plural(unknown, 'more kit')} on looms without a pace" if unknown else ""
    return f"Winding {phrases.plural(kits, 'kit')} beforehand: {duration(minutes)} ({sums}){more}."


NO_SESSION: Final = "The class file does not say how long the session is (session: 3 h), so there is no time plan."
PACE_IS_OF_LOOM: Final = (
    "At the pace in the looms’ files. It holds for somebody who has woven a tape or two: allow beginners much more."
)
PICKED_IS_GUESS: Final = "A row that is picked up by hand is counted as four plain picks, a guess."


def whose_pace(plans: Sequence[Plan]) -> str:
    """Whose the pace is, and of figures that no loom's file has a pace for picking up."""
    guessed = (
        each.pattern.pickup is not None and each.loom.pace is not None and each.loom.pace.picked_rows_per_minute is None
        for each in plans
    )
    return f"{PACE_IS_OF_LOOM} {PICKED_IS_GUESS}" if any(guessed) else PACE_IS_OF_LOOM


# tools

TOOLS: Final = "On the table"


def looms(counts: Sequence[tuple[str, int]]) -> str:
    return ", ".join(f"{count} × {title}" for title, count in counts)


def packing(shares: Sequence[tuple[int, int, str]], unknown: bool) -> str:
    """The packing sticks that the beams and warps of all students need, and how many of them go to which loom."""
    total = sum(count * sticks for count, sticks, _ in shares)
    each = ", ".join(f"{count} × {sticks} for {loom}" for count, sticks, loom in shares)
    more = ", and more for the looms whose files tell no beam" if unknown else ""
    return f"{phrases.plural(total, 'packing stick')}{f': {each}' if each else ''}{more}"


def gauges(students: int, cut_ribbons: Sequence[str]) -> str:
    """What a width is held against: the ribbon on the handout where that shows the whole tape as wide as it is."""
    counted = phrases.plural(students, "gauge")
    but = f", but not for {phrases.listed(cut_ribbons)}: use the notch of the record" if cut_ribbons else ""
    return f"{counted} (the ribbon on the handout will do{but})"


def tools(
    kits: int, students: int, sticks: str, crosses: int, gauge: str, done: Collection[Done] = frozenset()
) -> list[str]:
    """The tools with their counts for the whole class. One set for each kit or each student; common practice, no
    source. A warp wound as bundles has a cross in each of them, ``crosses`` in all: each needs keepers of its own.
    What is only for winding, threading and winding on is left out where the looms come threaded."""
    plural = phrases.plural
    in_kits = " (they are in the kits)" if "wound" in done else ""
    to_dress = [
        f"{plural(2 * crosses, 'keeper stick')}, two to a {'kit' if crosses == kits else 'cross'}, "
        f"and {plural(2 * crosses, 'band')} for their ends{in_kits}",
        f"{plural(kits, 'parking stick')}, one to a kit{in_kits}",
        sticks,
    ]
    to_thread = [
        f"{plural(students, 'blunt needle')} or threading hooks",
        f"{plural(2 * students, 'length')} of cord, one to tie on the beam and one to tie down the loom",
        f"{plural(2 * students, 'pin')}, two to a student, for marking the first and the last space",
    ]
    to_tie = [f"{plural(students, 'length')} of cord to tie down the loom"]
    return [
        *([] if "threaded" in done else to_dress),
        f"{plural(students, 'shuttle')}, one to a student",
        *(to_tie if "threaded" in done else to_thread),
        gauge,
        f"{plural(ceil(students / 2), 'pair')} of scissors, one between two",
        f"{plural(ceil(students / 3), 'tape measure')}, one between three",
    ]


# what to watch for

WATCH: Final = "What to watch for"
LEFT_HANDS: Final = "Left hands:"
BY_LEFT_HAND: Final = "By a left hand:"
FROM_PATTERNS: Final = "Notes of the patterns"
OWN_NOTES: Final = "Notes for this class"
CARE: Final = "The room"
# The room: common practice, no source; licences and rules are the venue's.
VENUE_FIRST: Final = "The venue’s own rules come first: ask for them before the day."

# Comfort: common practice, no source.
COMFORT: Final = "Feet flat, the tape at the height of the elbows; everybody stands up each time the warp is moved on."


def left_hands(names: Sequence[str]) -> str:
    """What is different for them, and that the tape is not."""
    cards = "handouts begin" if len(names) > 1 else "handout begins"
    mirrored = f"The {cards} at the other edge and the cross lies in the other hand; the tape is the same."
    return f"{phrases.listed(names)}. {mirrored}"


# shopping

AMOUNTS: Final = "Yarn in all"
BUY: Final = "What to buy"
WARP, WEFT = "warp", "weft"
TOTAL: Final = "Total"
ROUNDED: Final = (
    "Everything is multiplied first, added up exactly and rounded up once, where it is printed: "
    "rounded parts together may come to one more than their total."
)
UNKNOWN: Final = "–"


def kit_lines(plan: ClassPlan, units: Units) -> list[str]:
    """What is in the sums: how many kits of what, how long, and what is added."""
    school_class = plan.school_class
    lengths = list(dict.fromkeys(warp_length(each.lengths.wind_mm, units) for each in plan.plans))
    each_its_own = len(lengths) > 1
    counts = [
        f"{sum(kit.plan is each for kit in plan.kits)} × {title_words.card_title(each.pattern)} on {each.loom.title}"
        + (f" ({warp_length(each.lengths.wind_mm, units)})" if each_its_own else "")
        for each in plan.plans
    ]
    people = phrases.plural(len(plan.students), "student")
    spares = f" and {phrases.plural(len(plan.spares), 'spare kit')}" if plan.spares else ""
    warps = "" if each_its_own else f", every warp {lengths[0]}"
    extra = f"{percent(school_class.extra)} more than that" if school_class.extra else "nothing more for waste"
    done = done_beforehand(school_class)
    return [
        f"{people}{spares}{warps}: {'; '.join(counts)}.",
        *([f"{phrases.capitalised(done)}."] if done else []),
        f"In the sums: {_spare_ends(plan)}; {extra}.",
    ]


def _spare_ends(plan: ClassPlan) -> str:
    """How many spare ends of each colour every kit has."""
    own = plan.school_class.spare_ends
    counts = {each.pattern.length.spare_ends if own is None else own for each in plan.plans}
    if len(counts) > 1:
        return "the spare ends that each pattern asks for"
    (count,) = counts
    return f"{yarn_words.spare_ends(count)} in every kit" if count else yarn_words.spare_ends(count)


def yarn_and_shade(yarn: Yarn, with_colour: bool = False) -> str:
    """Fibre, count and shade; the colour as well where nothing else tells two yarns of one name apart."""
    parts = (yarn_words.yarn_kind(yarn), yarn.shade, yarn.colour if with_colour else "")
    return ", ".join(part for part in parts if part)


def package_in_words(package: Package) -> str:
    """How the yarn is sold: weight and length, each in the unit in which it comes out even."""
    held = []
    if (weight := package.weight_g) is not None:
        ounces = weight / GRAMS_PER_POUND * 16
        held.append(f"{decimal(ounces, 0)} oz" if ounces.denominator == 1 else f"{decimal(weight, 1)} g")
    if (length := package.length_mm) is not None:
        yards = length / MM_PER_YARD
        held.append(f"{decimal(yards, 0)} yd" if yards.denominator == 1 else f"{decimal(length / 1000, 1)} m")
    return ", ".join(held)


def not_priced(names: Sequence[str]) -> str:
    return f"Without a price, and not in the total: {phrases.listed(names)}."


def not_packed(names: Sequence[str]) -> str:
    verb = "is" if len(names) == 1 else "are"
    return f"Nothing tells how {phrases.listed(names)} {verb} sold, or how far a package goes."


PACKAGE_HOW: Final = "Write packages: in the class file, as in red: {weight: 50 g, price: 6 crowns}."
SEVERAL_CURRENCIES: Final = "Different currencies are not added together."
