"""A YAML file's text edited in place: a value changed, a key added, taken out or put behind a #; all else stays.

Only what a person types is understood: keys in block or flow style, values of one line. Whoever edits reads the result
again and takes it only if it says what was meant.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from cardmaker.model.problems import KeyPath, Places

_KEY: Final = re.compile(
    r"""(?:"(?:[^"\\]|\\.)*"|'(?:[^']|'')*'|[^\s"'#\[\]{},:][^:\n#]*?)\s*:(?=[ \n]|$)""", re.MULTILINE
)
_QUOTED: Final = re.compile(r""""(?:[^"\\]|\\.)*"|'(?:[^']|'')*'""")
_FLOW_PLAIN: Final = re.compile(r"[^,\[\]{}\n#]+")
_BLOCK_PLAIN: Final = re.compile(r"(?:[^\s#]|(?<=\S)#|[ \t](?![ \t]*(?:#|$)))+", re.MULTILINE)


class NotEditable(Exception):
    """The text is written in a way that is not understood here."""


class TextEdits:
    """A text with its places, and the changes that are to be made to it, which do not overlap."""

    def __init__(self, text: str, places: Places) -> None:
        self.text, self.places = text, places
        self._starts = [0, *(found.end() for found in re.finditer("\n", text))]
        self._changes: list[tuple[int, int, str]] = []
        self._kept: set[int] = set()  # where lines begin that stand above themselves as they were, behind a #

    def edited(self) -> str:
        """The text with every change."""
        text = self.text
        for start, stop, new in sorted(self._changes, reverse=True):
            text = text[:start] + new + text[stop:]
        return text

    def has(self, path: KeyPath) -> bool:
        return path in self.places.at

    def change(self, path: KeyPath, value: str) -> None:
        """Another value of one line for a key that is there. Raises NotEditable."""
        start, stop = self._value_span(path)
        self._changes.append((start, stop, value))

    def change_entry(self, path: KeyPath, entry: str) -> None:
        """Another key with its value in the place of one that is there. Raises NotEditable."""
        self._changes.append((self._offset(path), self._value_span(path)[1], entry))

    def change_count(self, path: KeyPath, count: int) -> None:
        """Another number at the beginning of an item of a list, such as ``9 white``. Raises NotEditable."""
        digits = re.compile(r"""["']?[ ]*([0-9]+)""").match(self.text, self._offset(path))
        if digits is None:
            raise NotEditable
        self._changes.append((*digits.span(1), str(count)))

    def add(self, path: KeyPath, value: str) -> None:
        """A key that is not there yet, in the group of keys that it belongs to. Raises NotEditable."""
        group, key = path[:-1], str(path[-1])
        opening = self._value_start(group) if group else 0
        if group and self.text[opening : opening + 1] == "{":
            closing = self._closing(opening)
            self._changes.append((closing, closing, f", {key}: {value}"))
            return
        try:
            first = self._first_key(group)
        except NotEditable:
            self._add_at_end(group, f"{key}: {value}")
            return
        column = self.places.at[first].column - 1
        line_end = self._line_end(self._value_span(first)[1])
        self._changes.append((line_end, line_end, f"\n{' ' * column}{key}: {value}"))

    def _add_at_end(self, group: KeyPath, line: str) -> None:
        """A line under the last one of a group in block style none of whose keys has its value beside it."""
        inside = [path for path in self.places.at if len(path) == len(group) + 1 and path[: len(group)] == group]
        if not group or not inside:
            raise NotEditable
        stop = self.block(group)[1]
        self._changes.append((stop, stop, f"{' ' * (self.places.at[inside[0]].column - 1)}{line}\n"))

    def take_out(self, path: KeyPath, heading: str = "") -> None:
        """A key with its value: its lines are put behind a #, under a heading; from a flow it is cut out, and the line
        stands above as it was."""
        offset = self._offset(path)
        line_start = self.text.rfind("\n", 0, offset) + 1
        if self.text[line_start:offset].strip():
            self._keep_line(line_start)
            self._cut_from_flow(path)
            return
        start, stop = self.block(path)
        lines = self.text[start:stop].rstrip("\n").split("\n")
        column = self.places.at[path].column - 1
        behind = [f"{line[:column]}# {line[column:]}".rstrip() if line.strip() else line for line in lines]
        above = [f"{' ' * column}# {heading}"] if heading else []
        self._changes.append((start, stop, "\n".join([*above, *behind]) + "\n"))

    def replace_block(self, path: KeyPath, lines: Sequence[str]) -> None:
        """All lines of a key of the file. What notes stood among them stands above."""
        start, stop = self.block(path)
        old = self.text[start:stop].split("\n")
        notes = [line.strip() for line in old if line.lstrip().startswith("#")]
        tail = re.search(r"\s#\s.*$", old[0])
        first = f"{lines[0]}{tail[0] if tail and old[0].rstrip().startswith(lines[0]) else ''}"
        self._changes.append((start, stop, "\n".join([*notes, first, *lines[1:]]) + "\n"))

    def append_item(self, path: KeyPath, item: str) -> None:
        """One item more at the end of a list in block or flow style. Raises NotEditable."""
        opening = self._value_start(path)
        if self.text[opening : opening + 1] == "[":
            closing = self._closing(opening)
            is_empty = not self.text[opening + 1 : closing].strip()
            self._changes.append((closing, closing, item if is_empty else f", {item}"))
            return
        first = self._offset((*path, 0))
        dash = self.text.rfind("\n", 0, first) + 1
        indent = self.text[dash:first]
        if not re.fullmatch(r" *- +", indent):
            raise NotEditable
        _, stop = self.block(path)
        self._changes.append((stop, stop, f"{indent}{item}\n"))

    def append_lines(self, lines: Sequence[str]) -> None:
        """Lines at the end of the file, with an empty one before them."""
        before = "" if not self.text or self.text.endswith("\n\n") else "\n"
        self._changes.append((len(self.text), len(self.text), before + "".join(f"{line}\n" for line in lines)))

    def cut(self, start: int, stop: int) -> None:
        """A stretch of the text away."""
        self._changes.append((start, stop, ""))

    def insert_top(self, lines: Sequence[str]) -> None:
        """Lines at the head of the file, under the line that tells an editor the schema."""
        schema = re.match(r"# yaml-language-server:[^\n]*\n", self.text)
        at = schema.end() if schema else 0
        self._changes.append((at, at, "".join(f"{line}\n" for line in lines)))

    # Where things stand

    def block(self, path: KeyPath) -> tuple[int, int]:
        """The lines of a key in block style with all that belongs to it, without the notes that follow it."""
        offset = self._offset(path)
        start = self.text.rfind("\n", 0, offset) + 1
        column = offset - start
        if self.text[start:offset].strip():
            raise NotEditable
        stop = at = self._line_end(offset) + 1
        while at < len(self.text):
            line = self.text[at : self._line_end(at)]
            indent = len(line) - len(line.lstrip(" "))
            is_note = not line.strip() or line.lstrip().startswith("#")
            inside = indent > column or (indent == column and line.lstrip().startswith("- "))
            if not inside and not is_note:
                break
            at = self._line_end(at) + 1
            if not is_note or (inside and line.strip()):
                stop = at
        return start, min(stop, len(self.text))

    def _offset(self, path: KeyPath) -> int:
        if path not in self.places.at:
            raise NotEditable
        place = self.places.at[path]
        return self._starts[place.line - 1] + place.column - 1

    def _line_end(self, offset: int) -> int:
        end = self.text.find("\n", offset)
        return len(self.text) if end < 0 else end

    def _value_start(self, path: KeyPath) -> int:
        key = _KEY.match(self.text, self._offset(path))
        if key is None:
            raise NotEditable
        at = key.end()
        while self.text[at : at + 1] == " ":
            at += 1
        return at

    def _value_span(self, path: KeyPath) -> tuple[int, int]:
        start = self._value_start(path)
        offset = self._offset(path)
        line_start = self.text.rfind("\n", 0, offset) + 1
        in_flow = bool(self.text[line_start:offset].strip())
        found = _QUOTED.match(self.text, start) or (_FLOW_PLAIN if in_flow else _BLOCK_PLAIN).match(self.text, start)
        if found is None or self.text[start] in "|>&*!{[":
            raise NotEditable
        return start, start + len(found[0].rstrip())

    def _closing(self, opening: int) -> int:
        """The bracket that closes the one at ``opening``."""
        depth, at = 0, opening
        while at < len(self.text):
            sign = self.text[at]
            if sign in "\"'" and self.text[at - 1] in " ,[{:" and (quoted := _QUOTED.match(self.text, at)):
                at = quoted.end()
                continue
            if sign == "#" and self.text[at - 1] in " \n":
                at = self._line_end(at)
                continue
            depth += (sign in "[{") - (sign in "]}")
            if not depth:
                return at
            at += 1
        raise NotEditable

    def _keep_line(self, line_start: int) -> None:
        if line_start in self._kept:
            return
        self._kept.add(line_start)
        line = self.text[line_start : self._line_end(line_start)]
        indent = line[: len(line) - len(line.lstrip(" "))]
        self._changes.append((line_start, line_start, f"{indent}# {line.strip()}\n"))

    def _cut_from_flow(self, path: KeyPath) -> None:
        start = self._offset(path)
        value = self._value_start(path)
        stop = self._closing(value) + 1 if self.text[value] in "[{" else self._value_span(path)[1]
        before = re.compile(r",\s*$").search(self.text, 0, start)
        after = re.compile(r"\s*,\s*").match(self.text, stop)
        if before:
            start = before.start()
        elif after:
            stop = after.end()
        self._changes.append((start, stop, ""))

    def _first_key(self, group: KeyPath) -> KeyPath:
        """A key of a group whose value stands on its line. Raises NotEditable."""
        for path in self.places.at:
            if len(path) == len(group) + 1 and path[:-1] == group and isinstance(path[-1], str):
                try:
                    self._value_span(path)
                except NotEditable:
                    continue
                return path
        raise NotEditable
