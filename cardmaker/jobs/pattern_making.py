"""``new``: a commented pattern file to start from; and what holds for every pattern file that is written."""

from __future__ import annotations

from pathlib import Path

from cardmaker.editing.new_pattern import DEFAULT_STRIPES, new_pattern_text, parsed_stripes, stem_of
from cardmaker.files import write_whole
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.model.pattern import LONGEST_TITLE
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.source_text import sign_in_words, unwelcome_sign
from cardmaker.reckoning.stripes.stripe_counts import stripe_refusals
from cardmaker.wording import question_words


def write_new_pattern(title: str, stripes_in_words: str | None, folder: Path) -> Path:
    """Writes the file, named by its title, and returns where it is. Raises WrongUsage, CannotWrite."""
    try:
        stripes = parsed_stripes(stripes_in_words or DEFAULT_STRIPES)
    except ValueError as error:
        raise WrongUsage(f"--stripes: {error}") from None
    if sign := unwelcome_sign(title + (stripes_in_words or "")):
        raise WrongUsage(question_words.no_sign(sign_in_words(sign)))
    if len(title) > LONGEST_TITLE or len(title.splitlines()) > 1:
        raise WrongUsage(f"A title is one line of at most {LONGEST_TITLE} letters.")
    stem = stem_of(title)
    if not stem:
        raise WrongUsage(question_words.no_letter(title))
    target = folder / f"{stem}.yaml"
    refuse_to_replace(target)
    text = new_pattern_text(title, stripes).encode()
    if refusals := stripe_refusals(parse_pattern(text, str(target), stem).warp):
        raise WrongUsage(f"--stripes: {refusals[0]}")
    write_whole(target, text)
    return target


def refuse_to_replace(target: Path) -> None:
    """A pattern file is never written over another. Raises WrongUsage."""
    if target.exists():
        raise WrongUsage(question_words.is_there(str(target)))
