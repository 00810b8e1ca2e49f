"""On a loom that nobody knows: its line agrees with what is reckoned for every loom that has such a mark."""

from __future__ import annotations

from functools import cache
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.loom import Heddles, Mark, Space
from cardmaker.model.pattern import MOST_ENDS, Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.model.viewpoint import FROM_SEAT, Viewpoint
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.any_heddle import ANY_LOOMS, kind_at_mark, on_any_heddle, spaces_needed
from cardmaker.reckoning.threading.mirror import loom_as_seen, plan_as_seen
from cardmaker.reckoning.threading.placement import place, space_label
from cardmaker.wording import any_loom_words
from tests.helpers.shipped import LOOMS, PATTERNS, shipped_loom, shipped_pattern
from tests.helpers.warps import any_loom, pattern

BROADEST: Final = 47  # spaces of the widest loom of one heddle that ships
VIEWS: Final = [Viewpoint(left, behind) for left in (False, True) for behind in (False, True)]


@cache
def plan_on_any(name: str) -> Plan:
    return make_plan(shipped_pattern(name), ANY_LOOMS[0], at_hand=ANY_LOOMS, with_bench=False)


def plan_of_warp(tape: Pattern) -> Plan:
    counted = replace(tape, yarns=tuple(replace(yarn, count="20/2") for yarn in tape.yarns))
    return make_plan(counted, ANY_LOOMS[0], at_hand=ANY_LOOMS, with_bench=False)


def white(ends: int) -> Plan:
    return plan_of_warp(pattern(f"{ends} Wh"))


def test_a_mark_makes_four_heddles() -> None:
    marks = [(loom.middle_space is None, kind_at_mark(loom)) for loom in ANY_LOOMS]
    assert marks == [(False, Space.HOLE), (False, Space.SLOT), (True, Space.HOLE), (True, Space.SLOT)]


@pytest.mark.parametrize("name", PATTERNS)
@pytest.mark.parametrize("view", VIEWS)
def test_the_line_agrees_with_the_plan_of_every_loom_that_has_such_a_mark(name: str, view: Viewpoint) -> None:
    """What a card for one loom tells of its first and last space is what the line for its mark tells."""
    lines = {
        (loom.middle_space is None, kind_at_mark(loom)): (loom, placement)
        for loom, placement in on_any_heddle(plan_as_seen(plan_on_any(name), view))
    }
    assert len(lines) == len(ANY_LOOMS)
    agreed = 0
    for stem in LOOMS:
        loom = shipped_loom(stem)
        if loom.heddles is Heddles.TWO or loom.mark is Mark.ONE or loom.capacity < plan_on_any(name).ends:
            continue
        plan = plan_as_seen(make_plan(shipped_pattern(name), loom, with_bench=False), view)
        seen, own = plan.loom, plan.placement
        told_of, told = lines[seen.middle_space is None, kind_at_mark(seen)]
        assert space_label(told.first_space, told_of) == space_label(own.first_space, seen)
        assert space_label(told.last_space, told_of) == space_label(own.last_space, seen)
        assert told.kinds == own.kinds
        agreed += 1
    assert agreed or plan_on_any(name).ends > BROADEST


@given(st.integers(1, 65), st.sampled_from(Space), st.integers(1, 65))
def test_so_it_does_for_any_spaces(spaces: int, outer: Space, ends: int) -> None:
    """And a heddle of as many spaces as it names holds the warp, while one of two fewer does not."""
    loom, plan = any_loom(spaces, outer, Mark.ZERO), white(ends)
    lines = {(each.middle_space is None, kind_at_mark(each)): (each, placed) for each, placed in on_any_heddle(plan)}
    told_of, told = lines[loom.middle_space is None, kind_at_mark(loom)]
    if ends > spaces:
        assert spaces < spaces_needed(plan)
        return
    own = place(plan.end_yarns, loom)
    assert (told.kinds, told.count_to) == (own.kinds, own.count_to)
    assert space_label(told.last_space, told_of) == space_label(own.last_space, loom)


@pytest.mark.parametrize(("ends", "spaces"), [(1, 2), (2, 3), (31, 32), (48, 49), (MOST_ENDS, MOST_ENDS + 1)])
def test_so_many_spaces_hold_it_whatever_the_mark(ends: int, spaces: int) -> None:
    """Even ends lie half a space off on a heddle with a middle space, odd ones on one without: one space more."""
    assert spaces_needed(white(ends)) == spaces


def test_ends_for_slots_alone_move_the_warp_where_they_must() -> None:
    tape = pattern("1 Wh 1 Bu 1 Wh", slots_only=("Bu",))
    plan = plan_of_warp(tape)
    for _, placed in on_any_heddle(plan):
        assert placed.kinds[1] is Space.SLOT
    assert {placed.shifted for _, placed in on_any_heddle(plan)} != {0}


def test_the_lines_of_three_paths() -> None:
    """31 ends, counted by hand: 15 on either side of the middle one."""
    assert any_loom_words.lines(plan_on_any("three-paths")) == [
        ("a hole", "15 left, slot", "15 right, slot", "2, 4, 6 …"),
        ("a slot", "15 left, hole", "15 right, hole", "1, 3, 5 …"),
        ("between, hole left", "16 left, slot", "15 right, slot", "2, 4, 6 …"),
        ("between, slot left", "16 left, hole", "15 right, hole", "1, 3, 5 …"),
    ]


def test_one_end_lies_at_the_mark() -> None:
    assert any_loom_words.lines(white(1))[0] == ("a hole", "at the mark, hole", "at the mark, hole", "the end")


def test_what_is_left_of_the_mark_is_named_as_the_weaver_sees_it() -> None:
    """Whoever looks from behind has on the left what lay right; a left hand has not."""
    between = ANY_LOOMS[2]
    assert kind_at_mark(loom_as_seen(between, Viewpoint(left_hand=True, from_behind=False))) is Space.HOLE
    assert kind_at_mark(loom_as_seen(between, Viewpoint(left_hand=False, from_behind=True))) is Space.SLOT
    assert kind_at_mark(loom_as_seen(between, FROM_SEAT)) is Space.HOLE
