"""A length, weight, percentage, number or colour that cannot be read: what to type instead, as far as it can be told.

Only a file or an option that is refused asks for these; nothing here decides what is refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Final

from cardmaker.model.named_colours import named_colour
from cardmaker.model.units import LONGEST_TEXT, length_mm, parse_number, parse_share, weight_g
from cardmaker.reading.source_text import word_of_sign
from cardmaker.reading.value_words import FIGURES, Sentence, closest_names, decimal_text, listed_choices, quoted

_COMMA: Final = re.compile(r"([0-9]+),([0-9]+)(.*)", re.DOTALL)
_SIGNED: Final = re.compile(r"[-–−]\s*([0-9].*)", re.DOTALL)
_RANGE: Final = re.compile(r"[0-9.]+\s*(?:[-–—]|to|or)\s*([0-9.]+\s*[a-z\"]+)", re.IGNORECASE)
_PART: Final = re.compile(
    r"([0-9][0-9./ ½¼¾-]*?)\s*(yds?|yards?|ft|feet|foot|inches|inch|in|cm|mm|m|['’′]|[\"”″])\.?(?![a-z])"
)
_NUMBER_AND_UNIT: Final = re.compile(r"([0-9][0-9./ ½¼¾-]*?)\s*([A-Za-z]+)\.?")
_BESIDE: Final = re.compile(
    r"([1-9][0-9]{0,8}(?:\.[0-9]{1,9})?)(?:\s*[,;.x×]|\s*[,;.]?\s*[^\W\d_]+(?:[ /.-]+[^\W\d_]+)*\.?)"
)  # 14 ppi
_SIGNS_OF_UNITS: Final = {"'": "ft", "’": "ft", "′": "ft", '"': "in", "”": "in", "″": "in"}
_PER_CENT: Final = re.compile(r"(.*?[0-9])\s*(?:per\s?cent|pct|p\.?\s?c\.?)\.?", re.IGNORECASE)
_LENGTH_UNITS: Final = ("in", "yd", "cm", "mm", "m", "ft")
_WEIGHT_UNITS: Final = ("g", "kg", "oz", "lb")
_AS_LENGTH: Final = "Write it as 36 in, 2 1/4 in, 2 yd, 1.5 m, 40 cm or 12 mm."
_AS_WEIGHT: Final = "Write it as 50 g, 4 oz or 1 lb."

Reader = Callable[[str], Fraction]


def length_sentence(text: str) -> Sentence:
    """What is wrong with a length, and what was most likely meant."""
    if sentence := _of_two_units(text):
        return sentence
    return _quantity_sentence(text, "a length", length_mm, _LENGTH_UNITS, _AS_LENGTH)


def weight_sentence(text: str) -> Sentence:
    """What is wrong with a weight, and what was most likely meant."""
    return _quantity_sentence(text, "a weight", weight_g, _WEIGHT_UNITS, _AS_WEIGHT)


def percentage_sentence(text: str) -> Sentence:
    """What is wrong with a percentage, and what was most likely meant."""
    plain = text.strip()[: LONGEST_TEXT + 1]  # of which no reader takes more
    if sentence := comma_sentence(plain, parse_share):
        return sentence
    if (signed := _SIGNED.fullmatch(plain)) and _is_read(signed[1], parse_share):
        return f"{quoted(text)} is less than nothing.", f"Write {signed[1]}."
    if (word := _PER_CENT.fullmatch(plain)) and _is_read(f"{word[1]} %", parse_share):
        return f"{quoted(text)} is not a percentage.", f"Write {word[1]} %, with the sign."
    if _is_read(plain, parse_number):
        share = parse_number(plain)
        figure = decimal_text(100 * share if share < 1 else share)
        return f"{quoted(text)} has no per cent sign.", f"Write {figure} %, if that is what you mean."
    return f"{quoted(text)} is not a percentage.", "Write it with its sign, as in 12 %."


def number_sentence(text: str, *, whole: bool) -> str:
    """What to write in the stead of a number with something else beside it; empty where that cannot be told."""
    plain = text.strip()
    if plain.casefold() in FIGURES:
        return f"Write {FIGURES[plain.casefold()]}, in figures."
    if (comma := _COMMA.fullmatch(plain)) and not comma[3]:
        if len(comma[2]) == 3:
            return f"Write {comma[1]}{comma[2]}, without the comma."
        return "" if whole else f"Write {comma[1]}.{comma[2]}, with a point."
    if whole and re.fullmatch(r"[0-9]{1,9}\.0+", plain):
        return f"Write {int(plain.split('.')[0])}."
    alone = _BESIDE.fullmatch(plain) if len(plain) <= LONGEST_TEXT else None
    if alone and not (whole and "." in alone[1]):
        return f"Write {alone[1]} alone."
    return ""


def colour_sentence(text: str) -> Sentence:
    """What is wrong with a colour: for one that is a word, the signs that print it."""
    plain = text.strip()
    if re.fullmatch(r"[0-9A-Fa-f]{6}", plain):
        return f"{quoted(text)} has no # before it.", f'Write "#{plain}", in quotes.'
    if short := re.fullmatch(r"#([0-9A-Fa-f])([0-9A-Fa-f])([0-9A-Fa-f])", plain):
        return (
            f"{quoted(text)} has three signs, and a colour has six.",
            f'Write "#{"".join(2 * sign for sign in short.groups())}".',
        )
    if sign := named_colour(plain):
        return (
            f"{quoted(text)} is a word, and a colour is # and six signs.",
            f'Write "{sign.lower()}" for such a colour; the words of the label belong under shade.',
        )
    return (
        f"{quoted(text)} is not a colour.",
        'Write # and six of the signs 0-9 and a-f, in quotes, as in "#a5322b"; '
        "the words of the label belong under shade.",
    )


def comma_sentence(text: str, read: Reader) -> Sentence | None:
    """What is said of a number with a comma in it: decimals are parted off by a point, and thousands by nothing."""
    comma = _COMMA.fullmatch(text)
    if not comma or not _is_read(point := f"{comma[1]}.{comma[2]}{comma[3]}", read):
        return None
    if len(comma[2]) == 3:
        thousands = f"{comma[1]}{comma[2]}{comma[3]}"
        return f"{quoted(text)} has a comma in it.", f"Write {thousands} or {point}, whichever you mean."
    return f"{quoted(text)} has a comma in it.", f"Write {point}, with a point."


def parted_number(value: object, rest: str) -> Sentence | None:
    """``{finished: 2,5 m}``, whose comma parts the number, so that ``5 m`` is read as a key; else None."""
    whole = f"{decimal_text(value).replace(',', '') if isinstance(value, (int, Fraction)) else value},{rest}"
    if remedy := number_sentence(whole, whole=False):
        return f"{quoted(whole)} has a comma in it.", remedy
    readers: tuple[Reader, ...] = (length_mm, weight_g, parse_share)
    return next((sentence for read in readers if (sentence := comma_sentence(whole, read))), None)


def measure_sentence(text: str, what: str, otherwise: str) -> Sentence:
    """What is wrong with a length, weight or percentage that its schema let pass; ``otherwise`` is what its reader says
    of it, which is enough for what is read and makes no sense."""
    sentence = {"length": length_sentence, "weight": weight_sentence, "percentage": percentage_sentence}.get(what)
    if sentence is None or otherwise.endswith(("nought", "100 %", "kilometre")):
        return f"{word_of_sign(otherwise, 120)}.", ""
    return sentence(text)


def _quantity_sentence(text: str, what: str, read: Reader, units: tuple[str, ...], usual: str) -> Sentence:
    plain = " ".join(text.split())
    if len(plain) > LONGEST_TEXT:  # looking for what was meant takes longer by the square
        return f"{quoted(text)} is not {what} with its unit.", usual
    if sentence := comma_sentence(plain, read):
        return sentence
    if (signed := _SIGNED.fullmatch(plain)) and _is_read(signed[1], read):
        return f"{quoted(text)} is less than nothing.", f"Write {signed[1]}."
    if _is_read(plain, parse_number):
        choices = ", ".join(f"{plain} {unit}" for unit in units[:-1])
        return f"{quoted(text)} has no unit.", f"Write {choices} or {plain} {units[-1]}, whichever you mean."
    if (several := _RANGE.fullmatch(plain)) and _is_read(several[1], read):
        return f"{quoted(text)} is not one length.", f"Write the longer one alone, as in {several[1]}."
    if (word := plain.split(" ")[0].casefold()) in FIGURES and _is_read(
        figures := f"{FIGURES[word]}{plain[len(word) :]}", read
    ):
        return f"{quoted(text)} has no figures.", f"Write {figures}."
    if found := next((each[0] for each in _NUMBER_AND_UNIT.finditer(plain) if _is_read(each[0], read)), ""):
        return f"{quoted(text)} is more than {what}.", f"Write {found} alone."
    if (pair := _NUMBER_AND_UNIT.fullmatch(plain)) and _is_read(pair[1], parse_number):
        near = closest_names(pair[2], units) if len(pair[2]) > 2 else ""
        named = f"Did you mean {pair[1]} {near}?" if near else f"Known units are {listed_choices(units)}."
        return f"{quoted(text)} has no unit that is known here.", named
    return f"{quoted(text)} is not {what} with its unit.", usual


def _of_two_units(text: str) -> Sentence | None:
    """``5' 6"`` and ``2 yd 6 in``: the sum, in the smaller unit. A foot sign alone is told its letters."""
    parts = _PART.findall(text) if len(text) <= LONGEST_TEXT else []
    if not parts or _PART.sub("", text).strip(" ,"):
        return None
    try:
        lengths = [(number, _SIGNS_OF_UNITS.get(unit, unit)) for number, unit in parts]
        total = sum((length_mm(f"{number} {unit}") for number, unit in lengths), Fraction(0))
        last = lengths[-1][1]
        figure = total / length_mm(f"1 {last}")
    except ValueError:
        return None
    if len(parts) == 1:
        return f"{quoted(text)} has no unit that is known here.", f"Write {lengths[0][0]} {last}."
    return f"{quoted(text)} is told in two units.", f"Write it in one, as in {decimal_text(figure)} {last}."


def _is_read(text: str, read: Reader) -> bool:
    try:
        read(text)
    except ValueError:
        return False
    return True


def lengths_sentence(text: str) -> Sentence:
    """What is said of ``length: 2 yd``, which does not say of what."""
    if _is_read(text, length_mm):
        return f"{quoted(text)} does not say of what.", f"Write {{finished: {text}}} for the tape, or {{warp: {text}}}."
    return f"{quoted(text)} is not a group of keys with values.", "Write it as {finished: 72 in} or {warp: 3 yd}."


def yarn_sentence(text: str) -> Sentence:
    """What is said of ``white: linen 20/2``, which has no keys."""
    message = f"{quoted(text)} has no keys."
    if pair := re.fullmatch(r"\s*([a-z]+),?\s+([0-9]\S*)\s*", text):
        return message, f"Write {{fibre: {pair[1]}, count: {pair[2]}}}."
    return message, "Write it as {fibre: linen, count: 20/2}."


QUANTITY_SENTENCES: Final[Mapping[str, Callable[[str], Sentence]]] = {
    "a length with its unit": length_sentence,
    "a weight with its unit": weight_sentence,
    "a percentage": percentage_sentence,
    "a colour": colour_sentence,
    "lengths": lengths_sentence,
    "a yarn": yarn_sentence,
}
"""By the title that a schema gives to what is wanted."""
