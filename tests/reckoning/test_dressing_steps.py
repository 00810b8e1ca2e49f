"""Dressing: the order of its steps, and the figures that the plan lacks."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import get_args

import pytest

from cardmaker.model.dressing_acts import Act
from cardmaker.model.loom import Heddles, Loom
from cardmaker.model.plan import Method, Plan
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.on_loom.dressing_steps import acts_in_order, dressing_figures, loose_at_far
from tests.helpers.shipped import PATTERNS, plan_of, shipped_loom

ONE, TWO = shipped_loom("middle-box"), shipped_loom("treadle-pair")


def names(loom: Loom, *, is_threaded: bool = False, is_brief: bool = False) -> str:
    return ", ".join(acts_in_order(loom, is_threaded=is_threaded, is_brief=is_brief))


def test_thread_first() -> None:
    """Rolled from far, the tips at home come off first: through the heddle, and then to the beam."""
    assert names(ONE) == (
        "keepers, cross, thread, tie on, wind on, front tie, tie the loom, shuttle, first pick, move on, finish"
    )


def test_beam_first() -> None:
    """Rolled from home, the loops at far come off first: to the beam; home is cut, and threaded, when all is wound."""
    assert names(replace(ONE, beam_first=True)) == (
        "keepers, tie on, wind on, cross, thread, front tie, tie the loom, shuttle, first pick, move on, finish"
    )


def test_only_two_heddles_have_a_step_for_both() -> None:
    assert set(acts_in_order(TWO)) - set(acts_in_order(ONE)) == {Act.TWO_HEDDLES}
    acts = acts_in_order(TWO)
    assert acts.index(Act.TWO_HEDDLES) == acts.index(Act.THREAD) + 1
    assert set(acts_in_order(TWO)) == set(Act)


def test_what_was_done_beforehand_is_not_told_again() -> None:
    assert names(TWO, is_threaded=True) == "front tie, tie the loom, shuttle, first pick, move on, finish"


def test_in_brief_there_are_nine_on_either_loom() -> None:
    assert names(ONE, is_brief=True) == (
        "keepers, cross, thread, tie on, wind on, front tie, tie the loom, first pick, move on"
    )
    assert names(TWO, is_brief=True) == (
        "keepers, cross, two heddles, tie on, wind on, front tie, tie the loom, first pick, move on"
    )


def test_where_winding_on_stops() -> None:
    """Middle box weaves up to 6 in from its heddle: with 4 in more there are 10 in."""
    plan = plan_of("three-paths", "middle-box")
    assert dressing_figures(plan).left_at_heddle_mm == 10 * MM_PER_INCH
    assert dressing_figures(on(plan, beam_first=True)).left_at_heddle_mm is None
    assert dressing_figures(on(plan, weaving_zone_mm=None)).left_at_heddle_mm is None


def on(plan: Plan, **keys: object) -> Plan:
    return replace(plan, loom=replace(plan.loom, **keys))  # type: ignore[arg-type]


@pytest.mark.parametrize("stem", PATTERNS)
def test_all_fills_weave_the_tape_and_one_its_share(stem: str) -> None:
    plan = plan_of(stem)
    fill, tape = plan.shuttle, dressing_figures(plan).tape_per_fill_mm
    assert fill is not None
    assert tape is not None
    assert tape / fill.wraps_per_fill == plan.lengths.woven_mm / fill.wraps
    assert (fill.fills - 1) * tape < plan.lengths.woven_mm <= fill.fills * tape
    wound = Fraction(fill.per_wrap_mm) * fill.wraps_per_fill
    picks = tape / MM_PER_INCH * plan.weft.picks_per_inch
    assert picks * plan.weft.per_pick_mm < wound  # there is more on the shuttle than that tape takes


def test_without_a_shuttle_nobody_promises_a_length() -> None:
    assert dressing_figures(replace(plan_of("wick"), shuttle=None)).tape_per_fill_mm is None


def test_more_than_sixty_ends_are_tied_in_two() -> None:
    plan = plan_of("long-sixty")
    assert plan.ends == 60
    assert dressing_figures(plan).knots == 1
    more = replace(plan, end_yarns=(*plan.end_yarns, "brown"))
    assert dressing_figures(more).knots == 2
    assert dressing_figures(on(more, beam_first=True)).knots == 1  # on a rod no knot is needed


@pytest.mark.parametrize("method", get_args(Method))
@pytest.mark.parametrize("stem", PATTERNS)
def test_threads_that_end_at_far(stem: str, method: Method) -> None:
    """Each thread starts at home and goes to and fro: it ends at far when it has gone an odd number of times."""
    plan = plan_of(stem)
    plan = replace(plan, winding=replace(plan.winding, method=method))
    of_each = [plan.end_yarns.count(yarn) for yarn in set(plan.end_yarns)]
    threads = [plan.ends] if method == "order" else of_each
    found = loose_at_far(plan)
    assert len(found) == sum(ends % 2 for ends in threads)
    if method == "carry":  # each is the last end of its ball
        last = {yarn: number for number, yarn in enumerate(plan.end_yarns, 1)}
        assert set(found) == {last[yarn] for yarn in last if plan.end_yarns.count(yarn) % 2}
    if method == "order":
        assert set(found) <= {plan.ends}


def test_the_tried_patterns_end_at_either_post() -> None:
    assert {len(loose_at_far(plan_of(stem))) for stem in PATTERNS} >= {0, 1}
    assert ONE.heddles is Heddles.ONE
