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


CUT = "two picks of another colour; cut the tape there."


@pytest.mark.parametrize(
    ("pieces", "words"),
    [
        ((("mark", 2, 30),), "6 cm bare between two (cut halfway), 3 cm at either end."),
        ((("mark", 1, 30),), "3 cm bare at either end."),
        ((("tie", 1, 0),), "1 tie, 22 cm."),
        ((("tie", 1, 0), ("key", 1, 0)), f"Between two: {CUT}"),
        ((("mark", 2, 30), ("tie", 2, 0)), f"Between ties: {CUT}"),
        ((("mark", 2, 30), ("tie", 1, 0), ("key", 1, 0)), f"Between two without a fringe: {CUT}"),
    ],
)
def test_a_student_reads_what_lies_between_two(pieces: Pieces, words: str) -> None:
    """A sentence for each kind of piece, and how close they are beaten in one of its own; in every form, however short.
    Where each leaves a fringe nothing else is thrown."""
    full, *shorter = weave_each(lengths_of(pieces), "metric", ["9 to the inch (4 to the cm)", "9 to the inch"])
    *kinds, close = (each.replace("\N{NO-BREAK SPACE}", " ") for each in full)
    if len(pieces) == 1:  # one kind needs no rows
        kinds, close = [close.partition(" Beat ")[0]], f"Beat {close.partition(' Beat ')[2]}"
    assert len(kinds) == len(pieces)
    assert close == "Beat 9 to the inch (4 to the cm)."
    assert kinds[-1].endswith(words)
    assert kinds[0].startswith("Weave ")
    for one in shorter:
        assert len(one) == 1
        assert ("another colour" in one[0]) == ("another colour" in words)
        assert ("cut there." in one[0] or "cut the tape there." in one[0]) == ("another colour" in words)
        assert one[0].count("9 to the inch") == 1
    assert [len(one[0]) for one in shorter] == sorted((len(one[0]) for one in shorter), reverse=True)
