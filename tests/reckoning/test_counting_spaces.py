"""Counting from the middle of a heddle, acted out space by space and compared with the placement.

Source of the rule: counting as weavers say it, "count half the ends to the left from the centre and start there":
common practice. Some call the middle space nought and some call it one. Nothing here uses a formula for the place of
an end: a weaver points at spaces and says numbers.
"""

from __future__ import annotations

import pytest

from cardmaker.model.loom import Heddles, Loom, Mark, Space
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.threading.placement import place, space_label


def board(spaces: int, outer: str) -> list[str]:
    """The heddle's spaces from the left, cut by turns."""
    cut: list[str] = []
    turn = outer
    while len(cut) < spaces:
        cut.append(turn)
        turn = "hole" if turn == "slot" else "slot"
    return cut


def said_to_the_left(spaces: list[str], mark: str) -> dict[int, int]:
    """Index of a space -> what the weaver says on it, walking left from the mark (found by folding from both ends)."""
    left, right = 0, len(spaces) - 1
    while right - left > 1:
        left, right = left + 1, right - 1
    if left == right:  # a middle space: point at it and say its number
        here, number = left, 0 if mark == "counted as zero" else 1
    else:  # the mark is between two spaces: point at the one on its left and say one
        here, number = left, 1
    said = {}
    while here >= 0:
        said[here] = number
        here, number = here - 1, number + 1
    return said


def left_half(ends: int, calls_the_middle_nought: bool) -> int:
    """Ends dealt to the left and the right hand by turns; who calls the middle nought deals to the right hand first."""
    hands = {"left": 0, "right": 0}
    hand = "right" if calls_the_middle_nought else "left"
    for _ in range(ends):
        hands[hand] += 1
        hand = "left" if hand == "right" else "right"
    return hands["left"]


def threaded(spaces: list[str], mark: str, ends: int) -> list[int] | None:
    """The indices of the spaces that take the ends, one by one to the right; None when they run off the board."""
    said = said_to_the_left(spaces, mark)
    half = left_half(ends, calls_the_middle_nought=0 in said.values())
    starts = [index for index, number in said.items() if number == half]
    if not starts:
        return None
    taken = [starts[0]]
    while len(taken) < ends:
        if taken[-1] + 1 == len(spaces):
            return None
        taken.append(taken[-1] + 1)
    return taken


def box_loom(spaces: int, outer: str, mark: str) -> Loom:
    cut = board(spaces, outer)
    return Loom("Test", "test", Heddles.ONE, cut.count("slot"), cut.count("hole"), Space(outer), Mark(mark))


@pytest.mark.parametrize("mark", ["counted as zero", "counted as one"])
@pytest.mark.parametrize("outer", ["hole", "slot"])
@pytest.mark.parametrize("spaces", range(9, 66))
def test_acting_it_out_gives_the_same_place(spaces: int, outer: str, mark: str) -> None:
    cut, loom = board(spaces, outer), box_loom(spaces, outer, mark)
    said = said_to_the_left(cut, mark)
    for ends in range(2, 61):
        taken = threaded(cut, mark, ends)
        if ends > spaces:
            assert taken is None
            with pytest.raises(Refusal):
                place(("white",) * ends, loom)
            continue
        assert taken is not None
        placement = place(("white",) * ends, loom)
        assert [placement.space_of(number) - 1 for number in range(1, ends + 1)] == taken
        assert list(placement.kinds) == [cut[index] for index in taken]
        assert placement.count_to == said[taken[0]]
        empty_left, empty_right = taken[0], len(cut[taken[-1] + 1 :])
        assert (placement.empty_left, placement.empty_right) == (empty_left, empty_right)
        assert placement.half_space == {-1: "left", 0: "none", 1: "right"}[empty_left - empty_right]
        assert placement.shifted == 0


@pytest.mark.parametrize("mark", ["counted as zero", "counted as one"])
@pytest.mark.parametrize("spaces", range(9, 66))
def test_the_labels_are_what_is_said_walking_either_way(spaces: int, mark: str) -> None:
    cut, loom = board(spaces, "slot"), box_loom(spaces, "slot", mark)
    said = said_to_the_left(cut, mark)  # walking right from the mark is walking left on the board turned round
    for index, number in said.items():
        is_middle = index == len(cut) - 1 - index
        assert space_label(index + 1, loom) == ("the middle" if is_middle else f"L{number}")
        assert space_label(len(cut) - index, loom) == ("the middle" if is_middle else f"R{number}")
