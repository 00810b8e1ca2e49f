"""Stripes as a hand counts them: what is one stretch, and where to stop and check. All stretches are cut by hand."""

from __future__ import annotations

import pytest

from cardmaker.model.plan import Post
from cardmaker.reckoning.stripes.segments import Segment, hand_counted
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, runs
from tests.helpers.warps import ROW, pattern


def told(notation: str) -> str:
    """``1-4 Bu, 5-19 Wh+Bu``."""
    found = hand_counted(runs(end_yarns(pattern(notation))))
    return ", ".join(f"{each.first_end}-{each.last_end} {'+'.join(each.yarns)}" for each in found)


@pytest.mark.parametrize(
    ("notation", "expected"),
    [
        ("8 Wh", "1-8 Wh"),
        (ROW["T03"].stripes, "1-2 Bu, 3-11 Wh, 12-13 Bu"),
        (ROW["T12"].stripes, "1-4 Bu, 5-19 Wh+Bu, 20-23 Bu"),
        (ROW["T11"].stripes, "1-14 Wh+Bu"),
        (ROW["T26"].stripes, "1-27 Wh+Bu+Re"),
        # where two of one yarn meet there is a stripe of two between two stretches
        (ROW["T14"].stripes, "1-7 Wh+Bu, 8-9 Bu, 10-15 Wh+Bu, 16-17 Wh, 18-23 Bu+Wh, 24-25 Bu, 26-32 Wh+Bu"),
        ("2 Re 1 Wh 1 Bu 1 Wh 1 Bu 2 Re", "1-2 Re, 3-6 Wh+Bu, 7-8 Re"),  # four in turn are enough
        ("2 Re 1 Wh 1 Bu 1 Wh 2 Re", "1-2 Re, 3-3 Wh, 4-4 Bu, 5-5 Wh, 6-7 Re"),  # three are not
        ("1 Wh 1 Bu 1 Re 1 Wh 2 Bu", "1-4 Wh+Bu+Re, 5-6 Bu"),  # once round and begun again
        ("2 Wh 1 Bu 1 Re 1 Gr 1 Ye 2 Wh", "1-2 Wh, 3-3 Bu, 4-4 Re, 5-5 Gr, 6-6 Ye, 7-8 Wh"),  # once round only
        ("1 Wh 1 Bu 1 Re 1 Bu 2 Wh", "1-1 Wh, 2-2 Bu, 3-3 Re, 4-4 Bu, 5-6 Wh"),  # there and back is no turn
        ("1 Wh 1 Bu 1 Wh 1 Bu 1 Re", "1-4 Wh+Bu, 5-5 Re"),  # the order is broken by the red
        ("1 Wh 1 Bu 1 Re 1 Gr 1 Ye 1 Bn 1 Wh", "1-7 Wh+Bu+Re+Gr+Ye+Bn"),  # six yarns can be kept in order
        (
            "1 Wh 1 Bu 1 Re 1 Gr 1 Ye 1 Bn 1 Bk 1 Wh",  # seven cannot
            "1-1 Wh, 2-2 Bu, 3-3 Re, 4-4 Gr, 5-5 Ye, 6-6 Bn, 7-7 Bk, 8-8 Wh",
        ),
    ],
)
def test_what_is_counted_in_one_go(notation: str, expected: str) -> None:
    assert told(notation) == expected


def test_a_stretch_knows_its_ends_and_where_it_finishes() -> None:
    alone, in_turn = Segment(3, 11, ("Wh",)), Segment(5, 20, ("Wh", "Bu"))
    assert (alone.ends, alone.in_turn, alone.stand_at) == (9, False, Post.FAR)
    assert (in_turn.ends, in_turn.in_turn, in_turn.stand_at) == (16, True, Post.HOME)


@pytest.mark.parametrize(
    ("first", "last", "expected"),
    [
        (5, 19, (10, 19)),
        (1, 14, (10, 14)),
        (2, 21, (10, 21)),  # from 20 it is one end more: too near to stop twice
        (1, 22, (10, 20, 22)),  # two are enough
        (1, 27, (10, 20, 27)),
        (9, 20, (10, 20)),  # a stripe begins after 8, two ends before the ten
        (10, 22, (20, 22)),  # another after 9
        (1, 11, (11,)),
        (11, 30, (20, 30)),
        (5, 14, (14,)),  # ten ends are not long
        (1, 10, (10,)),
    ],
)
@pytest.mark.parametrize("yarns", [("Wh",), ("Wh", "Bu")])
def test_a_long_stripe_is_checked_at_the_tens_in_it(
    first: int, last: int, expected: tuple[int, ...], yarns: tuple[str, ...]
) -> None:
    assert Segment(first, last, yarns).checkpoints == expected
