"""Letters of a pattern's file that the cards' type lacks, each at its key: of every text, and of each yarn's code.

Why: a yarn is told by two letters, the first a capital, and a name may be set while its capital cannot be.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from cardmaker.jobs.typeface_check import HEADING, TEXT, unprintable, with_name
from cardmaker.model.marks import Face
from cardmaker.model.pattern import Pattern
from cardmaker.model.problems import KeyPath, Problem
from cardmaker.model.record_class import replace
from cardmaker.pdf.fonts import lacks
from cardmaker.reading.nodes import Items, Node, Scalar, tree_of
from cardmaker.reading.source_text import text_of
from cardmaker.reckoning.stripes.stripe_counts import end_yarns
from cardmaker.reckoning.stripes.yarn_letters import letters

_SHEET: Final = "The card's"
_NOT_PRINTED: Final = (("source", "photograph"), ("measured",))  # names of files
_ON_EVERY_CARD: Final = ("title", "code")


def pattern_letter_problems(pattern: Pattern) -> list[Problem]:
    """What no card can set: of title, code and yarns' letters a problem, since every card has them; of all else a note,
    since a card may do without it."""
    if pattern.places.raw.isascii() and b"\\" not in pattern.places.raw:
        return []
    problems = []
    for path, text, face in _texts(pattern):
        for sign in lacks(text.replace("\n", " "), face):
            problem = unprintable(sign, pattern.places, path, _SHEET)
            if _is_code(path):
                message = f"{_SHEET} typeface has no {with_name(sign)}, which stands for this yarn on it."
                problem = replace(problem, message=message, remedy="Give the yarn another name.")
            elif path[0] not in _ON_EVERY_CARD:
                message = f"{_SHEET} typeface has no {with_name(sign)}: a card that tells this cannot be made."
                problem = replace(problem, message=message, is_note=True)
            problems.append(problem)
    return sorted(problems, key=lambda problem: problem.place)


def key_with_sign(pattern: Pattern, sign: str) -> KeyPath:
    """The key of the first text that holds a sign; the top of the file where none does."""
    return next((path for path, text, _ in _texts(pattern) if sign in text), ())


def _texts(pattern: Pattern) -> Iterator[tuple[KeyPath, str, Face]]:
    codes = letters((*dict.fromkeys(end_yarns(pattern)), *filter(None, [pattern.weft])))
    yield from ((("yarns", name), code, TEXT) for name, code in codes.items())
    if not pattern.places.raw:
        return
    root = tree_of(text_of(pattern.places.raw, pattern.places.file), pattern.places.file).root
    for path, text in _scalars(root, ()):
        if not any(path[: len(name)] == name for name in _NOT_PRINTED):
            yield path, text, HEADING if path == ("title",) else TEXT


def _scalars(node: Node, path: KeyPath) -> Iterator[tuple[KeyPath, str]]:
    if isinstance(node, Scalar):
        yield path, node.text
    elif isinstance(node, Items):
        for index, item in enumerate(node.items):
            yield from _scalars(item, (*path, index))
    else:
        for key, value in node.values.items():
            yield from _scalars(value, (*path, key))


def _is_code(path: KeyPath) -> bool:
    """Whether a text is the letters of a yarn: nothing else stands right at its name."""
    return len(path) == 2 and path[0] == "yarns"
