"""What is said of arguments that are wrong: what is so, and what to type instead."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Final

from cardmaker.wording.phrases import listed

Needed = Mapping[str, str]  # what each option and each word in capitals is for


def given_twice(option: str, first: str, second: str, between: str) -> str:
    """That an option has two values, of which one would be passed over; ``between`` stands between several of them,
    where it takes several."""
    if between and first != second:
        return f"{option} is given twice. Name all behind one: {option} {first}{between}{second}."
    return f"{option} is given twice, as {first} and as {second}. Keep one."


def none_of_choices(option: str, value: str, choices: Sequence[str], near: str) -> str:
    """That an option has no such choice, and which was probably meant."""
    meant = f"Did you mean {near}?" if near else f"Write {listed(choices, 'or')}."
    return f"{option} is not '{value}'. {meant}"


def no_value(option: str, use: str) -> str:
    """That nothing stands behind an option which needs a word."""
    return f"{option} needs a word after it: {use}."


def plain_words(message: str, needed: Needed) -> str:
    """The parser's own message in words of ours; one that is none of its messages as it is, with a full stop."""
    for pattern, sentence in _SENTENCES:
        if found := pattern.fullmatch(message):
            return sentence(found, needed)
    return _ended(message)


def _ended(message: str) -> str:
    return message if message.endswith((".", "?", "!")) else f"{message}."


def _missing(found: re.Match[str], needed: Needed) -> str:
    first = found[1].split(", ")[0]
    return f"{first} is missing: {needed.get(first, '')}.".replace(": .", ".")


def _without_value(found: re.Match[str], needed: Needed) -> str:
    option = found[1].split("/")[-1]
    return no_value(option, needed.get(option, "see its help"))


def _too_many(found: re.Match[str], _: Needed) -> str:
    words = found[1]
    return f"'{words}' is more than can be named here. A name with spaces in it stands in quotes."


_Sentence = Callable[[re.Match[str], Needed], str]
_SENTENCES: Final[tuple[tuple[re.Pattern[str], _Sentence], ...]] = (
    (re.compile(r"the following arguments are required: (.+)"), _missing),
    (re.compile(r"argument (\S+): expected (?:one|at least one) argument"), _without_value),
    (re.compile(r"unrecognized arguments: (.+)", re.DOTALL), _too_many),
    (
        re.compile(r"argument (\S+): not allowed with argument (\S+)"),
        lambda found, _: f"{found[1]} and {found[2]} do not go together. Keep one of them.",
    ),
    (
        re.compile(r"argument (\S+): invalid int value: (.+)", re.DOTALL),
        lambda found, _: f"{found[1]}: {found[2]} is no whole number. Write it in figures, as in 15.",
    ),
    (
        re.compile(r"argument (\S+): ignored explicit argument (.+)", re.DOTALL),
        lambda found, _: f"{found[1]} stands alone, without {found[2]}.",
    ),
    (
        re.compile(r"ambiguous option: (\S+) could match (.+)", re.DOTALL),
        lambda found, _: f"{found[1]} may be {listed(found[2].split(', '), 'or')}. Write it out.",
    ),
    (re.compile(r"argument (\S+): (.+)", re.DOTALL), lambda found, _: f"{found[1]}: {_ended(found[2])}"),
)
"""The messages of the standard library's parser, as its versions 3.11 to 3.13 have them."""
