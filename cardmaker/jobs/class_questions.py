"""``new --kind class``: asks who comes, to which loom and with which pattern, and writes the file after a yes."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from cardmaker.editing.new_class import NewClassRequest, requested_class_text
from cardmaker.jobs import loading
from cardmaker.jobs.dialogue import Dialogue
from cardmaker.jobs.file_lookup import FOLDERS, WrongUsage, at_hand, own_folder
from cardmaker.jobs.pattern_making import folder_for, usual_units
from cardmaker.jobs.pattern_questions import as_length, as_new_title, file_of_title, looms_to_choose_from, why_not_on
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.problems import ProblemsFound
from cardmaker.model.units import minutes
from cardmaker.reading import limits
from cardmaker.reading.class_file import parse_class
from cardmaker.wording import loom_question_words
from cardmaker.wording.formatters import Units

MOST_STUDENTS: Final = 60
MOST_OFFERED: Final = 30
_WARP: Final[dict[Units, str]] = {"metric": "2.8 m", "us": "3 yd"}


def ask_for_class(title: str | None, folder: Path | None) -> list[str]:
    """Asks for everything and writes the file. Returns the lines that tell of it. Raises WrongUsage, CannotWrite."""
    from cardmaker.jobs.editor_schemas import write_new

    into, units = folder or folder_for("class"), usual_units()
    (looms, _), patterns = looms_to_choose_from(), _sound_patterns()

    def questions(dialogue: Dialogue) -> dict[Path, bytes]:
        request = _ask_for_request(dialogue, title, into, units, looms, patterns)
        target = file_of_title(request.title, into)
        text = requested_class_text(request)
        parse_class(text.encode(), str(target), target.stem)  # it reads well
        return dialogue.agreed({target: text})

    files = Dialogue().run(questions)
    write_new(files)
    target = next(iter(files))
    named = target.stem if into == own_folder() / FOLDERS["class"] else str(target)
    return [str(target), f"Next: look at it, change what you like, then run: cardmaker class {named}"]


def _sound_patterns() -> list[Pattern]:
    sound = []
    for path in at_hand("pattern").values():
        try:
            sound.append(loading.load_pattern(path))
        except ProblemsFound:
            continue
    return sound


def _ask_for_request(
    dialogue: Dialogue,
    title: str | None,
    folder: Path,
    units: Units,
    looms: Sequence[Loom],
    patterns: Sequence[Pattern],
) -> NewClassRequest:
    question = loom_question_words.CLASS_TITLE._replace(default=title or loom_question_words.CLASS_TITLE.default)
    name = dialogue.ask(question, lambda text: as_new_title(text, folder))
    date = dialogue.ask(loom_question_words.CLASS_DATE, _as_date)
    students = dialogue.ask(loom_question_words.STUDENTS, _as_students)
    stem = dialogue.choose(loom_question_words.class_loom_question(looms))
    loom = next(loom for loom in looms if loom.stem == stem)
    held = [(each.stem, each.title) for each in patterns if not why_not_on(loom, each)][:MOST_OFFERED]
    if not held:
        raise WrongUsage(f"No pattern at hand goes on {loom.title}. Make one first: cardmaker new --ask")
    pattern = dialogue.choose(loom_question_words.class_pattern_question(held))
    warp = dialogue.ask(loom_question_words.class_warp_question(_WARP[units]), _as_warp)
    session = dialogue.ask(loom_question_words.SESSION, _as_session)
    return NewClassRequest(name, students, stem, pattern, date, warp, session)


def _as_date(text: str) -> str:
    return "" if text == loom_question_words.UNKNOWN else text


def _as_students(text: str) -> tuple[str, ...]:
    if text.isascii() and text.isdecimal():
        if not 1 <= int(text[:4]) <= MOST_STUDENTS:
            raise ValueError(f"A class has 1 to {MOST_STUDENTS} students.")
        return tuple(f"Student {number}" for number in range(1, int(text) + 1))
    names = tuple(" ".join(name.split()) for name in text.split(",") if name.strip())
    if not 1 <= len(names) <= MOST_STUDENTS:
        raise ValueError(f"A class has 1 to {MOST_STUDENTS} students.")
    if double := next((name for name in names if [each.casefold() for each in names].count(name.casefold()) > 1), ""):
        raise ValueError(f"There are two students named '{double}'. Add something that tells them apart.")
    return names


def _as_warp(text: str) -> str:
    return as_length(text, limits.WARP)


def _as_session(text: str) -> str:
    minutes(text)
    return text
