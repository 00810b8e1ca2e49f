"""Lengths, weights, times, percentages and fractions: text becomes one internal unit at the edge, exactly.

Inside, a length is a ``Fraction`` of millimetres, a weight a ``Fraction`` of grams, a time one of minutes and a
percentage a ``Fraction`` of one.
The inch is 25.4 mm, the yard 0.9144 m and the pound 453.59237 g by definition (footnote A of ASTM D2260, Table 1).
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final, Literal

MM_PER_INCH: Final = Fraction(254, 10)
MM_PER_YARD: Final = 36 * MM_PER_INCH
GRAMS_PER_POUND: Final = Fraction(45359237, 100000)
LONGEST_MM: Final = Fraction(1_000_000)  # one kilometre: more is a slip of the pen
QUARTER_YARD: Final = MM_PER_YARD / 4  # what a warp is rounded up to in yards: common practice, no source
TENTH_METRE: Final = Fraction(100)  # and in metres: common practice, no source
LONGEST_TEXT: Final = 60  # signs of a quantity: far more would only keep the reader busy

_LENGTH_UNITS: Final = {
    "mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000),
    "in": MM_PER_INCH, "inch": MM_PER_INCH, "inches": MM_PER_INCH,
    '"': MM_PER_INCH, "″": MM_PER_INCH, "”": MM_PER_INCH,
    "ft": 12 * MM_PER_INCH, "foot": 12 * MM_PER_INCH, "feet": 12 * MM_PER_INCH,
    "yd": MM_PER_YARD, "yds": MM_PER_YARD, "yard": MM_PER_YARD, "yards": MM_PER_YARD,
    "metre": Fraction(1000), "metres": Fraction(1000), "meter": Fraction(1000), "meters": Fraction(1000),
}  # fmt: skip
_WEIGHT_UNITS: Final = {
    "g": Fraction(1), "kg": Fraction(1000),
    "oz": GRAMS_PER_POUND / 16, "lb": GRAMS_PER_POUND, "lbs": GRAMS_PER_POUND,
}  # fmt: skip
_VULGAR: Final = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3",
    "⁄": "/",
}  # fmt: skip
_NUMBER: Final = re.compile(r"(?:(\d{1,9})(?:\s+|[-–] ?))?(\d{1,9})\s*/\s*(\d{1,9})|(\d{1,9}(?:\.\d{1,9})?)", re.ASCII)


def parse_number(text: str) -> Fraction:
    """An unsigned decimal, fraction or mixed number as typed (``2``, ``2.5``, ``1/4``, ``2 1/4``, ``2-1/4``, ``2¼``),
    exactly.

    Raises ValueError for anything else.
    """
    if not text.isascii():
        for sign, spelled in _VULGAR.items():
            text = text.replace(sign, spelled if sign == "⁄" else f" {spelled}")
    match = _NUMBER.fullmatch(text.strip())
    if not match:
        raise ValueError(f"'{text.strip()}' is not a number")
    whole, over, under, plain = match.groups()
    if plain:
        return Fraction(plain)
    if int(under) == 0:
        raise ValueError(f"'{text.strip()}' divides by nought")
    return Fraction(int(whole or 0)) + Fraction(int(over), int(under))


def _quantity(text: str, units: dict[str, Fraction], example: str) -> Fraction:
    if len(text) > LONGEST_TEXT:
        raise ValueError(f"'{text[:20]}…' is too long; write it as in {example}")
    match = re.fullmatch(r"\s*(.*?)\s*([A-Za-z]+|[\"″”])\.?\s*", text, re.DOTALL)
    if not match or match[2].lower() not in units:
        raise ValueError(f"'{text}' needs a unit, as in {example}")
    return parse_number(match[1]) * units[match[2].lower()]


def length_mm(text: str, *, longest_mm: Fraction | None = LONGEST_MM) -> Fraction:
    """A length with its unit (``36 in``, ``2 1/4 in``, ``1.5 m``) in millimetres.

    Raises ValueError, also for one longer than a kilometre, unless whoever asks has a limit of their own.
    """
    length = _quantity(text, _LENGTH_UNITS, "36 in, 2 1/4 in, 2 yd, 1.5 m, 40 cm or 12 mm")
    if longest_mm is not None and length > longest_mm:
        raise ValueError(f"'{text}' is more than a kilometre")
    return length


def weight_g(text: str) -> Fraction:
    """A weight with its unit (``50 g``, ``4 oz``, ``1 lb``) in grams. Raises ValueError."""
    return _quantity(text, _WEIGHT_UNITS, "50 g, 4 oz or 1 lb")


def parse_share(text: str) -> Fraction:
    """A percentage with its sign (``12 %``) as a fraction of one, from 0 to under 1. Raises ValueError."""
    if not text.rstrip().endswith("%"):
        raise ValueError(f"'{text}' needs a per cent sign, as in 12 %")
    value = parse_number(text.rstrip()[:-1]) / 100
    if value >= 1:
        raise ValueError(f"'{text}' is all of it or more; it must be under 100 %")
    return value


_TIME: Final = r"\s*([0-9¼½¾⅛⅜⅝⅞⅓⅔][0-9¼½¾⅛⅜⅝⅞⅓⅔\s./]*?)\s*([a-z]+)"  # compiled when a class asks for it
_MINUTES: Final = {
    "h": 60, "hour": 60, "hours": 60, "min": 1, "mins": 1, "minute": 1, "minutes": 1,
}  # fmt: skip
LONGEST_MINUTES: Final = 7 * 24 * 60  # a week: more is a slip of the pen


def minutes(text: str) -> Fraction:
    """A time with its unit (``3 h``, ``2 1/2 h``, ``90 min``, ``2 h 30 min``) in minutes. Raises ValueError."""
    parts = re.findall(_TIME, text, re.ASCII)
    units = [unit for _, unit in parts]
    if not parts or re.sub(_TIME, "", text, flags=re.ASCII).strip() or not set(units) <= _MINUTES.keys():
        raise ValueError(f"'{text}' needs a unit, as in 3 h, 90 min or 2 h 30 min")
    if len(parts) > 1 and [_MINUTES[unit] for unit in units] != [60, 1]:
        raise ValueError(f"'{text}' is not a time: write hours and then minutes")
    total = sum((parse_number(value) * _MINUTES[unit] for value, unit in parts), Fraction(0))
    if total > LONGEST_MINUTES:
        raise ValueError(f"'{text}' is more than a week")
    return total


def inches(length: Fraction) -> Fraction:
    """Millimetres as inches, exactly."""
    return length / MM_PER_INCH


def nearest_part(value: Fraction, parts: int) -> Fraction:
    """``value`` rounded half up to a whole number of ``1/parts`` (sixteenths of an inch, tenths of a metre)."""
    over, under = value.numerator, value.denominator
    return Fraction((2 * over * parts + under) // (2 * under), parts)  # floor(value * parts + 1/2), in whole numbers


def next_part(value: Fraction, parts: int) -> Fraction:
    """``value`` rounded up to a whole number of ``1/parts``: for yarn and warp, where short is no good."""
    return Fraction(-(-value.numerator * parts // value.denominator), parts)


def wind_step(units: Literal["metric", "us"]) -> Fraction:
    """What a warp to wind is rounded up to, in millimetres: a step that her tape measure shows."""
    return TENTH_METRE if units == "metric" else QUARTER_YARD


def rounded_up(length: Fraction, step: Fraction) -> Fraction:
    """A length rounded up to a whole number of steps (quarter yards, tenths of a metre): too short is no good."""
    return next_part(length / step, 1) * step
