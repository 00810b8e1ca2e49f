"""What YAML itself refuses, in one plain sentence with its place.

The words of the YAML reader never reach a person: it says "did not find expected key" where a quote is left open.
"""

from __future__ import annotations

import re
from typing import Final

from cardmaker.model.problems import Place, Problem
from cardmaker.reading.misplaced_lines import (
    Slip,
    colon_too_many,
    dash_before_yarn,
    line_without_colon,
    moved_line,
    stripe_without_dash,
)
from cardmaker.reading.source_text import word_of_sign
from cardmaker.reading.yaml_parser import yaml

LONGEST_KEY: Final = 200  # a key is looked for no farther into a line; one line may be as long as the largest file
_COLOUR: Final = re.compile(r"#[0-9A-Za-z]{3,8}")
_BARE_COLOUR: Final = re.compile(r":[ \t]+(#[0-9A-Fa-f]{3,8})\b")
_KEY: Final = re.compile(r"^\s*(?:- +)*([^\s:#'\"\[{][^:#\n]*?):(\S)", re.MULTILINE)

# What the YAML reader says (in C or in Python) → what is wrong, and what to write instead.
_SENTENCES: Final = (
    (("mapping values are not allowed",), "there is one ':' too many here, or this line is moved in too far.",
     "Put text that holds ': ' in quotes, and let keys of one group begin in the same column."),
    (("escape",), "the sign after \\ in this quoted text means nothing.",
     "Use single quotes ' ' for text that holds a \\."),
    (("unexpected end", "quoted scalar"), "a quote is opened here and never closed.",
     "Close the text with the same quote that opens it."),
    (("flow sequence",), "this list is opened with [ and never properly closed.",
     "Put a comma between the items and ] at the end."),
    (("flow mapping",), "these keys are opened with { and never properly closed.",
     "Put a comma between the keys and } at the end."),
    (("flow node",), "there is nothing between two commas here.", "Take one of them out."),
    (("sequence entries are not allowed",), "a list cannot begin on the same line as its key.",
     "Begin the list on the next line, one dash for each item."),
    (("block scalar",), "only a line break may follow | or > here.",
     "Begin the text on the next line, moved in by two spaces."),
    (("unexpected ':'",), "there is nothing after this ':'.", "Write a space and the value, or take the key out."),
    (("cannot start any token",), "a text cannot begin with this sign.", "Put the text in quotes."),
    (("simple key", "could not find expected ':'"), "this line has no ':' and so says nothing.",
     "Write a key, a colon, a space and a value, as in title: Three Paths."),
    (("anchor", "alias"), "text that begins with & or * must stand in quotes.", "Put the text in quotes."),
    (("tag",), "text that begins with ! must stand in quotes.", "Put the text in quotes."),
    (("depth", "nest"), "this is more than 20 levels deep.", "Write it with fewer levels."),
    (("directive", "incompatible"), "a line that begins with % has no place here.", "Take it out."),
    (("block collection", "'-' indicator"), "this line stands among the dashes of a list but has none.",
     "Begin it with a dash, or move it in as far as the item that it belongs to."),
)  # fmt: skip


def syntax_problem(error: Exception, text: str, file: str) -> Problem:
    """The one problem that keeps the text from being YAML at all."""
    mark = getattr(error, "problem_mark", None) if isinstance(error, yaml.MarkedYAMLError) else None
    line = min(mark.line, text.count("\n")) if mark else 0
    place = Place(line + 1, mark.column + 1) if mark else Place()
    words = f"{getattr(error, 'context', '')} {getattr(error, 'problem', '')}"
    lines = text.split("\n")
    return _bare_colour(lines[: line + 1], words, file) or _sentence(words, lines, place, error, file)


def _bare_colour(lines: list[str], words: str, file: str) -> Problem | None:
    """A colour without quotes is a comment to YAML: it swallows the rest of the line and the closing bracket."""
    if "flow" not in words:
        return None
    for number in range(len(lines), 0, -1):
        if (colour := _BARE_COLOUR.search(lines[number - 1])) and "{" in lines[number - 1][: colour.start()]:
            return bare_colour_problem(file, Place(number, colour.start(1) + 1), colour[1])
    return None


def bare_colour_problem(file: str, place: Place, colour: str, where: str = "") -> Problem:
    """``colour: #a5322b`` and ``title: #7``: everything from the # on is a comment."""
    message = f"{colour} without quotes is a comment, so nothing is written here."
    what = "the colour" if _COLOUR.fullmatch(colour) else "it"
    return Problem(file, place, where, message, f'Quote {what}: "{colour}".')


def _sentence(words: str, lines: list[str], place: Place, error: Exception, file: str) -> Problem:
    here = lines[place.line - 1] if place.line <= len(lines) else ""
    if (glued := _glued_key(lines, place.line)) and "mapping values" in words:
        number, key, column, value = glued
        return Problem(
            file, Place(number, column), "", f"there is no space after '{key}:'.", f"Write '{key}: {value}'."
        )
    context = getattr(error, "context_mark", None)
    key_line = min(context.line + 1, len(lines)) if context and "simple key" in words else place.line
    if slip := _slip_of_a_line(words, lines, place, key_line):
        return Problem(file, slip[0], "", *slip[1:])
    if "did not find expected key" in words or "expected <block end>" in words:
        return Problem(file, place, "", *_lost_line(lines, place))
    if place.line <= len(lines) and here[place.column - 1 : place.column] == "\t":
        return Problem(file, place, "", "a tab stands here.", "Write a space instead.")
    for telltales, message, remedy in _SENTENCES:
        if any(telltale in words for telltale in telltales):
            if context and ("opened" in message or "says nothing" in message):
                place = Place(context.line + 1, context.column + 1)
            return Problem(file, place, "", message, remedy)
    return Problem(file, place, "", "this line cannot be read.", "Compare it with the lines around it.")


def _slip_of_a_line(words: str, lines: list[str], place: Place, key_line: int) -> Slip | None:
    """What the lines around tell better than the words of the reader."""
    if "flow" in words or place.line > len(lines):
        return None
    if slip := stripe_without_dash(lines, key_line):
        return slip
    if "mapping values" in words:
        return colon_too_many(lines, place)
    if "block collection" in words:
        return dash_before_yarn(lines, place.line)
    if "could not find expected ':'" in words or "cannot start any token" in words:
        return line_without_colon(lines[key_line - 1], key_line)
    return None


def _glued_key(lines: list[str], last: int) -> tuple[int, str, int, str] | None:
    """The nearest line above that has a key with no space after its colon: its number, key, column and value."""
    for number in range(last, max(0, last - 3), -1):
        if key := _KEY.match(lines[number - 1][:LONGEST_KEY]):
            value = word_of_sign(lines[number - 1][key.start(2) :].split(" #")[0], 60)
            return number, key[1].strip(), key.start(1) + 1, value
    return None


def _lost_line(lines: list[str], place: Place) -> tuple[str, str]:
    """A line that belongs to nothing: a quote closed too early, a bracket too many, or the wrong column."""
    here = lines[place.line - 1] if place.line <= len(lines) else ""
    before, sign = here[: place.column - 1], here[place.column - 1 : place.column]
    if sign == ":":
        return "a key is missing before the ':'.", "Write the key."
    if sign in ("]", "}"):
        return f"there is one {sign} too many.", "Take it out."
    if before.rstrip().endswith(("'", '"')):
        quote = before.rstrip()[-1]
        other = '"' if quote == "'" else "'"
        return f"the text goes on after its closing {quote}.", f"Use {other} around text that holds {quote}."
    if before.strip() and before.rstrip()[-1] in "]}":
        return "the line goes on after its closing bracket.", "Put a comma in between, or move the bracket to the end."
    if here.strip() and (slip := moved_line(lines, place.line)):
        return slip[1:]
    return (
        "this line does not stand under the lines that it belongs to.",
        "Let lines of one group begin in the same column.",
    )
