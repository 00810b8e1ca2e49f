"""``new``: a commented pattern file to start from; and what holds for every file that is written anew."""

from __future__ import annotations

from pathlib import Path

from cardmaker.editing.new_pattern import (
    DEFAULT_STRIPES,
    USUAL_LENGTH,
    requested_pattern_text,
    stem_of,
    usual_request,
)
from cardmaker.files import NamesThere
from cardmaker.jobs.editor_schemas import with_schema_line, write_new
from cardmaker.jobs.file_lookup import FOLDERS, Kind, WrongUsage, own_folder
from cardmaker.jobs.loading import load_settings
from cardmaker.jobs.stripe_input import stripes_from
from cardmaker.model.pattern import LONGEST_TITLE
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.source_text import sign_in_words, unwelcome_sign
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, is_same_both_ways
from cardmaker.wording import question_words
from cardmaker.wording.formatters import Units
from cardmaker.wording.new_file_words import assumed, stripes_understood


def write_new_pattern(title: str, stripes_in_words: str | None, folder: Path | None) -> tuple[Path, list[str]]:
    """Writes the file, named by its title; where it is, and lines that tell what was understood and assumed.

    Raises WrongUsage, ProblemsFound, CannotWrite.
    """
    stem = stem_of_title(title)
    target = (folder or folder_for("pattern")) / f"{stem}.yaml"
    refuse_to_replace(target)
    stripes = [*DEFAULT_STRIPES] if stripes_in_words is None else stripes_from(stripes_in_words)
    request = usual_request(title, stripes, USUAL_LENGTH[usual_units()])
    text = with_schema_line(target, requested_pattern_text(request)).encode()
    yarns = end_yarns(parse_pattern(text, str(target), stem))  # it reads well
    write_new({target: text})
    told = assumed(
        [(yarn.name, f"{yarn.fibre} {yarn.label_count}", yarn.colour) for yarn in request.yarns],
        request.finished,
        stripes_too=stripes_in_words is None,
    )
    return target, [stripes_understood(request.stripes, is_same_both_ways(yarns)), *told]


def stem_of_title(title: str) -> str:
    """The stem of the file that a title names. Raises WrongUsage for what can be no title."""
    if sign := unwelcome_sign(title):
        raise WrongUsage(question_words.no_sign(sign_in_words(sign)))
    if len(title) > LONGEST_TITLE or len(title.splitlines()) > 1:
        raise WrongUsage(f"A title is one line of at most {LONGEST_TITLE} letters.")
    if not (stem := stem_of(title)):
        raise WrongUsage(question_words.no_letter(title))
    return stem


def folder_for(kind: Kind) -> Path:
    """Where new files of a kind are written: in the user's own folder."""
    return own_folder() / FOLDERS[kind]


def usual_units() -> Units:
    """The units that something is offered in, where nobody has said which. Raises ProblemsFound."""
    return load_settings().units or "us"


def refuse_to_replace(target: Path) -> None:
    """A file is never written anew over another, nor beside one that would be the same on another system.

    Raises WrongUsage.
    """
    if there := NamesThere().at(target):
        raise WrongUsage(question_words.is_there(str(there)))
