"""The stripes of a pattern file: each line of ``warp`` as a stripe, an alternation or a repeat."""

from __future__ import annotations

import re
from typing import Any, Final

from cardmaker.model.pattern import MOST_ENDS, Alternation, Repeat, Stripe, WarpItem
from cardmaker.model.problems import KeyPath
from cardmaker.reading.fields import FieldReader
from cardmaker.reading.nodes import as_name
from cardmaker.reading.value_words import FIGURES, FILLERS, Sentence, quoted

_CONTINUED: Final = (
    "this line has no dash under the dash above, so it is read with the line above.",
    "Begin it with a dash in column {column}.",
)
_MOST_ON_A_LINE: Final = 9  # stripes that a remedy repeats
_STRIPE: Final = re.compile(r"\s*([1-9][0-9]{0,4})\s+(\S.*?)\s*", re.DOTALL)


def warp_items_of(part: FieldReader, key: str, known: tuple[str, ...]) -> tuple[WarpItem, ...]:
    """The items of a list of stripes; their yarns must be among those ``known``."""
    values = enumerate(part.values.get(key) or ())
    return tuple(_item(value, (key, index), part, known) for index, value in values if value is not None)


def _item(value: Any, path: KeyPath, part: FieldReader, known: tuple[str, ...]) -> WarpItem:
    if isinstance(value, str):
        return _stripe(value, path, part, known)
    inner = part.inner(path, value)
    if "repeat" in value or "stripes" in value:
        return Repeat(inner.count("repeat"), warp_items_of(inner, "stripes", known))
    for index, name in enumerate(inner.values.get("alternate") or ()):
        if name is not None:
            inner.check_name(("alternate", index), as_name(name), "yarns", known)
    return Alternation(inner.names("alternate"), inner.count("ends"))


def _stripe(text: str, path: KeyPath, part: FieldReader, known: tuple[str, ...]) -> Stripe:
    match = _STRIPE.fullmatch(text)
    if not match:
        part.report(path, *stripe_sentence(text))
        return Stripe("", 1)
    ends, name = int(match[1]), as_name(match[2])
    if ends > MOST_ENDS:
        part.report(path, f"{ends:,} ends are too many; {MOST_ENDS} is the most.", "Check the number.")
    if name not in known:
        _report_name(text, path, part, known)
    return Stripe(name, ends)


def _report_name(text: str, path: KeyPath, part: FieldReader, known: tuple[str, ...]) -> None:
    """What is wrong with a stripe whose yarn is not known: another line or another stripe in it, or the name alone."""
    count, name = text.split(maxsplit=1)
    words = name.split()
    if part.report_continued(path, *_CONTINUED):
        return
    if re.search(r"(?:[,;/+&]|\s)\s*[0-9]+\s*[x×]?\s+[^\W\d]", name):
        part.report(path, f"{quoted(text)} is more than one stripe.", "Write each on a line of its own, with a dash.")
    elif words[0].casefold() in FILLERS and (rest := _without_fillers(words)) in known:
        part.report(path, f"{quoted(text)} has words that no stripe needs.", f"Write {quoted(f'{count} {rest}')}.")
    else:
        part.check_name(path, as_name(name), "yarns", known)


def _without_fillers(words: list[str]) -> str:
    kept = [index for index, word in enumerate(words) if word.casefold() not in FILLERS]
    return as_name(" ".join(words[kept[0] :])) if kept else ""


def stripe_sentence(text: str) -> Sentence:
    """What is wrong with a stripe that is not written as ``9 white``, and what was probably meant."""
    words = text.split()
    if not words:
        return "this stripe is empty.", "Write how many ends, a space and the yarn, as in 9 white."
    if re.fullmatch(r"[0-9]+", text.strip(), re.ASCII) and int(words[0][:9]):
        return f"{quoted(text)} says how many ends but not of which yarn.", f"Write it as in {words[0][:9]} white."
    if match := re.fullmatch(r"[-–—−•*\s]*([1-9][0-9]{0,4})\s*(?:[x×*]|[,;:.]\s)?\s*([^\W\d].*)", text, re.DOTALL):
        glued = ", with a space" if re.match(r"[0-9]+[^\W\d]", text.strip()) else ""
        return f"{quoted(text)} is not a stripe.", f"Write {quoted(f'{match[1]} {match[2].strip()}')}{glued}."
    if match := re.fullmatch(r"\s*(.*?\S)(?:\s*[×*:]\s*|\s+x?\s*)([1-9][0-9]{0,4})\s*", text[:80], re.DOTALL):
        return f"{quoted(text)} is the wrong way round.", f"Write {quoted(f'{match[2]} {match[1]}')}."
    if re.match(r"\s*[-+.,0-9]", text):
        return f"{quoted(text)} has no whole number of ends from 1 to {MOST_ENDS}.", "Write it as in 9 white."
    if len(words) > 1 and (figure := FIGURES.get(words[0].casefold())):
        meant = f"{figure} {' '.join(words[1:])}"
        return f"{quoted(text)} does not begin with a figure.", f"Write {quoted(meant)}."
    if len(words) > 1:
        return f"{quoted(text)} does not begin with a number.", "Write how many ends in figures, as in 9 white."
    return f"{quoted(text)} does not say how many ends.", f"Write it as in {quoted(f'9 {words[0]}')}."


def stripes_sentence(text: str) -> Sentence:
    """What is wrong with stripes that stand as one text where a list of them is wanted."""
    from cardmaker.reading.stripe_text import stripes_of_text

    message = f"{quoted(text)} is not a list of stripes."
    first = text.split("\n")[0].strip()
    if glued := re.match(r"-([1-9][0-9]*\s+[^\W\d]+)", first):
        return message, f"Write a space after every dash, as in - {glued[1]}."
    if foreign := re.match(r"([–—−•·*])\s*([1-9][0-9]*\s+[^\W\d]+)", first):
        remedy = f"Begin every line with the plain dash of the keyboard and a space, as in - {foreign[2]}."
        return f"'{foreign[1]}' is not the dash of a list.", remedy
    try:
        stripes = [f"{count} {name}" for count, name in stripes_of_text(text.strip().strip("()"))]
    except ValueError:
        return message, "Write one stripe on each line, with a dash before it, as in - 9 white."
    if len(stripes) > _MOST_ON_A_LINE:
        return message, f"Begin every line with a dash and a space, as in - {stripes[0]}."
    return message, f"Begin every line with a dash and a space, as in - {stripes[0]}; or write [{', '.join(stripes)}]."
