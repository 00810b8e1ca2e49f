"""YAML text as a small tree in which every key and every value has its place, and every scalar is the text typed.

The tree is built in a loop over the parser's events; nothing is ever constructed from a tag, an anchor or an alias.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from functools import cached_property
from typing import Any, Final, NamedTuple

from cardmaker.model.problems import KeyPath, Place, Problem, ProblemsFound, path_in_words
from cardmaker.model.record_class import record
from cardmaker.reading.source_text import sign_in_words, unwelcome_sign, word_of_sign
from cardmaker.reading.yaml_parser import yaml

DEEPEST: Final = 20
MOST_NODES: Final = 20_000
_LOADER: Final = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_LOST_NUMBER: Final = re.compile(r"[ \t]+(#[0-9][^\s]*)")
_OPENING: Final = frozenset("“”„‟‘’‚‛")


class Scalar(NamedTuple):
    """One text, exactly as typed; ``plain`` when it has no quotes."""

    text: str
    place: Place
    plain: bool = True


class Items:
    """A list."""

    __slots__ = ("items", "path", "place")

    def __init__(self, place: Place, path: KeyPath) -> None:
        self.place, self.path = place, path
        self.items: list[Node] = []


class Keys:
    """Keys with their values, in the order of the file."""

    __slots__ = ("dropped", "path", "pending", "place", "values")

    def __init__(self, place: Place, path: KeyPath) -> None:
        self.place, self.path = place, path
        self.values: dict[str, Node] = {}
        self.pending: str | None = None
        self.dropped = False  # the pending key is a second one of its name


Node = Scalar | Items | Keys


@record
class Tree:
    """A file taken apart: the top keys, the places of keys and of values, and what is already known to be wrong.

    ``wrong`` are the paths that have a problem already, so that nothing is told twice; ``continued`` the places where
    texts without quotes go on in a second line.
    """

    root: Keys
    keys: dict[KeyPath, Place]
    values: dict[KeyPath, Place]
    problems: tuple[Problem, ...]
    wrong: frozenset[KeyPath]
    continued: dict[KeyPath, Place]


class _StopReading(Exception):
    """The rest of the file is not worth reading."""


class _TreeBuilder:
    """The tree while it is built: the open containers, and the problems met so far."""

    def __init__(self, file: str, text: str) -> None:
        self.file, self.text = file, text
        self.open: list[Items | Keys] = []
        self.root: Node | None = None
        self.documents = self.nodes = 0
        self.keys: dict[KeyPath, Place] = {}
        self.values: dict[KeyPath, Place] = {}
        self.problems: list[Problem] = []
        self.wrong: set[KeyPath] = set()
        self.continued: dict[KeyPath, Place] = {}
        self.has_number_after_text = _LOST_NUMBER.search(text) is not None
        self.broken = False  # something that YAML knows and this reader refuses

    def report(self, place: Place, where: KeyPath, message: str, remedy: str, broken: bool = True) -> None:
        self.problems.append(Problem(self.file, place, word_of_sign(path_in_words(where), 120), message, remedy))
        self.broken = self.broken or broken

    def _refuse(self, event: yaml.NodeEvent, message: str, remedy: str) -> None:
        self.report(_place(event), self._path(), message, remedy)

    def _close(self, event: yaml.CollectionEndEvent) -> None:
        self.open.pop()

    def _start_document(self, event: yaml.Event) -> None:
        self.documents += 1
        if self.documents > 1:
            self.report(_place(event), (), "a second document begins here.", "Keep one in this file; take the --- out.")
            raise _StopReading

    def _count(self, event: yaml.ScalarEvent | yaml.CollectionStartEvent) -> None:
        self.nodes += 1
        if self.nodes > MOST_NODES:
            self.report(_place(event), (), "there are more than 20,000 keys and values here.", "Split the file.")
            raise _StopReading
        if event.anchor:
            self._refuse(event, f"'&{event.anchor}' names a part for use elsewhere.", "Write it out each time.")
        if event.tag is not None:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self._refuse(event, f"'{word_of_sign(tag)}' is a tag.", "Take it out, or quote the text.")

    def _path(self) -> KeyPath:
        """The path of the node that comes next."""
        if not self.open:
            return ()
        parent = self.open[-1]
        if isinstance(parent, Items):
            return (*parent.path, len(parent.items))
        return parent.path if parent.pending is None else (*parent.path, parent.pending)

    def _open(self, event: yaml.CollectionStartEvent) -> None:
        self._count(event)
        if self.open and isinstance(self.open[-1], Keys) and self.open[-1].pending is None:
            self._refuse(event, "a list or a group of keys stands where a key is wanted.", "Write a word and a colon.")
            raise _StopReading
        place, path = _place(event), self._path()
        if len(self.open) >= DEEPEST:
            self.report(place, path[:1], "this is more than 20 levels deep.", "Write it with fewer levels.")
            raise _StopReading
        node = Keys(place, path) if isinstance(event, yaml.MappingStartEvent) else Items(place, path)
        self._attach(node, path, place)
        self.open.append(node)

    def _take_alias(self, event: yaml.AliasEvent) -> None:
        self.nodes += 1
        remedy = "Write it out, or quote the text."
        self._refuse(event, f"'*{event.anchor}' stands for a part written elsewhere.", remedy)
        if self.open and isinstance(self.open[-1], Keys) and self.open[-1].pending is None:
            raise _StopReading
        place = _place(event)
        self._attach(Scalar("", place), self._path(), place)

    def _take_scalar(self, event: yaml.ScalarEvent) -> None:
        self._count(event)
        place = _place(event)
        node = Scalar(event.value, place, not event.style)
        if event.style == '"' and (sign := unwelcome_sign(node.text)):
            self.report(place, self._path(), f"this text holds the sign {sign_in_words(sign)}.", "Delete it.")
        curly = node.plain and node.text[:1] in _OPENING and _is_curly_quoted(node.text)
        if curly:
            message = f"the curly quotes of {word_of_sign(node.text)} are not read as quotes."
            remedy = 'Use straight quotes ", or none; to print the curly ones, put straight ones around the lot.'
            self.report(place, self._path(), message, remedy, broken=False)
        if self.open and isinstance(parent := self.open[-1], Keys) and parent.pending is None:
            self._take_key(parent, node, curly)
            return
        path = self._path()
        if curly:
            self.wrong.add(path)
        if node.plain and (end := event.end_mark):
            if self.has_number_after_text and not curly:
                self._refuse_lost_number(Place(end.line + 1, end.column + 1), node, path)
            if end.line >= place.line:
                self.continued[path] = self._next_line(place.line)
        self._attach(node, path, place)

    def _refuse_lost_number(self, end: Place, node: Scalar, path: KeyPath) -> None:
        """``title: Band #7``: the number would be lost without a word, as a remark."""
        line = self._lines[end.line - 1] if end.line <= len(self._lines) else ""
        if node.text and (lost := _LOST_NUMBER.match(line, end.column - 1)):
            message = f"{word_of_sign(lost[1])} without quotes is a comment, so it is not read."
            remedy = f'Quote the text: "{word_of_sign(node.text)} {word_of_sign(lost[1])}"; or put a space after the #.'
            self.report(Place(end.line, lost.start(1) + 1), path, message, remedy, broken=False)
            self.wrong.add(path)

    def _next_line(self, line: int) -> Place:
        """Where the first line begins that says something after a line that does."""
        lines = self._lines
        number = next((each for each in range(line, len(lines)) if lines[each].strip()), line)
        here = lines[number] if number < len(lines) else ""
        return Place(number + 1, 1 + len(here) - len(here.lstrip()))

    @cached_property
    def _lines(self) -> list[str]:
        return self.text.split("\n")

    def _take_key(self, parent: Keys, node: Scalar, curly: bool) -> None:
        name = as_name(node.text)
        parent.pending, parent.dropped = name, name in parent.values
        path = (*parent.path, name)
        if not name:
            self.report(node.place, parent.path, "a key is missing before the ':'.", "Write the key.")
        elif name == "<<" and node.plain:
            self.report(node.place, parent.path, "'<<' takes over keys from elsewhere.", "Write the keys out.")
        elif parent.dropped:
            lines = sorted({self.keys[path].line, node.place.line})
            message = f"'{word_of_sign(name)}' is written twice, in line {' and in line '.join(map(str, lines))}."
            self.report(node.place, parent.path, message, "Keep one of the two.", broken=False)
        if curly:
            self.wrong.add(path)
        self.keys.setdefault(path, node.place)

    def _attach(self, node: Node, path: KeyPath, place: Place) -> None:
        self.values.setdefault(path, place)
        if not self.open:
            self.root = node
            self.keys[()] = place
            return
        parent = self.open[-1]
        if isinstance(parent, Items):
            parent.items.append(node)
            self.keys.setdefault(path, place)
            return
        if parent.pending is not None and not parent.dropped:
            parent.values[parent.pending] = node
        parent.pending = None


_HANDLERS: Final[dict[type[yaml.Event], Callable[[_TreeBuilder, Any], None]]] = {
    yaml.ScalarEvent: _TreeBuilder._take_scalar,
    yaml.MappingStartEvent: _TreeBuilder._open,
    yaml.SequenceStartEvent: _TreeBuilder._open,
    yaml.MappingEndEvent: _TreeBuilder._close,
    yaml.SequenceEndEvent: _TreeBuilder._close,
    yaml.AliasEvent: _TreeBuilder._take_alias,
    yaml.DocumentStartEvent: _TreeBuilder._start_document,
}


def tree_of(text: str, file: str) -> Tree:
    """The tree of a text. Raises ProblemsFound for what is not YAML, or is more of YAML than a person needs."""
    builder = _TreeBuilder(file, text)
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            if handler := _HANDLERS.get(type(event)):
                handler(builder, event)
    except _StopReading:
        pass
    except (yaml.YAMLError, ValueError, OverflowError) as error:
        from cardmaker.reading.syntax import syntax_problem

        builder.problems.append(syntax_problem(error, text, file))
        builder.broken = True
    if builder.broken:
        raise ProblemsFound(builder.problems)
    root = builder.root
    if not isinstance(root, Keys):
        from cardmaker.reading.no_keys import words_of_no_keys

        is_blank = root is None or _is_blank(root)
        place = Place() if root is None or is_blank else root.place
        found = "nothing" if root is None else "blank" if is_blank else "list" if isinstance(root, Items) else "text"
        raise ProblemsFound([Problem(file, place, "", *words_of_no_keys(found, text))])
    return Tree(
        root, builder.keys, builder.values, tuple(builder.problems), frozenset(builder.wrong), builder.continued
    )


def as_name(text: str) -> str:
    """A name as it is compared: accents composed (NFC), inner spaces single, none outside."""
    return text if text.isascii() and text.isidentifier() else " ".join(unicodedata.normalize("NFC", text).split())


def _place(event: yaml.Event) -> Place:
    mark = event.start_mark
    return Place(mark.line + 1, mark.column + 1) if mark else Place()


def _is_curly_quoted(text: str) -> bool:
    """Whether curly quotes stand where YAML wants straight ones: around the whole text that begins with one, or opened
    and left open."""
    kind = "“”„‟" if text[0] in "“”„‟" else "‘’‚‛"
    rest = text[1:]
    return rest.endswith(tuple(kind)) or (kind[0] == "“" and not any(sign in rest for sign in kind))


def _is_blank(root: Node) -> bool:
    """Whether nothing was written: the parser puts such a top behind the last line, where no editor can go."""
    return isinstance(root, Scalar) and root.plain and not root.text
