"""The fields of a filled form, read as a tape: what is wrong, or in doubt, is told at its field."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from cardmaker.jobs.pattern_questions import as_finished, as_yarn
from cardmaker.model import tape_form
from cardmaker.model.pattern import MOST_ENDS, Mirror, Stripe
from cardmaker.model.tape_form import FieldProblem, RecordedTape, RecordedYarn, grade_field, stripe_field, yarn_field
from cardmaker.pdf.form_values import FormValues
from cardmaker.reading.form_stripes import ReadRows, count_sentence, name_sentence, same_colour, stripes_of_rows
from cardmaker.reading.nodes import as_name
from cardmaker.reading.source_text import invisible_sign, sign_in_words
from cardmaker.reading.value_words import overlong_text, quoted
from cardmaker.reckoning.stripes.stripe_counts import counted_ends
from cardmaker.wording import form_words

_SEEN: Final = ("A", "B", "C")  # grades of what somebody counted or read of
_ASSUMED: Final = "cotton 8/2"  # as for every new pattern


class _YarnLine(NamedTuple):
    """A line about yarn: its number, the colour that it is for, or none, and what it says."""

    number: int
    colour: str
    yarn: str
    shade: str


def read_tape(values: FormValues, title: str) -> tuple[RecordedTape, list[FieldProblem]]:
    """The tape that the fields describe, as far as they can be read, and all that is wrong or in doubt about them.

    ``title`` stands for one that the form lacks.
    """
    texts, problems = _plain_texts(values)
    rows = stripes_of_rows([_cells(texts, number) for number in range(1, values.stripes + 1)])
    mirror, of_mirror = _mirror(values.ticks)
    ends, of_ends = _total(texts.get(tape_form.TOTAL, ""), rows, mirror, is_sure=not of_mirror)
    weft = as_name(texts.get(tape_form.WEFT, ""))
    yarns, of_yarns = _yarns(texts, rows.names, weft)
    source, of_source = _source(texts, values.ticks)
    tape = RecordedTape(
        title=texts.get(tape_form.TITLE, "") or title,
        stripes=rows.stripes,
        yarns=yarns,
        mirror=mirror,
        ends=ends,
        code=texts.get(tape_form.CODE, ""),
        weft=weft,
        finished=texts.get(tape_form.LENGTH, ""),
        loom=texts.get(tape_form.LOOM, ""),
        source=source,
        notes=" ".join(texts[each] for each in map(tape_form.note_field, _numbers(tape_form.NOTES)) if each in texts),
    )
    problems += [*rows.problems, *of_mirror, *of_ends, *of_yarns, *of_source, *_rest(tape, rows)]
    return tape, problems


def _numbers(count: int) -> range:
    return range(1, count + 1)


def _plain_texts(values: FormValues) -> tuple[dict[str, str], list[FieldProblem]]:
    """Every text on one line, and what no file may hold."""
    texts = {field: " ".join(text.split()) for field, text in values.texts.items()}
    problems = []
    for field, text in texts.items():
        if field == tape_form.TOTAL or field.startswith("stripe_"):
            continue  # what is wrong with these is told where they are counted
        if sign := invisible_sign(text):
            message = f"{quoted(text)} holds a sign that cannot be seen: {sign_in_words(sign)}."
            problems.append(FieldProblem(field, message, "Write it anew."))
        elif len(text) > tape_form.longest(field):
            problems.append(FieldProblem(field, *overlong_text(text, tape_form.longest(field))))
    return texts, problems


def _cells(texts: Mapping[str, str], number: int) -> tuple[str, str]:
    return texts.get(stripe_field(number, "ends"), ""), texts.get(stripe_field(number, "colour"), "")


def _rest(tape: RecordedTape, rows: ReadRows) -> Iterator[FieldProblem]:
    """Title, stripes as a whole, length and weft."""
    if not tape.title:
        yield FieldProblem(tape_form.TITLE, *form_words.NO_TITLE)
    if not tape.stripes and not rows.problems:
        yield FieldProblem(stripe_field(1, "ends"), *form_words.NO_STRIPES)
    for number, (one, other) in enumerate(pairwise(tape.stripes), start=2):
        if isinstance(one, Stripe) and isinstance(other, Stripe) and one.yarn == other.yarn and not _is_wrong(rows):
            told = form_words.same_neighbours(number, other.yarn, one.ends + other.ends)
            yield FieldProblem(stripe_field(number, "colour"), *told, is_doubt=True)
    if not tape.finished:
        yield FieldProblem(tape_form.LENGTH, *form_words.NO_LENGTH, is_doubt=True)
    else:
        try:
            as_finished(tape.finished)
        except ValueError as error:
            yield FieldProblem(tape_form.LENGTH, f"{str(error).rstrip('.')}.")


def _is_wrong(rows: ReadRows) -> bool:
    return any(not problem.is_doubt for problem in rows.problems)


# The count


def _mirror(ticks: frozenset[str]) -> tuple[Mirror | None, list[FieldProblem]]:
    ticked = [field for field in tape_form.MIRRORS if field in ticks]
    if len(ticked) > 1:
        return None, [FieldProblem(ticked[-1], *form_words.BOTH_HALVES)]
    return (tape_form.MIRRORS[ticked[0]], []) if ticked else (None, [])


def _total(text: str, rows: ReadRows, mirror: Mirror | None, *, is_sure: bool) -> tuple[int | None, list[FieldProblem]]:
    """The ends in all as they were counted, which the rows must add up to; where a row is wrong, or not ``is_sure``
    how they go on, that is not asked."""
    field, stripes = tape_form.TOTAL, rows.stripes
    if text and (sentence := count_sentence(text)):
        return None, [FieldProblem(field, *sentence)]
    ends = int(text.split()[0]) if text else None
    if _is_wrong(rows) or not stripes or not is_sure:
        return ends, []
    counted = counted_ends(stripes, mirror)
    if counted > MOST_ENDS:
        return ends, [FieldProblem(field, *form_words.too_many_ends(counted))]
    if ends is None:
        return None, [FieldProblem(field, *form_words.no_total(counted), is_doubt=True)]
    if counted == ends:
        return ends, []
    others = {each: counted_ends(stripes, each) for each in (None, *tape_form.MIRRORS.values()) if each != mirror}
    meant = next((each for each, total in others.items() if total == ends), "")
    return ends, [FieldProblem(field, *form_words.other_total(counted, ends, meant))]


# Where it comes from


def _source(texts: Mapping[str, str], ticks: frozenset[str]) -> tuple[tuple[tuple[str, str], ...], list[FieldProblem]]:
    """The facts of the source under its grade, without which no pattern keeps them."""
    graded = [letter for letter in tape_form.GRADES if grade_field(letter) in ticks]
    facts = [(key, texts[key]) for key in tape_form.SOURCE if key in texts]
    if len(graded) > 1:
        return (), [FieldProblem(grade_field(graded[-1]), *form_words.several_grades(graded))]
    if not graded and facts:
        return (), [FieldProblem(grade_field("A"), *form_words.no_grade_for(facts[0][0]))]
    if not graded:
        return (), [FieldProblem(grade_field("A"), *form_words.NO_GRADE, is_doubt=True)]
    return (("grade", graded[0]), *facts), list(_missing_facts(graded[0], texts))


def _missing_facts(grade: str, texts: Mapping[str, str]) -> Iterator[FieldProblem]:
    """What somebody will ask of a tape that was seen or read of."""
    if grade in _SEEN:
        for field in ("what", "holder", "certainty"):
            if field not in texts:
                yield FieldProblem(field, *form_words.missing_fact(field, grade), is_doubt=True)


# Yarns


def _yarns(
    texts: Mapping[str, str], names: Sequence[str], weft: str
) -> tuple[tuple[RecordedYarn, ...], list[FieldProblem]]:
    """A yarn for every colour of the stripes, and for the weft: of its own line, of that for all, or a usual one."""
    lines = [line for number in _numbers(tape_form.YARNS) if any((line := _line(texts, number))[1:])]
    wanted = (*names, *([weft] if weft and weft not in names else []))
    problems = [*_wrong_lines(lines, names, wanted), *_wrong_weft(lines, names, weft)]
    for_all = next((line for line in lines if not line.colour), None)
    yarns = []
    for name in wanted:
        own = next((line for line in lines if line.colour == name), None)
        kind = next((line for line in (own, for_all) if line and line.yarn), None)
        shade = next((line.shade for line in (own, for_all) if line and line.shade), "")
        yarns.append(_yarn(name, kind, shade))
    problems += _wrong_kinds(lines)
    if assumed := [yarn.name for yarn in yarns if yarn.is_assumed]:
        told = form_words.yarn_assumed(assumed, _ASSUMED)
        problems.append(FieldProblem(yarn_field(1, "yarn"), *told, is_doubt=True))
    return tuple(yarns), problems


def _line(texts: Mapping[str, str], number: int) -> _YarnLine:
    colour, yarn, shade = (texts.get(yarn_field(number, cell), "") for cell in ("colour", "yarn", "shade"))
    return _YarnLine(number, as_name(colour), yarn, shade)


def _wrong_lines(lines: Sequence[_YarnLine], names: Sequence[str], wanted: Sequence[str]) -> Iterator[FieldProblem]:
    """Lines for a colour that the tape has not, for one that has a line already, and for all that are not for all."""
    first: dict[str, int] = {}
    for line in lines:
        field = yarn_field(line.number, "colour")
        if line.colour in first:
            yield FieldProblem(field, *form_words.second_line(line.colour, first[line.colour]))
        elif line.colour and line.colour not in wanted:
            meant = next((name for name in wanted if same_colour(name, line.colour)), "")
            yield FieldProblem(field, *form_words.no_such_colour(line.colour, meant, names))
        elif not line.colour and line.shade and len(names) > 1:
            yield FieldProblem(field, *form_words.SHADE_OF_ALL)
        first.setdefault(line.colour, line.number)


def _wrong_weft(lines: Sequence[_YarnLine], names: Sequence[str], weft: str) -> Iterator[FieldProblem]:
    if not weft or weft in names:
        return
    if sentence := name_sentence(weft):
        yield FieldProblem(tape_form.WEFT, *sentence)
    elif meant := next((name for name in names if same_colour(name, weft)), ""):
        yield FieldProblem(tape_form.WEFT, *form_words.no_such_colour(weft, meant, names))
    elif weft not in [line.colour for line in lines]:
        yield FieldProblem(tape_form.WEFT, *form_words.weft_of_its_own(weft))


def _wrong_kinds(lines: Sequence[_YarnLine]) -> Iterator[FieldProblem]:
    for line in lines:
        field = yarn_field(line.number, "yarn")
        try:
            as_yarn(_small(line.yarn or _ASSUMED))
        except ValueError as error:
            yield FieldProblem(field, *form_words.no_yarn(str(error)))


def _yarn(name: str, line: _YarnLine | None, shade: str) -> RecordedYarn:
    """The yarn of a colour; what cannot be read of it is told elsewhere."""
    if line is None:
        return _yarn(name, _YarnLine(0, name, _ASSUMED, shade), shade)._replace(is_assumed=True)
    try:
        _, kind = as_yarn(_small(line.yarn))
    except ValueError:
        return RecordedYarn(name, "other", "")
    return RecordedYarn(name, kind.fibre, kind.label_count, kind.system, shade)


def _small(text: str) -> str:
    """Fibre and system as the files spell them: ``Wool 28/2 Metric``."""
    return as_name(text).casefold()
