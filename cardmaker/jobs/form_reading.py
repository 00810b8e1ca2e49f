"""``new --form``: a recording form that somebody filled in becomes a pattern file, every doubt told at its field.

Nothing is written from a form that says two things, and nothing is assumed silently.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from cardmaker.editing.new_pattern import stem_of
from cardmaker.editing.recorded_pattern import recorded_pattern_text
from cardmaker.jobs.checking import problems_of_file
from cardmaker.jobs.editor_schemas import with_schema_line, write_new
from cardmaker.jobs.file_lookup import files_by_stem
from cardmaker.jobs.form_fields import read_tape
from cardmaker.jobs.loading import load_loom
from cardmaker.jobs.pattern_making import folder_for, refuse_to_replace, stem_of_title, usual_units
from cardmaker.jobs.pattern_questions import why_not_on
from cardmaker.model.named_colours import named_colour
from cardmaker.model.pattern import Pattern
from cardmaker.model.problems import NO_LINE, Problem, ProblemsFound, path_in_words
from cardmaker.model.tape_form import LOOM, TITLE, FieldProblem, RecordedTape, field_of_key, form_order
from cardmaker.pdf.distrusted import CannotReadPdf
from cardmaker.pdf.form_values import FormValues, values_of_form
from cardmaker.reading.pattern_file import draft_pattern
from cardmaker.reckoning.amounts.yarn_counts import count_refusals
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, is_same_both_ways, stripe_refusals
from cardmaker.wording import form_words, question_words
from cardmaker.wording.formatters import Units
from cardmaker.wording.new_file_words import colours_assumed


class _Understood(NamedTuple):
    """A tape with the pattern that its file describes, what is in doubt, and the stem of the loom that it is for."""

    tape: RecordedTape
    pattern: Pattern
    text: bytes
    doubts: tuple[str, ...]
    loom: str


def write_pattern_of_form(form: Path, title: str | None, folder: Path | None) -> tuple[Path, list[str]]:
    """Writes the pattern file that a filled form describes, named by its title, and never over another.

    ``title`` stands for one that the form lacks. Returns where it is, and lines that tell what was understood, what is
    in doubt and what to do next. Raises WrongUsage, ProblemsFound, CannotWrite.
    """
    if title is not None:
        stem_of_title(title)
    units = usual_units()
    understood = _understood(form, _values_of(form), title, units)
    target = (folder or folder_for("pattern")) / f"{stem_of(understood.tape.title)}.yaml"
    refuse_to_replace(target)
    write_new({target: with_schema_line(target, understood.text.decode()).encode()})
    notes = [str(problem) for problem in problems_of_file(target)]
    loom = f" --loom {understood.loom}" if understood.loom else ""
    return target, [
        *_told(understood),
        *notes,
        form_words.next_step(f"{target}{loom}", in_doubt=bool(understood.doubts)),
    ]


def _values_of(form: Path) -> FormValues:
    """Raises ProblemsFound."""
    try:
        return values_of_form(form)
    except CannotReadPdf as error:
        message = str(error)
    except FileNotFoundError:
        message = "there is no such file"
    except (OSError, ValueError) as error:
        message = f"it cannot be read: {getattr(error, 'strerror', None) or error}"
    raise ProblemsFound([Problem(str(form), NO_LINE, "", f"{message[0].upper()}{message[1:]}.")])


def _understood(form: Path, values: FormValues, title: str | None, units: Units) -> _Understood:
    tape, problems = read_tape(values, title or "")
    problems = [*problems, *_title_problems(tape.title, title)]
    wrong = [problem for problem in problems if not problem.is_doubt]
    if not values.texts and not values.ticks:
        wrong = [FieldProblem("", *form_words.NOT_FILLED), *wrong]
    if wrong:
        raise _at_fields(form, wrong)
    stem = stem_of(tape.title)
    pattern = _pattern(form, recorded_pattern_text(tape, [], form.name, units), stem)
    loom, of_loom = _loom(tape.loom, pattern)
    doubts = [problem for problem in problems if problem.is_doubt] + list(of_loom)
    if values.is_written_over:
        doubts.append(FieldProblem("", *form_words.WRITTEN_OVER, is_doubt=True))
    if not is_same_both_ways(end_yarns(pattern)) and tape.mirror == "last stripe":
        doubts.append(FieldProblem("mirror_last", *form_words.NOT_ALIKE, is_doubt=True))
    told = tuple(form_words.doubt(doubt) for doubt in _in_order(doubts))
    text = recorded_pattern_text(tape, told, form.name, units).encode()
    return _Understood(tape, pattern, text, told, loom)


def _title_problems(title: str, typed: str | None) -> Iterator[FieldProblem]:
    """A title that no file can be named by, or another than the one that was typed."""
    if title and not stem_of(title):
        yield FieldProblem(TITLE, question_words.no_letter(title))
    if typed and title and typed != title:
        yield FieldProblem(TITLE, *form_words.other_title(title, typed))


def _pattern(form: Path, text: str, stem: str) -> Pattern:
    """The pattern of the file that is about to be written, checked as ``check`` does. Raises ProblemsFound."""
    draft = draft_pattern(text.encode(), str(form), stem)
    if draft.pattern is None:
        raise _at_fields(
            form, [FieldProblem(field_of_key(each.where), each.message, each.remedy) for each in draft.problems]
        )
    pattern = draft.pattern
    refusals = [*stripe_refusals(pattern.warp, pattern.mirror, pattern.stated_ends), *count_refusals(pattern)]
    if refusals:
        raise _at_fields(
            form, [FieldProblem(field_of_key(path_in_words(each.path)), each.message, each.remedy) for each in refusals]
        )
    return pattern


def _at_fields(form: Path, problems: Sequence[FieldProblem]) -> ProblemsFound:
    return ProblemsFound(
        Problem(str(form), NO_LINE, form_words.field_name(each.field) if each.field else "", each.message, each.remedy)
        for each in _in_order(problems)
    )


def _in_order(problems: Sequence[FieldProblem]) -> list[FieldProblem]:
    """As the form has its fields."""
    return sorted(problems, key=lambda problem: form_order(problem.field))


def _loom(name: str, pattern: Pattern) -> tuple[str, list[FieldProblem]]:
    """The stem of the loom that is named, by its file or its title, and why the tape may not go on it."""
    if not name:
        return "", []
    looms = files_by_stem("loom")
    stem = name if name in looms else next((each for each in looms if each == stem_of(name)), "")
    if not stem:
        return "", [FieldProblem(LOOM, *form_words.no_such_loom(name, [*looms]), is_doubt=True)]
    try:
        reason = why_not_on(load_loom(looms[stem]), pattern)
    except ProblemsFound as error:
        reason = str(error.problems[0])
    return ("", [FieldProblem(LOOM, reason, is_doubt=True)]) if reason else (stem, [])


def _told(understood: _Understood) -> list[str]:
    """What the file says, and what nobody said and was assumed."""
    tape, pattern = understood.tape, understood.pattern
    yarns = end_yarns(pattern)
    lines = [form_words.understood(tape, len(yarns), same_both_ways=is_same_both_ways(yarns))]
    lines += [form_words.yarns_understood(tape)]
    lines += [form_words.source_understood(pattern.source)] if pattern.source else []
    if understood.doubts:
        lines += [form_words.TO_LOOK_AT, *(f"  {doubt}" for doubt in understood.doubts)]
    return [*lines, *colours_assumed([(yarn.name, named_colour(yarn.name)) for yarn in tape.yarns])]
