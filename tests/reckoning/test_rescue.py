"""Rescue numbers on T08 (3 5 3 9 3 5 3) in a heddle of 33 spaces with holes outside: first space 2, a slot."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.bench import EndPlace, Rethreading
from cardmaker.model.loom import Side, Space
from cardmaker.model.plan import Placement
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.weaving.rescue import end_place, end_places, replacement_mm, replacements, rethreading

T08 = tuple(
    yarn
    for yarn, ends in (("red", 3), ("white", 5), ("blue", 3), ("white", 9), ("blue", 3), ("white", 5), ("red", 3))
    for _ in range(ends)
)
PLACED = Placement(
    spaces=33,
    first_space=2,
    kinds=tuple(Space.SLOT if end % 2 else Space.HOLE for end in range(1, 32)),
    count_to=15,
    half_space="none",
    shifted=0,
    moved_yarn="",
    back=None,
)


def test_which_end_was_it() -> None:
    assert end_place(9, T08, PLACED) == EndPlace(9, "blue", Space.SLOT, 10, Side.LEFT, 9)
    assert end_place(22, T08, PLACED) == EndPlace(22, "blue", Space.HOLE, 23, Side.RIGHT, 10)
    assert end_place(31, T08, PLACED) == EndPlace(31, "red", Space.SLOT, 32, Side.RIGHT, 1)
    assert end_place(16, T08, PLACED).nearer is Side.LEFT  # the middle end: 16 from either edge
    assert [each.end_number for each in end_places(T08, PLACED)] == list(range(1, 32))


def test_a_skipped_space_is_mended_towards_the_nearer_edge() -> None:
    """Skipped before end 24: 24 to 31 are eight. Before end 9: 1 to 8 are eight, and the warp sits one space over."""
    assert rethreading(24, 31) == Rethreading(Side.RIGHT, 8, moves_warp=False)
    assert rethreading(9, 31) == Rethreading(Side.LEFT, 8, moves_warp=True)
    assert rethreading(9, 31, must_stay=True) == Rethreading(Side.RIGHT, 23, moves_warp=False)
    assert rethreading(16, 30) == Rethreading(Side.RIGHT, 15, moves_warp=False)  # a tie stays as planned
    assert rethreading(1, 31) == Rethreading(Side.LEFT, 0, moves_warp=True)  # nothing to mend: only one space over


@given(st.integers(1, 200).flatmap(lambda ends: st.tuples(st.integers(1, ends), st.just(ends))))
def test_mending_never_takes_more_than_half_the_ends(case: tuple[int, int]) -> None:
    end_number, ends = case
    mend = rethreading(end_number, ends)
    assert 2 * mend.ends <= ends
    assert mend.ends in (end_number - 1, ends - end_number + 1)


def test_a_new_piece_is_the_warp_left_and_a_foot() -> None:
    """108 in of warp, 20 of waste: at the start 120 in; then 22, 44 and 66 in less."""
    warp, waste = 108 * MM_PER_INCH, 20 * MM_PER_INCH
    lengths = {each.woven: each.length_mm / MM_PER_INCH for each in replacements(warp, waste)}
    assert lengths == {Fraction(0): 120, Fraction(1, 4): 98, Fraction(1, 2): 76, Fraction(3, 4): 54}
    assert replacement_mm(warp, waste, Fraction(1)) == 32 * MM_PER_INCH


def test_nonsense_is_refused() -> None:
    with pytest.raises(ValueError, match="end 32 of a warp of 31 ends"):
        end_place(32, T08, PLACED)
    with pytest.raises(ValueError, match="end 0"):
        rethreading(0, 31)
    for waste, woven in ((10, Fraction(3, 2)), (10, Fraction(-1, 2)), (200, Fraction(0)), (-1, Fraction(0))):
        with pytest.raises(
            ValueError, match=r"^the woven share lies between nought and one, and the waste within the warp$"
        ):
            replacement_mm(Fraction(100), Fraction(waste), woven)


def test_a_warp_that_is_all_waste_is_replaced_whole() -> None:
    foot = 12 * MM_PER_INCH
    assert replacement_mm(Fraction(100), Fraction(100), Fraction(1)) == 100 + foot
    assert replacement_mm(Fraction(100), Fraction(0), Fraction(1)) == foot
