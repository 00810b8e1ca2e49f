"""The rows of the recording form: how many ends, and of which colour; ends in turn as in 15, white / blue.

What could be meant in two ways is told at its field: a row that is read wrongly is a wrong count on a card.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from difflib import SequenceMatcher
from itertools import combinations
from typing import Final, NamedTuple

from cardmaker.model.pattern import LONGEST_YARN_NAME, MOST_ENDS, Alternation, Stripe
from cardmaker.model.tape_form import FieldProblem, stripe_field
from cardmaker.reading.nodes import as_name
from cardmaker.reading.source_text import invisible_sign, sign_in_words
from cardmaker.reading.value_words import Sentence, quoted

_COUNT: Final = re.compile(r"0*([1-9][0-9]{0,2})(?:\s*ends?)?", re.ASCII | re.IGNORECASE)
_FIGURE: Final = re.compile(r"[0-9]")
_IN_TURN: Final = re.compile(r"\s*,?\s*\b(?:in turn|alternately|alternating)\b\.?\s*$", re.IGNORECASE)
_DITTO: Final = frozenset({'"', "″", "''", "”", "“", "do", "do.", "ditto", "same", "as above", "-", "–", "—", "〃"})
_SHORT: Final = 2  # letters: most likely a longer name cut short
_ALIKE: Final = 0.84  # how like two names are that may be one, misspelt (a limit of ours)

StripeCells = tuple[str, str]  # ends and colour, as typed


class ReadRows(NamedTuple):
    """The stripes of a form as far as they could be read, with what is wrong or in doubt."""

    stripes: tuple[Stripe | Alternation, ...]
    problems: tuple[FieldProblem, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """The colours of the stripes, each once."""
        return tuple(dict.fromkeys(name for stripe in self.stripes for name in _names_of(stripe)))


def stripes_of_rows(rows: Sequence[StripeCells]) -> ReadRows:
    """The rows in order, the empty ones after the last left out."""
    last = max((number for number, row in enumerate(rows, start=1) if any(row)), default=0)
    stripes: list[Stripe | Alternation] = []
    problems: list[FieldProblem] = []
    first_rows: dict[str, int] = {}
    for number, (ends, colour) in enumerate(rows[:last], start=1):
        wrong = list(_wrong_cells(number, ends, colour))
        problems += wrong
        if wrong:
            continue
        names = _names(colour)
        for name in names:
            first_rows.setdefault(name, number)
        count = _count(ends)
        stripes.append(Stripe(names[0], count) if len(names) == 1 else Alternation(names, count))
    problems += _one_colour_named_twice(first_rows)
    return ReadRows(tuple(stripes), tuple(problems))


def _names_of(stripe: Stripe | Alternation) -> tuple[str, ...]:
    return stripe.yarns if isinstance(stripe, Alternation) else (stripe.yarn,)


# One row


def _wrong_cells(number: int, ends: str, colour: str) -> Iterator[FieldProblem]:
    of_ends, of_colour = stripe_field(number, "ends"), stripe_field(number, "colour")
    if not ends and not colour:
        yield FieldProblem(
            of_ends,
            "this row is empty, and there are rows after it.",
            "Write the stripe that it lost, or move up those below.",
        )
        return
    if _COUNT.fullmatch(colour) and _FIGURE.search(ends) is None and ends:
        yield FieldProblem(of_ends, f"{quoted(ends)} and {quoted(colour)} have changed places.", "Ends come first.")
        return
    if sentence := count_sentence(ends, colour):
        yield FieldProblem(of_ends, *sentence)
    if sentence := _colour_sentence(colour):
        yield FieldProblem(of_colour, *sentence)
    elif _COUNT.fullmatch(ends) and len(names := _names(colour)) > _count(ends):
        yield FieldProblem(
            of_ends, f"{_count(ends)} ends cannot be of {len(names)} colours in turn.", "Count them again."
        )


def count_sentence(text: str, colour: str = "") -> Sentence | None:
    """What is wrong with a number of ends, or nothing; ``colour`` stands beside it."""
    if found := _COUNT.fullmatch(text):
        if int(found[1]) <= MOST_ENDS:
            return None
        return f"{int(found[1]):,} ends are too many; {MOST_ENDS} is the most.", "Count them again."
    if not text:
        if found := re.match(r"([1-9][0-9]{0,2})\s+\D", colour):
            return (
                f"there is no number of ends; {quoted(colour)} has one.",
                f"Write {found[1]} here, and the colour alone beside it.",
            )
        return "there is a colour and no number of ends.", "Write how many, as in 9."
    if "?" in text or "~" in text:
        return (
            f"{quoted(text)} is in doubt.",
            "Write the number that you are surest of, and the doubt in the line How sure.",
        )
    if re.search(r"[-–/]|\bor\b|\bto\b", text):
        return (
            f"{quoted(text)} is more than one number.",
            "Write the one that you are surest of, and the doubt in the line How sure.",
        )
    return f"{quoted(text)} is no whole number of ends from 1 to {MOST_ENDS}.", "Write it in figures, as in 9."


def _count(text: str) -> int:
    found = _COUNT.fullmatch(text)
    return int(found[1]) if found else 0


def _names(colour: str) -> tuple[str, ...]:
    """The colours of a row: one, or several that come in turn."""
    in_turn = _IN_TURN.search(colour)
    between = r"[/,;+&]|\band\b" if in_turn else r"/"
    return tuple(as_name(part) for part in re.split(between, _IN_TURN.sub("", colour)))


def _colour_sentence(colour: str) -> Sentence | None:
    if not colour:
        return "there is a number of ends and no colour.", "Write the colour, as in white."
    if sign := invisible_sign(colour):
        return f"{quoted(colour)} holds a sign that cannot be seen: {sign_in_words(sign)}.", "Write it anew."
    if colour.casefold() in _DITTO:
        return f"{quoted(colour)} stands for a colour above.", "Write the colour itself in every row."
    names = _names(colour)
    if _IN_TURN.search(colour) and len(names) == 1:
        return f"{quoted(colour)} does not say where one colour ends.", "Write ends in turn as in white / blue."
    if len(names) == 1 and re.search(r"[,;+&]|\band\b", colour):
        return (
            f"{quoted(colour)} names two colours.",
            "Write a row for each; or, for single ends in turn, as in white / blue.",
        )
    return next((sentence for name in names if (sentence := name_sentence(name))), None)


def name_sentence(name: str) -> Sentence | None:
    """What is wrong with the name of a colour, or nothing."""
    if not name:
        return "a colour is missing beside the /.", "Write ends in turn as in white / blue."
    if "?" in name:
        return f"{quoted(name)} is in doubt.", "Write the colour that you are surest of, and the doubt in the notes."
    if found := _FIGURE.search(name):
        return (
            f"{quoted(name)} has a figure in it: {found[0]}.",
            "Write how many ends beside it, and the colour with letters alone.",
        )
    if not name[0].isalpha():
        return f"{quoted(name)} is no name of a colour.", "Begin it with a letter."
    if len(name) > LONGEST_YARN_NAME:
        return f"{quoted(name)} is {len(name)} letters long.", f"Write {LONGEST_YARN_NAME} at most, as in dark blue."
    return None


# All rows


def _one_colour_named_twice(first_rows: dict[str, int]) -> Iterator[FieldProblem]:
    """Two spellings of one colour would be two yarns; two that are nearly alike may be."""
    for known, name in combinations(first_rows, 2):
        field = stripe_field(first_rows[name], "colour")
        if same_colour(known, name):
            message = f"{quoted(name)} is called {quoted(known)} in row {first_rows[known]}."
            yield FieldProblem(field, message, "Write one name for one colour.")
        elif SequenceMatcher(None, known.casefold(), name.casefold()).ratio() >= _ALIKE:
            message = (
                f"{quoted(name)} is nearly the {quoted(known)} of row {first_rows[known]}; they are two yarns now."
            )
            yield FieldProblem(field, message, "If they are one, spell both alike.", is_doubt=True)


def same_colour(one: str, other: str) -> bool:
    """Whether two names are one colour, written in two ways: by capitals, a hyphen, a turned order, or cut short."""
    if _plain(one) == _plain(other):
        return True
    short, long = sorted((name.casefold().rstrip(".") for name in (one, other)), key=len)
    return 0 < len(short) <= _SHORT and long.startswith(short)


def _plain(name: str) -> tuple[str, ...]:
    words: Iterable[str] = re.split(r"[\s-]+", name.casefold().replace("gray", "grey"))
    return tuple(sorted(word.strip(".") for word in words))
