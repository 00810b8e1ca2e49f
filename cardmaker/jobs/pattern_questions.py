"""``new --ask``: asks a beginner for a first pattern, question by question, and writes it when all is answered.

Each answer is read at once; one that cannot be taken is asked for again, with the reason. Nothing is written before
the last answer, so whoever leaves half-way leaves nothing behind.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Sequence
from io import TextIOWrapper
from itertools import chain, count
from pathlib import Path
from typing import Final, TypeVar

from cardmaker.editing import new_pattern
from cardmaker.editing.new_pattern import PatternRequest, YarnRequest, stem_of
from cardmaker.jobs import loading, resizing
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.pattern_making import refuse_to_replace
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import LONGEST_TITLE, LONGEST_USE, LONGEST_YARN_NAME, NAMED_COLOURS, Fibre, Pattern
from cardmaker.model.problems import Refusal, on_one_line
from cardmaker.model.units import length_mm
from cardmaker.reading import limits
from cardmaker.reading.nodes import as_name
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.source_text import invisible_sign, sign_in_words
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, is_same_both_ways, runs
from cardmaker.reckoning.threading.placement import place, slots_only_ends
from cardmaker.wording import question_words
from cardmaker.wording.question_words import Question

LONGEST_ANSWER: Final = 4000
MOST_USES: Final = 20
MOST_COLOURS: Final = 20
_COLOUR: Final = re.compile(r"#[0-9A-Fa-f]{6}", re.ASCII)

T = TypeVar("T")


def ask_for_pattern(title: str | None, folder: Path) -> Path:
    """Asks for everything, tells what it understood, and writes the file. Raises WrongUsage, CannotWrite."""
    from cardmaker.files import write_whole

    print(question_words.WELCOME)
    if isinstance(sys.stdin, TextIOWrapper):
        sys.stdin.reconfigure(errors="surrogateescape")
    looms = loading.load_looms(sound_only=True)
    request = _ask_for_request(title, folder)
    target = _target(request.title, folder)
    text = new_pattern.requested_pattern_text(request).encode()
    pattern = parse_pattern(text, str(target), target.stem)
    holding = [loom for loom in looms if not _why_not_on(loom, pattern)]
    loom = _ask_for_loom(pattern, looms, holding) if looms else question_words.NONE
    _print_summary(pattern, request, holding)
    refuse_to_replace(target)
    write_whole(target, text)
    chosen = "" if loom == question_words.NONE else f" --loom {loom}"
    _print_line(str(target))
    _print_line(f"Next: look at it, change what you like, then run: cardmaker card {target}{chosen}")
    return target


def _ask_for_request(title: str | None, folder: Path) -> PatternRequest:
    name = _ask(question_words.title_question(_default_title(title, folder)), lambda text: _as_title(text, folder))
    uses = _ask(question_words.USES, _as_uses)
    names = _ask(question_words.COLOUR_NAMES, _as_names)
    yarns: list[YarnRequest] = []
    kind = "cotton 8/2"
    for each in names:
        kind, fibre, count, system = _ask(question_words.yarn_question(each, kind), _as_yarn)
        likely = new_pattern.colour_of(each) or question_words.NONE
        colour = _ask(question_words.colour_question(each, likely), _as_colour)
        yarns.append(YarnRequest(each, fibre, count, system, colour))
    half = _ask(question_words.WAY, _as_half)
    stripes = _ask(question_words.stripes_question(names, half), lambda text: _as_stripes(text, names, half))
    return PatternRequest(name, stripes, yarns, uses, half, _ask(question_words.LENGTH, _as_length))


def _ask_for_loom(pattern: Pattern, looms: Sequence[Loom], holding: Sequence[Loom]) -> str:
    fitting = sorted(holding, key=lambda loom: (loom.back_heddle is not None, loom.capacity, loom.title))
    default = fitting[0].stem if fitting else question_words.NONE
    return _ask(question_words.loom_question(looms, default), lambda text: _as_loom(text, pattern, looms))


def _print_summary(pattern: Pattern, request: PatternRequest, holding: Sequence[Loom]) -> None:
    yarns = end_yarns(pattern)
    looms = [loom.title for loom in holding]
    for line in question_words.summary_lines(pattern.title, runs(yarns), is_same_both_ways(yarns), looms):
        _print_line(line)
    if unused := [yarn.name for yarn in request.yarns if yarn.name not in yarns]:
        _print_line(question_words.unused(unused))


def _print_line(line: str) -> None:
    print(on_one_line(line))


# One question


def _ask(question: Question, read: Callable[[str], T]) -> T:
    """Asks until the answer can be read. ``read`` raises ValueError with the reason."""
    while True:
        for line in question.lines:
            _print_line(line)
        answer = " ".join(_answer().split()) or question.default
        try:
            return read(_checked(answer))
        except ValueError as error:
            _print_line(f"  {error}")


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
        raise WrongUsage(question_words.NOT_ALL)
    _print_line(f"> {line.strip()}".rstrip())
    return line


def _checked(answer: str) -> str:
    if len(answer) > LONGEST_ANSWER:
        raise ValueError(question_words.too_long(LONGEST_ANSWER))
    if sign := invisible_sign(answer):
        raise ValueError(question_words.no_sign(sign_in_words(sign)))
    return as_name(answer)


# Where the pattern is written


def _default_title(title: str | None, folder: Path) -> str:
    """A title whose file is not there yet: First Tape, First Tape 2, and so on."""
    numbered = (f"{question_words.TITLE} {number}" for number in count(2))
    return title or next(name for name in chain([question_words.TITLE], numbered) if not _target(name, folder).exists())


def _target(title: str, folder: Path) -> Path:
    return folder / f"{stem_of(title)}.yaml"


# Reading the answers; each raises ValueError with the reason why not


def _as_title(text: str, folder: Path) -> str:
    if len(text) > LONGEST_TITLE:
        raise ValueError(question_words.too_long(LONGEST_TITLE))
    if not stem_of(text):
        raise ValueError(question_words.no_letter(text))
    if _target(text, folder).exists():
        raise ValueError(question_words.is_there(str(_target(text, folder))))
    return text


def _as_uses(text: str) -> tuple[str, ...]:
    uses = tuple(use.strip() for use in text.split(",") if use.strip())[:MOST_USES]
    if any(len(use) > LONGEST_USE for use in uses):
        raise ValueError(question_words.too_long(LONGEST_USE))
    return uses


def _as_names(text: str) -> tuple[str, ...]:
    names = tuple(as_name(name) for name in text.split(","))
    for name in names:
        if not name[:1].isalpha() or len(name) > LONGEST_YARN_NAME:
            raise ValueError(question_words.no_name(name, LONGEST_YARN_NAME))
    if len(set(names)) < len(names):
        raise ValueError(question_words.LOOKS_ALIKE)
    if len(names) > MOST_COLOURS:
        raise ValueError(question_words.too_many(MOST_COLOURS))
    return names


def _as_yarn(text: str) -> tuple[str, Fibre, str, str]:
    """The answer itself, to be the next default; then fibre, count and system."""
    try:
        yarn = resizing.yarn_of(text)
    except WrongUsage as error:
        raise ValueError(str(error)) from None
    return text, yarn.fibre, yarn.count, yarn.system or ""


def _as_colour(text: str) -> str:
    if text == question_words.NONE:
        return ""
    if _COLOUR.fullmatch(text):
        return text
    if text.casefold() in NAMED_COLOURS:
        return NAMED_COLOURS[text.casefold()]
    raise ValueError(question_words.no_colour(text))


def _as_half(text: str) -> bool:
    if text.casefold() not in (question_words.HALF, question_words.ALL):
        raise ValueError(question_words.no_way(text))
    return text.casefold() == question_words.HALF


def _as_stripes(text: str, names: Sequence[str], half: bool) -> list[tuple[int, str]]:
    stripes = [(count, as_name(name)) for count, name in new_pattern.parsed_stripes(text)]
    for _, name in stripes:
        if name not in names:
            raise ValueError(question_words.not_a_colour_of_it(name, names))
    request = PatternRequest("Trial", stripes, [YarnRequest(name) for name in names], half=half)
    try:
        end_yarns(parse_pattern(new_pattern.requested_pattern_text(request).encode(), "", ""))
    except Refusal as error:
        raise ValueError(str(error)) from None
    return stripes


def _as_length(text: str) -> str:
    length = length_mm(text)
    if not length:
        raise ValueError(question_words.no_length(text))
    if message := limits.FINISHED.message(f"'{text}'", length):
        raise ValueError(message)
    return text


def _as_loom(text: str, pattern: Pattern, looms: Sequence[Loom]) -> str:
    if text == question_words.NONE:
        return text
    loom = next((loom for loom in looms if text.casefold() in (loom.stem.casefold(), loom.title.casefold())), None)
    if loom is None:
        raise ValueError(question_words.no_loom(text, looms))
    if reason := _why_not_on(loom, pattern):
        raise ValueError(reason)
    return loom.stem


def _why_not_on(loom: Loom, pattern: Pattern) -> str:
    """Why a loom does not hold the pattern, or nothing."""
    yarns = end_yarns(pattern)
    try:
        place(yarns, loom, slots_only_ends(pattern, yarns))
    except Refusal as error:
        return str(error)
    return ""
