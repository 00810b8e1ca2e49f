"""The words of dressing: what to do, the numbers of this warp on this loom, and the other good ways."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest

from cardmaker.model.dressing_acts import Act
from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.on_loom.dressing_steps import acts_in_order
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording.dressing_alt_texts import act_alt_text, heading_in_words
from cardmaker.wording.dressing_words import StepWords, words_of_act
from tests.helpers.record_cards import CASES
from tests.helpers.shipped import plan_for_layout, plan_of

MISCOUNTED = r"(?<![\d½¼¾ ])\b(1 (ends|turns|wraps|tips|moves)|[02-9] (end|turn|wrap|tip|move))\b"
ALL = [(beam_first, cloth_beam) for beam_first, cloth_beam in product((False, True), repeat=2)]


def plan(stem: str = "three-paths", loom: str = "middle-box", **keys: object) -> Plan:
    made = plan_for_layout(stem, "dressing") if stem == "three-paths" and loom == "middle-box" else plan_of(stem, loom)
    return replace(made, loom=replace(made.loom, **keys))  # type: ignore[arg-type]


def told(act: Act, of: Plan | None = None, *, is_wound: bool = False, brief: bool = False) -> StepWords:
    return words_of_act(act, of or plan(), "us", is_wound=is_wound, brief=brief)


def test_off_the_pegs() -> None:
    words = told(Act.KEEPERS)
    assert words.do == "Keepers in, roll from far, cut home last."
    assert words.numbers.startswith("31 ends, 2.95 yd (2.7 m). A bright thread beside end 1.")
    assert words.numbers.endswith(
        "The last end has no loop at far: end it in a slip loop (a pull undoes it)."
    )  # 31 is odd
    assert "slip loop" not in told(Act.KEEPERS, plan("off-side", "small-box")).numbers  # 22 is even
    assert told(Act.KEEPERS, plan(beam_first=True)).do == "Keepers in, roll from home, cut home after beaming."


def test_a_wound_warp_is_found_by_its_keepers() -> None:
    words = told(Act.KEEPERS, is_wound=True)
    assert words.do == "Find the keepers, and the bright thread beside end 1."
    assert not re.search(r"\b(roll|cut|pegs?|yd)\b", " ".join(words))


def test_bundles_keep_their_keepers() -> None:
    wound = plan_of("three-paths", "middle-box")
    bundles = replace(wound, winding=replace(wound.winding, method="bundle"))
    assert f"Keepers in each of {wound.winding.bundles} bundles." in told(Act.KEEPERS, bundles).numbers
    assert "take every end from its own" in told(Act.CROSS, bundles).numbers


def test_end_1_is_at_the_fingertips() -> None:
    words = told(Act.CROSS)
    assert words.do == "First finger by the cut tips, little finger by the stick."
    assert "End 1, red, lies at your fingertips and comes first." in words.numbers
    assert words.how == "Fingers in from the side away from the bright thread, then the keepers out."
    assert "Or leave the keepers in" not in words.numbers
    assert "Or leave the keepers in" in told(Act.CROSS, plan("long-sixty", "treadle-pair")).numbers
    assert told(Act.CROSS, plan(beam_first=True)).do.endswith("little finger by the beam.")


@pytest.mark.parametrize(
    ("view", "side", "seen"),
    [
        (Viewpoint(), "left", "as you sit"),
        (Viewpoint(left_hand=True), "right", "as you sit"),
        (Viewpoint(from_behind=True), "left", "from behind"),
        (Viewpoint(left_hand=True, from_behind=True), "right", "from behind"),
    ],
)
def test_counting_is_named_from_where_she_sits(view: Viewpoint, side: str, seen: str) -> None:
    words = told(Act.THREAD, plan_as_seen(plan(), view))
    assert words.do == f"End 1: count 15 {side} of the mark (0), holes and slots alike: a slot."
    assert words.numbers.startswith(f"End 1: {side[0].upper()}15, a slot, {seen}.")
    assert "15 holes, 16 slots" in words.numbers
    assert words.how == "Neighbours must differ: hole, slot. Hooks are sharp."
    assert words.why == "A blunt needle draws an end in."


def test_both_heddles() -> None:
    pair = plan("fair-day", "treadle-pair")
    assert told(Act.TWO_HEDDLES, pair).do == "Each end goes through both, front first: hole of one, slot of the other."
    assert told(Act.TWO_HEDDLES, pair).how == "Neighbours must differ: hole, slot."
    assert "Neighbours" not in told(Act.THREAD, pair).how
    assert told(Act.TWO_HEDDLES, pair).numbers.startswith("Back: count 25 left of its mark (0)")
    brief = told(Act.TWO_HEDDLES, pair, brief=True).numbers
    assert brief == "End 1, both from 0 (mark), as you sit: front L24, a slot; back L25, a hole."


def test_on_the_beam() -> None:
    words = told(Act.TIE_ON)
    assert words.do == "Level all 31 tips, one knot, the cord on the heddle’s side of it."
    assert words.numbers == "Tips (the cut ends): 2 in past the knot."
    rod = told(Act.TIE_ON, plan(beam_first=True))
    assert rod.do == "The rod through the far loops of all 31 ends; the rod to the beam."
    assert "knot" not in f"{rod.do} {rod.numbers}"


def test_winding_on() -> None:
    """17 turns, sticks at the knot and after each third turn; 6 in of zone and 4 in more."""
    words = told(Act.WIND_ON)
    assert words.do == "Pull, turn, comb: always away from the heddle."
    assert words.numbers == (
        "About 17 turns. Sticks: 2 at the knot, then 2 after turns 3, 6, 9, 12 and 15. Stop with 10 in left before the "
        "heddle. A loaded beam spins back: keep the crank till the stick is in, fingers clear."
    )
    assert "2 at the knot, 2 after every 3 turns." in told(Act.WIND_ON, brief=True).numbers
    ratchet = told(Act.WIND_ON, plan("three-paths", "broad-paddle"))
    assert ratchet.why.startswith("One hand pulls; the other turns, then combs. ")
    assert "pawl (the catch) down" in ratchet.numbers
    first = told(Act.WIND_ON, plan(beam_first=True))
    assert first.do.endswith("away from the beam.")
    assert "2 at the rod" in first.numbers
    assert "Stop a forearm from the keepers." in first.numbers


def test_a_loom_that_tells_nothing_still_has_its_cautions() -> None:
    bare = replace(plan(beam=None, packing=None, weaving_zone_mm=None), beam=None, tension=None, shuttle=None)
    assert told(Act.WIND_ON, bare).numbers == (
        "Stop while enough is left before the heddle to tie and to weave. A loaded beam spins back: never let go of "
        "it, fingers clear."
    )
    assert told(Act.TIE_LOOM, bare).numbers == "More pull when you lean."
    assert told(Act.SHUTTLE, bare).do == "Fill the shuttle only as full as slips through the shed."
    assert (
        told(Act.MOVE_ON, bare).do
        == "Last pick near the heddle: close the shed, let\N{NO-BREAK SPACE}warp\N{NO-BREAK SPACE}off, pull it on."
    )


def test_both_ways_of_tying_the_front_are_good() -> None:
    """Less sure than the rest, so the other good way stands there always."""
    for brief in (False, True):
        words = told(Act.FRONT_TIE, plan(cloth_beam=True), brief=brief)
        assert words.do == "Halves over the bow of the cord, round and up; a square knot."
        assert words.numbers == "31 ends, 3 in to spare. Or one half over the bow and one under it."
    hand = told(Act.FRONT_TIE)
    assert hand.do == "Cut the far loops, comb level, one knot: hold it."
    assert hand.otherwise.startswith("Or a cord round your waist, in a bow; never round the neck")
    assert told(Act.FRONT_TIE, plan(beam_first=True)).do == "Comb the tips level, one knot: hold it."


def test_the_pull_is_that_of_this_warp() -> None:
    pull = plan().tension
    assert pull is not None
    assert told(Act.TIE_LOOM).numbers == "The warp pulls with about 26 N (2.6 kg) at rest, more when you lean."
    assert (round(pull.working.newtons), round(pull.kilograms, 1)) == (26, 2.6)


def test_the_shuttle() -> None:
    fill = plan().shuttle
    assert fill is not None
    words = told(Act.SHUTTLE)
    assert words.do == f"Fill the shuttle {fill.fills} times, about {fill.wraps_per_fill} wraps each."
    assert words.numbers.startswith(f"{fill.wraps} wraps in all. One fill weaves about ")
    assert "round the tongue (the point in its window)" in words.how
    assert "the heel (the notch behind)" in words.how
    assert words.why == "It must slip through the shed, the gap between the two layers."
    assert told(Act.SHUTTLE, plan("wick", "small-box")).how == "One wrap: up the front, down the back."


def test_the_first_pick() -> None:
    words = told(Act.FIRST_PICK)
    assert words.do == "Begin: press the warp DOWN, throw left; change, beat, pull snug."
    assert words.numbers.startswith("Leave a tail of 4 in. Weft on the")
    assert words.numbers.endswith("Beat about 16 picks to the inch.")
    assert words.how == "The first 2 in do not count."
    fringed = plan("stair")
    bare = fringed.lengths.pieces[0].fringe_mm
    assert bare == Fraction(254, 10)
    how = told(Act.FIRST_PICK, fringed).how
    assert how == "The first 2 in do not count; then 1 in bare; then piece 1."
    left = told(Act.FIRST_PICK, plan_as_seen(plan(), Viewpoint(left_hand=True)))
    assert "throw right" in left.do


def test_moving_on_and_the_end() -> None:
    assert (
        told(Act.MOVE_ON).do
        == "Last pick 2 in from the heddle: close the shed, let\N{NO-BREAK SPACE}warp\N{NO-BREAK SPACE}off, pull it on."
    )
    assert told(Act.MOVE_ON, plan(cloth_beam=True)).do.endswith(
        "let\N{NO-BREAK SPACE}warp\N{NO-BREAK SPACE}off, wind on in front."
    )
    assert told(Act.MOVE_ON).numbers == "Pull on to 6 in, weave to 2 in. A move: 2 or 3 stick holes; about 22 moves."
    assert told(Act.FINISH).numbers == "About 76 in of tape off the loom, 74 in when washed."


def test_her_own_words_stand_beside_our_numbers() -> None:
    own = plan(own_words=((Act.WIND_ON, "Brown paper all the way."),))
    words = told(Act.WIND_ON, own)
    assert words == StepWords("Brown paper all the way.", told(Act.WIND_ON).numbers)
    assert told(Act.TIE_ON, own) == told(Act.TIE_ON)


def test_as_many_steps_as_there_are_names() -> None:
    """A weaver may have words of her own for each."""
    own = plan("fair-day", "treadle-pair", own_words=tuple((act, f"My {act.value}.") for act in Act))
    assert [told(act, own).do for act in acts_in_order(own.loom)] == [
        f"My {act.value}." for act in acts_in_order(own.loom)
    ]


@pytest.mark.parametrize(("stem", "loom"), [(stem, loom) for stem, loom, on in CASES if on == "letter"])
def test_every_sentence_is_whole(stem: str, loom: str) -> None:
    made = plan_of(stem, loom)
    for beam_first, cloth_beam in ALL:
        of = replace(made, loom=replace(made.loom, beam_first=beam_first, cloth_beam=cloth_beam))
        for act, brief in product(acts_in_order(of.loom), (False, True)):
            words = told(act, of, brief=brief)
            alt = act_alt_text(act, of)
            for text in (*words, alt):
                assert text == "" or text.endswith(".")
                assert "  " not in text
                assert "{" not in text
                assert not re.search(r"\b(1 (ends|turns|wraps|tips|moves)|[02-9] (end|turn|wrap|tip|move))\b", text), (
                    text
                )
            assert words.do


def test_a_heading_is_read_without_shouting() -> None:
    assert heading_in_words(9, "Begin: press the warp DOWN, throw left.") == (
        "9. Begin: press the warp down, throw left."
    )
    assert heading_in_words(10, "Begin: LEFT FOOT, throw; 2 in of it.").startswith("10. Begin: left foot, throw;")


def test_what_a_picture_shows_goes_with_the_loom_and_the_hand() -> None:
    left = plan_as_seen(plan(), Viewpoint(left_hand=True))
    assert act_alt_text(Act.CROSS, plan()).startswith("Your left hand")
    assert act_alt_text(Act.CROSS, left).startswith("Your right hand")
    assert "scissors cut the loops at home" in act_alt_text(Act.KEEPERS, plan())
    assert "scissors" not in act_alt_text(Act.KEEPERS, plan(beam_first=True))
    assert "scissors" not in act_alt_text(Act.KEEPERS, plan(), is_wound=True)
    assert "square knot" in act_alt_text(Act.FRONT_TIE, plan(cloth_beam=True))
    assert "fist" in act_alt_text(Act.FRONT_TIE, plan())
    assert "netting" in act_alt_text(Act.SHUTTLE, plan())
