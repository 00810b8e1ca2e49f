"""The parts of a file on their way to nouns: each reads its own keys and tells its own problems.

A part with problems still gives something back, so that every problem of a file is met in one pass; the noun is only
made when there were none.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from typing import Any, Final

from cardmaker.model.problems import Key, KeyPath, Place, Places, Problem, ProblemsFound, path_in_words
from cardmaker.model.records import record
from cardmaker.model.units import length_mm, minutes, parse_share, weight_g
from cardmaker.reading.nodes import Tree, as_name, tree_of
from cardmaker.reading.quick_check import certainly_valid, coerced, schema_of
from cardmaker.reading.schema_check import SchemaError, Sentence, closest_names, listed_choices, quoted, schema_errors
from cardmaker.reading.source_text import invisible_sign, sign_in_words, text_of, word_of_sign

MOST_TOLD: Final = 50
_MOST_HINTS: Final = 100
_BARE_COLOUR: Final = re.compile(r"[^:#]*:[ \t]+(#[0-9A-Za-z]{3,8})(?![0-9A-Za-z])")


class Findings:
    """The problems of one file as they are found, and the places of its keys and values."""

    def __init__(self, tree: Tree, file: str, raw: bytes = b"") -> None:
        self.tree, self.file, self.raw = tree, file, raw
        self.problems: list[Problem] = [*tree.problems]
        self.wrong: set[KeyPath] = {*tree.told}
        self.hints = 0

    def tell(self, path: KeyPath, message: str, remedy: str = "", at_key: bool = False, parent: bool = False) -> None:
        """Note a problem at a key or its value; a list or group is pointed at by its key."""
        places = self.tree.keys if at_key else self.tree.values
        where = path[:-1] if at_key and not parent else path
        self.problems.append(
            Problem(self.file, places.get(path, Place()), word_of_sign(path_in_words(where), 120), message, remedy)
        )
        self.wrong.add(path)

    def hint(self, word: str, known: Iterable[str]) -> str:
        """The known word most like this one; a file that is wrong all over is not worth a hundred searches."""
        self.hints += 1
        return closest_names(word, known) if self.hints <= _MOST_HINTS else ""

    def is_wrong(self, *path: Key) -> bool:
        """Whether a problem was told at this path or under it."""
        return any(wrong[: len(path)] == path for wrong in self.wrong)

    @property
    def places(self) -> Places:
        return Places(self.file, self.tree.keys, self.raw)

    def told(self) -> tuple[Problem, ...]:
        """All problems in the order of their lines; the last one says how many more there are."""
        problems = sorted(self.problems, key=lambda problem: problem.place)
        if len(problems) <= MOST_TOLD:
            return tuple(problems)
        more = len(problems) - MOST_TOLD
        message = f"and {more:,} more problem{'s' if more > 1 else ''} from here on."
        return (*problems[:MOST_TOLD], Problem(self.file, problems[MOST_TOLD].place, "", message, ""))


@record
class FieldReader:
    """One group of keys with its path. What is missing or wrong comes back as None or empty."""

    values: Mapping[str, Any]
    path: KeyPath
    findings: Findings

    def tell(self, key: str | None, message: str, remedy: str = "", at_key: bool = False) -> None:
        """Note a problem at one of the keys, or at the part itself."""
        path = self.path if key is None else (*self.path, key)
        self.findings.tell(path, message, remedy, at_key=at_key or key is None, parent=True)

    def text(self, key: str) -> str:
        """Text as typed, without the line feed that a block of text ends with."""
        return str(self.values.get(key) or "").rstrip("\n")

    def line(self, key: str) -> str:
        """One line as typed, without spaces around it."""
        text = str(self.values.get(key) or "").strip()
        if text and (sign := invisible_sign(text)):
            self.tell(key, f"{quoted(text)} holds a sign that cannot be seen: {sign_in_words(sign)}.", "Delete it.")
        return text

    def name(self, key: str) -> str:
        """One line as names are compared."""
        return as_name(self.line(key))

    def names(self, key: str) -> tuple[str, ...]:
        """A list of names."""
        return tuple(as_name(str(value)) for value in self.values.get(key) or () if value is not None)

    def texts(self, key: str) -> tuple[str, ...]:
        """One text or a list of texts."""
        value = self.values.get(key)
        several = value if isinstance(value, list) else [value]
        return tuple(str(text).rstrip("\n") for text in several if text is not None)

    def choice(self, key: str, otherwise: Any = None) -> Any:
        """A word or number that the schema has checked, or what holds when it is left out."""
        value = self.values.get(key)
        return otherwise if value is None else value

    def count(self, key: str, otherwise: int = 1) -> int:
        return int(self.choice(key, otherwise))

    def length(self, key: str, or_nought: bool = False) -> Fraction | None:
        """A length in millimetres; nought only where that makes sense."""
        return self._measure(key, length_mm, "length", or_nought)

    def weight(self, key: str) -> Fraction | None:
        """A weight in grams."""
        return self._measure(key, weight_g, "weight", False)

    def minutes(self, key: str) -> Fraction | None:
        """A time in minutes."""
        return self._measure(key, minutes, "time", False)

    def share(self, key: str) -> Fraction | None:
        """A percentage as a fraction of one."""
        return self._measure(key, parse_share, "percentage", True)

    def _measure(self, key: str, read: Callable[[str], Fraction], what: str, or_nought: bool) -> Fraction | None:
        text = self.values.get(key)
        if text is None:
            return None
        try:
            value = read(text)
        except ValueError as error:
            self.tell(key, f"{word_of_sign(str(error), 120)}.")
            return None
        if value == 0 and not or_nought:
            self.tell(key, f"{quoted(text)} is no {what}.", "Write more than nought.")
        return value

    def part(self, key: str) -> FieldReader | None:
        """A group of keys under one of the keys."""
        value = self.values.get(key)
        return FieldReader(value, (*self.path, key), self.findings) if isinstance(value, dict) else None

    def parts(self, key: str) -> list[FieldReader]:
        """A list of groups."""
        return [
            FieldReader(value, (*self.path, key, index), self.findings)
            for index, value in enumerate(self.values.get(key) or ())
            if isinstance(value, dict)
        ]

    def unknown_name(self, path: KeyPath, name: str, what: str, known: Iterable[str]) -> None:
        """Say that a name is not one of those known, with the nearest; where none is, that is told already."""
        known = list(known)
        if not known:
            return
        near = self.findings.hint(name, known)
        remedy = f"Did you mean '{near}'?" if near else f"Write one of {listed_choices(map(quoted, known[:20]))}."
        self.findings.tell(path, f"{quoted(name)} is not one of the {what}.", remedy)


def top_reader(
    raw: bytes, file: str, kind: str, sentences: Mapping[str, Callable[[str], Sentence]] | None = None
) -> FieldReader:
    """The whole file as a part: settled, checked against its schema, rid of what is wrong.

    Raises ProblemsFound when the file cannot be taken apart at all.
    """
    text = text_of(raw, file)
    tree = tree_of(text, file)
    schema = schema_of(kind)
    values = coerced(tree.root, schema, schema)
    findings = Findings(tree, file, raw)
    if tree.told or not certainly_valid(values, schema, schema):
        lines = text.split("\n")
        for complaint in schema_errors(values, kind, sentences or {}):
            _note(complaint, findings, lines)
            if not complaint.missing:
                _remove(values, complaint.path)
    return FieldReader(values if isinstance(values, dict) else {}, (), findings)


def finished(part: FieldReader) -> None:
    """Raise all problems of a part's file, if there are any."""
    if problems := part.findings.told():
        raise ProblemsFound(problems)


def _note(complaint: SchemaError, findings: Findings, lines: list[str]) -> None:
    path, tree = complaint.path, findings.tree
    if path in tree.told:
        return
    if complaint.nothing and (bare := _bare_colour(tree.keys.get(path), lines)):
        from cardmaker.reading.syntax import bare_colour_problem

        findings.problems.append(bare_colour_problem(findings.file, *bare, path_in_words(path)))
        findings.wrong.add(path)
        return
    parent = complaint.missing or complaint.nothing
    findings.tell(path, complaint.message, complaint.remedy, at_key=complaint.at_key, parent=parent)


def _bare_colour(key: Place | None, lines: list[str]) -> tuple[Place, str] | None:
    """The place and words of a comment on the key's line where a value should stand, if it looks like a colour."""
    line = lines[key.line - 1] if key else ""
    found = _BARE_COLOUR.match(line, key.column - 1) if key else None
    return (Place(key.line, found.start(1) + 1), found[1]) if key and found else None


def _remove(values: Any, path: KeyPath) -> None:
    """Take what is wrong out of the values, so that the rest can be read on; an item of a list becomes None."""
    if not path:
        return
    for key in path[:-1]:
        if isinstance(values, list) and isinstance(key, int) and key < len(values):
            values = values[key]
        else:
            values = values.get(key) if isinstance(values, dict) else None
    if isinstance(values, dict):
        values.pop(path[-1], None)
    elif isinstance(values, list) and isinstance(path[-1], int) and path[-1] < len(values):
        values[path[-1]] = None
