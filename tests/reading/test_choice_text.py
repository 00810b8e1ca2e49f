"""What is asked of a tape in a few signs."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from cardmaker.reading.choice_text import ends_range, time_at_most
from cardmaker.reading.drawer_text import amount_and_name, described_yarn, fibre_meant


@pytest.mark.parametrize(
    ("text", "ends"),
    [("9-31", (9, 31)), ("9 - 31", (9, 31)), ("9–31", (9, 31)), ("9 to 31 ends", (9, 31)), ("31", (31, 31)),
     ("1-400", (1, 400))],
)  # fmt: skip
def test_a_range_of_ends(text: str, ends: tuple[int, int]) -> None:
    assert ends_range(text) == ends


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("31-9", "'31-9' has its larger number first: write 9-31"),
        ("0-9", "'0-9' begins with nought, and a tape has 1 end or more"),
        ("9-401", "'9-401' is too many: a tape has 400 ends at most"),
        ("9-", "'9-' is no range of ends: write the least and the most, as in 9-31, or one number"),
        ("nine", "'nine' is no range of ends: write the least and the most, as in 9-31, or one number"),
        ("9,31", "'9,31' is no range of ends: write the least and the most, as in 9-31, or one number"),
    ],
)
def test_what_is_no_range_is_told(text: str, told: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(told)}$"):
        ends_range(text)


def test_a_time() -> None:
    assert time_at_most("2 h 30 min") == 150
    with pytest.raises(ValueError, match="needs a unit"):
        time_at_most("2")
    with pytest.raises(ValueError, match="is no time at all"):
        time_at_most("0 h")


@pytest.mark.parametrize(
    ("text", "grams", "length_mm", "name"),
    [
        ("40 g red linen 20/2", 40, None, "red linen 20/2"),
        ("1/2 kg red linen 20/2", 500, None, "red linen 20/2"),
        ("300 m white linen 20/2", None, 300_000, "white linen 20/2"),
        ("40g loft-linen", 40, None, "loft-linen"),
        ("loft-linen", None, None, "loft-linen"),
        ("40 red linen 20/2", None, None, "40 red linen 20/2"),
    ],
)
def test_an_amount_stands_before_its_yarn(text: str, grams: int | None, length_mm: int | None, name: str) -> None:
    typed = amount_and_name(text)
    assert (typed.grams, typed.length_mm, typed.name) == (grams, length_mm, name)


def test_an_amount_of_nothing_is_none() -> None:
    with pytest.raises(ValueError, match="'0 g red linen 20/2' is nothing at all"):
        amount_and_name("0 g red linen 20/2")


@pytest.mark.parametrize(
    ("text", "name", "fibre", "count", "system", "metres"),
    [
        ("red linen 20/2", "red", "linen", "20/2", None, None),
        ("linen 20/2, dark blue", "dark blue", "linen", "20/2", None, None),
        ("red wool 28/2 metric", "red", "wool", "28/2", "metric", None),
        ("red wool 600 m/100 g", "red", "wool", "", None, Fraction(6000)),
        ("red wool 500 yd per 100 g", "red", "wool", "", None, Fraction(4572)),
        ("brown cord linen 12/2", "brown cord", "linen", "12/2", None, None),
    ],
)
def test_a_yarn_is_described_in_a_few_words(
    text: str, name: str, fibre: str, count: str, system: str | None, metres: Fraction | None
) -> None:
    yarn, missing = described_yarn(text)
    assert missing == []
    assert (yarn.name, yarn.fibre, yarn.count, yarn.system, yarn.metres_per_kg) == (name, fibre, count, system, metres)


@pytest.mark.parametrize(
    ("text", "lacks"),
    [("red 20/2", ["fibre"]), ("red linen", ["count"]), ("linen 20/2", ["colour"]), ("red", ["fibre", "count"])],
)
def test_what_a_yarn_does_not_say_is_told(text: str, lacks: list[str]) -> None:
    _, missing = described_yarn(text)
    assert [next(word for word in ("fibre", "count", "colour") if word in each) for each in missing] == lacks


def test_a_fibre_spelt_nearly_so_is_offered() -> None:
    assert fibre_meant("red linnen 20/2") == "linen"
    assert fibre_meant("red 20/2") == ""
