"""Lengths, weights, percentages and fractions become exact fractions of one unit, or are refused."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from fractions import Fraction
from typing import Any, Final

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.units import length_mm, minutes, nearest_part, next_part, parse_number, parse_share, weight_g

FOREIGN: Final[Any] = pint.UnitRegistry(non_int_type=Fraction)
SMALL: Final = st.integers(0, 9999)
PARTS: Final = st.integers(1, 64)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2", Fraction(2)),
        ("2.50", Fraction(5, 2)),
        ("1/4", Fraction(1, 4)),
        ("2 1/4", Fraction(9, 4)),
        ("2¼", Fraction(9, 4)),
        ("2 ¼", Fraction(9, 4)),
        ("½", Fraction(1, 2)),
        ("⅔", Fraction(2, 3)),
        (" 7 / 8 ", Fraction(7, 8)),
        ("0", Fraction(0)),
        ("0.1", Fraction(1, 10)),
        ("9/3", Fraction(3)),
    ],
)
def test_numbers_are_exact(text: str, value: Fraction) -> None:
    assert parse_number(text) == value


@pytest.mark.parametrize(
    "text",
    [
        "",
        "-1",
        "+1",
        "1e3",
        "1_000",
        "1,5",
        "NaN",
        "inf",
        "0x10",
        "1/0",
        "1/2/3",
        "1 2",
        "2.5 1/4",
        "٣",
        "1.",
        ".5",
        "½½",
        "1/-2",
        "1234567890",
        "1 1",
    ],
)
def test_what_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"not a number|divides by nought"):
        parse_number(text)


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("36 in", "914.4"),
        ("2 yd", "1828.8"),
        ("1.5 m", "1500"),
        ("12 mm", "12"),
        ("40 cm", "400"),
        ("3 ft", "914.4"),
        ("2 1/4 in", "57.15"),
        ('36"', "914.4"),
        ("36″", "914.4"),
        ("1 Yard", "914.4"),
        ("2 YARDS", "1828.8"),
        ("0 in", "0"),
        ("1 km", None),
        ("1000 m", "1000000"),
        ("1001 m", None),
        ("36", None),
        ("in", None),
        ("36 inn", None),
        ("-3 in", None),
        ("3 in 4", None),
        ("", None),
        ("1 µm", None),
        ("36 in.", "914.4"),
        ("36 in..", None),
        ("36”", "914.4"),
        ("2-1/2 in", "63.5"),
        ("2–1/2 in", "63.5"),
        ("2-½ in", "63.5"),
        ("2 1⁄2 in", "63.5"),
        ("2--1/2 in", None),
        ("2-1 in", None),
        ("-1/2 in", None),
        ("2-1/0 in", None),
    ],
)
def test_lengths(text: str, millimetres: str | None) -> None:
    if millimetres is None:
        with pytest.raises(ValueError, match=r"needs a unit|not a number|kilometre|nought"):
            length_mm(text)
    else:
        assert length_mm(text) == Fraction(millimetres)


def test_a_unit_may_stand_right_after_a_fraction_sign() -> None:
    assert length_mm("2¼in") == Fraction("57.15")


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("50 g", "50"),
        ("1 lb", "453.59237"),
        ("4 oz", "113.3980925"),
        ("1.2 kg", "1200"),
        ("2 lbs", "907.18474"),
        ("½ lb", "226.796185"),
    ],
)
def test_weights(text: str, grams: str) -> None:
    assert weight_g(text) == Fraction(grams)


@pytest.mark.parametrize("text", ["50", "50 m", "5 stone", "", "g", "50 g g"])
def test_what_is_no_weight_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"needs a unit|not a number"):
        weight_g(text)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12 %", Fraction(3, 25)),
        ("12%", Fraction(3, 25)),
        ("0 %", Fraction(0)),
        ("2.5 % ", Fraction(1, 40)),
        ("3 1/2 %", Fraction(7, 200)),
    ],
)
def test_percentages(text: str, value: Fraction) -> None:
    assert parse_share(text) == value


@pytest.mark.parametrize("text", ["12", "0.12", "100 %", "120 %", "-3 %", "%", "12 %%", "12 percent"])
def test_what_is_no_percentage_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"per cent|under 100|not a number"):
        parse_share(text)


@given(SMALL, SMALL, PARTS)
def test_mixed_numbers_are_sums(whole: int, over: int, under: int) -> None:
    assert parse_number(f"{whole} {over}/{under}") == whole + Fraction(over, under)


@pytest.mark.parametrize("unit", ["mm", "cm", "m", "in", "inch", "ft", "foot", "yd", "yard", "meter"])
@given(value=st.decimals(0, 999, places=3))
def test_lengths_agree_with_a_reference_library(unit: str, value: Any) -> None:
    reference = (Fraction(value) * FOREIGN(unit)).to("mm").magnitude
    assert length_mm(f"{value} {unit}") == reference


@pytest.mark.parametrize("unit", ["g", "kg", "oz", "lb"])
@given(value=st.decimals(0, 999, places=3))
def test_weights_agree_with_a_reference_library(unit: str, value: Any) -> None:
    assert weight_g(f"{value} {unit}") == (Fraction(value) * FOREIGN(unit)).to("g").magnitude


@pytest.mark.parametrize("read", [parse_number, length_mm, weight_g, parse_share])
@given(text=st.one_of(st.text(max_size=12), st.text('0123456789 ./%¼½inmydgozlb"″-e', max_size=12)))
def test_any_text_is_a_quantity_or_a_plain_refusal(read: Callable[[str], Fraction], text: str) -> None:
    with suppress(ValueError):
        assert read(text) >= 0


@given(st.fractions(0, 10_000), PARTS)
def test_rounding_to_parts(value: Fraction, parts: int) -> None:
    near, above = nearest_part(value, parts), next_part(value, parts)
    assert (near * parts).denominator == (above * parts).denominator == 1
    assert abs(near - value) <= Fraction(1, 2 * parts)
    assert 0 <= above - value < Fraction(1, parts)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("3 h", 180),
        ("2 1/2 h", 150),
        ("2½ hours", 150),
        ("90 min", 90),
        ("2 h 30 min", 150),
        ("1 hour 5 minutes", 65),
        ("0.25 h", 15),
        ("168 h", 10080),
    ],
)
def test_times_are_minutes(text: str, wanted: int) -> None:
    assert minutes(text) == wanted


@pytest.mark.parametrize(
    "text", ["3", "h", "3 days", "30 min 2 h", "2 h 3 h", "169 h", "3 h and a bit", "1/0 h", "-3 h"]
)
def test_what_is_no_time_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"needs a unit|is not a time|more than a week|divides by nought"):
        minutes(text)
