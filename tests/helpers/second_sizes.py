"""Lengths as people type them, and what a yarn's label tells of it: a part of the second calculator.

Written from the manual alone, like ``second_calculator``.
"""

from __future__ import annotations

from fractions import Fraction
from math import sqrt
from typing import Any, Final

Tree = dict[str, Any]

INCH_MM: Final = Fraction(254, 10)
UNITS_MM: Final = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": INCH_MM,
    "ft": 12 * INCH_MM,
    "yd": 36 * INCH_MM,
}
YARD_M: Final = Fraction("0.9144")
POUND_KG: Final = Fraction("0.45359237")
YARDS_PER_POUND: Final = {"linen": 300, "cotton": 840, "worsted": 560, "woollen run": 1600}


class Refused(Exception):
    """These files cannot make a plan."""


def length_mm(text: str) -> Fraction:
    """ "A length has its unit: 36 in, 2 1/4 in, 2 yd, 3 ft, 1.5 m, 40 cm, 12 mm." """
    *numbers, unit = text.split()
    return sum((Fraction(number) for number in numbers), Fraction(0)) * UNITS_MM[unit]


def share(text: str) -> Fraction:
    """ "A percentage has its sign: 12 %." """
    return Fraction(text.replace("%", "").strip()) / 100


def metres_per_kg(yarn: Tree) -> Fraction | None:
    """ "The label's own; else the number times 300 (linen), 840 (cotton), 560 (worsted) or 1600 (woollen run) yards
    to the pound, or times 1000 m to the kilogram (metric), divided by the plies." Tex weighs a kilometre in grams,
    denier nine of them."""
    if "metres_per_kg" in yarn:
        return Fraction(yarn["metres_per_kg"])
    if "yards_per_pound" in yarn:
        return Fraction(yarn["yards_per_pound"]) * YARD_M / POUND_KG
    if "count" not in yarn:
        return None
    system = str(yarn.get("system", yarn["fibre"]))
    if system in {"tex", "denier"}:
        thread, _, plies = yarn["count"].partition("x")
        grams = Fraction(thread.strip()) * Fraction(plies.strip() or 1)
        return Fraction(1_000_000 if system == "tex" else 9_000_000) / grams
    number, _, plies = yarn["count"].partition("/")
    single = Fraction(number) / Fraction(plies or 1)
    return single * 1000 if system == "metric" else single * YARDS_PER_POUND[system] * YARD_M / POUND_KG


def yards_per_pound(yarn: Tree) -> Fraction | None:
    metres = metres_per_kg(yarn)
    return None if metres is None else metres * POUND_KG / YARD_M


def diameters_per_inch(yarn: Tree) -> Fraction:
    """ "Across, a yarn of Y yards to the pound is one inch divided by 0.9 √Y." """
    yards = yards_per_pound(yarn)
    if yards is not None:
        return Fraction(0.9 * sqrt(yards))
    return ends_per_inch(yarn)[1] / Fraction("1.2")  # where nothing tells its weight


def diameter_mm(yarn: Tree) -> Fraction:
    return INCH_MM / diameters_per_inch(yarn)


def ends_per_inch(yarn: Tree) -> tuple[Fraction, Fraction, Fraction]:
    """The fewest, the likely and the most ends to the inch of tape.

    "At 1.2 diameters to the inch in the tape, somewhere from 0.85 to 1.55; from wraps to the inch at 1.5 of them, from
    1 to 2.2; from a tape of that yarn at its own figure, 15 % more or less."
    """
    if "ends_per_inch" in yarn:
        own, factors = Fraction(yarn["ends_per_inch"]), ("0.85", "1", "1.15")
    elif "wraps_per_inch" in yarn:
        own, factors = Fraction(yarn["wraps_per_inch"]), ("1", "1.5", "2.2")
    else:
        own, factors = diameters_per_inch(yarn), ("0.85", "1.2", "1.55")
    fewest, likely, most = (own * Fraction(factor) for factor in factors)
    return fewest, likely, most
