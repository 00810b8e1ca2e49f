"""The stripes counted: totals, mirrors, runs, and what is refused."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.pattern import MOST_ENDS, Alternation, Mirror, Pattern, Repeat, Stripe, WarpItem
from cardmaker.model.plan import Post
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.stripes.stripe_counts import counted_ends, end_yarns, is_same_both_ways, runs, stripe_refusals
from tests.helpers.warps import ROW, ROWS, Row, pattern, per_yarn, warp

MIRRORS: tuple[Mirror | None, ...] = (None, "last stripe", "whole")


def stripes() -> st.SearchStrategy[WarpItem]:
    yarns = st.sampled_from(("white", "blue", "red"))
    plain = st.builds(Stripe, yarns, st.integers(1, 6))
    in_turn = st.builds(Alternation, st.lists(yarns, min_size=2, max_size=3).map(tuple), st.integers(1, 9))
    return st.recursive(
        plain | in_turn,
        lambda inner: st.builds(Repeat, st.integers(1, 3), st.lists(inner, min_size=1, max_size=3).map(tuple)),
        max_leaves=5,
    )


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.code)
def test_every_demonstration_pattern_counts_as_in_its_table(row: Row) -> None:
    yarns = end_yarns(pattern(row.stripes))
    assert counted_ends(warp(row.stripes)) == row.ends
    assert len(yarns) == row.ends
    assert Counter(yarns) == per_yarn(row.totals)
    assert is_same_both_ways(yarns) is row.same_both_ways
    changes = runs(yarns)[:-1]
    assert len(changes) == row.changes
    assert sum(run.stand_at is Post.FAR for run in changes) == row.far
    assert runs(yarns)[-1].stand_at == row.finish


def test_three_paths_has_these_checkpoints() -> None:
    found = runs(end_yarns(pattern(ROW["T08"].stripes)))
    assert [run.total for run in found] == [3, 8, 11, 20, 23, 28, 31]  # 3 +5 +3 +9 +3 +5 +3
    assert [run.total for run in found if run.stand_at is Post.FAR] == [3, 11, 23, 31]
    assert [run.first_end for run in found] == [1, 4, 9, 12, 21, 24, 29]


def test_runs_join_across_items_of_the_file() -> None:
    # ALT ends on white, and 4 white follow: one run of five
    found = runs(end_yarns(pattern("6 Bu 4 Wh ALT(Bu,Wh,20) 4 Wh 6 Bu")))
    assert [(run.yarn, run.ends) for run in found[-2:]] == [("Wh", 5), ("Bu", 6)]
    assert len(found) == 23


def test_mirrored_about_the_last_stripe_it_is_not_doubled() -> None:
    assert end_yarns(pattern("3 Re 5 Wh 3 Bu 9 Wh", "last stripe")) == end_yarns(pattern(ROW["T08"].stripes))


def test_a_mirrored_alternation_and_repeat_are_reversed_as_ends_lie() -> None:
    assert "".join(end_yarns(pattern("ALT(Wh,Bu,4) 1 Re", "last stripe"))) == "WhBuWhBu" + "Re" + "BuWhBuWh"
    assert "".join(end_yarns(pattern("(2 Wh 1 Bu)2 1 Re", "last stripe"))) == "WhWhBuWhWhBu" + "Re" + "BuWhWhBuWhWh"


def test_a_last_item_that_is_not_the_same_both_ways_stays_as_it_is() -> None:
    yarns = end_yarns(pattern("2 Re ALT(Wh,Bu,4)", "last stripe"))
    assert "".join(yarns) == "ReRe" + "WhBuWhBu" + "ReRe"
    assert not is_same_both_ways(yarns)


def test_mirrored_whole_the_last_stripe_is_doubled() -> None:
    assert "".join(end_yarns(pattern("1 Re 2 Wh", "whole"))) == "ReWhWhWhWhRe"


@given(st.lists(stripes(), min_size=1, max_size=4), st.sampled_from(MIRRORS))
def test_arithmetic_and_laying_out_agree(items: list[WarpItem], mirror: Mirror | None) -> None:
    ends = counted_ends(items, mirror)
    if ends > MOST_ENDS:
        assert stripe_refusals(items, mirror)
        return
    yarns = end_yarns(Pattern("Test", "test", (), tuple(items), mirror=mirror))
    assert len(yarns) == ends
    assert [yarn for run in runs(yarns) for yarn in [run.yarn] * run.ends] == list(yarns)
    assert all(left.yarn != right.yarn for left, right in zip(runs(yarns), runs(yarns)[1:], strict=False))
    if mirror == "whole":
        assert is_same_both_ways(yarns)


def refusals(notation: str, stated_ends: int | None = None) -> list[tuple[tuple[object, ...], str]]:
    return [(refusal.path, str(refusal)) for refusal in stripe_refusals(warp(notation), None, stated_ends)]


def test_a_stated_total_that_differs_is_refused_with_both_numbers() -> None:
    assert refusals(ROW["T08"].stripes, 30) == [
        (("ends",), "The stripes add up to 31 ends, but `ends` says 30. "
         "Write `ends: 31`, or take 1 end out of the stripes."),
    ]  # fmt: skip
    assert refusals("3 Wh", 5)[0][1].endswith("Write `ends: 3`, or add 2 ends to the stripes.")
    assert refusals("400 Wh", 390)[0][1].endswith("Write `ends: 400`, or take 10 ends out of the stripes.")
    assert refusals(ROW["T08"].stripes, 31) == []


def test_too_many_ends_are_refused_at_no_cost() -> None:
    million = Repeat(1_000_000, (Repeat(1_000_000, (Stripe("white", 1), Alternation(("white", "blue"), 3))),))
    assert counted_ends((million,), "whole") == 8 * 10**12
    assert counted_ends((Stripe("red", 1), million), "last stripe") == 4 * 10**12 + 2
    assert [refusal.path for refusal in stripe_refusals((million,))] == [("warp",)]
    assert "more than a million million ends; 400 is the most" in str(stripe_refusals((million,))[0])
    exactly = Repeat(1_000_000, (Stripe("white", 1_000_000),))
    assert "add up to 1,000,000,000,000 ends; 400" in str(stripe_refusals((exactly,))[0])
    assert "more than a million million" in str(stripe_refusals((exactly, Stripe("red", 1)))[0])
    deep: WarpItem = Stripe("white", 1)
    for _ in range(200):
        deep = Repeat(10**30, (deep,))
    assert stripe_refusals((deep,), None, 4)


def test_both_faults_of_the_count_are_told_at_once() -> None:
    assert refusals("401 Wh", 31) == [
        (("warp",), "The stripes add up to 401 ends; 400 is the most. "
         "Check the numbers, and how often each repeat is worked."),
        (("ends",), "The stripes add up to 401 ends, but `ends` says 31. Correct the stripes first."),
    ]  # fmt: skip
    assert refusals("400 Wh") == []


def test_a_warp_without_ends_is_refused() -> None:
    assert refusals("") == [
        (("warp",), "The stripes add up to no ends at all. Write at least one, as in `9 white`."),
    ]
    endless = Pattern("Test", "test", (), (Repeat(10**40, ()), Stripe("white", 2)))
    assert end_yarns(endless) == ("white", "white")


def test_laying_out_raises_the_first_refusal() -> None:
    with pytest.raises(Refusal, match="add up to 31 ends, but `ends` says 30"):
        end_yarns(pattern(ROW["T08"].stripes, stated_ends=30))
