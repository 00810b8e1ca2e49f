"""What is told of the pieces: where to cut between unlike ones."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardmaker.model.pattern import Pattern, Piece, Stripe, WantedLength, Yarn
from cardmaker.reckoning.amounts.lengths import warp_lengths
from cardmaker.wording.piece_words import where_to_cut
from tests.helpers.warps import SMALL_BOX

TAPE = Pattern("Test", "test", (Yarn("white", "linen", "20/2"),), (Stripe("white", 9),))
OWN = "between two leave each its own fringe, and cut where they meet"


@pytest.mark.parametrize(
    ("pieces", "words"),
    [
        ((("mark", 2, 30),), "6 cm (2\N{NO-BREAK SPACE}⅜ in) between two, cut in its middle"),
        ((("tie", 1, 0), ("key", 1, 30)), OWN),  # all of the gap is the key's
        ((("tie", 1, 30), ("key", 1, 90)), OWN),  # a quarter of it is the tie's
        ((("tie", 2, 0),), "between two throw two picks of another colour"),
    ],
)
def test_where_to_cut(pieces: tuple[tuple[str, int, int], ...], words: str) -> None:
    wish = WantedLength(
        pieces=tuple(Piece(name, Fraction(200), count, Fraction(fringe)) for name, count, fringe in pieces)
    )
    assert words in where_to_cut(warp_lengths(replace(TAPE, length=wish), SMALL_BOX), "metric").replace("B", "b", 1)
