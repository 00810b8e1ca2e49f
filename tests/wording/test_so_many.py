"""How many of a thing, where somebody else chose its name; and how long a piece is woven."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardmaker.wording.formatters import woven_length
from cardmaker.wording.phrases import NO_BREAK, so_many


@pytest.mark.parametrize(
    ("count", "thing", "told"),
    [
        (8, "bookmark", "8 bookmarks"),
        (2, "bag handle", "2 bag handles"),
        (1, "braces", "1 braces"),
        (2, "brush", "2 × brush"),
        (3, "knife", "3 × knife"),
        (2, "belt for a child", "2 × belt for a child"),
        (2, "braces", "2 × braces"),
        (2, "baby tie, red", "2 × baby tie, red"),
    ],
)
def test_only_a_name_that_takes_no_more_than_an_s_has_one(count: int, thing: str, told: str) -> None:
    assert so_many(count, thing).replace(NO_BREAK, " ") == told


def test_a_woven_length_is_told_in_halves_and_quarters() -> None:
    """235.67 mm are 23.567 cm and 9.278 in."""
    assert woven_length(Fraction("235.67"), "metric").replace(NO_BREAK, " ") == "23.5 cm (9 ¼ in)"
    assert woven_length(Fraction("235.67"), "us", alone=True).replace(NO_BREAK, " ") == "9 ¼ in"
    assert woven_length(Fraction(1), "metric", alone=True) == "0.5 cm"
