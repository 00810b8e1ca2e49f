"""The questions about a loom, a class and a folder to begin, and a heddle drawn in letters."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.loom import Loom, Space
from cardmaker.reckoning.threading.placement import space_label
from cardmaker.wording.phrases import a_space, listed, plural
from cardmaker.wording.question_words import NO, YES, Choice, Question

UNKNOWN: Final = "not known"
MOST_DRAWN: Final = 75  # signs in a line
_SIGNS: Final = {Space.SLOT: "|", Space.HOLE: "o"}
_APART: Final = 38  # spaces of a heddle up to which they are drawn with a gap between

LOOM_TITLE: Final = Question(
    "What is your loom called?", "Kitchen box", "My loom", "Its name stands on every card that is for it."
)
HEDDLES: Final = Question(
    "How many heddles has it?",
    default="one heddle",
    explanation="One board or paddle with slots and holes; or two of them that treadles move.",
    choices=(Choice("one heddle", "the warp is pressed down and lifted by hand"), Choice("two heddles", "on treadles")),
)
_COUNT_THEM: Final = (
    "A slot is long and open, its end slides in it. A hole is small and round and holds its end. They take turns, "
    "so there is at most one more of one kind. Count them all, also those that you never use; of two heddles count one."
)
SLOTS: Final = Question("How many slots has the heddle? Count them all.", "22", explanation=_COUNT_THEM)
HOLES: Final = Question("And how many holes?", "21", explanation=_COUNT_THEM)
OUTER: Final = Question(
    "As you sit at the loom: what is the leftmost space?",
    explanation="With as many slots as holes, one edge has a slot and the other a hole.",
    choices=(Choice("slot", "long and open"), Choice("hole", "small and round")),
)
BACK_HEDDLE: Final = Question(
    "How is the back heddle made?",
    default="same",
    explanation="Look at the leftmost space of both: are they of one kind, or is one a slot and the other a hole?",
    choices=(
        Choice("same", "just as the front one"),
        Choice("opposite", "a slot where the front one has a hole"),
    ),
)
IS_IT_SO: Final = Question(
    "Is your heddle like that?",
    default=YES,
    explanation="Count from the mark to both edges. If it is not so, go back and count the slots and holes again.",
    choices=(Choice(YES, "go on"), Choice(NO, "count again")),
    remembered=False,
)


def mark_question(middle: int) -> Question:
    explanation = (
        "To thread, you count from the middle outwards. Some begin with one on the middle space itself; others call it "
        "nothing, and say one on the space beside it. The cards count as you do."
    )
    choices = (
        Choice("counted as zero", "nothing: one is the space beside it"),
        Choice("counted as one", "one: the middle space is number one"),
    )
    text = f"The middle space is number {middle} from either edge. What do you say on it, when you count from there?"
    return Question(text, "", choices[0].word, explanation, choices)


def shuttle_question(*, two_heddles: bool) -> Question:
    when = "while your left foot is down" if two_heddles else "while the warp is pressed down"
    explanation = (
        f"It goes one way in this shed and back in the other, so that a glance tells which comes next. If you never "
        f"looked, say {UNKNOWN}: the cards then say that it is a guess."
    )
    choices = (Choice("left"), Choice("right"), Choice(UNKNOWN))
    return Question(f"To which side does your shuttle go {when}?", "", UNKNOWN, explanation, choices)


def hole_size_question(example: str) -> Question:
    explanation = (
        f"With it the cards warn of yarn that does not go through. A drill that just fits tells it; or {UNKNOWN}."
    )
    return Question("How wide is a hole?", example, UNKNOWN, explanation)


def waste_question(default: str) -> Question:
    explanation = (
        "What is tied up in front and behind, and the last stretch of warp that never comes through the heddle. Every "
        "warp is wound longer by it. When a tape is off the loom, measure what is left over and put that in."
    )
    return Question(
        "How much warp can your loom not weave, at both ends together?", "18 in, or 45 cm", default, explanation
    )


def drawn_heddle(loom: Loom) -> list[str]:
    """The heddle of a loom as its weaver sees it, in letters: slots, holes, the mark, and what the edges are called."""
    row, at = _row_of_spaces(loom)
    edges = [
        f"{space_label(space, loom)[1:]} to the {side} edge, {a_space(loom.kind_of(space))}"
        for space, side in ((1, "left"), (loom.spaces, "right"))
    ]
    middle = loom.middle_space
    mark = (
        "the mark, between two spaces" if middle is None else f"the mark: {a_space(loom.kind_of(middle))}, {loom.mark}"
    )
    counted = f"{plural(loom.slots, 'slot')} (|) and {plural(loom.holes, 'hole')} (o)"
    return [
        f"{loom.title}, as you sit before it: {counted}, {plural(loom.spaces, 'space')} in all.",
        f"  {row}",
        f"  {' ' * at}^ {mark}",
        f"  From the mark you count {', and '.join(edges)}. It holds {plural(loom.capacity, 'end')} at most.",
    ]


def _row_of_spaces(loom: Loom) -> tuple[str, int]:
    """The spaces as signs, and in which column the mark is. Of a wide heddle only its middle is drawn."""
    signs = [_SIGNS[loom.kind_of(space)] for space in range(1, loom.spaces + 1)]
    middle = (loom.spaces - 1) // 2  # of two, the left one
    if loom.spaces <= _APART:
        return " ".join(signs), 2 * middle + (loom.middle_space is None)
    if loom.middle_space is None:
        signs.insert(middle + 1, " ")
        middle += 1
    if loom.spaces <= MOST_DRAWN:
        return "".join(signs), middle
    half = MOST_DRAWN // 2 - 4
    return f"... {''.join(signs[middle - half : middle + half + 1])} ...", 4 + half


# Classes

CLASS_TITLE: Final = Question(
    "What is the class called?", "A Ribbon by Noon", "First Class", "It stands at the top of your sheets."
)
CLASS_DATE: Final = Question(
    "When is it?", "Saturday, 21 November", UNKNOWN, "Any words: they are printed as you write them."
)
STUDENTS: Final = Question(
    "Who comes? Names with commas between, each once; or a number, and the names come later.",
    "Anna, Bela, Chris; or 6",
    explanation="Each gets a kit, a handout and a tag with the name on it.",
)


def class_loom_question(looms: Sequence[Loom]) -> Question:
    choices = tuple(Choice(each.stem, f"{each.title}, {each.capacity} ends at most") for each in looms)
    explanation = "For all of them at first. In the file you can give each student another loom and pattern."
    return Question("At which loom do they weave?", "", choices[0].word, explanation, choices)


def class_pattern_question(patterns: Sequence[tuple[str, str]]) -> Question:
    choices = tuple(Choice(*each) for each in patterns)
    return Question("Which pattern do they weave?", "", choices[0].word, "Those that the loom holds.", choices)


def class_warp_question(default: str) -> Question:
    return Question("How long is every warp?", "3 yd, or 2.8 m", default, "All kits are wound alike, by this length.")


SESSION: Final = Question(
    "How long is the class, without the breaks?",
    "2 h 45 min",
    "3 h",
    "Your sheet tells how far they come in that time.",
)


# A folder to begin

UNITS: Final = Question(
    "Which units do you use first?",
    default="metric",
    explanation="The other ones follow in brackets, on every card.",
    choices=(Choice("metric", "metres and centimetres"), Choice("us", "yards and inches")),
)
PAPER: Final = Question(
    "What paper is in your printer?",
    explanation="Letter is 8 1/2 by 11 in (216 by 279 mm), A4 is 210 by 297 mm.",
    choices=(Choice("a4"), Choice("letter")),
)
HAND: Final = Question(
    "Which hand holds your shuttle first?",
    default="right",
    explanation="For a left hand the cards count and read from the right.",
    choices=(Choice("right"), Choice("left")),
)
BEGIN: Final = "First what you have, then a first pattern. All of it stands in text files that you can change later."


def first_stripes_question(default: str, loom: Loom) -> Question:
    text = f"The stripes of a first tape, left edge to right edge? {loom.title} holds {plural(loom.capacity, 'end')}."
    explanation = "A count and a colour for each stripe. Commas or spaces between; you need not tell all at once."
    return Question(text, "3 red, 5 white, 3 red", default, explanation)


def first_yarn_question(names: Sequence[str]) -> Question:
    text = f"Which yarn are they of ({listed(names)})? Fibre and count as on the label."
    explanation = "One kind for all of them; in the file each can have its own. Cotton 8/2 is a usual first yarn."
    return Question(text, "linen 20/2, or wool 28/2 metric", "cotton 8/2", explanation)


def begun(loom_title: str, pattern: str) -> list[str]:
    """What to do in a folder that has just been begun."""
    return [
        "This folder is begun. It is yours: every command that is run in it uses your loom, units and paper.",
        f"Next, your card for {loom_title}: cardmaker card {pattern}",
    ]
