"""A line that YAML cannot place: a stripe without its dash, a line moved in too far, a key without its colon.

YAML tells of the place where it gave up, which may be a line later; here the lines around it are looked at as a person
would. Every function answers None where it does not know better.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from cardmaker.model.problems import Place
from cardmaker.reading.source_text import word_of_sign

Slip = tuple[Place, str, str]  # where, what is wrong, what to write instead

_STRIPE: Final = re.compile(r"\s*([-–—−•·*]?)\s*([1-9][0-9]{0,4}\s*[x×]?\s+[^\W\d][^:#]*?)\s*(?:#.*)?")
_DASHED: Final = re.compile(r" *- ")
_KEY_AND_TEXT: Final = re.compile(r"(\s*(?:- +)*[^\s:#'\"\[{][^:#'\"\[{]*: +)(\S.*)")
_REMARK: Final = re.compile(r"\s*(//+|--+|;+|%+)\s*(.*)")
_LONGEST_QUOTED: Final = 70  # letters of a line that a remedy repeats
_FAR: Final = 30  # lines that are looked at


def stripe_without_dash(lines: Sequence[str], line: int) -> Slip | None:
    """``9 white``, ``-9 white`` and ``– 9 white`` among stripes that have their dashes."""
    here = lines[line - 1]
    stripe = _STRIPE.fullmatch(here)
    if not stripe or _DASHED.match(here):
        return None
    dashed = _dashed_neighbour(lines, line, -1) or _dashed_neighbour(lines, line, 1)
    if not dashed:
        return None
    sign, text = stripe[1], word_of_sign(stripe[2])
    place = Place(line, 1 + len(here) - len(here.lstrip()))
    moved = f", with its dash in column {_column(dashed)}" if _column(dashed) != place.column else ""
    if sign == "-":
        return place, "there is no space after this dash.", f"Write '- {text}'{moved}."
    if sign:
        return place, f"'{sign}' is not the dash of a list.", f"Write '- {text}', with the plain dash of the keyboard."
    return place, "this line has no dash.", f"Write '- {text}'{moved}."


def moved_line(lines: Sequence[str], line: int) -> Slip | None:
    """A line that stands under no line of its group: where the nearest one above begins."""
    here = lines[line - 1]
    column = _column(here)
    is_dashed = _DASHED.match(here) is not None
    for number in _lines_above(lines, line):
        above = lines[number - 1]
        if is_dashed and not _DASHED.match(above):
            continue
        if _column(above) == column:
            return None
        what = "dash does" if is_dashed else "line does"
        return (
            Place(line, column),
            f"this {what} not stand under the {'dashes' if is_dashed else 'lines'} that it belongs to.",
            f"Let it begin in column {_column(above)}, as line {number} does.",
        )
    return None


def colon_too_many(lines: Sequence[str], place: Place) -> Slip | None:
    """A second ``: `` in one text, or a line above that has none, or a line moved in under a key that has its value."""
    here = lines[place.line - 1]
    if pair := _KEY_AND_TEXT.match(here[: place.column]):
        return _colon_in_text(here, pair, place.line)
    number = next(iter(_lines_above(lines, place.line)), 0)
    if not number:
        return None
    above = lines[number - 1]
    if not re.search(r":(?:\s|$)", above):
        return None if _DASHED.match(above) else _no_colon(above, number)
    if _column(here) > _column(above) and _KEY_AND_TEXT.match(above):
        where = f"Let it begin in column {_column(above)}, as line {number} does."
        return Place(place.line, _column(here)), "this line is moved in too far.", where
    return None


def dash_before_yarn(lines: Sequence[str], line: int) -> Slip | None:
    """``- white: {fibre: linen}`` under ``yarns:``, where the next yarn has no dash."""
    above = _lines_above(lines, line)
    group = next((number for number in above if not lines[number - 1][0].isspace()), 0)
    dashed = [number for number in above if number > group and _DASHED.match(lines[number - 1])]
    if not group or not dashed or not lines[group - 1].startswith("yarns:"):
        return None
    return (
        Place(dashed[-1], _column(lines[dashed[-1] - 1])),
        "a yarn has no dash before its name.",
        "Take the dash out.",
    )


def line_without_colon(here: str, line: int) -> Slip | None:
    """A remark with the sign of another language, a fence, or ``=`` for the colon."""
    place = Place(line, _column(here))
    if here.strip().startswith("```"):
        return place, "this line belongs to no pattern.", "Take it out."
    if (remark := _REMARK.fullmatch(here)) and remark[2]:
        return place, f"'{remark[1]}' begins no remark here.", f"Begin it with #, as in # {word_of_sign(remark[2], 40)}"
    if glued := re.match(r"\s*([a-z_]+):(\S.*)", here[:_LONGEST_QUOTED]):
        return place, f"there is no space after '{glued[1]}:'.", f"Write '{glued[1]}: {glued[2].rstrip()}'."
    return _no_colon(here, line) if re.search(r"\w\s*[=：]", here) else None


def _no_colon(above: str, number: int) -> Slip:
    place = Place(number, _column(above))
    if pair := re.fullmatch(r"\s*(\w[\w ]*?)\s*([=：])\s*(.+?)\s*", above[:_LONGEST_QUOTED]):
        return place, f"'{pair[2]}' is not a colon.", f"Write '{pair[1]}: {pair[3]}'."
    remedy = "Write a key, a colon, a space and a value, as in title: Three Paths."
    return place, "this line has no ':' and so says nothing.", remedy


def _colon_in_text(here: str, pair: re.Match[str], line: int) -> Slip:
    place = Place(line, pair.end(1) + 1)
    text = here[pair.end(1) :].split(" #")[0].rstrip()
    if text.startswith("("):
        return place, "round brackets hold no keys.", "Write { and } around them."
    quote = "'" if '"' in text else '"'
    remedy = f"Write {pair[1].strip()} {quote}{text}{quote}, in quotes."
    if len(here) > _LONGEST_QUOTED or (quote in text):
        remedy = "Put the text in quotes."
    return place, "there is a ': ' inside this text.", remedy


def _column(line: str) -> int:
    return 1 + len(line) - len(line.lstrip())


def _lines_above(lines: Sequence[str], line: int) -> list[int]:
    """The numbers of the lines above that say something, the nearest first."""
    near = range(line - 1, max(0, line - 1 - _FAR), -1)
    return [number for number in near if lines[number - 1].strip() and not lines[number - 1].lstrip().startswith("#")]


def _dashed_neighbour(lines: Sequence[str], line: int, step: int) -> str:
    """The next line that says something, upwards or downwards, if it begins with a dash; else an empty text."""
    number = line + step
    while 0 < number <= len(lines) and abs(number - line) < _FAR:
        text = lines[number - 1]
        if text.strip() and not text.lstrip().startswith("#"):
            return text if _DASHED.match(text) else ""
        number += step
    return ""
