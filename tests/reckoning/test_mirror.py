"""The warp begun from its other edge: every end keeps its hole or slot, and only the counting turns. All by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardmaker.model.loom import Loom, Space
from cardmaker.model.plan import BackHeddle, Placement, Plan, Post
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.stripes.stripe_counts import end_yarns
from cardmaker.reckoning.threading.mirror import (
    loom_from_other_edge,
    placement_from_other_edge,
    plan_from_other_edge,
    plan_with_sides_swapped,
)
from cardmaker.reckoning.threading.placement import place, slots_only_ends
from tests.helpers.warps import BROAD_PADDLE, MIDDLE_BOX, ROW, SMALL_BOX, TREADLE_PAIR, one_heddle, pattern

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
    swapped = loom_from_other_edge(loom, sides_swapped=True)
    last_to_first = [loom.kind_of(space) for space in range(loom.spaces, 0, -1)]
    assert [swapped.kind_of(space) for space in range(1, loom.spaces + 1)] == last_to_first
    assert swapped.sides_swapped
    assert not loom_from_other_edge(loom, sides_swapped=False).sides_swapped


def off_side() -> Plan:
    """Off Side on the Middle box, beside a loom with room and one without."""
    made = replace(pattern(ROW["T09"].stripes), width_mm=None)
    yarns = tuple(replace(yarn, count="20/2") for yarn in made.yarns)
    looms = [replace(loom, stem=loom.title) for loom in (MIDDLE_BOX, BROAD_PADDLE, one_heddle(6, 5, title="Toy"))]
    return make_plan(replace(made, yarns=yarns), looms[0], at_hand=looms)


def test_a_whole_plan_is_turned() -> None:
    plan = off_side()
    found = plan_from_other_edge(plan, sides_swapped=True)
    assert [(run.ends, run.yarn, run.total, run.stand_at) for run in found.runs] == [
        (1, "Re", 1, Post.FAR),
        (4, "Wh", 5, Post.FAR),
        (6, "Bu", 11, Post.FAR),
        (11, "Wh", 22, Post.HOME),
    ]
    assert found.end_yarns == ("Re",) + ("Wh",) * 4 + ("Bu",) * 6 + ("Wh",) * 11
    assert told(found.placement) == "7-28 hole slot, say 10"
    assert (found.loom.title, found.loom.outer, found.loom.sides_swapped) == ("Middle box", Space.HOLE, True)
    assert not plan_from_other_edge(plan, sides_swapped=False).loom.sides_swapped
    # the hole ends stood at the even numbers of 22, so from the other edge at the odd ones, and first to last
    assert (plan.sheds.down[:3], plan.sheds.up[:3]) == ((2, 4, 6), (1, 3, 5))
    assert (found.sheds.down[:3], found.sheds.down[-1]) == ((1, 3, 5), 21)
    assert (found.sheds.up[:3], found.sheds.up[-1]) == ((2, 4, 6), 22)
    assert (found.winding.trips, found.winding.changes, found.winding.far_changes) == (22, 3, 3)
    assert [carry.ends for carry in found.winding.carries] == [1, 4, 6, 11]
    assert (found.lengths, found.amounts, found.notes) == (plan.lengths, plan.amounts, plan.notes)


def test_other_looms_are_turned_with_it() -> None:
    paddle, toy = off_side().other_looms
    turned_paddle, turned_toy = plan_from_other_edge(off_side(), sides_swapped=False).other_looms
    assert toy == turned_toy
    assert toy.placement is None
    assert (paddle.first_label, paddle.last_label) == ("L11", "R10")
    assert (turned_paddle.title, turned_paddle.first_label, turned_paddle.last_label) == ("Broad paddle", "R10", "L11")
    assert turned_paddle.placement is not None
    # 13 to 34 of 47, a slot first and last
    assert (turned_paddle.placement.first_space, turned_paddle.placement.last_space) == (14, 35)
    assert (turned_paddle.placement.first_kind, turned_paddle.placement.last_kind) == (Space.HOLE, Space.SLOT)


def test_swapped_is_drawn_alike_and_called_otherwise() -> None:
    plan = off_side()
    found = plan_with_sides_swapped(plan)
    assert found.loom == replace(plan.loom, sides_swapped=True)
    assert replace(found, loom=plan.loom) == plan
