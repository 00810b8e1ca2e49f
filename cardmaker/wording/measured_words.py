"""Measuring a finished tape: what is asked, and what is said of what was understood and written."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.loom import Loom
from cardmaker.reckoning.amounts.taught_figures import TaughtFigures
from cardmaker.wording.formatters import decimal, percent
from cardmaker.wording.phrases import listed, plural, tape_named
from cardmaker.wording.question_words import NO, YES, Choice, Question

UNKNOWN: Final = "not known"
_SKIP: Final = f"or {UNKNOWN}"

DATE: Final = Question(
    "When did you measure it? A year is enough.",
    "2026-11-20",
    explanation="It stands on the cards beside each figure that comes from this tape. Year first, so that the youngest "
    "is found.",
)
WARP: Final = Question(
    "How long was the warp when it was wound?",
    f"3 yd, or 2.75 m, {_SKIP}",
    UNKNOWN,
    "From the first peg to the last. With the tape and what was left over it tells how much the weaving takes up.",
)
LEFTOVER: Final = Question(
    "How much of the warp could not be woven, in front and at the back together?",
    f"18 in, or 45 cm, {_SKIP}",
    UNKNOWN,
    "Lay the knots in front and what was cut off behind end to end. It is what the loom wastes of every warp.",
)
FRINGES: Final = Question(
    "How much warp was left bare on purpose, all fringes together?",
    f"12 in, {_SKIP}",
    UNKNOWN,
    "Both fringes of every piece. 0 in where there were none; not known: as the pattern asks for them.",
)
TAPE: Final = Question(
    "How long is the tape, washed and rested?",
    f"71 in, or 1.8 m, {_SKIP}",
    UNKNOWN,
    "All of it, without fringes; of several pieces all together. Washed as it will be, dried, and left overnight.",
)
WIDTH: Final = Question(
    "How wide is it?",
    f"15 mm, or 5/8 in, {_SKIP}",
    UNKNOWN,
    "In the middle of the tape, flat and without pulling. It tells how many ends of this yarn lie in an inch.",
)
PICKS: Final = Question(
    "How many picks are in an inch?",
    f"14, {_SKIP}",
    UNKNOWN,
    "Counted before washing, in three places away from the ends; take the one in the middle.",
)
NOTE: Final = Question("Anything else worth keeping? One line.", f"beaten too hard, {_SKIP}", UNKNOWN)
PRESS_DIP: Final = Question(
    "How far did the weight dip the warp while it wove well?",
    f"4 mm, {_SKIP}",
    UNKNOWN,
    "The mark that you made on the gauge of the bench card. Every later warp on this loom is held against it.",
)


def press_weight(default: str) -> Question:
    explanation = "What hung on the middle of the clear span."
    return Question("What did the weight weigh?", "50 g", default, explanation)


def loom_woven_on(looms: Sequence[Loom], default: str) -> Question:
    choices = tuple(Choice(each.stem, f"{each.title}, {each.capacity} ends at most") for each in looms)
    return Question("On which loom was it woven?", "", default, "What it wastes belongs to the loom.", choices)


def keep_for_yarns(yarns: Sequence[str], figures: TaughtFigures) -> Question:
    text = f"{sentence_of_figures(figures)} Shall every pattern in {listed(yarns)} reckon with it from now on?"
    explanation = (
        "It goes into the yarn's own file, with the name of this tape. What a pattern says itself still comes first."
    )
    return _offer(text, explanation)


def keep_for_loom(loom: str, waste: str, dip: str) -> Question:
    told = listed([*([f"{waste} of waste"] if waste else []), *([f"a dip of {dip}"] if dip else [])])
    text = f"{told[0].upper()}{told[1:]}. Shall every warp on {loom} be reckoned with it from now on?"
    return _offer(text, "It goes into the loom's own file, with the name of this tape.")


def _offer(text: str, explanation: str) -> Question:
    return Question(text, "", YES, explanation, (Choice(YES, "for all of them"), Choice(NO, "for this pattern alone")))


def sentence_of_figures(figures: TaughtFigures) -> str:
    """What a tape tells of its yarn: ``40.1 ends to the inch, 14.1 % taken up, 13.5 picks to the inch.``"""
    told = []
    if figures.ends_per_inch is not None:
        told.append(f"{decimal(figures.ends_per_inch, 1)} ends to the inch")
    if figures.take_up is not None:
        told.append(f"{percent(figures.take_up)} taken up")
    if figures.picks_per_inch is not None:
        told.append(f"{decimal(figures.picks_per_inch, 1)} picks to the inch")
    return f"{', '.join(told)}."


NO_FILE_OF_YARN: Final = (
    "No yarn of it has a file of its own, so this holds for this pattern alone. To keep it for others as well: "
    "cardmaker new --kind yarn, and name that yarn in the pattern."
)
NOT_OF_ONE_YARN: Final = (
    "The tape is of yarns that differ, so it tells nothing that holds for one of them: only this pattern keeps it."
)
NOTHING_MEASURED: Final = "Nothing was measured, so there is nothing to write."


def now_written(pattern: str, date: str, files: int) -> str:
    return f"Measured on {tape_named(pattern, date)}, and written into {plural(files, 'file')}."


def next_card_reckons(command: str) -> str:
    return f"Next: the card reckons with it: {command}"


def added_lines(path: str, lines: Sequence[str]) -> list[str]:
    """What is new in a file, for her to look at."""
    return [f"{path}, changed:", *(f"  {line}".rstrip() for line in lines)]


def no_press(loom: str) -> str:
    return f"--press-dip: the file of {loom} tells of no press, or nothing tells what the yarn weighs."


def own_copy(path: str) -> str:
    """Of a file that is shipped and is written into her own folder."""
    return f"{path} is your own copy of what is shipped: it is the one that is used from now on."


def not_yours(path: str) -> str:
    return (
        f"{path} came with the program, and is left as it is. Make a folder of your own first: cardmaker begin. There "
        "this command makes you a copy."
    )


def add_by_hand(path: str, lines: Sequence[str]) -> str:
    """Where a file cannot be changed in place."""
    return f"{path} is written in a way that cannot be changed here. Write into it yourself: {' '.join(lines)}"


def changed_meanwhile(path: str) -> str:
    return f"{path} has changed meanwhile: nothing was written. Once more, please."


def too_much_taken_up(message: str) -> str:
    return f"{message.rstrip('.')}. Check warp, leftover and tape."
