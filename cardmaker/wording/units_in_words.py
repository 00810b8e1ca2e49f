"""Printed figures as they are said: units and fractions in whole words.

What is said is made from what is printed, so that an ear and an eye are told the same number.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from cardmaker.wording.formatters import Number, Units, small_length

_UNITS: Final = {
    "mm": ("millimetre", "millimetres"), "cm": ("centimetre", "centimetres"), "m": ("metre", "metres"),
    "in": ("inch", "inches"), "yd": ("yard", "yards"), "g": ("gram", "grams"), "kg": ("kilogram", "kilograms"),
}  # fmt: skip
_PARTS: Final = {2: "half", 4: "quarter", 8: "eighth", 16: "sixteenth"}
_DIGITS: Final = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉⁄", "01234567890123456789/")
_READY_MADE: Final = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_PART: Final = "[¼-¾⅛-⅞]|[²-¹⁰-⁹]+⁄[₀-₉]+"  # few ranges are quickly compiled; what lies between is never printed
_LENGTH: Final = re.compile(
    rf"(?![a-z])(?:(?P<whole>\d+(?:\.\d+)?)[ \u00a0])?(?:(?P<part>{_PART})[ \u00a0])?"
    r"(?P<unit>mm|cm|m|yd|kg|g|in(?= \(|\)|$))(?!\w)"
)  # no unit without a figure; inches stand beside millimetres, one of the two in brackets: any other "in" is a word


def unit_name(unit: str) -> str:
    """``m`` is ``metres``."""
    return _UNITS[unit][1]


def with_units_in_words(text: str) -> str:
    """The text with every length and weight in words: ``16 mm (⅝ in)`` is ``16 millimetres (5 eighths of an inch)``."""
    return _LENGTH.sub(_in_words, text).replace("\N{NO-BREAK SPACE}", " ")


def _in_words(match: re.Match[str]) -> str:
    singular, several = _UNITS[match["unit"]]
    share = _share(match["part"]) if match["part"] else ""
    if not match["whole"]:
        return f"half {_a(singular)}" if share == "a half" else f"{share} of {_a(singular)}"
    if share:
        return f"{match['whole']} and {share} {several}"
    return f"{match['whole']} {singular if match['whole'] == '1' else several}"


def _share(part: str) -> str:
    """``⅝`` is ``5 eighths``, ``½`` is ``a half``."""
    value = Fraction(_READY_MADE.get(part) or part.translate(_DIGITS))
    name = _PARTS[value.denominator]
    if value.numerator == 1:
        return _a(name)
    return f"{value.numerator} {name}s"


def _a(noun: str) -> str:
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


def small_length_in_words(length: Number, units: Units) -> str:
    """A width or a short length, in words."""
    return with_units_in_words(small_length(length, units))
