"""What differs between two versions of a pattern, each difference made by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardmaker.model.pattern import (
    Alternation,
    Change,
    Measurement,
    Notes,
    Pattern,
    Pickup,
    PickupRow,
    SecondYarn,
    Source,
    Stripe,
    WantedLength,
    Yarn,
)
from cardmaker.model.plan import Run
from cardmaker.reckoning.stripes.version_changes import Difference, differences

WHITE, BLUE = Yarn("white", "linen", "20/2", colour="#F4F0E4"), Yarn("blue", "linen", "20/2", colour="#2F4A7D")
RAILS = Pattern(
    "Two Rails",
    "two-rails",
    (WHITE, BLUE),
    (Stripe("blue", 2), Stripe("white", 9), Stripe("blue", 2)),
    code="T03",
)


def test_a_pattern_does_not_differ_from_itself_however_it_is_typed() -> None:
    assert differences(RAILS, RAILS) == ()
    mirrored = replace(RAILS, warp=RAILS.warp[:2], mirror="last stripe", stated_ends=13, weft="blue", stem="rails")
    assert differences(RAILS, mirrored) == ()
    in_turn = replace(RAILS, warp=(Alternation(("blue", "white"), 3),))
    assert differences(in_turn, replace(RAILS, warp=(Stripe("blue", 1), Stripe("white", 1), Stripe("blue", 1)))) == ()


def test_a_wider_tape_has_other_ends_and_other_stripes() -> None:
    wider = replace(RAILS, warp=(Stripe("blue", 2), Stripe("white", 11), Stripe("blue", 2)))
    assert differences(RAILS, wider) == (
        Difference("ends", 13, 15),
        Difference(
            "stripes",
            (Run("blue", 2, 2), Run("white", 9, 11), Run("blue", 2, 13)),
            (Run("blue", 2, 2), Run("white", 11, 13), Run("blue", 2, 15)),
        ),
    )


def test_stripes_may_differ_in_as_many_ends() -> None:
    shifted = replace(RAILS, warp=(Stripe("blue", 3), Stripe("white", 8), Stripe("blue", 2)))
    assert [found.what for found in differences(RAILS, shifted)] == ["stripes"]


def test_the_weft_may_follow_the_edge_or_be_stated() -> None:
    assert differences(RAILS, replace(RAILS, weft="white")) == (Difference("weft", "blue", "white"),)
    turned = replace(RAILS, warp=(Stripe("white", 2), Stripe("blue", 9), Stripe("white", 2)))
    assert [found.what for found in differences(RAILS, turned)] == ["stripes", "weft"]


def test_a_pick_up_that_is_new_or_other() -> None:
    figure = Pickup("blue", (PickupRow("up"), PickupRow("down")))
    assert differences(RAILS, replace(RAILS, pickup=figure)) == (Difference("pick-up"),)


def test_yarns_that_came_and_went() -> None:
    red = Yarn("red", "linen", "20/2")
    assert differences(RAILS, replace(RAILS, yarns=(WHITE, BLUE, red))) == (Difference("new yarn", yarn="red"),)
    assert differences(replace(RAILS, yarns=(red, WHITE, BLUE)), RAILS) == (Difference("yarn gone", yarn="red"),)


def test_a_yarn_of_another_colour_and_place() -> None:
    made = replace(RAILS, yarns=(WHITE, replace(BLUE, colour="#202060", slots_only=True)))
    assert differences(RAILS, made) == (
        Difference("colour", "#2F4A7D", "#202060", "blue"),
        Difference("spaces", yarn="blue"),
    )


@pytest.mark.parametrize(
    "other",
    [
        replace(BLUE, count="12/2"),
        replace(BLUE, fibre="hemp"),
        replace(BLUE, system="metric"),
        replace(BLUE, count=""),
        replace(BLUE, yards_per_pound=Fraction(2900)),
        replace(BLUE, metres_per_kg=Fraction(6000)),
        replace(BLUE, wraps_per_inch=Fraction(34)),
        replace(BLUE, ends_per_inch=Fraction(50)),
    ],
)
def test_a_yarn_of_another_thickness(other: Yarn) -> None:
    assert differences(RAILS, replace(RAILS, yarns=(WHITE, other))) == (Difference("thickness", BLUE, other, "blue"),)


def test_the_rest_is_told_in_its_order() -> None:
    made = replace(
        RAILS,
        title="Rails",
        code="T03-2",
        picks_per_inch=Fraction(14),
        width_mm=Fraction(7),
        length=WantedLength(finished_mm=Fraction(900)),
        about="Wider.",
    )
    old = replace(RAILS, picks_per_inch=Fraction(16), width_mm=Fraction(6))
    assert differences(old, made) == (
        Difference("picks", Fraction(16), Fraction(14)),
        Difference("width", Fraction(6), Fraction(7)),
        Difference("length"),
        Difference("title", "Two Rails", "Rails"),
        Difference("code", "T03", "T03-2"),
    )


def test_what_was_measured_is_more_than_words() -> None:
    """Take-up, width and picks of the next warp come from it."""
    assert differences(RAILS, replace(RAILS, measured=(Measurement("2026-10-03"),))) == (Difference("measured"),)


@pytest.mark.parametrize(
    "made",
    [
        replace(RAILS, version="2"),
        replace(RAILS, date="2026-11-20"),
        replace(RAILS, purposes=("bookmark",)),
        replace(RAILS, about="Two rails."),
        replace(RAILS, second_yarns=(SecondYarn("In wool", ()),)),
        replace(RAILS, source=Source("F")),
        replace(RAILS, notes=Notes(student=("Count.",))),
        replace(RAILS, changes=(Change("2", "2026-11-20", "Wider."),)),
        replace(RAILS, credit="Winnet Orrick"),
        replace(RAILS, marked_as="sample data, invented"),
        replace(RAILS, yarns=(WHITE, replace(BLUE, shade="Harbour"))),
    ],
)
def test_texts_alone_are_one_difference(made: Pattern) -> None:
    assert differences(RAILS, made) == (Difference("words"),)
    assert [found.what for found in differences(RAILS, replace(made, code="T04"))] == ["code"]
