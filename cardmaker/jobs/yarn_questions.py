"""``new --kind yarn``: asks for a yarn, and writes its file after a yes."""

from __future__ import annotations

import re
from pathlib import Path

from cardmaker.editing.new_yarn import NewYarnRequest, requested_yarn_text
from cardmaker.jobs.dialogue import Dialogue
from cardmaker.jobs.pattern_making import folder_for
from cardmaker.jobs.pattern_questions import as_colour, as_new_title, as_yarn, file_of_title
from cardmaker.model.pattern import LEAST_ENDS_PER_INCH, LONGEST_USE, MOST_ENDS_PER_INCH
from cardmaker.model.problems import ProblemsFound
from cardmaker.model.units import weight_g
from cardmaker.reading import limits
from cardmaker.reading.yarn_file import parse_yarn
from cardmaker.reckoning.amounts.yarn_counts import count_refusal
from cardmaker.wording import question_words, yarn_question_words

LONGEST_MARK = 40  # of a lot or a price


def ask_for_yarn(title: str | None, folder: Path | None) -> list[str]:
    """Asks for everything and writes the file. Returns the lines that tell of it. Raises WrongUsage, CannotWrite."""
    from cardmaker.jobs.editor_schemas import write_new

    into = folder or folder_for("yarn")

    def questions(dialogue: Dialogue) -> dict[Path, bytes]:
        request = _ask_for_request(dialogue, title, into)
        target = file_of_title(request.title, into)
        text = requested_yarn_text(request)
        parse_yarn(text.encode(), str(target), target.stem)  # it reads well
        return dialogue.agreed({target: text})

    files = Dialogue().run(questions)
    write_new(files)
    target = next(iter(files))
    return [str(target), yarn_question_words.next_pattern(target.stem)]


def _ask_for_request(dialogue: Dialogue, title: str | None, folder: Path) -> NewYarnRequest:
    question = yarn_question_words.YARN_TITLE._replace(default=title or "")
    name = dialogue.ask(question, lambda text: as_new_title(text, folder))
    _, kind = dialogue.ask(yarn_question_words.KIND, as_yarn)
    request = NewYarnRequest(name, kind.fibre, kind.label_count, kind.system)
    request = dialogue.ask(yarn_question_words.LENGTH_OF_WEIGHT, lambda text: _with_length_of_weight(request, text))
    return request._replace(
        shade=dialogue.ask(yarn_question_words.SHADE, lambda text: _as_line(text, LONGEST_USE)),
        lot=dialogue.ask(yarn_question_words.LOT, lambda text: _as_line(text, LONGEST_MARK)),
        colour=dialogue.ask(yarn_question_words.COLOUR, lambda text: "" if _is_unknown(text) else as_colour(text)),
        weight=dialogue.ask(yarn_question_words.WEIGHT, _as_weight),
        price=dialogue.ask(yarn_question_words.PRICE, lambda text: _as_line(text, LONGEST_MARK)),
        ends_per_inch=dialogue.ask(yarn_question_words.ENDS, _as_ends),
    )


def _is_unknown(text: str) -> bool:
    return text == yarn_question_words.UNKNOWN


def _with_length_of_weight(request: NewYarnRequest, text: str) -> NewYarnRequest:
    """The yarn with its label's figure, where both together can be. Raises ValueError."""
    if _is_unknown(text):
        return request
    found = re.fullmatch(r"([0-9]{1,7}(?:\.[0-9]{1,3})?) *(yd|yards|m) */ *(lb|pound|kg)", text.replace(",", ""))
    if found is None or (found[2] == "m") != (found[3] == "kg"):
        raise ValueError(yarn_question_words.no_length_of_weight(text))
    key = "metres_per_kg" if found[2] == "m" else "yards_per_pound"
    told = request._replace(**{key: found[1]})
    try:
        yarn = parse_yarn(requested_yarn_text(told).encode(), "", "").yarn
    except ProblemsFound as error:
        raise ValueError(f"{error.problems[0].message} {error.problems[0].remedy}") from None
    if refusal := count_refusal(yarn):
        raise ValueError(f"{refusal.message} {refusal.remedy}")
    return told


def _as_line(text: str, longest: int) -> str:
    if len(text) > longest:
        raise ValueError(question_words.too_long(longest))
    return "" if _is_unknown(text) else text


def _as_weight(text: str) -> str:
    if _is_unknown(text):
        return ""
    if message := limits.PACKAGE_WEIGHT.message(f"'{text}'", weight_g(text)):
        raise ValueError(message)
    return text


def _as_ends(text: str) -> str:
    if _is_unknown(text):
        return ""
    is_number = re.fullmatch(r"[0-9]{1,3}(\.[0-9]{1,3})?", text)
    if not is_number or not LEAST_ENDS_PER_INCH <= float(text) <= MOST_ENDS_PER_INCH:
        raise ValueError(yarn_question_words.no_count_of_ends(text))
    return text
