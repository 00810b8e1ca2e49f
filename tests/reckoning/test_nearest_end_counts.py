"""The nearest counts of ends that put all pattern ends into slots, and the same by trying every change."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from cardmaker.model.loom import Loom
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, is_same_both_ways
from cardmaker.reckoning.threading.nearest_end_counts import NearestCounts, nearest_counts
from cardmaker.reckoning.threading.placement import place
from tests.helpers.warps import LOOMS, SMALL_BOX, one_heddle, pattern

HOLES_OUTSIDE = one_heddle(11, 12, title="Turned box")  # 23 spaces: the odd ones are holes


def counts(notation: str, loom: Loom = SMALL_BOX) -> tuple[int | None, int | None]:
    yarns = end_yarns(pattern(notation))
    found = nearest_counts(yarns, [number for number, yarn in enumerate(yarns, start=1) if yarn == "Re"], loom)
    return found.fewer, found.more


@pytest.mark.parametrize(
    ("notation", "expected"),
    [
        ("3 Wh 1 Re 4 Wh 1 Re 3 Wh", (11, 13)),
        ("3 Wh 1 Re 1 Wh 1 Bu 1 Re 3 Wh", (None, 11)),  # no run is lost altogether
        ("2 Wh 1 Re 4 Wh 1 Re 5 Wh 1 Re 2 Wh 1 Re 2 Wh", (17, 21)),  # two places amiss, the one between them not
        ("3 Wh 1 Re 4 Wh 1 Re 5 Wh 1 Re 2 Wh 1 Re 3 Wh", (19, None)),  # 23 would be full, with red in holes
        ("1 Re 20 Wh 1 Re", (21, 23)),
        ("1 Re 6 Wh 1 Re 6 Wh 1 Re 6 Wh 1 Re", (19, None)),  # 25 would be too many for 23 spaces
        ("3 Wh 2 Re 4 Wh", (None, None)),  # side by side
        ("23 Wh", (None, None)),  # nothing to put in slots
        # the heddle is full, red in holes: one end less on a side that has one to spare
        ("3 Wh 1 Re 19 Wh", (22, None)),
        ("1 Wh 1 Re 21 Wh", (22, None)),
        ("21 Wh 1 Re 1 Wh", (22, None)),
        ("3 Wh 1 Re 15 Wh 1 Re 3 Wh", (21, None)),  # one less on each, to stay the same both ways
        ("1 Wh 1 Re 19 Wh 1 Re 1 Wh", (21, None)),  # none to spare outside: two less in the middle
        ("1 Wh 1 Re 9 Wh 1 Re 9 Wh 1 Re 1 Wh", (None, None)),  # or not at all, where the middle is an end
        ("1 Wh 1 Re ALT(Wh,Bu,19) 1 Re 1 Wh", (None, None)),
        ("1 Wh 1 Re 2 Wh ALT(Bu,Wh,17) 1 Re 1 Wh", (None, None)),
        ("1 Wh 1 Re 1 Wh 1 Re 17 Wh 1 Re 1 Bu", (21, None)),  # not the same both ways: wherever there are three
        # six red ends with five places between: 2, 4, 6, 18, 20 and 22; only the middle place has ends to spare
        ("1 Wh 1 Re 1 Wh 1 Re 1 Wh 1 Re 11 Wh 1 Re 1 Wh 1 Re 1 Wh 1 Re 1 Wh", (21, None)),
        ("1 Wh 1 Re ALT(Wh,Bu,7) 1 Re 3 Wh 1 Re ALT(Wh,Bu,7) 1 Re 1 Wh", (21, None)),  # of three, one is left
        ("1 Wh 1 Re ALT(Wh,Bu,21)", (None, None)),  # one red end, and no run to take an end from
    ],
)
def test_the_nearest_counts(notation: str, expected: tuple[int | None, int | None]) -> None:
    assert counts(notation) == expected


@pytest.mark.parametrize(
    ("notation", "fewer"),
    [
        ("1 Re 22 Wh", 22),  # nothing left of the red end; one less on its right
        ("2 Wh 1 Re ALT(Wh,Bu,17) 1 Re 2 Wh", 21),  # one of two on each side, to stay the same both ways
        ("2 Wh 1 Re ALT(Wh,Bu,17) 1 Re 1 Wh 1 Bu", 22),  # one of two on one side
    ],
)
def test_room_is_made_outside_the_red_ends_when_a_run_there_has_one_to_spare(notation: str, fewer: int) -> None:
    assert counts(notation, HOLES_OUTSIDE) == (fewer, None)  # red is odd, and so in holes; 23 ends fill the box


def test_ends_that_are_not_mirrored_need_no_pair() -> None:
    # the yarn is the same both ways, the chosen end is not
    assert nearest_counts(("white",) * 23, {4}, SMALL_BOX) == NearestCounts(22)


# The same against trying every change of runs by up to two ends


def tried(runs: list[tuple[str, int]], loom: Loom, ends: int) -> bool:
    """Whether some change of the white runs, each by -2 to +2 and none to nothing, gives ``ends`` with red in slots."""
    sums: dict[tuple[int, frozenset[int]], None] = {(0, frozenset()): None}
    for yarn, count in runs:
        wide = [count] if yarn == "red" else range(max(1, count - 2), count + 3)
        sums = {
            (total + each, odd | ({(total + 1) % 2} if yarn == "red" else set())): None
            for total, odd in sums
            for each in wide
        }
    fitting = [odd for total, odd in sums if total == ends and len(odd) == 1]
    for (parity,) in fitting:
        pretended = {end_number: "red" for end_number in range(1, ends + 1) if end_number % 2 == parity}
        try:
            place(("white",) * ends, loom, pretended)
        except Refusal:
            continue
        return True
    return False


@given(LOOMS, st.lists(st.integers(1, 6), min_size=2, max_size=5))
def test_the_nearest_counts_can_really_be_made(loom: Loom, widths: list[int]) -> None:
    runs = [("white", widths[0])]
    for width in widths[1:]:
        runs += [("red", 1), ("white", width)]
    yarns = [yarn for yarn, count in runs for _ in range(count)]
    assume(len(yarns) <= loom.spaces)
    red = {number for number, yarn in enumerate(yarns, start=1) if yarn == "red"}
    found = nearest_counts(yarns, red, loom)
    for count in found.both:
        assert tried(runs, loom, count)
        if is_same_both_ways(yarns) and len(widths[1:-1]) % 2 == 0:
            assert (count - len(yarns)) % 2 == 0  # pairs only, as no run lies in the middle
    bad = sum(width % 2 == 0 for width in widths[1:-1])
    if bad and all(width % 2 or width > 1 for width in widths[1:-1]):
        assert found.fewer == len(yarns) - bad
        assert found.more in (len(yarns) + bad, None)
        assert (found.more is None) is not tried_room(len(yarns) + bad, loom, runs)


def tried_room(ends: int, loom: Loom, runs: list[tuple[str, int]]) -> bool:
    """Whether a warp of so many ends can put its red ends, all an even number apart, in slots."""
    first_red = runs[0][1] + 1
    try:
        place(("white",) * ends, loom, {first_red: "red"})
    except Refusal:
        return False
    return True
