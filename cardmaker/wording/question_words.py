"""The questions of ``new --ask``, and what is said to an answer that will not do."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final, NamedTuple

from cardmaker.model.loom import Loom
from cardmaker.model.pattern import NAMED_COLOURS
from cardmaker.model.plan import Run
from cardmaker.wording.phrases import did_you_mean, end_count, listed

TITLE: Final = "First Tape"
NONE: Final = "none"
HALF, ALL = "half", "all"

WELCOME: Final = "Some questions. Enter alone takes the answer that is offered; Ctrl-C leaves, and writes nothing."
NOT_ALL: Final = "The questions were not all answered. No file was written."
LOOKS_ALIKE: Final = "Write each colour once."


class Question(NamedTuple):
    """A question with an example, and what Enter alone means."""

    text: str
    example: str
    default: str

    @property
    def lines(self) -> tuple[str, str]:
        """The question, and how to answer it."""
        return self.text, f"  For example: {self.example}. Enter alone: {self.default}"


def title_question(default: str) -> Question:
    return Question("What is the tape called?", "Harbour Rails", default)


USES: Final = Question("What is it for? Several things with commas between.", "bookmark, bag tie", "trying out")
COLOUR_NAMES: Final = Question("Which colours does it have, that of the edge first?", "red, dark blue", "blue, white")
WAY: Final = Question(
    f"How will you tell the stripes: {ALL}, from edge to edge, or {HALF}, from the edge to the middle?", ALL, HALF
)
LENGTH: Final = Question("How much tape do you want, woven and washed?", "60 in, or 1.5 m", "2 yd")


def yarn_question(name: str, default: str) -> Question:
    return Question(f"{name}: which yarn? Fibre and count as on its label.", "linen 20/2, or wool 28/2 metric", default)


def colour_question(name: str, default: str) -> Question:
    return Question(
        f"{name}: which colour shall be printed? A name, # and six signs, or {NONE}.", "green, or #4A6B3F", default
    )


def stripes_question(names: Sequence[str], half: bool) -> Question:
    """The default has every colour once, a wide one in the middle, and is the same from both edges."""
    way_in = [f"2 {name}" for name in names[:-1]]
    default = ", ".join([*way_in, f"9 {names[-1]}"] if half else [*way_in, f"9 {names[-1]}", *reversed(way_in)])
    if half:
        text = "The stripes from the edge to the middle: how many ends, and which colour? The last one is the middle."
        return Question(text, f"3 {names[0]}, 7 {names[-1]}", default)
    text = "The stripes from the left edge to the right: how many ends, and which colour?"
    return Question(text, f"3 {names[0]}, 7 {names[-1]}, 3 {names[0]}", default)


def loom_question(looms: Iterable[Loom], default: str) -> Question:
    at_hand = [f"{each.stem} ({each.capacity})" for each in looms]
    text = f"Which loom, or {NONE}? At hand, with the most ends that each holds: {', '.join(at_hand)}."
    return Question(text, "broad-paddle", default)


# Why an answer cannot be taken


def too_long(most: int) -> str:
    return f"That is too long: write {most} letters at most."


def is_there(file: str) -> str:
    return f"{file} is there already. Choose another name, or move it away."


def no_letter(text: str) -> str:
    return f"'{text}' has no letter or digit to name a file by."


def no_sign(sign: str) -> str:
    return f"The sign {sign} cannot stand in a pattern file. Leave it out."


def no_name(text: str, most: int) -> str:
    return f"'{text}' is no name for a colour. Begin it with a letter, and write {most} letters at most."


def too_many(most: int) -> str:
    return f"Write {most} colours at most."


def no_colour(text: str) -> str:
    known = listed(list(NAMED_COLOURS), "or")
    return f"'{text}' is no colour that is known here. Write {known}, or # and six signs, as in #2F4A7D."


def no_way(text: str) -> str:
    return f"'{text}' is neither {ALL} nor {HALF}. Write one of the two."


def not_a_colour_of_it(name: str, names: Sequence[str]) -> str:
    return f"'{name}' is not one of your colours. {did_you_mean(name, names, f'You have {listed(names)}.')}"


def no_length(text: str) -> str:
    return f"'{text}' is no length. Write more than nothing, as in 2 yd."


def no_loom(text: str, looms: Iterable[Loom]) -> str:
    return f"There is no loom named '{text}' at hand. Write {', '.join(each.stem for each in looms)} or {NONE}."


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
