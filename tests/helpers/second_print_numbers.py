"""How a number may be printed, and the text of a finished card in which one looks for it.

A figure in print is right when it is the exact one to the nearest of its last digit or fraction; yarn to buy is rounded
up, and what comes at least is rounded down.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Any, Final, NamedTuple
from unicodedata import normalize

from tests.helpers.second_calculator import ends_of, read_tree
from tests.helpers.second_generator import Combination
from tests.helpers.second_heddle import Places, View, places_of
from tests.helpers.second_sizes import UNITS_MM, Tree

NUMBER: Final = r"(?:\d[\d.]*(?: \d+⁄\d+)?|\d+⁄\d+)"
LENGTH: Final = rf"({NUMBER} (?:mm|cm|m|in|yd)) \(({NUMBER} (?:mm|cm|m|in|yd))\)"
ONE_OR_BOTH: Final = rf"({NUMBER} (?:mm|cm|m|in|yd))(?: \(({NUMBER} (?:mm|cm|m|in|yd))\))?"  # of a crowded card one
EXACT: Final = Fraction(1, 10**6)


class Fault(NamedTuple):
    """What was looked at, and what is wrong with it; an empty text when it is right."""

    about: str
    wrong: str


class Card(NamedTuple):
    """The text of a card in lines and in one, our figures for it, and what it is the card of."""

    lines: list[str]
    text: str
    plan: dict[str, Any]
    loom: Tree
    places: Places
    view: View
    letters: dict[str, str]
    pattern: Tree
    ends: list[str]
    case: Combination

    def find(self, pattern: str) -> Iterator[re.Match[str]]:
        return re.finditer(pattern, self.text)


def card_of(text: str, plan: dict[str, Any], case: Combination, letters: dict[str, str]) -> Card:
    lines = [" ".join(normalize("NFKC", line).split()) for line in text.splitlines()]
    pattern, loom = read_tree(case.pattern), read_tree(case.loom)
    ends = ends_of(pattern)
    places = places_of(pattern, loom, ends)
    return Card(lines, " ".join(lines), plan, loom, places, case.view, letters, pattern, ends, case)


# Numbers in print


def number(printed: str) -> tuple[Fraction, Fraction]:
    """A number, and half of its last digit or fraction: ``2 3⁄8`` is 19/8, give or take 1/16.

    What is less than the smallest mark of a ruler is that mark, 1/16.
    """
    if printed == "1⁄16":
        return Fraction(3, 64), Fraction(3, 64)
    whole, _, fraction = printed.rpartition(" ") if "⁄" in printed else (printed, "", "")
    if fraction:
        part = Fraction(fraction.replace("⁄", "/"))
        return Fraction(whole or 0) + part, Fraction(1, 2 * part.denominator)
    digits = len(printed.partition(".")[2])
    return Fraction(printed), Fraction(1, 2 * 10**digits)


def is_nearest(about: str, printed: str, exact: float | Fraction) -> Fault:
    value, half = number(printed)
    right = abs(value - Fraction(exact)) <= half + EXACT
    return Fault(about, "" if right else f"{printed} is printed for {float(exact):.4f}")


def is_up(about: str, printed: str, exact: Fraction, step: Fraction) -> Fault:
    """Rounded up, and not further than it must."""
    right = -EXACT <= number(printed)[0] - exact < step + EXACT
    return Fault(about, "" if right else f"{printed} is printed for {float(exact):.4f}")


def is_length(about: str, printed: Iterable[str], exact_mm: float | Fraction) -> Iterator[Fault]:
    """A length in both units."""
    for one in printed:
        value, _, unit = one.rpartition(" ")
        yield is_nearest(about, value, Fraction(exact_mm) / UNITS_MM[unit])


def is_width(about: str, printed: Iterable[str], exact_mm: float | Fraction) -> Iterator[Fault]:
    """The width of a tape, an estimate: from 3 to 10 mm in halves."""
    for one in printed:
        value, _, unit = one.rpartition(" ")
        if unit == "mm" and 3 <= Fraction(exact_mm) < 10:
            right = abs(Fraction(value) - Fraction(exact_mm)) <= Fraction(1, 4) + EXACT and Fraction(value) * 2 % 1 == 0
            yield Fault(about, "" if right else f"{one} is printed for {float(exact_mm):.4f}")
        else:
            yield from is_length(about, [one], exact_mm)


def is_woven_length(about: str, printed: Iterable[str], exact_mm: float | Fraction) -> Iterator[Fault]:
    """How long a piece is woven, an estimate: centimetres in halves, inches in quarters."""
    for one in printed:
        value, _, unit = one.rpartition(" ")
        parts = {"cm": 2, "in": 4}[unit]
        exact, (told, _) = Fraction(exact_mm) / UNITS_MM[unit], number(value)
        right = abs(told - exact) <= Fraction(1, 2 * parts) + EXACT and told * parts % 1 == 0
        yield Fault(about, "" if right else f"{one} is printed for {float(exact_mm):.4f}")


def is_length_at_least(about: str, printed: Iterable[str], exact_mm: float | Fraction) -> Iterator[Fault]:
    """A length in both units, rounded down and not further than it must."""
    for one in printed:
        value, _, unit = one.rpartition(" ")
        exact, (promised, half) = Fraction(exact_mm) / UNITS_MM[unit], number(value)
        right = -EXACT <= exact - promised < 2 * half + EXACT
        yield Fault(about, "" if right else f"{value} is printed for {float(exact):.4f}")


def same(about: str, printed: object, ours: object) -> Fault:
    return Fault(about, "" if printed == ours else f"{printed} is printed, ours is {ours}")


def at_each_side(place: Tree, view: View) -> str:
    sides = ("right", "left") if view.left_hand else ("left", "right")
    return ", ".join(f"{place[f'empty_{side}']} {side}" for side in sides)


def empties(place: Tree, view: View) -> str:
    """What stays empty of one heddle, end 1's side first: ``empty: 2 left, 0 right``, or ``none empty``."""
    told = at_each_side(place, view)
    return f"empty: {told}" if place["empty_left"] or place["empty_right"] else "none empty"


def counted(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
