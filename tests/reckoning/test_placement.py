"""Where each end lies. A wrong count on a card is the worst that can happen, so every table of figures is held here."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from cardmaker.model.loom import Heddles, Loom, Mark, Space
from cardmaker.model.plan import Placement
from cardmaker.model.problems import Refusal
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.stripes.stripe_counts import end_yarns
from cardmaker.reckoning.threading.counting import off_middle
from cardmaker.reckoning.threading.nearest_end_counts import NearestCounts
from cardmaker.reckoning.threading.placement import place, slots_only_ends, space_label, thick_ends_in_holes
from tests.helpers.warps import (
    BROAD_PADDLE,
    LOOMS,
    MIDDLE_BOX,
    ROW,
    ROWS,
    SMALL_BOX,
    TREADLE_PAIR,
    Row,
    one_heddle,
    pattern,
    per_yarn,
)

LETTER = {Space.HOLE: "H", Space.SLOT: "S"}


def yarns_of(code: str) -> tuple[str, ...]:
    return end_yarns(pattern(ROW[code].stripes))


def placed(code: str, loom: Loom, *slots_only: str) -> Placement:
    made = pattern(ROW[code].stripes, slots_only=slots_only)
    yarns = end_yarns(made)
    return place(yarns, loom, slots_only_ends(made, yarns))


def told(placement: Placement, loom: Loom) -> str:
    first, last = placement.first_space, placement.last_space
    ends = f"{space_label(first, loom)} {placement.first_kind} -> {space_label(last, loom)} {placement.last_kind}"
    return f"{ends}, empty {placement.empty_left}+{placement.empty_right}"


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.code)
def test_every_demonstration_pattern_divides_as_in_its_table(row: Row) -> None:
    yarns = end_yarns(pattern(row.stripes))
    placements = [place(yarns, one_heddle(32, 31)), place(yarns, one_heddle(31, 32))]  # the middle a slot, or a hole
    as_told = next(found for found in placements if LETTER[found.first_kind] == row.kinds[0])
    assert LETTER[as_told.last_kind] == row.kinds[1]
    assert (as_told.holes, as_told.slots) == (row.holes, row.slots)
    by_kind = {
        kind: Counter(yarn for yarn, its in zip(yarns, as_told.kinds, strict=True) if its is kind) for kind in Space
    }
    assert by_kind[Space.HOLE] == per_yarn(row.in_holes)
    assert by_kind[Space.SLOT] == per_yarn(row.in_slots)


@pytest.mark.parametrize(
    ("code", "loom", "expected"),
    [
        ("T03", SMALL_BOX, "L6 hole -> R6 hole, empty 5+5"),
        ("T03", MIDDLE_BOX, "L6 hole -> R6 hole, empty 10+10"),
        ("T03", BROAD_PADDLE, "L6 hole -> R6 hole, empty 17+17"),
        ("T09", SMALL_BOX, "L11 slot -> R10 hole, empty 0+1"),
        ("T09", MIDDLE_BOX, "L11 slot -> R10 hole, empty 5+6"),
        ("T09", BROAD_PADDLE, "L11 slot -> R10 hole, empty 12+13"),
        ("T08", MIDDLE_BOX, "L15 slot -> R15 slot, empty 1+1"),
        ("T08", BROAD_PADDLE, "L15 slot -> R15 slot, empty 8+8"),
    ],
)
def test_the_loom_table(code: str, loom: Loom, expected: str) -> None:
    placement = placed(code, loom)
    assert told(placement, loom) == expected
    assert (placement.shifted, placement.moved_yarn, placement.back) == (0, "", None)


@pytest.mark.parametrize(("loom", "empty"), [(MIDDLE_BOX, "2+0"), (BROAD_PADDLE, "9+7")])
def test_pattern_ends_that_would_lie_in_holes_shift_the_warp_by_one_space(loom: Loom, empty: str) -> None:
    placement = placed("T21", loom, "Re")
    assert told(placement, loom) == f"L14 hole -> R16 hole, empty {empty}"
    assert (placement.shifted, placement.moved_yarn, placement.half_space) == (1, "Re", "none")
    assert placement.count_to == 14
    assert all(placement.kinds[post - 1] is Space.SLOT for post in (8, 12, 16, 20, 24))


def test_pattern_ends_that_lie_in_slots_anyway_shift_nothing() -> None:
    middle_a_slot = one_heddle(23, 22)
    assert placed("T21", middle_a_slot, "Re").shifted == 0  # space 8 + 15 = 23 is the middle one, a slot
    assert placed("T21", middle_a_slot) == placed("T21", middle_a_slot, "Re")


def test_two_rails_on_the_small_box() -> None:
    placement = placed("T03", SMALL_BOX)
    assert (placement.middle_end, placement.space_of(7)) == (7, SMALL_BOX.middle_space)
    assert (placement.holes, placement.slots, placement.count_to) == (7, 6, 6)
    assert yarns_of("T03")[6] == "Wh"
    for space, name in ((placement.first_space, "L6"), (12, "the middle")):
        assert (space_label(space, SMALL_BOX), str(SMALL_BOX.kind_of(space))) == (name, "hole")


@pytest.mark.parametrize(
    ("slots", "holes", "middle"), [(12, 11, "hole"), (15, 14, "slot"), (24, 23, "hole"), (16, 17, "hole")]
)
def test_the_middle_space(slots: int, holes: int, middle: str) -> None:
    loom = one_heddle(slots, holes)
    assert loom.middle_space == (slots + holes + 1) / 2
    assert loom.kind_of(loom.middle_space) == middle


@pytest.mark.parametrize(
    ("ends", "mark", "first", "last", "kinds", "holes", "half_space"),
    [
        (16, Mark.ZERO, 9, 24, "SH", 8, "left"),
        (16, Mark.ONE, 10, 25, "HS", 8, "right"),
        (18, Mark.ZERO, 8, 25, "HS", 9, "left"),
        (18, Mark.ONE, 9, 26, "SH", 9, "right"),
        (20, Mark.ZERO, 7, 26, "SH", 10, "left"),
        (20, Mark.ONE, 8, 27, "HS", 10, "right"),
        (21, Mark.ZERO, 7, 27, "SS", 10, "none"),
        (21, Mark.ONE, 7, 27, "SS", 10, "none"),
        (24, Mark.ZERO, 5, 28, "SH", 12, "left"),
        (24, Mark.ONE, 6, 29, "HS", 12, "right"),
    ],
)
@pytest.mark.parametrize("middle", Space)
def test_counting_on_thirty_three_spaces(
    ends: int, mark: Mark, first: int, last: int, kinds: str, holes: int, half_space: str, middle: Space
) -> None:
    # 17 slots and 16 holes have a slot in the middle; with a hole there, exchange the words
    loom = one_heddle(17, 16, mark) if middle is Space.SLOT else one_heddle(16, 17, mark)
    placement = place(("white",) * ends, loom)
    found = LETTER[placement.first_kind] + LETTER[placement.last_kind]
    assert (placement.first_space, placement.last_space) == (first, last)
    assert found == (kinds if middle is Space.SLOT else kinds.translate(str.maketrans("HS", "SH")))
    assert (placement.holes if middle is Space.SLOT else placement.slots) == holes
    assert placement.half_space == half_space
    assert placement.count_to == (ends // 2 if mark is Mark.ZERO else (ends + 1) // 2)


@pytest.mark.parametrize("mark", Mark)
def test_an_even_heddle_has_its_mark_between_two_spaces(mark: Mark) -> None:
    loom = one_heddle(12, 12, mark)
    even, odd = place(("white",) * 6, loom), place(("white",) * 7, loom)
    assert told(even, loom) == "L3 hole -> R3 slot, empty 9+9"
    assert (even.half_space, even.count_to) == ("none", 3)
    assert told(odd, loom) == "L4 slot -> R3 slot, empty 8+9"
    assert (odd.half_space, odd.count_to) == ("left", 4)


def test_an_even_warp_that_counting_puts_to_the_right_is_shifted_to_the_left() -> None:
    # 33 spaces, a slot in the middle: 16 ends lie in 10 to 25 when it is called one, in 9 to 24 when nought (by hand)
    placement = place(("white",) * 16, one_heddle(17, 16, Mark.ONE), {1: "red"})
    assert (placement.first_space, placement.last_space, placement.shifted) == (9, 24, -1)
    assert (placement.half_space, placement.count_to) == ("left", 9)
    assert placement.moved_yarn == "red"


def test_seen_from_the_other_side_left_is_right() -> None:
    behind = replace(MIDDLE_BOX, view=Viewpoint(left_hand=True))
    assert [space_label(space, behind) for space in (1, 16, 17, 18, 33)] == ["R16", "R1", "the middle", "L1", "L16"]


def test_the_marked_space_counted_as_one_is_said_so() -> None:
    loom = replace(MIDDLE_BOX, mark=Mark.ONE)
    assert [space_label(space, loom) for space in (1, 15, 16, 17, 18, 33)] == [
        "L17",
        "L3",
        "L2",
        "the middle",
        "R2",
        "R17",
    ]
    assert [space_label(space, MIDDLE_BOX) for space in (1, 16, 17, 18, 33)] == ["L16", "L1", "the middle", "R1", "R16"]
    placement = placed("T08", loom)
    assert (space_label(placement.first_space, loom), placement.count_to) == ("L16", 16)


@given(LOOMS, st.integers(1, 70))
def test_all_that_fits_is_placed_on_the_heddle_and_nothing_else(loom: Loom, ends: int) -> None:
    yarns = ("white",) * ends
    if ends > loom.spaces:
        with pytest.raises(Refusal):
            place(yarns, loom)
        return
    placement = place(yarns, loom)
    assert placement.first_space >= 1
    assert placement.last_space <= loom.spaces
    assert placement.holes + placement.slots == ends
    assert placement.empty_left + ends + placement.empty_right == loom.spaces
    assert abs(placement.empty_left - placement.empty_right) <= 1
    assert all(here is not there for here, there in zip(placement.kinds, placement.kinds[1:], strict=False))


@given(LOOMS, st.integers(1, 70))
def test_the_label_leads_back_to_the_space(loom: Loom, space: int) -> None:
    assume(space <= loom.spaces)
    labels = [space_label(each, loom) for each in range(1, loom.spaces + 1)]
    assert len(set(labels)) == loom.spaces
    if label := labels[space - 1].removeprefix("the middle"):
        steps = int(label[1:]) - (loom.middle_space is not None and loom.mark is Mark.ONE)
        # from the mark: whole spaces on an odd heddle, the first a half on an even one
        mark = loom.spaces / 2 + 0.5
        away = steps if loom.middle_space is not None else steps - 0.5
        assert space == mark + (away if label[0] == "R" else -away)


@given(LOOMS, st.integers(0, 30).map(lambda half: 2 * half + 1), st.data())
def test_an_odd_warp_on_an_odd_heddle_is_mirrored_end_by_end(loom: Loom, ends: int, data: st.DataObject) -> None:
    assume(loom.spaces % 2 and ends <= loom.spaces)
    yarns = data.draw(st.lists(st.sampled_from(("white", "blue")), min_size=ends, max_size=ends))
    there, back = place(yarns, loom), place(yarns[::-1], loom)
    assert there == back
    assert there.kinds == there.kinds[::-1]
    held = sorted(zip(yarns, there.kinds, strict=True))
    assert held == sorted(zip(yarns[::-1], back.kinds, strict=True))
    assert there.space_of(1) + there.space_of(ends) == loom.spaces + 1


@given(LOOMS, st.lists(st.sampled_from(("white", "blue")), min_size=1, max_size=60))
def test_reversing_the_warp_reverses_the_ends_only(loom: Loom, yarns: list[str]) -> None:
    assume(len(yarns) <= loom.spaces)
    assert place(yarns, loom) == place(yarns[::-1], loom)


@given(LOOMS, st.integers(1, 65), st.sampled_from((0, 1)))
def test_ends_of_one_parity_find_slots_on_every_heddle_that_is_not_full(loom: Loom, ends: int, parity: int) -> None:
    assume(ends < loom.spaces)
    slots_only = {end_number: "red" for end_number in range(1, ends + 1) if end_number % 2 == parity}
    placement = place(("white",) * ends, loom, slots_only)
    assert all(placement.kinds[end_number - 1] is Space.SLOT for end_number in slots_only)
    assert placement.first_space >= 1
    assert placement.last_space <= loom.spaces
    unshifted = place(("white",) * ends, loom)
    assert placement.first_space == unshifted.first_space + placement.shifted
    assert (placement.shifted != 0) is any(unshifted.kinds[number - 1] is Space.HOLE for number in slots_only)
    # never more than one whole space off the middle, and half a space where there is the choice
    off = off_middle(placement.first_space, ends, loom)
    assert abs(off) == (2 * abs(placement.shifted) if unshifted.half_space == "none" else 1)
    assert placement.half_space == {-1: "left", 1: "right"}.get(off, "none")


def test_a_single_end_that_must_shift_is_counted_to_nought() -> None:
    placement = place(("red",), SMALL_BOX, {1: "red"})
    assert (space_label(placement.first_space, SMALL_BOX), placement.count_to) == ("R1", 0)


# Two heddles


def complementary(placement: Placement, front: Loom, back: Loom) -> bool:
    assert placement.back is not None
    return all(
        {kind, back.kind_of(placement.space_of(number) + placement.back.offset)} == set(Space)
        and front.kind_of(placement.space_of(number)) is kind
        for number, kind in enumerate(placement.kinds, start=1)
    )


def test_treadle_ladder_has_complementary_rows_at_all_forty_ends() -> None:
    placement = placed("T23", TREADLE_PAIR)
    assert complementary(placement, TREADLE_PAIR, TREADLE_PAIR)
    assert told(placement, TREADLE_PAIR) == "L20 slot -> R19 hole, empty 10+11"
    assert placement.back is not None
    assert (placement.back.offset, placement.back.first_space, placement.back.last_space) == (-1, 10, 49)


@pytest.mark.parametrize(("mark", "first", "offset"), [(Mark.ZERO, 1, 1), (Mark.ONE, 2, -1)])
def test_long_sixty_fills_the_treadle_pair(mark: Mark, first: int, offset: int) -> None:
    placement = placed("T24", replace(TREADLE_PAIR, mark=mark))
    assert placement.back is not None
    assert (placement.first_space, placement.back.offset) == (first, offset)
    assert {placement.back.first_space, placement.first_space} == {1, 2}
    assert complementary(placement, TREADLE_PAIR, TREADLE_PAIR)


def test_opposite_heddles_hold_as_many_as_they_have_spaces() -> None:
    front = replace(TREADLE_PAIR, back_heddle="opposite")
    behind = one_heddle(30, 31)
    for ends in (1, 40, 60, 61):
        placement = place(("white",) * ends, front)
        assert placement.back is not None
        assert placement.back.offset == 0
        assert complementary(placement, front, behind)


@given(LOOMS, st.integers(1, 64))
def test_two_heddles_that_are_the_same_always_have_room_one_space_over(loom: Loom, ends: int) -> None:
    assume(ends < loom.spaces)
    pair = replace(loom, heddles=Heddles.TWO, back_heddle="same")
    placement = place(("white",) * ends, pair)
    assert placement.back is not None
    assert placement.back.first_space >= 1
    assert placement.back.last_space <= loom.spaces
    assert complementary(placement, pair, pair)
    assert (placement.back.offset == 1) is (placement.first_space == 1)


# Thick ends


@pytest.mark.parametrize("loom", [SMALL_BOX, MIDDLE_BOX, BROAD_PADDLE], ids=lambda loom: loom.stem)
def test_the_thick_cord_in_a_hole_is_found_with_two_counts_that_help(loom: Loom) -> None:
    yarns, placement = yarns_of("T19"), placed("T19", loom)
    found = thick_ends_in_holes(yarns, (1, 22), placement, loom)
    assert found is not None
    assert (len(found.in_holes), found.shift_helps, found.counts) == (1, False, NearestCounts(21, 23))
    for ends in (21, 23):
        assert place(end_yarns(pattern(f"1 Bn {ends - 2} Wh 1 Bn")), loom, {1: "Bn", ends: "Bn"})


def test_three_sparks_need_two_ends_fewer_or_more() -> None:
    found = thick_ends_in_holes(yarns_of("T22"), (10, 13, 16), placed("T22", MIDDLE_BOX), MIDDLE_BOX)
    assert found is not None
    assert (found.in_holes, found.counts.both) == ((13,), (23, 27))


def test_raised_ribs_only_need_the_shift() -> None:
    found = thick_ends_in_holes(yarns_of("T20"), (8, 16, 24), placed("T20", BROAD_PADDLE), BROAD_PADDLE)
    assert found is not None
    assert (found.in_holes, found.shift_helps, found.counts.both) == ((8, 16, 24), True, ())
    assert thick_ends_in_holes(yarns_of("T20"), (8, 16, 24), placed("T20", BROAD_PADDLE, "Bu"), BROAD_PADDLE) is None
    assert thick_ends_in_holes(yarns_of("T20"), (), placed("T20", BROAD_PADDLE), BROAD_PADDLE) is None


def test_on_two_heddles_every_thick_end_passes_a_hole() -> None:
    found = thick_ends_in_holes(yarns_of("T19"), (1, 22), placed("T19", TREADLE_PAIR), TREADLE_PAIR)
    assert found is not None
    assert (found.in_holes, found.shift_helps, found.counts.both) == ((1, 22), False, ())
    assert thick_ends_in_holes(yarns_of("T19"), (), placed("T19", TREADLE_PAIR), TREADLE_PAIR) is None
