"""What makes a tape easy or hard, counted by hand."""

from __future__ import annotations

from cardmaker.jobs import loading, plan_making
from cardmaker.model.plan import Plan
from cardmaker.reckoning.stripes.ease import Ease, ease_of
from cardmaker.wording.ease_words import RULE, ease_in_words
from tests.helpers.places import ROOT


def shipped_plan(stem: str) -> Plan:
    setup = plan_making.load_plan_setup(None, None)
    return plan_making.plan_for(loading.load_pattern(ROOT / f"patterns/{stem}.yaml"), setup)


def test_stripes_and_changes_are_counted() -> None:
    """3 red, 5 white, 3 blue, 9 white, 3 blue, 5 white, 3 red: 6 changes, after 3, 8, 11, 20, 23 and 28 ends; an odd
    total stands at the far post: 3, 11 and 23."""
    ease = ease_of(shipped_plan("three-paths"))
    assert ease == Ease(ends=31, changes=6, far_changes=3, single_ends=0, look_alike=0, picked_rows=0)
    assert ease.places == 9
    assert ease_in_words(ease) == "31 ends, 6 changes (3 at far), no single end"


def test_a_single_end_and_neighbours_that_look_alike_count() -> None:
    assert ease_of(shipped_plan("wick")).single_ends == 1
    alike = ease_of(shipped_plan("grey-trap"))
    assert alike.look_alike == 3
    assert ease_in_words(alike, with_ends=False).endswith("3 changes between colours that look alike")


def test_a_plain_tape_has_nothing_to_mistake() -> None:
    ease = ease_of(shipped_plan("bare-thread"))
    assert (ease.places, ease.single_ends) == (0, 0)
    assert ease_in_words(ease) == "8 ends, no change of colour"


def test_a_figure_picked_up_comes_after_all_others() -> None:
    figure, hardest = ease_of(shipped_plan("five-posts")), ease_of(shipped_plan("pavement"))
    assert figure.places < hardest.places
    assert hardest.order < figure.order
    assert "a figure of 8 rows picked up by hand" in ease_in_words(figure)


def test_places_come_before_ends() -> None:
    few_places = Ease(60, 2, 0, 0, 0, 0)
    few_ends = Ease(9, 3, 0, 0, 0, 0)
    assert few_places.order < few_ends.order
    assert Ease(9, 2, 0, 0, 0, 0).order < few_places.order


def test_the_rule_names_all_that_is_counted() -> None:
    for what in ("figure", "changes of colour", "at far", "single ends", "look alike", "number of ends"):
        assert what in RULE
