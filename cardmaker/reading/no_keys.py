"""What is said of a file whose top is not keys with values."""

from __future__ import annotations

from typing import Final

from cardmaker.reading.stripe_text import stripes_of_text
from cardmaker.reading.value_words import Sentence

_LONGEST_STRIPES: Final = 5000  # signs of a file that may be stripes alone


def words_of_no_keys(found: str, text: str) -> Sentence:
    """What is wrong, and how a file begins; ``found`` is what stands in the stead of keys: nothing,
    blank, list or text."""
    remedy = "Begin with a line such as title: Three Paths."
    if found in ("nothing", "blank"):
        message = (
            "there are no keys in this file." if found == "blank" else "there is nothing in this file but comments."
        )
        return (message if text.strip() else "this file is empty."), remedy
    if _are_stripes(text):
        return "these are stripes alone.", 'To make a pattern file of them: cardmaker new "Its title" --stripes FILE'
    what = "a list" if found == "list" else "one piece of text"
    return f"this file is {what}; it should be keys with values.", remedy


def _are_stripes(text: str) -> bool:
    try:
        return len(text) < _LONGEST_STRIPES and bool(stripes_of_text(text))
    except ValueError:
        return False
