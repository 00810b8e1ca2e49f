"""``new --ask``: asks a beginner for a pattern, question by question, shows the file, and writes it after a yes.

Nothing is written before, so whoever leaves half-way leaves nothing behind.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import chain, count
from pathlib import Path
from typing import Final

from cardmaker.editing import new_pattern
from cardmaker.editing.new_pattern import USUAL_LENGTH, PatternRequest, YarnRequest, stem_of
from cardmaker.files import NamesThere
from cardmaker.jobs import loading, resizing
from cardmaker.jobs.dialogue import Dialogue
from cardmaker.jobs.file_lookup import WrongUsage, at_hand
from cardmaker.jobs.own_settings import own_files_named
from cardmaker.jobs.pattern_making import folder_for, usual_units
from cardmaker.jobs.stripe_input import checked_stripes
from cardmaker.model.loom import Loom
from cardmaker.model.named_colours import named_colour
from cardmaker.model.pattern import LONGEST_TITLE, LONGEST_USE, LONGEST_YARN_NAME, Pattern, Stripe
from cardmaker.model.problems import ProblemsFound, Refusal
from cardmaker.model.units import length_mm
from cardmaker.reading import limits
from cardmaker.reading.nodes import as_name
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.stripe_text import Stripes
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, is_same_both_ways, runs, stripe_refusals
from cardmaker.reckoning.threading.placement import place, slots_only_ends
from cardmaker.wording import question_words

MOST_USES: Final = 20
MOST_COLOURS: Final = 20
_COLOUR: Final = re.compile(r"#[0-9A-Fa-f]{6}", re.ASCII)


def ask_for_pattern(title: str | None, folder: Path | None) -> list[str]:
    """Asks for everything, tells what it understood, and writes the file. Returns the lines that tell of it.

    Raises WrongUsage, CannotWrite.
    """
    from cardmaker.jobs.editor_schemas import write_new

    looms, hers = looms_to_choose_from()
    into, offered = folder or folder_for("pattern"), USUAL_LENGTH[usual_units()]
    dialogue = Dialogue()

    def questions(dialogue: Dialogue) -> tuple[dict[Path, bytes], str]:
        request = _ask_for_request(dialogue, title, into, offered)
        target = file_of_title(request.title, into)
        text = new_pattern.requested_pattern_text(request)
        pattern = parse_pattern(text.encode(), str(target), target.stem, loading.shelf_of(target))
        holding = [loom for loom in looms if not why_not_on(loom, pattern)]
        loom = _ask_for_loom(dialogue, pattern, looms, holding, hers) if looms else question_words.NONE
        _tell_summary(dialogue, pattern, request, holding)
        return dialogue.agreed({target: text}), loom

    files, loom = dialogue.run(questions)
    write_new(files)
    target = next(iter(files))
    chosen = "" if loom in (question_words.NONE, hers) else f" --loom {loom}"
    return [str(target), f"Next: look at it, change what you like, then run: cardmaker card {target}{chosen}"]


def _ask_for_request(dialogue: Dialogue, title: str | None, folder: Path, offered_length: str) -> PatternRequest:
    name = ask_for_title(dialogue, title, folder)
    uses = dialogue.ask(question_words.USES, _as_uses)
    names = dialogue.ask(question_words.COLOUR_NAMES, _as_names)
    yarns: list[YarnRequest] = []
    kind = "cotton 8/2"
    for each in names:
        kind, yarn = dialogue.ask(question_words.yarn_question(each, kind, [*at_hand("yarn")]), as_yarn)
        likely = yarn.file_colour or named_colour(each) or question_words.NONE
        so_far = tuple(yarns)
        colour = dialogue.ask(
            question_words.colour_question(each, likely),
            lambda text, yarn=yarn, so_far=so_far: _as_colour_of(text, yarn, so_far),  # type: ignore[misc]
        )
        yarns.append(yarn._replace(name=each, colour=colour))
    half = dialogue.choose(question_words.WAY) == question_words.HALF
    stripes = _ask_for_stripes(dialogue, names, half)
    finished = dialogue.ask(question_words.length_question(offered_length), as_finished)
    return PatternRequest(name, stripes, yarns, uses, half, finished)


def ask_for_title(dialogue: Dialogue, title: str | None, folder: Path) -> str:
    """A title whose file is not there yet."""
    question = question_words.title_question(_default_title(title, folder))
    return dialogue.ask(question, lambda text: as_new_title(text, folder))


def _ask_for_stripes(dialogue: Dialogue, names: Sequence[str], half: bool) -> Stripes:
    """As many lines of stripes as are wanted, with the total of all after each."""

    def read(text: str, before: Stripes) -> Stripes:
        return _as_stripes(text, before, names, half)

    stripes = dialogue.ask(question_words.stripes_question(names, half), lambda text: read(text, []))
    while True:
        so_far = stripes
        question = question_words.more_stripes_question(so_far, half)
        stripes = dialogue.ask(question, lambda text, so_far=so_far: read(text, so_far))  # type: ignore[misc]
        if stripes == so_far:
            return stripes


def looms_to_choose_from() -> tuple[tuple[Loom, ...], str]:
    """The looms at hand, as far as the settings name some those, and the stem of the one that is used unless another
    is named, or nothing. Raises ProblemsFound."""
    own = own_files_named(loading.load_settings())
    looms = loading.load_looms(sound_only=True, named=own.looms)
    hers = own.loom.stem if own.loom else ""
    if own.loom and hers not in [loom.stem for loom in looms]:
        looms = (loading.load_loom(own.loom), *looms)
    return tuple(sorted(looms, key=lambda loom: loom.stem != hers)), hers


def _ask_for_loom(
    dialogue: Dialogue, pattern: Pattern, looms: Sequence[Loom], holding: Sequence[Loom], hers: str
) -> str:
    fitting = sorted(
        holding, key=lambda loom: (loom.stem != hers, loom.back_heddle is not None, loom.capacity, loom.title)
    )
    default = fitting[0].stem if fitting else question_words.NONE

    def read(stem: str) -> str:
        loom = next((loom for loom in looms if loom.stem == stem), None)
        if loom is not None and (reason := why_not_on(loom, pattern)):
            raise ValueError(reason)
        return stem

    return dialogue.ask(question_words.loom_question(looms, default), read)


def _tell_summary(dialogue: Dialogue, pattern: Pattern, request: PatternRequest, holding: Sequence[Loom]) -> None:
    yarns = end_yarns(pattern)
    looms = [loom.title for loom in holding]
    dialogue.tell(question_words.summary_lines(pattern.title, runs(yarns), is_same_both_ways(yarns), looms))
    if unused := [yarn.name for yarn in request.yarns if yarn.name not in yarns]:
        dialogue.tell([question_words.unused(unused)])


# Where the pattern is written


def _default_title(title: str | None, folder: Path) -> str:
    """A title whose file is not there yet: First Tape, First Tape 2, and so on."""
    numbered = (f"{question_words.TITLE} {number}" for number in count(2))
    names = chain([question_words.TITLE], numbered)
    there = NamesThere()
    return title or next(name for name in names if there.at(file_of_title(name, folder)) is None)


def file_of_title(title: str, folder: Path) -> Path:
    """The file that is named by a title."""
    return folder / f"{stem_of(title)}.yaml"


# Reading the answers; each raises ValueError with the reason why not


def as_new_title(text: str, folder: Path) -> str:
    """A title that a file can be named by, and none is yet."""
    if len(text) > LONGEST_TITLE:
        raise ValueError(question_words.too_long(LONGEST_TITLE))
    if not stem_of(text):
        raise ValueError(question_words.no_letter(text))
    if there := NamesThere().at(file_of_title(text, folder)):
        raise ValueError(question_words.is_there(str(there)))
    return text


def _as_uses(text: str) -> tuple[str, ...]:
    uses = tuple(use.strip() for use in text.split(",") if use.strip())[:MOST_USES]
    if any(len(use) > LONGEST_USE for use in uses):
        raise ValueError(question_words.too_long(LONGEST_USE))
    return uses


def _as_names(text: str) -> tuple[str, ...]:
    names = tuple(as_name(name) for name in text.split(","))
    for name in names:
        if not name[:1].isalpha() or len(name) > LONGEST_YARN_NAME or re.search(r"[0-9]", name):
            raise ValueError(question_words.no_name(name, LONGEST_YARN_NAME))
    if len({name.casefold() for name in names}) < len(names):
        raise ValueError(question_words.LOOKS_ALIKE)
    if len(names) > MOST_COLOURS:
        raise ValueError(question_words.too_many(MOST_COLOURS))
    return names


def as_yarn(text: str) -> tuple[str, YarnRequest]:
    """The answer itself, to be the next default; then what it says, of a yarn without a name."""
    try:
        yarn = resizing.yarn_of(text)
    except (WrongUsage, ProblemsFound) as error:
        raise ValueError(str(error)) from None
    file = yarn.shelf.stem if yarn.shelf else ""
    return text, YarnRequest("", yarn.fibre, yarn.count, yarn.system or "", file=file, file_colour=yarn.colour)


def _as_colour_of(text: str, yarn: YarnRequest, others: Sequence[YarnRequest]) -> str:
    """A colour that tells the yarn from another one of the same file."""
    colour = as_colour(text)
    for other in others:
        if yarn.file and (other.file, other.colour.casefold()) == (yarn.file, colour.casefold()):
            raise ValueError(question_words.one_file_one_colour(other.name, yarn.file))
    return colour


def as_colour(text: str) -> str:
    """A colour as # and six signs, or none. Raises ValueError."""
    if text == question_words.NONE:
        return ""
    if _COLOUR.fullmatch(text):
        return text
    if colour := named_colour(text):
        return colour
    raise ValueError(question_words.no_colour(text))


def _as_stripes(text: str, before: Stripes, names: Sequence[str], half: bool) -> Stripes:
    """The stripes of one answer behind those before it; those alone where it says that that is all."""
    if before and text == question_words.THAT_IS_ALL:
        return before
    stripes = [*before, *checked_stripes(text)]
    for _, name in stripes:
        if name not in names:
            raise ValueError(question_words.not_a_colour_of_it(name, names))
    whole = [Stripe(name, count) for count, name in stripes]
    for refusal in stripe_refusals(whole, "last stripe" if half else None):
        raise ValueError(str(refusal))
    return stripes


def as_finished(text: str) -> str:
    """A length of tape as typed. Raises ValueError."""
    return as_length(text, limits.FINISHED)


def as_length(text: str, limit: limits.Limit) -> str:
    """A length as typed, that a file of that limit may hold. Raises ValueError."""
    length = length_mm(text)
    if not length:
        raise ValueError(question_words.no_length(text))
    if message := limit.message(f"'{text}'", length):
        raise ValueError(message)
    return text


def why_not_on(loom: Loom, pattern: Pattern) -> str:
    """Why a loom does not hold the pattern, or nothing."""
    yarns = end_yarns(pattern)
    try:
        place(yarns, loom, slots_only_ends(pattern, yarns))
    except Refusal as error:
        return str(error)
    return ""
