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


def test_a_skipped_space_is_mended_towards_the_end_threaded_last() -> None:
    """Skipped before end 24: 24 to 31 are eight. Before end 9: 9 to 31 are 23, though only eight lie before it."""
    assert rethreading(24, 31) == Rethreading(Side.RIGHT, 8)
    assert rethreading(9, 31) == Rethreading(Side.RIGHT, 23)
    assert rethreading(2, 31) == Rethreading(Side.RIGHT, 30)  # the most: before end 1 there is no neighbour
    assert rethreading(1, 31).ends == rethreading(1, 1).ends == 0


@given(st.integers(2, 200).flatmap(lambda ends: st.tuples(st.integers(2, ends), st.just(ends))))
def test_a_mended_warp_lies_as_it_was_counted_out(case: tuple[int, int]) -> None:
    """A weaver who skips a space has that end and all after it one space too far: those that are named go back one
    (counted by hand; needs no source)."""
    end_number, ends = case
    planned = list(range(10, 10 + ends))
    lies = [space + 1 if number >= end_number else space for number, space in enumerate(planned, start=1)]
    mend = rethreading(end_number, ends)
    assert mend.side is Side.RIGHT
    assert lies[: ends - mend.ends] + [space - 1 for space in lies[ends - mend.ends :]] == planned


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
