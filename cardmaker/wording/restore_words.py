"""What is said of the files that a document gives back, and how to make it again."""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from typing import Final

_PLAIN: Final = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./+:,")
_TRICKY: Final = frozenset('"$`\\!%')  # in double quotes one shell or another takes them for something else

SAME: Final = "was there already, just the same"
SHIPPED: Final = "is shipped with the program, just the same"
BEFORE_SHIPPED: Final = "comes before the shipped one of that name from now on, which differs"
NOT_SAID: Final = "It does not say by which command it was made."

CHANGED: Final = (
    "Its files are not those that it was made from: one was changed, put in or taken out since. Look through what came "
    "back."
)


def changed(names: Sequence[str]) -> str:
    """Of files that somebody changed inside a document after it was made."""
    are = "is" if len(names) == 1 else "are"
    return f"{' and '.join(names)} {are} not what it was made from, but changed since. Look through what came back."


def kept(path: str) -> str:
    """Of a file that is there and differs."""
    return f"{path} is there already, and differs: it was left as it is."


def hidden_by(path: str, other: str) -> str:
    """Of a file beside which lies one of the same name: with the other ending, or on another system."""
    return f"{path} was not written, since {other} has the same name: only one of them would be found."


def as_it_was(document: str, folder: str) -> str:
    """What to do where some files were not written."""
    again = typed(["cardmaker", "restore", document, "--out", folder])
    return f"So this is not all as it was. To have all of it, in a folder of its own: {again}"


def make_again(words: Sequence[str]) -> str:
    """The command that makes a document again."""
    return f"The same again: {typed(words)}"


def needs_more(names: Sequence[str]) -> str:
    """Which files the command needs that are not carried."""
    which = "which is" if len(names) == 1 else "which are"
    return (
        f"That needs {' and '.join(names)} as well, {which} not inside: an old card or binder where you are, "
        "a photograph beside its pattern."
    )


def next_card(pattern: str) -> str:
    """What to do with a pattern."""
    return f"Next: {typed(['cardmaker', 'card', pattern])}"


def typed(words: Sequence[str]) -> str:
    """Words as a shell takes them; in double quotes where need be, which every shell knows."""
    return " ".join(map(_quoted, words))


def _quoted(word: str) -> str:
    if word and _PLAIN.issuperset(word):
        return word
    return f'"{word}"' if word and _TRICKY.isdisjoint(word) else shlex.quote(word)
