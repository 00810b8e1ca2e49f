"""What is told of the pieces: where to cut between unlike ones."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardmaker.model.pattern import Pattern, Piece, Stripe, WantedLength, Yarn
from cardmaker.model.plan import Lengths
from cardmaker.reckoning.amounts.lengths import warp_lengths
from cardmaker.wording.piece_words import weave_each, where_to_cut
from tests.helpers.warps import SMALL_BOX

TAPE = Pattern("Test", "test", (Yarn("white", "linen", "20/2"),), (Stripe("white", 9),))
Pieces = tuple[tuple[str, int, int], ...]
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
def test_where_to_cut(pieces: Pieces, words: str) -> None:
    assert words in where_to_cut(lengths_of(pieces), "metric").replace("B", "b", 1)


def lengths_of(pieces: Pieces) -> Lengths:
    wish = WantedLength(
        pieces=tuple(Piece(name, Fraction(200), count, Fraction(fringe)) for name, count, fringe in pieces)
    )
    return warp_lengths(replace(TAPE, length=wish), SMALL_BOX)


CUT = "two picks of another colour, cut."


@pytest.mark.parametrize(
    ("pieces", "words"),
    [
        ((("mark", 2, 30),), "6 cm bare between two, cut halfway, 3 cm at either end; 9 to the inch."),
        ((("mark", 1, 30),), "3 cm bare at either end; 9 to the inch."),
        ((("tie", 1, 0),), "9 to the inch."),
        ((("tie", 1, 0), ("key", 1, 0)), f"9 to the inch. Between two: {CUT}"),
        ((("mark", 2, 30), ("tie", 2, 0)), f"9 to the inch. Between ties: {CUT}"),
        ((("mark", 2, 30), ("tie", 1, 0), ("key", 1, 0)), f"9 to the inch. Between two without a fringe: {CUT}"),
    ],
)
def test_a_student_reads_what_lies_between_two(pieces: Pieces, words: str) -> None:
    """In every form, however short; where each leaves a fringe nothing else is thrown."""
    full, *shorter = weave_each(lengths_of(pieces), "metric", "9 to the inch")
    assert full.replace("\N{NO-BREAK SPACE}", " ").endswith(words)
    assert full.startswith("Weave ")
    assert {"another colour" in each for each in shorter} == {"another colour" in full}
    assert {each.count("9 to the inch") for each in shorter} == {1}
