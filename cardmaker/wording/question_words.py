"""The questions that are asked in a terminal: how one looks, what can be answered to any, those about a pattern."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from cardmaker.model.loom import Loom
from cardmaker.model.named_colours import NAMED_COLOURS
from cardmaker.model.plan import Run
from cardmaker.wording.phrases import did_you_mean, end_count, listed

TITLE: Final = "First Tape"
NONE: Final = "none"
ALL, HALF = "all", "half"
YES, NO = "yes", "no"
BACK, WHY = "back", "?"
_MOST_FILES: Final = 12  # that are named in an explanation

WELCOME: Final = (
    f"Some questions. Enter alone takes what is offered, {BACK} goes back a question, {WHY} explains, "
    "Ctrl-C leaves and writes nothing."
)
NOT_ALL: Final = "The questions were not all answered. No file was written."
NOT_WRITTEN: Final = "No file was written."
LOOKS_ALIKE: Final = "Write each colour once."
AT_THE_FIRST: Final = "This is the first question."
NO_MORE_TO_SAY: Final = "There is no more to say about this one."
NEEDS_AN_ANSWER: Final = f"This needs an answer; {WHY} explains."


class Choice(NamedTuple):
    """One answer of several, and what it means."""

    word: str
    meaning: str = ""


class Question(NamedTuple):
    """A question with an example, what Enter alone means, and more words for whoever asks for them.

    One with choices is answered by a number or by first letters. ``remembered``: after going back, the answer given
    before is what is offered.
    """

    text: str
    example: str = ""
    default: str = ""
    explanation: str = ""
    choices: tuple[Choice, ...] = ()
    remembered: bool = True

    @property
    def lines(self) -> list[str]:
        """The question, and how to answer it."""
        wide = max((len(choice.word) for choice in self.choices), default=0)
        listed_choices = [
            f"  {number} {choice.word:<{wide}}  {choice.meaning}".rstrip()
            for number, choice in enumerate(self.choices, start=1)
        ]
        how = [f"For example: {self.example}." if self.example else "", self._alone]
        return [self.text, *listed_choices, *([f"  {' '.join(filter(None, how))}"] if any(how) else [])]

    @property
    def _alone(self) -> str:
        return f"Enter alone: {self.default}" if self.default else ""


def write_question(files: Sequence[str]) -> Question:
    choices = (Choice(YES, "write"), Choice(NO, "write nothing, and leave"))
    explanation = f"Nothing has been written so far. {BACK} goes back to what you would like to change."
    return Question(f"Shall {listed(files)} be written as shown?", "", YES, explanation, choices, remembered=False)


def title_question(default: str) -> Question:
    explanation = "The title stands at the top of the card, and the file is named by it: Gate Band in gate-band.yaml."
    return Question("What is the tape called?", "Gate Band", default, explanation)


USES: Final = Question(
    "What is it for? Several things with commas between.",
    "bookmark, bag tie",
    "trying out",
    "It is printed beside the title, and a binder can be sorted by it.",
)
COLOUR_NAMES: Final = Question(
    "Which colours does it have, that of the edge first?",
    "red, dark blue",
    "blue, white",
    "A name for each yarn, as you call it. The stripes are told with them. Two yarns of one colour need two names.",
)
WAY: Final = Question(
    "How will you tell the stripes?",
    default=HALF,
    explanation="A tape that is the same from both edges need be told only to its middle stripe, which counts once.",
    choices=(
        Choice(ALL, "all of them, from the left edge to the right"),
        Choice(HALF, "half of them, from the edge to the middle, which is counted once"),
    ),
)


def length_question(default: str) -> Question:
    explanation = "Of tape as you will use it. What the warp needs more, and the loom wastes, is reckoned for you."
    return Question("How much tape do you want, woven and washed?", "60 in, or 1.5 m", default, explanation)


def yarn_question(name: str, default: str, files: Sequence[str]) -> Question:
    """``files`` are the yarns at hand that have a file of their own."""
    named = f" Or one that has a file: {listed(files[:_MOST_FILES], 'or')}." if files else ""
    explanation = (
        "The label says it: 8/2 cotton is two threads of size 8 twisted together. The width of the tape and the weight "
        "of yarn come from it. Fibres: linen, cotton, cottolin, wool, silk, hemp, other."
        f"{named}"
    )
    text = f"{name}: which yarn? Fibre and count as on its label."
    return Question(text, "linen 20/2, or wool 28/2 metric", default, explanation)


def colour_question(name: str, default: str) -> Question:
    known = listed(list(NAMED_COLOURS), "or")
    explanation = f"Only for the picture. Write {known}; or # and six signs from a colour chart."
    return Question(
        f"{name}: which colour shall be printed? A name, # and six signs, or {NONE}.",
        "green, or #4A6B3F",
        default,
        explanation,
    )


_STRIPES: Final = (
    "A count and a colour for each stripe, such as 2 blue, 9 white. Put commas or spaces between them; "
    "you need not tell all at once."
)


def stripes_question(names: Sequence[str], half: bool) -> Question:
    """The default has every colour once, a wide one in the middle, and is the same from both edges."""
    way_in = [f"2 {name}" for name in names[:-1]]
    default = ", ".join([*way_in, f"9 {names[-1]}"] if half else [*way_in, f"9 {names[-1]}", *reversed(way_in)])
    if half:
        text = "The stripes from the edge to the middle: how many ends, and which colour? The last one is the middle."
        return Question(text, f"3 {names[0]}, 7 {names[-1]}", default, _STRIPES)
    text = "The stripes from the left edge to the right: how many ends, and which colour?"
    return Question(text, f"3 {names[0]}, 7 {names[-1]}, 3 {names[0]}", default, _STRIPES)


def more_stripes_question(stripes: Sequence[tuple[int, str]], half: bool) -> Question:
    """What has been counted so far, with its running total, and whether there is more."""
    total, counted = 0, []
    for count, name in stripes:
        total += count
        counted.append(f"{count} {name} ({total})")
    whole = f", so {end_count(2 * total - stripes[-1][0])} from edge to edge" if half else ""
    text = f"{', '.join(counted)}: {end_count(total)}{whole}. More stripes?"
    explanation = f"In brackets is the total so far. More stripes are added behind; {BACK} takes the last ones away."
    return Question(text, "", THAT_IS_ALL, explanation, remembered=False)


THAT_IS_ALL: Final = "that is all"


def loom_question(looms: Sequence[Loom], default: str) -> Question:
    choices = (*(Choice(each.stem, f"{each.title}, {each.capacity} ends at most") for each in looms), Choice(NONE))
    explanation = "The card is for one loom: it counts that loom's holes and slots."
    return Question("Which loom?", "", default, explanation, choices)


# Why an answer cannot be taken


def too_long(most: int) -> str:
    return f"That is too long: write {most} letters at most."


def is_there(file: str) -> str:
    return f"{file} is there already. Choose another name, or move it away."


def no_letter(text: str) -> str:
    return f"'{text}' has no letter or digit to name a file by."


def no_sign(sign: str) -> str:
    return f"The sign {sign} cannot stand in a file. Leave it out."


def no_name(text: str, most: int) -> str:
    return f"'{text}' is no name for a colour. Begin it with a letter, and write {most} letters at most."


def too_many(most: int) -> str:
    return f"Write {most} colours at most."


def no_colour(text: str) -> str:
    known = listed(list(NAMED_COLOURS), "or")
    return f"'{text}' is no colour that is known here. Write {known}, or # and six signs, as in #2F4A7D."


def one_file_one_colour(other: str, file: str) -> str:
    return f"{other} is of {file} too, and of that colour: two yarns of one file need two colours, or one name."


def no_choice(text: str, choices: Sequence[Choice]) -> str:
    words = [choice.word for choice in choices]
    return f"'{text}' is none of these. {did_you_mean(text, words, 'Write a number or the first letters.')}"


def several_choices(text: str, fitting: Sequence[str]) -> str:
    return f"'{text}' may be {listed(fitting, 'or')}. Write more letters, or the number."


def not_a_colour_of_it(name: str, names: Sequence[str]) -> str:
    return f"'{name}' is not one of your colours. {did_you_mean(name, names, f'You have {listed(names)}.')}"


def no_length(text: str) -> str:
    return f"'{text}' is no length. Write more than nothing, as in 2 yd."


# What was understood


def summary_lines(name: str, runs: Sequence[Run], same_both_ways: bool, holding: Sequence[str]) -> list[str]:
    """The ends in all, the stripes with running totals, the two edges, and the looms."""
    alike = "the same from both edges" if same_both_ways else "not the same from both edges"
    wide = max(len(run.yarn) for run in runs)
    stripes = [f"  {run.ends:>4} {run.yarn:<{wide}}  total {run.total:>4}" for run in runs]
    held = f"Looms at hand that hold it: {', '.join(holding)}." if holding else "No loom at hand holds it as it is."
    return [f"{name}: {end_count(runs[-1].total)}, {alike}.", *stripes, held]


def unused(names: Sequence[str]) -> str:
    return f"No stripe has {listed(names, 'or')}: only the weft could be of it."
