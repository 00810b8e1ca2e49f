"""Prices as typed: read exactly, multiplied exactly, written back in the same fashion. Worked by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.money import Money, parse_money, times, totals


@pytest.mark.parametrize(
    ("text", "amount", "three"),
    [
        ("$7.40", Fraction(37, 5), "$22.20"),
        ("6 crowns", Fraction(6), "18 crowns"),
        ("6,80 €", Fraction(34, 5), "20,40 €"),
        ("1,200 crowns", Fraction(1200), "3600 crowns"),
        ("£1,234.50", Fraction(2469, 2), "£3703.50"),
        ("0.05 p", Fraction(1, 20), "0.15 p"),
        ("12", Fraction(12), "36"),
        ("kr 9,5", Fraction(19, 2), "kr 28,5"),
    ],
)
def test_a_price_is_read_and_three_times_it_written(text: str, amount: Fraction, three: str) -> None:
    price = parse_money(text)
    assert price.amount == amount
    assert str(times(price, 3)) == three


@pytest.mark.parametrize("text", ["seven", "", "$", "6 crowns 20", "1,23,4", "1.2.3", "12,3456 x", "١٢"])
def test_what_is_no_price_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not a price"):
        parse_money(text)


def test_each_currency_has_a_sum_of_its_own() -> None:
    # 7.40 + 13.60 = 21.00 dollars; 6 + 2.5 = 8.5 crowns, in as many places as any of them has
    prices = [parse_money("$7.40"), parse_money("6 crowns"), parse_money("$13.6"), parse_money("2.5 crowns")]
    assert [str(each) for each in totals(prices)] == ["$21.00", "8.5 crowns"]
    assert totals([]) == ()


@given(st.integers(0, 10**7), st.integers(1, 99))
def test_cents_are_never_lost(cents: int, count: int) -> None:
    text = f"${cents // 100}.{cents % 100:02}"
    assert times(parse_money(text), count) == Money(Fraction(cents * count, 100), "$", "", 2)
    assert str(parse_money(text)) == text
