"""Where the stripes of a new pattern come from: what was typed, a file, a table of a spreadsheet, standard input."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Final

from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.model.carried_file import LARGEST_FILE
from cardmaker.model.pattern import LONGEST_YARN_NAME, Stripe
from cardmaker.model.problems import ProblemsFound
from cardmaker.reading.source_text import file_bytes, invisible_sign, sign_in_words, word_of_sign
from cardmaker.reading.stripe_text import Stripes, stripes_of_text
from cardmaker.reckoning.stripes.stripe_counts import stripe_refusals
from cardmaker.wording import question_words

STANDARD_INPUT: Final = "-"
_TEXT_FILES: Final = (".txt", ".csv", ".tsv", ".tab")
_WORKBOOKS: Final = (".xlsx", ".xls", ".ods", ".numbers")
_UTF_16: Final = (b"\xff\xfe", b"\xfe\xff")
_TABLES_ONLY: Final = "Save the sheet as a table of text, CSV, and name that file."


def stripes_from(asked: str) -> Stripes:
    """The stripes that ``--stripes`` asks for: themselves, a file that holds them, or ``-`` for standard input.

    Raises WrongUsage with what was probably meant.
    """
    try:
        return checked_stripes(_text_from(asked))
    except ValueError as error:
        raise WrongUsage(f"--stripes: {error}") from None


def checked_stripes(text: str) -> Stripes:
    """The stripes of a text, as far as a pattern may have them. Raises ValueError with a sentence."""
    if sign := invisible_sign(text.replace("\n", " ").replace("\t", " ").replace("\r", " ")):
        raise ValueError(question_words.no_sign(sign_in_words(sign)))
    stripes = stripes_of_text(text)
    for refusal in stripe_refusals([Stripe(yarn, ends) for ends, yarn in stripes]):
        raise ValueError(str(refusal))
    for _, name in stripes:
        if len(name) > LONGEST_YARN_NAME:
            raise ValueError(question_words.no_name(word_of_sign(name), LONGEST_YARN_NAME))
    return stripes


def _text_from(asked: str) -> str:
    if asked == STANDARD_INPUT:
        return _decoded(sys.stdin.buffer.read(LARGEST_FILE + 1), "standard input")
    path = Path(asked)
    if path.suffix.casefold() in _WORKBOOKS:
        raise WrongUsage(f"--stripes: {asked} is a spreadsheet's own file. {_TABLES_ONLY}")
    if path.suffix.casefold() not in _TEXT_FILES and not _is_file(path):
        return asked
    try:
        return _decoded(file_bytes(path), asked)
    except ProblemsFound as error:
        raise WrongUsage(f"--stripes: {error.problems[0]}") from None


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):  # no name that a file can have
        return False


def _decoded(raw: bytes, name: str) -> str:
    """The text of a file of stripes, as spreadsheets and editors save them. Raises WrongUsage."""
    if len(raw) > LARGEST_FILE:
        raise WrongUsage(f"--stripes: {name} is far too large for a list of stripes.")
    if raw.startswith(b"PK\x03\x04") or (b"\x00" in raw and not raw.startswith(_UTF_16)):
        raise WrongUsage(f"--stripes: {name} is no text. {_TABLES_ONLY}")
    try:
        return raw.decode("utf-16" if raw.startswith(_UTF_16) else "utf-8-sig")
    except UnicodeDecodeError:
        raise WrongUsage(
            f"--stripes: {name} is not saved as UTF-8. Save it again, as CSV UTF-8 or UTF-8 text."
        ) from None
