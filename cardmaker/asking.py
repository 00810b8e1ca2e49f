"""Asks a beginner for a first pattern, question by question, and writes its file when all is answered.

Each answer is read at once; one that cannot be taken is asked for again, with the reason. Nothing is written before
the last answer, so whoever leaves half-way leaves nothing behind.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Sequence
from difflib import get_close_matches
from io import TextIOWrapper
from pathlib import Path
from typing import Final, TypeVar

from cardmaker import workshop
from cardmaker.composing import asking_words as said
from cardmaker.composing.asking_words import Question
from cardmaker.composing.new_pattern import (
    COLOURS,
    Wish,
    YarnWish,
    colour_of,
    parsed_stripes,
    stem_of,
    wished_pattern_text,
)
from cardmaker.nouns.loom import Loom
from cardmaker.nouns.pattern import Pattern
from cardmaker.problems import Refusal, on_one_line
from cardmaker.reading.nodes import as_name
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.source_text import invisible_sign, spoken_sign
from cardmaker.reckoning.placement import place, slots_only_ends
from cardmaker.reckoning.stripes import end_yarns, is_same_both_ways, runs
from cardmaker.units import length_mm
from cardmaker.workshop import WrongUsage

LONGEST_TITLE: Final = 80
LONGEST_NAME: Final = 40
LONGEST_USE: Final = 100
LONGEST_ANSWER: Final = 4000
MOST_USES: Final = 20
MOST_COLOURS: Final = 20
_COLOUR: Final = re.compile(r"#[0-9A-Fa-f]{6}", re.ASCII)

T = TypeVar("T")


def ask_for_pattern(title: str | None, folder: Path) -> Path:
    """Asks for everything, tells what it understood, and writes the file. Raises WrongUsage, CannotWrite."""
    from cardmaker.writing.files import write_whole

    print(said.WELCOME)
    if isinstance(sys.stdin, TextIOWrapper):
        sys.stdin.reconfigure(errors="surrogateescape")
    looms = workshop.load_looms(sound_only=True)
    wish = _asked(title, folder)
    target = _target(wish.title, folder)
    text = wished_pattern_text(wish).encode()
    pattern = parse_pattern(text, str(target), target.stem)
    holding = [loom for loom in looms if not _against(pattern, loom)]
    loom = _ask_for_loom(pattern, looms, holding) if looms else said.NONE
    _tell(pattern, wish, holding)
    if target.exists():
        raise WrongUsage(said.is_there(str(target)))
    write_whole(target, text)
    chosen = "" if loom == said.NONE else f" --loom {loom}"
    _say(str(target))
    _say(f"Next: look at it, change what you like, then run: cardmaker card {target}{chosen}")
    return target


def _say(line: str) -> None:
    print(on_one_line(line))


def _tell(pattern: Pattern, wish: Wish, holding: Sequence[Loom]) -> None:
    yarns = end_yarns(pattern)
    for line in said.understood(pattern.title, runs(yarns), is_same_both_ways(yarns), [loom.title for loom in holding]):
        _say(line)
    if unused := [yarn.name for yarn in wish.yarns if yarn.name not in yarns]:
        _say(said.unused(unused))


# One question


def _ask(question: Question, read: Callable[[str], T]) -> T:
    """Asks until the answer can be read. ``read`` raises ValueError with the reason."""
    while True:
        for line in question.lines:
            _say(line)
        answer = " ".join(_answer().split()) or question.default
        try:
            return read(_fit(answer))
        except ValueError as no:
            _say(f"  {no}")


def _answer() -> str:
    """One line as typed. Through a pipe nothing shows what was typed, so it is written after the question.

    Raises WrongUsage when there is no more to come.
    """
    try:
        if sys.stdin.isatty():
            return input("> ")
        line = sys.stdin.readline()
    except EOFError:
        line = ""
        print()
    if not line:
        raise WrongUsage(said.NOT_ALL)
    _say(f"> {line.strip()}".rstrip())
    return line


def _fit(answer: str) -> str:
    if len(answer) > LONGEST_ANSWER:
        raise ValueError(said.too_long(LONGEST_ANSWER))
    if sign := invisible_sign(answer):
        raise ValueError(said.no_sign(spoken_sign(sign)))
    return as_name(answer)


# All questions, in order


def _asked(title: str | None, folder: Path) -> Wish:
    name = _ask(said.title(_default_title(title, folder)), lambda text: _title(text, folder))
    uses = _ask(said.USES, _uses)
    names = _ask(said.COLOUR_NAMES, _names)
    yarns: list[YarnWish] = []
    kind = "cotton 8/2"
    for each in names:
        kind, fibre, count, system = _ask(said.yarn(each, kind), _yarn)
        colour = _ask(said.colour(each, colour_of(each) or said.NONE), _colour)
        yarns.append(YarnWish(each, fibre, count, system, colour))
    half = _ask(said.WAY, _is_half)
    stripes = _ask(said.stripes(names, half), lambda text: _stripes(text, names, half))
    return Wish(name, stripes, yarns, uses, half, _ask(said.LENGTH, _length))


def _ask_for_loom(pattern: Pattern, looms: Sequence[Loom], holding: Sequence[Loom]) -> str:
    fitting = sorted(holding, key=lambda loom: (loom.back_heddle is not None, loom.capacity, loom.title))
    default = fitting[0].stem if fitting else said.NONE
    return _ask(said.loom(looms, default), lambda text: _loom(text, pattern, looms))


# Reading the answers; each raises ValueError with the reason why not


def _default_title(title: str | None, folder: Path) -> str:
    """A title whose file is not there yet: First Tape, First Tape 2, and so on."""
    plain, number = title or said.TITLE, 1
    while title is None and _target(f"{plain} {number}" if number > 1 else plain, folder).exists():
        number += 1
    return f"{plain} {number}" if number > 1 else plain


def _target(title: str, folder: Path) -> Path:
    return folder / f"{stem_of(title)}.yaml"


def _title(text: str, folder: Path) -> str:
    if len(text) > LONGEST_TITLE:
        raise ValueError(said.too_long(LONGEST_TITLE))
    if not stem_of(text):
        raise ValueError(said.no_letter(text))
    if _target(text, folder).exists():
        raise ValueError(said.is_there(str(_target(text, folder))))
    return text


def _uses(text: str) -> tuple[str, ...]:
    uses = tuple(use.strip() for use in text.split(",") if use.strip())[:MOST_USES]
    if any(len(use) > LONGEST_USE for use in uses):
        raise ValueError(said.too_long(LONGEST_USE))
    return uses


def _names(text: str) -> tuple[str, ...]:
    names = tuple(as_name(name) for name in text.split(","))
    for name in names:
        if not name[:1].isalpha() or len(name) > LONGEST_NAME:
            raise ValueError(said.no_name(name))
    if len(set(names)) < len(names):
        raise ValueError(said.LOOKS_ALIKE)
    if len(names) > MOST_COLOURS:
        raise ValueError(said.too_many(MOST_COLOURS))
    return names


def _yarn(text: str) -> tuple[str, str, str, str]:
    """The answer itself, to be the next default; then fibre, count and system."""
    try:
        yarn = workshop.yarn_of(text)
    except WrongUsage as no:
        raise ValueError(str(no)) from None
    return text, yarn.fibre, yarn.count, yarn.system or ""


def _colour(text: str) -> str:
    if text == said.NONE:
        return ""
    if _COLOUR.fullmatch(text):
        return text
    if text.casefold() in COLOURS:
        return COLOURS[text.casefold()]
    raise ValueError(said.no_colour(text))


def _is_half(text: str) -> bool:
    if text.casefold() not in (said.HALF, said.ALL):
        raise ValueError(said.no_way(text))
    return text.casefold() == said.HALF


def _stripes(text: str, names: Sequence[str], half: bool) -> list[tuple[int, str]]:
    stripes = [(count, as_name(name)) for count, name in parsed_stripes(text)]
    for _, name in stripes:
        if name not in names:
            near = get_close_matches(name, names, 1)
            raise ValueError(said.not_a_colour_of_it(name, names, near[0] if near else ""))
    wish = Wish("Trial", stripes, [YarnWish(name) for name in names], half=half)
    try:
        end_yarns(parse_pattern(wished_pattern_text(wish).encode(), "", ""))
    except Refusal as no:
        raise ValueError(str(no)) from None
    return stripes


def _length(text: str) -> str:
    if not length_mm(text):
        raise ValueError(said.no_length(text))
    return text


def _loom(text: str, pattern: Pattern, looms: Sequence[Loom]) -> str:
    if text == said.NONE:
        return text
    loom = next((loom for loom in looms if text.casefold() in (loom.stem.casefold(), loom.title.casefold())), None)
    if loom is None:
        raise ValueError(said.no_loom(text, looms))
    if reason := _against(pattern, loom):
        raise ValueError(reason)
    return loom.stem


def _against(pattern: Pattern, loom: Loom) -> str:
    """Why a loom does not hold the pattern, or nothing."""
    yarns = end_yarns(pattern)
    try:
        place(yarns, loom, slots_only_ends(pattern, yarns))
    except Refusal as no:
        return str(no)
    return ""
