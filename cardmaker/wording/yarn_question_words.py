"""The questions about a yarn that is to have a file of its own."""

from __future__ import annotations

from typing import Final

from cardmaker.model.named_colours import NAMED_COLOURS
from cardmaker.wording.phrases import listed
from cardmaker.wording.question_words import Question

UNKNOWN: Final = "not known"
_SKIP: Final = f"or {UNKNOWN}"

YARN_TITLE: Final = Question(
    "What do you call this yarn?",
    "Loft linen, natural",
    explanation="Patterns name it by its file, which is named by this: loft-linen-natural. Shades may have a file "
    "each, or share one, when each pattern says the shade.",
)
KIND: Final = Question(
    "Fibre and count, as on its label?",
    "linen 20/2, or wool 28/2 metric",
    explanation="8/2 cotton is two threads of size 8 twisted together. Width and weight come from it. Fibres: linen, "
    "cotton, cottolin, wool, silk, hemp, other.",
)
LENGTH_OF_WEIGHT: Final = Question(
    "Does the label tell a length for a weight?",
    f"3000 yd/lb, or 6000 m/kg, {_SKIP}",
    UNKNOWN,
    "It is surer than the count. 300 m in a ball of 50 g are 6000 m/kg.",
)
SHADE: Final = Question("What does the label call the colour?", f"Bleached 1, {_SKIP}", UNKNOWN, "A name or a number.")
LOT: Final = Question(
    "Which lot?", f"12, {_SKIP}", UNKNOWN, "Two lots of one shade may differ: the card tells which one to look for."
)
COLOUR: Final = Question(
    f"Which colour shall be printed? A name, # and six signs, {_SKIP}.",
    "green, or #4A6B3F",
    UNKNOWN,
    f"Only for the picture. Write {listed(list(NAMED_COLOURS), 'or')}; or # and six signs from a colour chart.",
)
WEIGHT: Final = Question("What does one ball or cone weigh?", f"50 g, or 4 oz, {_SKIP}", UNKNOWN, "For what to buy.")
PRICE: Final = Question("And what does it cost, with its currency?", f"6 crowns, {_SKIP}", UNKNOWN)
ENDS: Final = Question(
    "Have you counted how many ends lie in an inch of a finished tape of it?",
    f"45, {_SKIP}",
    UNKNOWN,
    "Warp ends across the width, divided by the width in inches. Without it the width of a first tape is a guess.",
)


def no_length_of_weight(text: str) -> str:
    return f"'{text}' is no length for a weight. Write yards to the pound or metres to the kilogram, as in 6000 m/kg."


def no_count_of_ends(text: str) -> str:
    return f"'{text}' is no count of ends. Write a number from 3 to 300, as in 45."


def next_pattern(stem: str) -> str:
    return f"Next: name it in a pattern, as in  blue: {{yarn: {stem}}}"
