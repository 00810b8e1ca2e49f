"""The pegs' sentences."""

from __future__ import annotations

import re

import pytest

from cardmaker.wording import peg_words
from tests.helpers.shipped import PATTERNS, plan_of


@pytest.mark.parametrize("stem", sorted(PATTERNS))
def test_the_last_end_is_longer_only_where_ends_are_heaped(stem: str) -> None:
    """Spread in one layer all ends go the same way round a peg: the figure needs its condition in its own sentence."""
    pegs = plan_of(stem).pegs
    if pegs is None or pegs.stack_is_too_high:
        return
    spread, heaped = re.split(r"(?<=\.) (?=[A-Z])", peg_words.stack(pegs, "metric"))
    assert spread.startswith("Spread in one layer")
    assert "longer" not in spread
    assert re.fullmatch(r"Heaped on one another instead, the last comes out up to .+ longer than the first\.", heaped)
