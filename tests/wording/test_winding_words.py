"""Winding in words: balls that are carried, walks without a thread, bundles with a cross of their own.

The walks are gone through by hand, ball by ball; that a bundle is kept by a cross of its own is common practice, no
source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.model.marks import Group, Mark, Words
from cardmaker.model.plan import Plan
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reckoning.planning import make_plan
from cardmaker.wording.plan_json import plan_as_json
from cardmaker.wording.walk_words import method, ticks_called_out, trips, turns_told
from cardmaker.wording.winding_words import stretches
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import plan_of, shipped_layout, shipped_loom

RULER = TypeRuler()
YARNS = ("white", "blue", "red", "green")


def plan_of_warp(warp: str) -> Plan:
    yarns = "".join(f"  {yarn}: {{fibre: linen, count: 20/2}}\n" for yarn in YARNS if yarn in warp)
    text = f"title: Trial\nyarns:\n{yarns}warp: {warp}\nlength: {{finished: 1 m}}\n"
    return make_plan(parse_pattern(text.encode(), "trial.yaml", "trial"), shipped_loom("broad-paddle"))


def words_in(marks: Iterable[Mark]) -> Iterator[Words]:
    for mark in marks:
        if isinstance(mark, Group):
            yield from words_in(mark.marks)
        elif isinstance(mark, Words):
            yield mark


def steps_panel(plan: Plan) -> Group:
    layout = shipped_layout("bench")
    page = compose_card(plan, layout, layout.papers[0], RULER).page
    return next(mark for mark in page.marks if isinstance(mark, Group) and mark.name == "steps")


def test_two_balls_in_turn_walk_the_same_way() -> None:
    """White home to far, back empty, blue home to far; white far to home, back empty, blue far to home: so it goes on,
    and of 14 strokes every second one is walked to without a thread. Both balls are at the far post when seven of each
    are wound, and both are tied off there."""
    plan = plan_of_warp("[{alternate: [white, blue], ends: 14}]")
    assert plan_as_json(plan)["winding"]["empty_walks"] == 7
    assert stretches(plan) == [
        "Wind 14 of white and blue in turn, the white ball from home and the blue ball from home, walking empty to "
        "each; stop at 10, at the far post; total 14, the white ball is tied off at the far post and the blue ball is "
        "tied off at the far post."
    ]
    told = "Walk empty to the next if it is at the other post, 7 times. Tie each off after its last end."
    assert told in method(plan)
    printed = [words.text for words in words_in(steps_panel(plan).marks)]
    assert "both from home" in printed
    assert {"tie off Wh Bu", "ends Bu"} <= set(printed)
    assert any("Both balls begin at home; walk empty to the next." in text for text in printed)
    assert not any("to and fro" in text for text in printed)


def test_every_ball_is_tied_off_after_its_last_end() -> None:
    """3 blue, 1 white, 1 blue, 1 white, 1 blue, 3 red: white ends with end 6, blue with end 7, red with end 10."""
    plan = plan_of_warp("[3 blue, 1 white, 1 blue, 1 white, 1 blue, 3 red]")
    assert plan.winding.method == "carry"
    last = {"white": 6, "blue": 7, "red": 10}
    said = " ".join(stretches(plan))
    assert sorted(re.findall(r"the (\w+) ball is tied off", said)) == sorted(last)
    assert said.index("the white ball is tied off") < said.index("the red ball is tied off")
    spoken = text_read_aloud(compose_card(plan, shipped_layout("bench"), shipped_layout("bench").papers[0], RULER).page)
    assert len(re.findall(r"tie off|is tied off", re.sub(r"(?s)^.*?1. Wind", "", spoken))) == 3


@pytest.mark.parametrize(
    "warp",
    [
        "[2 red, {repeat: 5, stripes: [1 white, 1 blue, 1 red]}, 2 blue, {alternate: [red, blue, white], ends: 9}]",
        "[{alternate: [white, blue], ends: 7}, 2 blue, {alternate: [white, blue], ends: 6}, 1 white]",
        "[{repeat: 3, stripes: [1 white, 2 blue, 1 red, 1 green]}]",
    ],
)
def test_the_list_of_steps_stays_in_its_column(warp: str) -> None:
    panel = steps_panel(plan_of_warp(warp))
    for words in words_in(panel.marks):
        if words.align == "left" and not words.turned:
            assert words.x + RULER.width_mm(words.text, words.face, words.size) <= panel.box.right + 0.01, words.text


def test_every_bundle_has_a_cross_and_sticks_of_its_own() -> None:
    plan = plan_of_warp("[{repeat: 3, stripes: [1 white, 2 blue, 1 red, 1 green]}]")
    assert plan.winding.method == "bundle"
    assert "4 bundles, each with its own cross and its own pair of sticks" in method(plan)
    spoken = text_read_aloud(compose_card(plan, shipped_layout("bench"), shipped_layout("bench").papers[0], RULER).page)
    assert "Two flat sticks through the cross of every bundle" in " ".join(spoken.split())
    assert spoken.count("then tie off; sticks in, band it") == 4
    assert [run["stand_at"] for run in plan_as_json(plan)["stripes"]] == [None] * 12


def test_json_tells_where_the_balls_are_by_the_recommended_method() -> None:
    """Open Ladder is carried: 14 ends in turn. After end 1 white is far, after end 2 blue is; then both come home."""
    stripes = plan_as_json(plan_of("open-ladder"))["stripes"]
    assert [run["stand_at"] for run in stripes[:5]] == ["far", "far", "home", "home", "far"]
    assert [run["stand_at_in_order"] for run in stripes[:5]] == ["far", "home", "far", "home", "far"]


def test_json_tells_where_counting_stops_and_what_the_first_space_is() -> None:
    """Five Posts: stop at 15, a slot, and go one space to the right, to L14; without a step aside both are one."""
    shifted, plain = (plan_as_json(plan_of(stem))["placement"] for stem in ("five-posts", "three-paths"))
    assert (shifted["shifted"], shifted["count_to"], shifted["first_count"], shifted["first_label"]) == (
        1,
        15,
        14,
        "L14",
    )
    assert plain["count_to"] == plain["first_count"] == 15


def test_once_across_is_one_end() -> None:
    assert trips(plan_of_warp("[1 red]")) == "1 end = once across. You finish at the far post."
    assert trips(plan_of_warp("[2 red]")) == "2 ends = 2 times across: 1 there and back. You finish at home."
    assert trips(plan_of_warp("[3 red]")) == (
        "3 ends = 3 times across: 1 there and back, and 1 more. You finish at the far post."
    )


def test_the_totals_to_call_out_are_those_of_the_cards() -> None:
    """A stripe of twenty is counted at 10 on the way, not at 20, which is one end before its last."""
    assert ticks_called_out(plan_of("cord-edge")) == "Boxes to tick after 1, 21 and 22; 10 on the way without a change."
    assert (
        ticks_called_out(plan_of("penned-ladder"))
        == "Boxes to tick after 4, 19 and 23; 10 on the way without a change."
    )
    assert ticks_called_out(plan_of("bare-thread")) == ""


def test_stripes_in_turn_say_which_yarn_ends_them() -> None:
    assert turns_told(plan_of("penned-ladder")) == "In turn: 15 begins and ends Wh."
    assert turns_told(plan_of("open-ladder")) == "In turn: 14 begins Wh, ends Bu."
    assert turns_told(plan_of("three-paths")) == ""


def test_where_ticks_fall_at_tens_alone_a_stretch_may_hold_one_that_is_no_stop_of_its_own() -> None:
    """So many stripes that only tens are ticked, with ends in turn across the twentieth: 20 is no end of a stripe."""
    before = ["1 white", "2 blue"] * 6
    in_turn = ["1 red", "1 white", "1 red", "1 white", "1 red"]
    after = ["2 blue", "2 white"] * 6
    plan = plan_of_warp(f"[{', '.join(before + in_turn + after)}]")
    assert " stop at 20, " in " ".join(stretches(plan))
