"""Prices as typed: a number with its currency before or after it, reckoned exactly and written back the same way."""

from __future__ import annotations

import re
from fractions import Fraction
from math import floor
from typing import Final, NamedTuple

_NUMBER: Final = re.compile(r"\d+(?:[.,]\d+)*", re.ASCII)
_GROUPED: Final = re.compile(r"\d{1,3}(?:,\d{3})+(?:\.\d{1,9})?|\d{1,9}(?:\.\d{1,9})?", re.ASCII)
_COMMA: Final = re.compile(r"\d{1,9},\d{1,2}", re.ASCII)


class Money(NamedTuple):
    """So much of one currency, which is whatever stands before and after the number: ``$7.40``, ``6 crowns``."""

    amount: Fraction
    before: str = ""
    after: str = ""
    places: int = 0  # after the point, as typed
    point: str = "."

    @property
    def currency(self) -> tuple[str, str]:
        return self.before.strip(), self.after.strip()

    def __str__(self) -> str:
        whole = floor(self.amount * 10**self.places + Fraction(1, 2))
        figures = str(whole).rjust(self.places + 1, "0")
        if self.places:
            figures = f"{figures[: -self.places]}{self.point}{figures[-self.places :]}"
        return f"{self.before}{figures}{self.after}"


def parse_money(text: str) -> Money:
    """The price in a text that holds one number. A comma before three figures groups them, before one or two it is the
    point. Raises ValueError."""
    numbers = _NUMBER.findall(text)
    if len(numbers) != 1:
        raise ValueError(f"'{text}' is not a price")
    (figures,) = numbers
    before, after = text.split(figures)
    if _COMMA.fullmatch(figures):
        return Money(Fraction(figures.replace(",", ".")), before, after, len(figures.partition(",")[2]), ",")
    if not _GROUPED.fullmatch(figures):
        raise ValueError(f"'{text}' is not a price")
    return Money(Fraction(figures.replace(",", "")), before, after, len(figures.partition(".")[2]))


def times(price: Money, count: int) -> Money:
    """What so many cost."""
    return price._replace(amount=price.amount * count)


def totals(prices: list[Money]) -> tuple[Money, ...]:
    """One sum for each currency, in the order in which they first appear; different currencies are never added."""
    sums: dict[tuple[str, str], Money] = {}
    for price in prices:
        so_far = sums.get(price.currency)
        if so_far is None:
            sums[price.currency] = price
        else:
            places = max(so_far.places, price.places)
            sums[price.currency] = so_far._replace(amount=so_far.amount + price.amount, places=places)
    return tuple(sums.values())
