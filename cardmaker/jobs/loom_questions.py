"""``new --kind loom``: asks for a loom, draws its heddle back in letters, and writes its file after a yes."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from cardmaker.editing.new_loom import LoomRequest, requested_loom_text
from cardmaker.jobs.dialogue import Dialogue
from cardmaker.jobs.file_lookup import FOLDERS, own_folder
from cardmaker.jobs.pattern_making import folder_for, usual_units
from cardmaker.jobs.pattern_questions import as_new_title, file_of_title
from cardmaker.model.loom import Loom
from cardmaker.model.units import length_mm
from cardmaker.reading import limits
from cardmaker.reading.loom_file import parse_loom
from cardmaker.wording import loom_question_words, question_words
from cardmaker.wording.formatters import Units

MOST_SPACES: Final = 2000
_WASTE: Final[dict[Units, str]] = {"metric": "50 cm", "us": "20 in"}
_HOLE: Final = "2 mm"


def ask_for_loom(title: str | None, folder: Path | None) -> list[str]:
    """Asks for everything and writes the file. Returns the lines that tell of it. Raises WrongUsage, CannotWrite."""
    from cardmaker.jobs.editor_schemas import write_new

    into, units = folder or folder_for("loom"), usual_units()
    files = Dialogue().run(lambda dialogue: dialogue.agreed(dict([asked_loom(dialogue, title, into, units)[:2]])))
    write_new(files)
    target = next(iter(files))
    named = target.stem if into == own_folder() / FOLDERS["loom"] else str(target)
    return [str(target), f"Next: make a card for it, with cardmaker card PATTERN --loom {named}"]


def asked_loom(dialogue: Dialogue, title: str | None, folder: Path, units: Units) -> tuple[Path, str, Loom]:
    """Where the file of the loom that was asked for is to be, its text, and the loom."""
    while True:
        request = _ask_for_request(dialogue, title, folder, units)
        target = file_of_title(request.title, folder)
        text = requested_loom_text(request)
        loom = parse_loom(text.encode(), str(target), target.stem)
        dialogue.tell(loom_question_words.drawn_heddle(loom))
        if dialogue.choose(loom_question_words.IS_IT_SO) == question_words.YES:
            return target, text, loom


def _ask_for_request(dialogue: Dialogue, title: str | None, folder: Path, units: Units) -> LoomRequest:
    question = loom_question_words.LOOM_TITLE._replace(default=title or loom_question_words.LOOM_TITLE.default)
    name = dialogue.ask(question, lambda text: as_new_title(text, folder))
    two = dialogue.choose(loom_question_words.HEDDLES) == "two heddles"
    slots = dialogue.ask(loom_question_words.SLOTS, _as_count)
    holes = dialogue.ask(loom_question_words.HOLES, lambda text: _as_holes(text, slots))
    outer = dialogue.choose(loom_question_words.OUTER) if slots == holes else ""
    spaces = slots + holes
    mark = dialogue.choose(loom_question_words.mark_question((spaces + 1) // 2)) if spaces % 2 else ""
    back = dialogue.choose(loom_question_words.BACK_HEDDLE) if two else ""
    shuttle = dialogue.choose(loom_question_words.shuttle_question(two_heddles=two))
    hole_size = dialogue.ask(loom_question_words.hole_size_question(_HOLE), lambda text: _as_length(text, limits.HOLE))
    waste = dialogue.ask(loom_question_words.waste_question(_WASTE[units]), lambda text: _as_length(text, limits.WASTE))
    return LoomRequest(
        name, two, slots, holes, outer, mark, back, hole_size, waste, shuttle.replace(loom_question_words.UNKNOWN, "")
    )


def _as_count(text: str) -> int:
    if not text.isascii() or not text.isdecimal() or not 1 <= int(text[:5]) <= MOST_SPACES:
        raise ValueError(f"'{text}' is no count. Write a whole number from 1 to {MOST_SPACES:,}, as in 22.")
    return int(text)


def _as_holes(text: str, slots: int) -> int:
    holes = _as_count(text)
    if abs(slots - holes) > 1:
        counted = f"{slots:,} slots and {holes:,} holes cannot take turns: they may differ by one at most."
        raise ValueError(f"{counted} Count again, or write {question_words.BACK} to change the slots.")
    return holes


def _as_length(text: str, limit: limits.Limit) -> str:
    """A length within the limit as it was typed; empty where it is not known."""
    if text == loom_question_words.UNKNOWN:
        return ""
    length = length_mm(text)
    if not length:
        raise ValueError(question_words.no_length(text))
    if message := limit.message(f"'{text}'", length):
        raise ValueError(message)
    return text
