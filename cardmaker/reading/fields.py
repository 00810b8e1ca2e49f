"""The parts of a file on their way to records: each reads its own keys and notes its own problems.

A part with problems still gives something back, so that every problem of a file is met in one pass; the record is only
made when there were none.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, Any, Final, TypeVar

from cardmaker.model.problems import Key, KeyPath, Place, Places, Problem, ProblemsFound, path_in_words
from cardmaker.model.record_class import record
from cardmaker.model.units import length_mm, minutes, parse_share, weight_g
from cardmaker.reading.limits import Limit
from cardmaker.reading.nodes import Tree, as_name, tree_of
from cardmaker.reading.quick_check import certainly_valid, coerced, schema_of
from cardmaker.reading.source_text import invisible_sign, sign_in_words, text_of, word_of_sign
from cardmaker.reading.value_words import Sentence, closest_names, listed_choices, quoted

if TYPE_CHECKING:
    from cardmaker.reading.schema_check import SchemaError

MOST_PROBLEMS: Final = 50
_MOST_HINTS: Final = 100
_BARE_COLOUR: Final = r"[^:#]*:[ \t]+(#[^\s#,}\]][^#,}\]]*?)[ \t]*(?:[#,}\]]|$)"

T = TypeVar("T")


class FileProblems:
    """The problems of one file, and the places of its keys and values."""

    def __init__(self, tree: Tree, file: str, raw: bytes = b"") -> None:
        self.tree, self.file, self.raw = tree, file, raw
        self.problems: list[Problem] = [*tree.problems]
        self.wrong: set[KeyPath] = {*tree.wrong}
        self.hints = 0

    def add(self, path: KeyPath, message: str, remedy: str = "", at_key: bool = False, parent: bool = True) -> None:
        """Note a problem at a key or its value; a list or group is pointed at by its key."""
        place = (self.tree.keys if at_key else self.tree.values).get(path, Place())
        where = path[:-1] if at_key and not parent else path
        self.problems.append(Problem(self.file, place, word_of_sign(path_in_words(where), 120), message, remedy))
        self.wrong.add(path)

    def hint(self, word: str, known: Iterable[str]) -> str:
        """The known word most like this one; a file that is wrong all over is not worth a hundred searches."""
        self.hints += 1
        return closest_names(word, known) if self.hints <= _MOST_HINTS else ""

    @property
    def places(self) -> Places:
        return Places(self.file, self.tree.keys, self.raw)

    def in_order(self) -> tuple[Problem, ...]:
        """All problems in the order of their lines; the last one says how many more there are."""
        problems = sorted(self.problems, key=lambda problem: problem.place)
        if len(problems) <= MOST_PROBLEMS:
            return tuple(problems)
        more = len(problems) - MOST_PROBLEMS
        message = f"and {more:,} more problem{'s' if more > 1 else ''} from here on."
        return (*problems[:MOST_PROBLEMS], Problem(self.file, problems[MOST_PROBLEMS].place, "", message, ""))


@record
class FieldReader:
    """One group of keys with its path. What is missing or wrong comes back as None or empty."""

    values: Mapping[str, Any]
    path: KeyPath
    problems: FileProblems

    def report(self, key: Key | KeyPath | None, message: str, remedy: str = "", at_key: bool = False) -> None:
        """Note a problem at one of the keys or at a path under this part; without either, at the part itself."""
        self.problems.add(self._path(key), message, remedy, at_key=at_key or key is None)

    def report_continued(self, path: KeyPath, message: str, remedy: str) -> bool:
        """Note a problem where the text at a path goes on in a second line, if it does; ``{column}`` in the remedy is
        where the list begins that it stands in."""
        whole = self._path(path)
        place = self.problems.tree.continued.get(whole)
        if place is None:
            return False
        column = self.problems.tree.values.get(whole[:-1], Place()).column
        where = word_of_sign(path_in_words(whole[:-1]), 120)
        self.problems.problems.append(Problem(self.problems.file, place, where, message, remedy.format(column=column)))
        self.problems.wrong.add(whole)
        return True

    def is_wrong(self, key: Key | KeyPath | None = None) -> bool:
        """Whether there is a problem at this key or path or under it; without either, anywhere in the part."""
        path = self._path(key)
        return any(wrong[: len(path)] == path for wrong in self.problems.wrong)

    def wrong_keys(self) -> set[Key]:
        """The keys of this part with a problem at them or below, those that are none among them."""
        own = len(self.path)
        return {path[own] for path in self.problems.wrong if len(path) > own and path[:own] == self.path}

    def _path(self, key: Key | KeyPath | None) -> KeyPath:
        return (*self.path, *(key if isinstance(key, tuple) else () if key is None else (key,)))

    def text(self, key: str) -> str:
        """Prose, one line for each of its paragraphs."""
        return _prose(str(self.values.get(key) or ""))

    def line(self, key: str) -> str:
        """One line as typed, without spaces around it; a tab is a space. Titles, names and codes are such lines: what
        is looked up, compared or written into a file again keeps its signs."""
        text = str(self.values.get(key) or "").strip().replace("\t", " ")
        if text and (sign := invisible_sign(text)):
            self.report(key, f"{quoted(text)} holds a sign that cannot be seen: {sign_in_words(sign)}.", "Delete it.")
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
        return tuple(_prose(str(text)) for text in several if text is not None)

    def choice(self, key: str, otherwise: Any = None) -> Any:
        """A word or number that the schema has checked, or what holds when it is left out."""
        value = self.values.get(key)
        return otherwise if value is None else value

    def count(self, key: str, otherwise: int = 1) -> int:
        return int(self.choice(key, otherwise))

    def length(self, key: str, or_nought: bool = False, limit: Limit | None = None) -> Fraction | None:
        """A length in millimetres; nought only where that makes sense."""
        read = length_mm if limit is None else partial(length_mm, longest_mm=None)
        return self._measure(key, read, "length", or_nought, limit)

    def weight(self, key: str, limit: Limit | None = None) -> Fraction | None:
        """A weight in grams."""
        return self._measure(key, weight_g, "weight", False, limit)

    def minutes(self, key: str) -> Fraction | None:
        """A time in minutes."""
        return self._measure(key, minutes, "time", False)

    def share(self, key: str, limit: Limit | None = None) -> Fraction | None:
        """A percentage as a fraction of one."""
        return self._measure(key, parse_share, "percentage", True, limit)

    def _measure(
        self, key: str, read: Callable[[str], Fraction], what: str, or_nought: bool, limit: Limit | None = None
    ) -> Fraction | None:
        """A value within its limit; nought lies within where it makes sense at all."""
        text = self.values.get(key)
        if text is None:
            return None
        try:
            value = read(text)
        except ValueError as error:
            from cardmaker.reading.quantity_words import measure_sentence  # only what is wrong needs it

            self.report(key, *measure_sentence(text, what, str(error)))
            return None
        if value == 0 and not or_nought:
            self.report(key, f"{quoted(text)} is no {what}.", "Write more than nought.")
        elif value and limit and (message := limit.message(quoted(text), value)):
            self.report(key, message, limit.remedy)
        return value

    def part(self, key: str) -> FieldReader | None:
        """A group of keys under one of the keys."""
        value = self.values.get(key)
        return self.inner(key, value) if isinstance(value, dict) else None

    def parts(self, key: str) -> list[FieldReader]:
        """A list of groups."""
        values = enumerate(self.values.get(key) or ())
        return [self.inner((key, index), value) for index, value in values if isinstance(value, dict)]

    def inner(self, key: Key | KeyPath, values: Mapping[str, Any]) -> FieldReader:
        """The reader of a group that stands at a key or path under this part."""
        return FieldReader(values, self._path(key), self.problems)

    def group(self, key: str, read: Callable[[FieldReader], T]) -> T | None:
        """What a group of keys describes, or None where there is none."""
        part = self.part(key)
        return None if part is None else read(part)

    def groups(self, key: str, read: Callable[[FieldReader], T]) -> tuple[T, ...]:
        """What each of a list of groups describes."""
        return tuple(map(read, self.parts(key)))

    def check_name(self, key: Key | KeyPath, name: str, what: str, known: Iterable[str]) -> None:
        """Report a name that is not one of those known, with the nearest; that none is known is a problem already."""
        known = list(known)
        if name in known or not known:
            return
        near = self.problems.hint(name, known)
        remedy = f"Did you mean '{near}'?" if near else f"Write {listed_choices(map(quoted, known[:20]))}"
        if not near:
            remedy += f", or describe {name} under yarns." if what == "yarns" and len(name) < 40 else "."
        self.report(key, f"{quoted(name)} is not one of the {what}.", remedy)


def _prose(text: str) -> str:
    """A text as its paragraphs, with a line feed between them; one paragraph alone is as typed, with spaces for tabs.

    Every line that the file keeps as a line is a paragraph: those of a block after ``|``, and what an empty line parts
    in one after ``>``. Empty lines part paragraphs once, however many there are.
    """
    lines = [line for line in text.replace("\t", " ").split("\n") if line.strip()]
    return lines[0] if len(lines) == 1 else "\n".join([line.strip() for line in lines])


def top_reader(
    raw: bytes, file: str, kind: str, sentences: Mapping[str, Callable[[str], Sentence]] | None = None
) -> FieldReader:
    """The whole file as a part: coerced, checked against its schema, rid of what is wrong.

    Raises ProblemsFound when the file cannot be taken apart at all.
    """
    text = text_of(raw, file)
    tree = tree_of(text, file)
    schema = schema_of(kind)
    values = coerced(tree.root, schema, schema)
    problems = FileProblems(tree, file, raw)
    if tree.wrong or not certainly_valid(values, schema, schema):
        from cardmaker.reading.schema_check import schema_errors

        lines = text.split("\n")
        for error in schema_errors(values, kind, sentences or {}):
            _add_schema_error(error, problems, lines)
            if not error.missing:
                _remove(values, error.path)
    return FieldReader(values if isinstance(values, dict) else {}, (), problems)


def parsed(raw: bytes, file: str, kind: str, read: Callable[[FieldReader], T]) -> T:
    """What ``read`` makes of a whole file. Raises ProblemsFound with all problems of the file, if there are any."""
    top = top_reader(raw, file, kind)
    content = read(top)
    if problems := top.problems.in_order():
        raise ProblemsFound(problems)
    return content


def doubled_names(
    parts: Iterable[FieldReader], folded: Callable[[str], str] = str
) -> Iterator[tuple[FieldReader, str, int]]:
    """Each part whose name an earlier one has already, with the name and the earlier one's number in the list."""
    numbers: dict[str, int] = {}
    for part in parts:
        name, number = as_name(str(part.values.get("name") or "")), int(part.path[-1]) + 1
        if name and numbers.setdefault(folded(name), number) != number:
            yield part, name, numbers[folded(name)]


def _add_schema_error(error: SchemaError, problems: FileProblems, lines: list[str]) -> None:
    path, tree = error.path, problems.tree
    if path in tree.wrong:
        return
    if error.nothing and (bare := _bare_colour(tree.keys.get(path), lines)):
        from cardmaker.reading.syntax import bare_colour_problem

        problems.problems.append(bare_colour_problem(problems.file, *bare, path_in_words(path)))
        problems.wrong.add(path)
        return
    if error.meant and not error.missing:
        problems.wrong.add((*path[:-1], error.meant))
    parent = error.missing or error.nothing
    problems.add(path, error.message, error.remedy, at_key=error.at_key, parent=parent)


def _bare_colour(key: Place | None, lines: list[str]) -> tuple[Place, str] | None:
    """The place and words of a comment on the key's line where a value should stand, if it looks like a colour."""
    line = lines[key.line - 1] if key else ""
    colour = re.compile(_BARE_COLOUR).match(line, key.column - 1) if key else None
    return (Place(key.line, colour.start(1) + 1), colour[1]) if key and colour else None


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
