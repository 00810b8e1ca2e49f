"""A plan seen by a left hand and from behind: every end keeps its hole or slot. Numbers by hand, the rest a mirror."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardmaker.model.loom import Loom, Side, Space
from cardmaker.model.plan import BackHeddle, Placement, Plan, Post
from cardmaker.model.viewpoint import FROM_SEAT, Viewpoint
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.stripes.stripe_counts import end_yarns
from cardmaker.reckoning.threading.mirror import loom_as_seen, placement_from_other_edge, plan_as_seen
from cardmaker.reckoning.threading.placement import place, slots_only_ends, space_label
from cardmaker.wording.loom_words import on_other_loom
from tests.helpers.shipped import PATTERNS, plan_of
from tests.helpers.warps import BROAD_PADDLE, MIDDLE_BOX, ROW, SMALL_BOX, TREADLE_PAIR, one_heddle, pattern

LEFT, BEHIND, LEFT_BEHIND = Viewpoint(left_hand=True), Viewpoint(from_behind=True), Viewpoint(True, True)
EVEN_BOARD = one_heddle(12, 12, title="Even board")  # its first space is a slot, its last a hole


def turned(notation: str, loom: Loom, *slots_only: str) -> Placement:
    made = pattern(notation, slots_only=slots_only)
    yarns = end_yarns(made)
    return placement_from_other_edge(place(yarns, loom, slots_only_ends(made, yarns)), loom)


def told(found: Placement) -> str:
    return f"{found.first_space}-{found.last_space} {found.first_kind} {found.last_kind}, say {found.count_to}"


@pytest.mark.parametrize(
    ("notation", "loom", "expected", "half_space"),
    [
        # T09 lies in spaces 6 to 27 of 33; from the other end these are 7 to 28, and 17 - 7 is 10
        (ROW["T09"].stripes, MIDDLE_BOX, "7-28 hole slot, say 10", "right"),
        (ROW["T08"].stripes, MIDDLE_BOX, "2-32 slot slot, say 15", "none"),
        # seven ends lie in 9 to 15 of 24, a slot outside; from the other end in 10 to 16, and the mark is after 12
        ("7 Wh", EVEN_BOARD, "10-16 slot slot, say 3", "right"),
        ("6 Wh", EVEN_BOARD, "10-15 slot hole, say 3", "none"),
    ],
)
def test_spaces_are_counted_from_the_other_end(notation: str, loom: Loom, expected: str, half_space: str) -> None:
    found = turned(notation, loom)
    assert (told(found), found.half_space) == (expected, half_space)
    assert (found.shifted, found.back) == (0, None)


def test_a_shift_to_the_right_is_one_to_the_left() -> None:
    found = turned(ROW["T21"].stripes, MIDDLE_BOX, "Re")  # moved to spaces 3 to 33
    assert (told(found), found.shifted, found.moved_yarn) == ("1-31 hole hole, say 16", -1, "Re")


def test_the_back_heddle_is_counted_from_its_other_end_too() -> None:
    found = turned(ROW["T23"].stripes, TREADLE_PAIR)  # 11 to 50 of 61 in front, 10 to 49 behind
    assert told(found) == "12-51 hole slot, say 19"
    assert found.back == BackHeddle(1, 13, 52)


@pytest.mark.parametrize("loom", [SMALL_BOX, EVEN_BOARD, TREADLE_PAIR], ids=lambda loom: loom.title)
def test_a_turned_heddle_has_its_kinds_from_the_other_end(loom: Loom) -> None:
    last_to_first = [loom.kind_of(space) for space in range(loom.spaces, 0, -1)]
    for view in (LEFT, BEHIND):
        seen = loom_as_seen(loom, view)
        assert [seen.kind_of(space) for space in range(1, loom.spaces + 1)] == last_to_first
        assert (seen.view, seen.sides_swapped) == (view, view.left_hand)
    assert loom_as_seen(loom, LEFT_BEHIND) == replace(loom, view=LEFT_BEHIND)


def off_side() -> Plan:
    """Off Side on the Middle box, beside a loom with room and one without."""
    made = replace(pattern(ROW["T09"].stripes), width_mm=None)
    yarns = tuple(replace(yarn, count="20/2") for yarn in made.yarns)
    looms = [replace(loom, stem=loom.title) for loom in (MIDDLE_BOX, BROAD_PADDLE, one_heddle(6, 5, title="Toy"))]
    return make_plan(replace(made, yarns=yarns), looms[0], at_hand=looms)


def test_a_whole_plan_is_turned() -> None:
    plan = off_side()
    found = plan_as_seen(plan, LEFT)
    assert [(run.ends, run.yarn, run.total, run.stand_at) for run in found.runs] == [
        (1, "Re", 1, Post.FAR),
        (4, "Wh", 5, Post.FAR),
        (6, "Bu", 11, Post.FAR),
        (11, "Wh", 22, Post.HOME),
    ]
    assert found.end_yarns == ("Re",) + ("Wh",) * 4 + ("Bu",) * 6 + ("Wh",) * 11
    assert told(found.placement) == "7-28 hole slot, say 10"
    assert (found.loom.title, found.loom.outer, found.view) == ("Middle box", Space.HOLE, LEFT)
    # the hole ends stood at the even numbers of 22, so from the other edge at the odd ones, and first to last
    assert (plan.sheds.down[:3], plan.sheds.up[:3]) == ((2, 4, 6), (1, 3, 5))
    assert (found.sheds.down[:3], found.sheds.down[-1]) == ((1, 3, 5), 21)
    assert (found.sheds.up[:3], found.sheds.up[-1]) == ((2, 4, 6), 22)
    assert (found.winding.trips, found.winding.changes, found.winding.far_changes) == (22, 3, 3)
    assert [carry.ends for carry in found.winding.carries] == [1, 4, 6, 11]
    assert (found.lengths, found.amounts, found.notes) == (plan.lengths, plan.amounts, plan.notes)


@pytest.mark.parametrize(
    ("view", "words"),
    [
        (FROM_SEAT, "L11, a slot, to R10; empty: 12 left, 13 right."),
        (LEFT, "R10, a hole, to L11; empty: 13 right, 12 left."),
        (
            BEHIND,
            "L10, a hole, to R11; empty: 13 left, 12 right.",
        ),  # from behind the same hole is the tenth to the left
        (LEFT_BEHIND, "R11, a slot, to L10; empty: 12 right, 13 left."),
    ],
)
def test_other_looms_are_seen_as_the_rest(view: Viewpoint, words: str) -> None:
    """13 to 34 of 47 with a hole in the middle, 24: a slot, eleven to its left, and a hole, ten to its right."""
    paddle, toy = plan_as_seen(off_side(), view).other_looms
    assert (paddle.title, on_other_loom(paddle)) == ("Broad paddle", words)
    assert (toy.title, toy.placement, toy.loom.view) == ("Toy", None, view)


def test_a_left_hand_behind_counts_the_same_ends_and_calls_left_right() -> None:
    plan = off_side()
    found = plan_as_seen(plan, LEFT_BEHIND)
    assert found.loom == replace(plan.loom, view=LEFT_BEHIND)
    assert (found.runs, found.placement, found.sheds, found.winding) == (
        plan.runs,
        plan.placement,
        plan.sheds,
        plan.winding,
    )


# Everything that has a side or a number, for every shipped pattern: what is seen from behind by geometry alone


@pytest.mark.parametrize("pattern_name", PATTERNS)
def test_from_behind_every_space_is_called_by_the_other_side(pattern_name: str) -> None:
    """A space so far to the left of the mark is as far to its right from behind, with the same end in it."""
    seat = plan_of(pattern_name)
    behind, left = plan_as_seen(seat, BEHIND), plan_as_seen(seat, LEFT)
    for number, yarn in enumerate(seat.end_yarns, start=1):
        other = seat.ends + 1 - number
        before = place_of(seat, number)
        assert (behind.end_yarns[other - 1], place_of(behind, other)) == (yarn, other_side(before))
        assert (left.end_yarns[other - 1], place_of(left, other)) == (yarn, before)
    assert (behind.placement.empty_left, behind.placement.empty_right) == (
        seat.placement.empty_right,
        seat.placement.empty_left,
    )


def place_of(plan: Plan, number: int) -> tuple[str, Space]:
    return space_label(plan.placement.space_of(number), plan.loom), plan.placement.kinds[number - 1]


def other_side(place: tuple[str, Space]) -> tuple[str, Space]:
    label, kind = place
    return (label if label == "the middle" else {"L": "R", "R": "L"}[label[0]] + label[1:]), kind


@pytest.mark.parametrize("pattern_name", PATTERNS)
@pytest.mark.parametrize("view", [LEFT, BEHIND, LEFT_BEHIND], ids=["left", "behind", "left-behind"])
def test_rescue_tells_of_the_ends_that_the_card_numbers(pattern_name: str, view: Viewpoint) -> None:
    plan = plan_as_seen(plan_of(pattern_name), view)
    assert plan.rescue is not None
    for number, end in enumerate(plan.rescue.ends, start=1):
        assert (end.end_number, end.yarn) == (number, plan.end_yarns[number - 1])
        assert (end.space, end.kind) == (plan.placement.space_of(number), plan.placement.kinds[number - 1])
        from_last = plan.ends + 1 - number
        assert end.count == min(number, from_last)
        if number != from_last:  # the middle end is as near to either edge
            assert end.nearer is (side_of_end_1(view) if number < from_last else side_of_end_1(view).opposite)
    # who threads from end 1 on has the last end at the other side
    assert plan.rescue.rethreading[-1].side is side_of_end_1(view).opposite


def side_of_end_1(view: Viewpoint) -> Side:
    """A right hand begins at the left of what it sees, a left hand at the right."""
    return Side.RIGHT if view.left_hand else Side.LEFT


@pytest.mark.parametrize("view", [LEFT, BEHIND, LEFT_BEHIND], ids=["left", "behind", "left-behind"])
def test_pattern_ends_keep_their_numbers_and_change_those_of_the_warp(view: Viewpoint) -> None:
    """Five Posts has 31 ends and a post at 8, 12, 16, 20 and 24 from the left edge; row 2 picks up the third."""
    seat, seen = plan_of("five-posts"), plan_as_seen(plan_of("five-posts"), view)
    assert seat.pickup is not None
    assert seen.pickup is not None
    from_left, from_right = (8, 12, 16, 20, 24), (24, 20, 16, 12, 8)
    assert seen.pickup.pattern_ends == (from_right if view.from_other_edge else from_left)
    assert seen.pickup.rows[1].lifted == (16,)
    assert seen.pickup.rows[3].lifted == ((20, 12) if view.from_other_edge else (12, 20))
    for before, after in zip(seat.pickup.rows, seen.pickup.rows, strict=True):
        on_top = [seen.end_yarns[number - 1] for number in after.raised]
        assert on_top[:: -1 if view.from_other_edge else 1] == [seat.end_yarns[number - 1] for number in before.raised]
    for run in seen.pickup.floats:
        assert seen.pickup.pattern_ends[run.pattern_end - 1] == run.end_number


def test_a_note_names_the_side_as_it_is_seen() -> None:
    """The posts move the warp one space: to the right from the seat, to the left from behind."""
    seat = plan_of("five-posts")
    sides = {
        view: [note.values["side"] for note in plan_as_seen(seat, view).notes if note.key == "moved"]
        for view in (FROM_SEAT, LEFT, BEHIND, LEFT_BEHIND)
    }
    assert sides == {FROM_SEAT: ["right"], LEFT: ["right"], BEHIND: ["left"], LEFT_BEHIND: ["left"]}


@pytest.mark.parametrize("pattern_name", PATTERNS)
def test_every_view_leads_back_to_the_seat_and_to_every_other(pattern_name: str) -> None:
    seat = plan_of(pattern_name)
    views = (FROM_SEAT, LEFT, BEHIND, LEFT_BEHIND)
    for first in views:
        for then in views:
            assert plan_as_seen(plan_as_seen(seat, first), then) == plan_as_seen(seat, then), (first, then)
