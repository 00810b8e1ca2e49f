"""Winding: trips, posts, joins, and which way saves trouble."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.plan import Post, Winding
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, runs
from cardmaker.reckoning.winding.winding_methods import bundle_list, carries, plan_winding
from tests.helpers.warps import ROW, ROWS, Row, pattern, per_yarn


def wound(notation: str) -> Winding:
    return plan_winding(runs(end_yarns(pattern(notation))))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.code)
def test_every_demonstration_pattern_winds_as_in_its_table(row: Row) -> None:
    found = wound(row.stripes)
    assert (found.trips, found.round_trips) == (row.ends, row.ends // 2)
    assert (found.changes, found.far_changes, found.joins) == (row.changes, row.far, row.changes)
    assert found.finish == row.finish
    assert found.balls == found.bundles == len(per_yarn(row.totals))


def test_two_rails_change_once_at_the_far_post() -> None:
    found = runs(end_yarns(pattern(ROW["T03"].stripes)))
    assert [(run.total, str(run.stand_at)) for run in found] == [(2, "home"), (11, "far"), (13, "far")]


def test_three_paths_carried_needs_no_join() -> None:
    assert [
        (carry.ends, carry.yarn, f"{carry.start}->{carry.stop}") for carry in wound(ROW["T08"].stripes).carries
    ] == [
        (3, "Re", "home->far"),
        (5, "Wh", "home->far"),
        (3, "Bu", "home->far"),
        (9, "Wh", "far->home"),
        (3, "Bu", "far->home"),
        (5, "Wh", "home->far"),
        (3, "Re", "far->home"),
    ]


def test_an_open_ladder_is_carried_with_two_balls() -> None:
    found = wound(ROW["T11"].stripes)
    assert (found.joins, found.balls, found.method) == (13, 2, "carry")
    assert [str(carry.start) for carry in found.carries[:4]] == ["home", "home", "far", "far"]


@pytest.mark.parametrize(
    ("notation", "method", "numbers"),
    [
        ("8 Wh", "order", (0, 8, 1)),
        (ROW["T08"].stripes, "order", (6, 31, 3)),
        (ROW["T12"].stripes, "carry", (16, 23, 2)),
        (ROW["T26"].stripes, "carry", (26, 27, 3)),
        (ROW["T27"].stripes, "order", (10, 48, 6)),
        ("3 Wh 3 Bu 2 Wh 1 Re", "order", (3, 9, 3)),  # 3 x 3 joins are 9 ends: just enough
        ("3 Wh 2 Bu 2 Wh 1 Re", "carry", (3, 8, 3)),  # and one too few
        ("1 Wh 1 Bu 1 Re 1 Gr", "bundle", (3, 4, 4)),  # four balls are too many for two hands
    ],
)
def test_the_recommended_method_and_the_numbers_that_decided_it(
    notation: str, method: str, numbers: tuple[int, int, int]
) -> None:
    found = wound(notation)
    assert found.method == method
    assert (found.joins, found.trips, found.bundles) == numbers


def test_one_colour_at_a_time_is_as_many_bundles() -> None:
    found = bundle_list(runs(end_yarns(pattern(ROW["T08"].stripes))))
    assert [(bundle.yarn, bundle.ends) for bundle in found] == [("Re", 6), ("Wh", 19), ("Bu", 6)]


@given(st.lists(st.sampled_from(("white", "blue", "red")), min_size=1, max_size=60))
def test_a_ball_walked_back_and_forth_waits_where_the_list_says(yarns: list[str]) -> None:
    waits: dict[str, Post] = {}
    walked = []
    for run in runs(yarns):
        start = waits.get(run.yarn, Post.HOME)
        here = start
        for _ in range(run.ends):
            here = here.opposite
        waits[run.yarn] = here
        walked.append((run.yarn, start, here))
    assert [(carry.yarn, carry.start, carry.stop) for carry in carries(runs(yarns))] == walked


@given(st.lists(st.sampled_from(("white", "blue", "red")), min_size=1, max_size=60))
def test_the_bundles_hold_every_end(yarns: list[str]) -> None:
    found = bundle_list(runs(yarns))
    assert {bundle.yarn: bundle.ends for bundle in found} == Counter(yarns)
    assert sum(bundle.ends for bundle in found) == wound_trips(yarns)


def wound_trips(yarns: list[str]) -> int:
    return plan_winding(runs(yarns)).trips
