"""``measured``: asks what came off the loom, or is told by options, shows what is new in which file, and writes it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from cardmaker.editing.yaml_text import yaml_weight
from cardmaker.jobs import file_lookup, loading
from cardmaker.jobs.dialogue import Dialogue
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.measuring import (
    READERS,
    ChangedFile,
    Kept,
    TapeMeasures,
    can_be_pressed,
    changed_files,
    check_press,
    checked_figures,
    write_changed,
)
from cardmaker.jobs.pattern_questions import looms_to_choose_from, why_not_on
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.problems import Refusal
from cardmaker.reading.source_text import sign_in_words, unwelcome_sign
from cardmaker.reckoning.amounts.taught_figures import TaughtFigures, shelf_yarns_of_warp
from cardmaker.reckoning.planning import smallest_loom
from cardmaker.wording import measured_words, question_words
from cardmaker.wording.question_words import Question
from cardmaker.wording.restore_words import typed

LONGEST_DATE = 24


class MeasuredRequest(NamedTuple):
    """What the command asks for; everything but the pattern may be left out, and is then asked for or not measured."""

    pattern: str
    loom: str | None
    date: str | None
    warp: str | None
    tape: str | None
    width: str | None
    picks: str | None
    leftover: str | None
    fringes: str | None
    note: str | None
    press_weight: str | None
    press_dip: str | None
    also: Sequence[Kept] | None


def measure_tape(request: MeasuredRequest) -> list[str]:
    """Writes what was measured: what the options say, or without any what is answered. Returns the lines that tell of
    it. Raises WrongUsage, ProblemsFound, CannotWrite."""
    pattern = loading.load_pattern(file_lookup.find("pattern", request.pattern))
    looms, hers = looms_to_choose_from()
    if request.loom is not None:
        named = loading.load_loom(file_lookup.find("loom", request.loom))
        looms, hers = (named, *(each for each in looms if each.stem != named.stem)), named.stem
    if any(each is not None for each in request[2:]):
        files, date = _from_options(request, pattern, looms, hers)
        changes = [line for file in files for line in measured_words.added_lines(str(file.target), file.new_lines)]
    else:
        files, date = Dialogue().run(lambda dialogue: _questions(dialogue, pattern, looms, hers))
        changes = [str(file.target) for file in files]  # what is new in them has been shown
    write_changed(files)
    return [*changes, *_told(pattern, date, files)]


def _told(pattern: Pattern, date: str, files: Sequence[ChangedFile]) -> list[str]:
    target = files[0].target
    is_found = target.parent == file_lookup.own_folder() / file_lookup.FOLDERS["pattern"]
    command = typed(["cardmaker", "card", target.stem if is_found else str(target)])
    return [
        *(measured_words.own_copy(str(file.target)) for file in files if file.target != file.source),
        measured_words.now_written(pattern.title, date, len(files)),
        measured_words.next_card_reckons(command),
    ]


# From options


def _from_options(
    request: MeasuredRequest, pattern: Pattern, looms: Sequence[Loom], hers: str
) -> tuple[tuple[ChangedFile, ...], str]:
    """Raises WrongUsage where something is missing, or a measure cannot be."""
    loom = _loom_of(pattern, looms, hers)
    weight = request.press_weight or _own_weight(loom)
    measures = TapeMeasures(
        date=request.date or "",
        warp=request.warp or "",
        tape=request.tape or "",
        width=request.width or "",
        picks_per_inch=request.picks or "",
        leftover=request.leftover or "",
        fringes=request.fringes or "",
        note=request.note or "",
        press_weight=weight if request.press_dip else "",
        press_dip=request.press_dip or "",
    )
    _require_sound(measures, pattern, loom)
    try:
        return changed_files(pattern, measures, loom, request.also or ()), measures.date
    except ValueError as error:
        raise WrongUsage(str(error)) from None


def _loom_of(pattern: Pattern, looms: Sequence[Loom], hers: str) -> Loom:
    """The loom that it must have been woven on: the one that is named, the settings', or the only one that holds it."""
    holding = [loom for loom in looms if not why_not_on(loom, pattern)]
    chosen = [loom for loom in looms if loom.stem == hers] or (holding if len(holding) == 1 else [])
    if not chosen:
        raise WrongUsage(f"On which loom was it woven? Say --loom: {', '.join(loom.stem for loom in holding)}.")
    if reason := why_not_on(chosen[0], pattern):
        raise WrongUsage(f"--loom: {reason}")
    return chosen[0]


def _require_sound(measures: TapeMeasures, pattern: Pattern, loom: Loom) -> None:
    if not measures.date:
        raise WrongUsage('When was it measured? Say --date, such as --date 2026; "from which tape" needs it.')
    if not measures.any_measured:
        raise WrongUsage(measured_words.NOTHING_MEASURED)
    for name, text in zip(measures._fields, measures, strict=True):
        option = f"--{name.replace('picks_per_inch', 'picks').replace('_', '-')}"
        try:
            if sign := unwelcome_sign(text):
                raise ValueError(question_words.no_sign(sign_in_words(sign)))
            if name == "date":
                _as_date(text)
            elif name in READERS and text:
                READERS[name](text)
        except ValueError as error:
            raise WrongUsage(f"{option}: {error}") from None
    if measures.press_dip:
        if not can_be_pressed(pattern, loom):
            raise WrongUsage(measured_words.no_press(loom.title))
        if not measures.press_weight:
            raise WrongUsage("--press-dip: what did the weight weigh? Say --press-weight, such as 50 g.")
        try:
            check_press(pattern, measures, loom)
        except ValueError as error:
            raise WrongUsage(f"--press-dip: {error}") from None


def _own_weight(loom: Loom) -> str:
    return yaml_weight(loom.press.weight_g) if loom.press and loom.press.weight_g else ""


# From answers


def _questions(
    dialogue: Dialogue, pattern: Pattern, looms: Sequence[Loom], hers: str
) -> tuple[tuple[ChangedFile, ...], str]:
    loom = _asked_loom(dialogue, pattern, looms, hers)
    measures = _asked_measures(dialogue, pattern, loom)
    if not measures.any_measured:
        raise WrongUsage(measured_words.NOTHING_MEASURED)
    figures = checked_figures(pattern, measures, loom)
    kept = _asked_for_whom(dialogue, pattern, loom, measures, figures)
    files = changed_files(pattern, measures, loom, kept)
    for file in files:
        dialogue.tell(measured_words.added_lines(str(file.target), file.new_lines))
    question = question_words.write_question([str(file.target) for file in files])
    if dialogue.choose(question) == question_words.NO:
        raise WrongUsage(question_words.NOT_WRITTEN)
    return files, measures.date


def _asked_loom(dialogue: Dialogue, pattern: Pattern, looms: Sequence[Loom], hers: str) -> Loom:
    try:
        usual = hers or smallest_loom(pattern, looms).stem
    except Refusal as refusal:
        raise WrongUsage(f"{refusal.message} {refusal.remedy}") from None

    def read(stem: str) -> Loom:
        loom = next(each for each in looms if each.stem == stem)
        if reason := why_not_on(loom, pattern):
            raise ValueError(reason)
        return loom

    return dialogue.ask(measured_words.loom_woven_on(looms, usual), read)


def _asked_measures(dialogue: Dialogue, pattern: Pattern, loom: Loom) -> TapeMeasures:
    """What was measured, each held against what was answered before it."""
    so_far = TapeMeasures(dialogue.ask(measured_words.DATE, _as_date))

    def ask(question: Question, name: str, check: Callable[[TapeMeasures], object]) -> None:
        nonlocal so_far

        def read(text: str) -> str:
            if text == measured_words.UNKNOWN:
                return ""
            if name in READERS:
                READERS[name](text)
            check(so_far._replace(**{name: text}))
            return text

        so_far = so_far._replace(**{name: dialogue.ask(question, read)})

    def as_whole(measures: TapeMeasures) -> object:
        return checked_figures(pattern, measures, loom)

    def alone(measures: TapeMeasures) -> object:
        return measures

    ask(measured_words.WARP, "warp", alone)
    ask(measured_words.LEFTOVER, "leftover", alone)
    if any(piece.fringe_mm for piece in pattern.length.pieces):
        ask(measured_words.FRINGES, "fringes", alone)
    ask(measured_words.TAPE, "tape", as_whole)
    ask(measured_words.WIDTH, "width", as_whole)
    ask(measured_words.PICKS, "picks_per_inch", as_whole)
    if can_be_pressed(pattern, loom):
        so_far = _asked_press(dialogue, pattern, loom, so_far)
    ask(measured_words.NOTE, "note", alone)
    return so_far


def _asked_press(dialogue: Dialogue, pattern: Pattern, loom: Loom, so_far: TapeMeasures) -> TapeMeasures:
    weight = _own_weight(loom)

    def read_dip(text: str) -> str:
        if text == measured_words.UNKNOWN:
            return ""
        pressed = so_far._replace(press_weight=weight or "50 g", press_dip=text)
        check_press(pattern, pressed, loom, is_weighed=bool(weight))
        return text

    dip = dialogue.ask(measured_words.PRESS_DIP, read_dip)
    if not dip:
        return so_far

    def read_weight(text: str) -> str:
        check_press(pattern, so_far._replace(press_weight=text, press_dip=dip), loom)
        return text

    weight = dialogue.ask(measured_words.press_weight(weight), read_weight)
    return so_far._replace(press_weight=weight, press_dip=dip)


def _asked_for_whom(
    dialogue: Dialogue, pattern: Pattern, loom: Loom, measures: TapeMeasures, figures: TaughtFigures
) -> set[Kept]:
    kept: set[Kept] = set()
    yarns = shelf_yarns_of_warp(pattern)
    tells_of_yarn = any((measures.width, measures.picks_per_inch, measures.tape and measures.warp))
    if figures.any_of_yarn and yarns:
        question = measured_words.keep_for_yarns([yarn.title for yarn in yarns], figures)
        if dialogue.choose(question) == question_words.YES:
            kept.add("yarn")
    elif figures.any_of_yarn:
        dialogue.tell([measured_words.NO_FILE_OF_YARN])
    elif tells_of_yarn:
        dialogue.tell([measured_words.NOT_OF_ONE_YARN])
    if measures.leftover or measures.press_dip:
        question = measured_words.keep_for_loom(loom.title, measures.leftover, measures.press_dip)
        if dialogue.choose(question) == question_words.YES:
            kept.add("loom")
    return kept


def _as_date(text: str) -> str:
    if len(text) > LONGEST_DATE:
        raise ValueError(question_words.too_long(LONGEST_DATE))
    return text
