"""One end by its count from an edge: which it is, what lies beside it, how long a new one is. Figures by hand."""

from __future__ import annotations

from fractions import Fraction
from math import pi

import pytest

from cardmaker.model.loom import Side
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.model.units import MM_PER_INCH
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.reckoning.weaving.lost_ends import (
    end_from_edge,
    end_in_stripe,
    first_edge,
    length_by_turns_mm,
    lost_end,
    most_turns,
    place_in_stripe,
    stripes_from_edge,
)
from tests.helpers.shipped import PATTERNS, plan_of

RIGHT, LEFT = Viewpoint(), Viewpoint(left_hand=True)
BEHIND, LEFT_BEHIND = Viewpoint(from_behind=True), Viewpoint(True, True)
VIEWS = [RIGHT, LEFT, BEHIND, LEFT_BEHIND]


def seen(view: Viewpoint, pattern: str = "three-paths", loom: str | None = None) -> Plan:
    return plan_as_seen(plan_of(pattern, loom), view)


@pytest.mark.parametrize(
    ("view", "edge"),
    [(RIGHT, Side.LEFT), (LEFT, Side.RIGHT), (BEHIND, Side.LEFT), (LEFT_BEHIND, Side.RIGHT)],
)
def test_end_1_is_at_the_edge_of_the_hand(view: Viewpoint, edge: Side) -> None:
    plan = seen(view)
    assert first_edge(plan) is edge
    assert (end_from_edge(1, edge, plan), end_from_edge(31, edge, plan)) == (1, 31)
    assert (end_from_edge(1, edge.opposite, plan), end_from_edge(15, edge.opposite, plan)) == (31, 17)


@pytest.mark.parametrize("count", [0, 32, -1])
def test_there_is_no_such_end(count: int) -> None:
    with pytest.raises(ValueError, match="of a warp of 31 ends"):
        end_from_edge(count, Side.LEFT, seen(RIGHT))
    with pytest.raises(ValueError, match="of a warp of 31 ends"):
        place_in_stripe(count, Side.LEFT, seen(RIGHT))


def test_a_stripe_and_an_end_of_it_count_from_the_same_edge() -> None:
    plan = seen(RIGHT, "off-side")  # 11 white, 6 blue, 4 white, 1 red
    assert [end_in_stripe(2, count, Side.LEFT, plan) for count in (1, 6)] == [12, 17]
    assert [end_in_stripe(2, count, Side.RIGHT, plan) for count in (1, 4)] == [21, 18]
    assert end_in_stripe(1, 1, Side.RIGHT, plan) == 22
    left = seen(LEFT, "off-side")
    assert end_in_stripe(2, 1, Side.RIGHT, left) == 2  # the white one beside the red edge
    assert end_in_stripe(4, 11, Side.RIGHT, left) == 22


@pytest.mark.parametrize(("stripe", "count"), [(0, 1), (5, 1), (2, 0), (2, 7)])
def test_there_is_no_such_stripe_or_end_of_it(stripe: int, count: int) -> None:
    with pytest.raises(ValueError, match="stripe"):
        end_in_stripe(stripe, count, Side.LEFT, seen(RIGHT, "off-side"))


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("pattern", PATTERNS)
def test_an_end_is_found_again_by_its_place_in_the_stripes(pattern: str, view: Viewpoint) -> None:
    plan = seen(view, pattern)
    for edge in Side:
        found = [place_in_stripe(end_from_edge(count, edge, plan), edge, plan) for count in range(1, plan.ends + 1)]
        assert [(each.stripe, each.in_stripe) for each in found] == [
            (number, inside)
            for number, stripe in enumerate(stripes_from_edge(edge, plan), start=1)
            for inside in range(1, stripe.ends + 1)
        ]
        for count, each in enumerate(found, start=1):
            assert end_in_stripe(each.stripe, each.in_stripe, edge, plan) == end_from_edge(count, edge, plan)


def of_end(number: int, plan: Plan, woven: Fraction = Fraction(0), turns: Fraction | None = None) -> object:
    assert plan.rescue is not None
    return lost_end(number, plan, plan.rescue, woven, turns)


def test_its_neighbours_lie_on_the_sides_that_are_named() -> None:
    assert plan_of("off-side").rescue is not None
    for view in VIEWS:
        plan = seen(view, "off-side")
        assert plan.rescue is not None
        blue = next(number for number, yarn in enumerate(plan.end_yarns, start=1) if yarn == "red")
        found = lost_end(blue, plan, plan.rescue, Fraction(0), None)
        # the red edge end lies at the right as the weaver sits, and so at the left from behind
        red_at_right = not view.from_behind
        assert (found.from_right, found.from_left) == ((1, 22) if red_at_right else (22, 1))
        beside, nothing = (found.left, found.right) if red_at_right else (found.right, found.left)
        assert nothing is None
        assert beside is not None
        assert beside.yarn == "white"
        assert abs(beside.space - found.place.space) == 1


def test_the_length_by_what_is_woven_is_that_of_the_cards() -> None:
    plan = seen(RIGHT)
    assert plan.rescue is not None
    for each in plan.rescue.replacements:
        found = lost_end(9, plan, plan.rescue, each.woven, None)
        assert (found.length_mm, found.woven, found.turns_left) == (each.length_mm, each.woven, None)


def test_the_length_by_turns_is_what_lies_on_the_beam_and_behind_the_fell() -> None:
    plan = seen(RIGHT)
    assert plan.beam is not None
    assert plan.rescue is not None
    beam, lengths = plan.beam, plan.lengths
    found = lost_end(9, plan, plan.rescue, Fraction(0), Fraction(6))
    on_beam = pi * 6 * (float(Fraction("31.75")) + 6 * beam.build_up_mm)
    assert found.length_mm == pytest.approx(on_beam + float(lengths.waste_back_mm + 12 * MM_PER_INCH))
    assert found.woven is None
    assert found.turns_left == 6


@pytest.mark.parametrize("pattern", PATTERNS)
def test_by_turns_it_is_never_longer_than_with_nothing_woven_nor_shorter_than_what_is_left(pattern: str) -> None:
    plan = seen(RIGHT, pattern)
    assert plan.beam is not None
    lengths = [float(length_by_turns_mm(turns, plan.beam, plan.lengths)) for turns in range(most_turns(plan.beam) + 1)]
    spare = float(12 * MM_PER_INCH)
    assert lengths == sorted(lengths)
    assert lengths[0] == pytest.approx(float(plan.lengths.waste_back_mm) + spare)
    assert lengths[-1] == pytest.approx(float(plan.lengths.wound_mm) + spare)


def test_turns_need_a_beam() -> None:
    plan = replace(seen(RIGHT), beam=None)
    with pytest.raises(ValueError, match="Middle box"):
        of_end(1, plan, turns=Fraction(1))


@pytest.mark.parametrize("number", [0, 32])
def test_an_end_that_there_is_not(number: int) -> None:
    with pytest.raises(ValueError, match="of a warp of 31 ends"):
        of_end(number, seen(RIGHT))


def test_a_share_that_there_is_not() -> None:
    with pytest.raises(ValueError, match="between nought and one"):
        of_end(1, seen(RIGHT), Fraction(3, 2))


def test_a_plan_seen_from_elsewhere_has_forgotten_the_end() -> None:
    plan = seen(RIGHT)
    assert plan.rescue is not None
    chosen = replace(plan, lost_end=lost_end(3, plan, plan.rescue, Fraction(0), None))
    assert plan_as_seen(chosen, RIGHT).lost_end is not None
    assert plan_as_seen(chosen, LEFT).lost_end is None
