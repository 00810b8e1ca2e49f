"""A tape in a second yarn of its file: reckoned in full, and what belongs to the old yarn alone does not go over."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from cardmaker.model.loom import Space
from cardmaker.model.pattern import Measurement, Pattern, SecondYarn, WantedLength, Yarn
from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.amounts.other_yarns import in_second_yarn
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording.formatters import warp_length
from cardmaker.wording.plan_json import plan_as_json
from cardmaker.wording.report import plan_text
from cardmaker.wording.second_yarn_words import comparisons, what_else
from tests.helpers.shipped import shipped_loom, shipped_pattern
from tests.helpers.warps import MIDDLE_BOX, pattern

TENTH = Fraction(100)
COTTON = SecondYarn(
    "In cotton",
    (Yarn("Wh", "cotton", "5/2", colour="#f4f0e4"), Yarn("Bu", "cotton", "5/2"), Yarn("Re", "cotton", "5/2")),
)


def planned(made: Pattern, **options: Any) -> Plan:
    return make_plan(made, MIDDLE_BOX, with_second_yarns=True, **options)


def linen(**changes: Any) -> Pattern:
    made = pattern("3 Re 5 Wh 3 Bu 9 Wh 3 Bu 5 Wh 3 Re")
    yarns = tuple(replace(yarn, fibre="linen", count="20/2") for yarn in made.yarns)
    return replace(made, yarns=yarns, second_yarns=(COTTON,), **changes)


def second(made: Pattern, **options: Any) -> Plan:
    (other,) = planned(made, **options).second
    assert other.plan is not None
    return other.plan


# What is reckoned


def test_three_paths_in_cotton_is_reckoned_from_the_cotton_alone() -> None:
    """5/2 cotton: 840 × 5 / 2 = 2,100 yards to the pound, 0.9 √2100 = 41.24 diameters and 1.2 times as many ends to
    the inch: 31 / 49.49 in = 15.9 mm. What the linen takes up and shrinks, 12 % and 3 %, is not the cotton's: with 25 %
    and 12 %, the most of both, 1828.8 mm need 1828.8 / (0.75 × 0.88) = 2770.9 mm, and the waste of the Middle box.
    2,100 yards to the pound are 4,233 metres to the kilogram."""
    plan = make_plan(
        shipped_pattern("three-paths"), shipped_loom("middle-box"), wind_step=TENTH, with_second_yarns=True
    )
    (other,) = plan.second
    cotton = other.plan
    assert (other.title, cotton is not None) == ("In cotton, for the class", True)
    assert cotton is not None
    waste = plan.lengths.waste_mm
    assert float(cotton.width.likely_mm) == pytest.approx(31 / (1.2 * 0.9 * 2100**0.5) * 25.4, abs=1e-6)
    assert (cotton.lengths.take_up_range[1], cotton.lengths.shrinkage_range[1]) == (Fraction(1, 4), Fraction(12, 100))
    assert cotton.lengths.warp_mm == Fraction("1828.8") / (Fraction(3, 4) * Fraction(88, 100)) + waste
    assert cotton.lengths.wind_mm == 3300
    white = cotton.amounts[1]
    assert white.warp_mm == (19 + 1) * 3300  # nineteen ends and the spare one
    assert white.grams is not None
    assert float(white.grams) == pytest.approx(66_000 / 4233.4, abs=0.01)  # 66 m
    assert cotton.ends == plan.ends == 31


def test_it_is_no_share_of_the_first_yarn() -> None:
    """The waste is the loom's, so that no one factor leads from the one warp to the other, nor from width to width and
    weight to weight."""
    plan = planned(linen(length=WantedLength(finished_mm=Fraction(1800))))
    other = plan.second[0].plan
    assert other is not None
    shares = [
        other.lengths.warp_mm / plan.lengths.warp_mm,
        other.width.likely_mm / plan.width.likely_mm,
        (other.amounts[1].grams or 0) / (plan.amounts[1].grams or 1),
        Fraction(other.weft.picks, plan.weft.picks),
    ]
    assert len({round(float(share), 3) for share in shares}) == len(shares)
    assert other.lengths.waste_mm == plan.lengths.waste_mm


def test_without_being_asked_for_it_is_not_reckoned() -> None:
    assert make_plan(linen(), MIDDLE_BOX).second == ()


# What goes over and what does not


MEASURED = (
    Measurement(
        "2026-11-20", warp_mm=Fraction(2700), tape_mm=Fraction(1700), width_mm=Fraction(16),
        picks_per_inch=Fraction(15), leftover_mm=Fraction(420),
    ),
)  # fmt: skip
STATED = WantedLength(finished_mm=Fraction(1800), take_up=Fraction(12, 100), shrinkage=Fraction(3, 100))


def test_what_was_measured_of_the_old_yarn_stays_with_it_but_for_the_waste() -> None:
    made = linen(length=STATED, measured=MEASURED, width_mm=Fraction(16), picks_per_inch=Fraction(15))
    other = second(made)
    assert (other.width.basis, other.weft.basis, other.lengths.take_up_basis) == ("count", "default", "default")
    assert (other.lengths.waste_mm, other.lengths.waste_basis) == (Fraction(420), "measured")
    assert other.lengths.shrinkage_basis == "default"


def test_the_same_yarn_in_another_shade_keeps_every_figure() -> None:
    shade = SecondYarn("In green", (Yarn("Wh", "linen", "20/2", colour="#4a6b3f", shade="Moss"),))
    made = replace(linen(length=STATED, measured=MEASURED), second_yarns=(shade,))
    plan, other = planned(made), second(made)
    assert (other.lengths, other.width, other.weft, other.amounts) == (
        plan.lengths,
        plan.width,
        plan.weft,
        plan.amounts,
    )
    assert other.pattern.yarn("Wh").colour == "#4a6b3f"


def test_a_thinner_yarn_of_the_same_fibre_keeps_the_shrinkage_and_no_take_up() -> None:
    thin = SecondYarn("Fine", (Yarn("Wh", "linen", "40/2"),))
    other = second(replace(linen(length=STATED), second_yarns=(thin,)))
    assert (other.lengths.shrinkage, other.lengths.shrinkage_basis) == (Fraction(3, 100), "pattern")
    assert other.lengths.take_up_basis == "default"


def test_yarns_that_it_does_not_name_stay() -> None:
    other = in_second_yarn(linen(), SecondYarn("White", (Yarn("Wh", "cotton", "5/2"),)))
    assert [(yarn.name, yarn.fibre) for yarn in other.yarns] == [("Re", "linen"), ("Wh", "cotton"), ("Bu", "linen")]


def test_the_warp_lies_as_it_lay_where_ends_had_to_lie_in_slots() -> None:
    bound = pattern("5 Wh 1 Bu 6 Wh", slots_only=("Bu",))
    made = replace(
        bound,
        yarns=tuple(replace(yarn, fibre="linen", count="20/2") for yarn in bound.yarns),
        second_yarns=(SecondYarn("Cotton", (Yarn("Bu", "cotton", "5/2"), Yarn("Wh", "cotton", "5/2"))),),
    )
    assert second(made).placement == planned(made).placement
    assert made.yarn("Bu").slots_only


def test_a_second_yarn_that_the_loom_does_not_take_says_why() -> None:
    """Two ends side by side cannot both lie in slots."""
    thick = SecondYarn("Thick edge", (Yarn("Bu", "cotton", "5/2", slots_only=True),))
    made = replace(linen(), second_yarns=(thick,))
    plan = planned(made)
    (other,) = plan.second
    assert other.plan is None
    assert what_else(plan, plan.second, "metric") == [f"Thick edge: {other.why_not}"]
    assert "slot" in other.why_not
    assert plan_as_json(plan)["second_yarns"] == [{"title": "Thick edge", "why_not": other.why_not, "plan": None}]


def test_a_warning_of_the_new_yarn_alone_is_told_and_where_the_warp_then_lies() -> None:
    """A cord of 8/2 lies in a hole there, which the front is silent about; bound to slots it moves all ends."""
    base = pattern("6 Wh 1 Bu 5 Wh")
    yarns = tuple(replace(yarn, fibre="linen", count="20/2") for yarn in base.yarns)
    cord = SecondYarn("With a cord", (Yarn("Bu", "linen", "8/2"),))
    slots = SecondYarn("In slots", (Yarn("Bu", "linen", "8/2", slots_only=True),))
    plan = planned(replace(base, yarns=yarns, second_yarns=(cord, slots)))
    thick, moved = what_else(plan, plan.second, "metric")
    assert thick.startswith("With a cord: The thick Bu end lies in a hole")
    assert moved == "In slots: end 1: L5, a slot, as you sit."
    assert plan.second[1].plan is not None
    assert plan.second[1].plan.placement.first_kind is Space.SLOT
    assert plan.placement.first_kind is Space.HOLE


# What is told


def test_it_stands_beside_the_first_with_the_words_of_the_first() -> None:
    plan = planned(linen(length=STATED), wind_step=TENTH)
    rows = comparisons(plan, plan.second, "metric")
    assert [row.label for row in rows] == ["yarn", "width", "wind", "weft", "Re", "Wh", "Bu"]
    assert all(len(row.of_each) == 2 for row in rows)
    assert rows[0].of_each == ("All linen 20/2.", "All cotton 5/2.")
    for shown, of in zip(rows[2].of_each, (plan, plan.second[0].plan), strict=True):
        assert of is not None
        assert shown.startswith(f"{warp_length(of.lengths.wind_mm, 'metric')} to wind for ")
    assert rows[2].of_each[0] != rows[2].of_each[1]


def test_the_terminal_and_programs_are_told_of_it() -> None:
    plan = planned(linen(length=STATED))
    text, data = plan_text(plan, "metric"), plan_as_json(plan)
    for row in comparisons(plan, plan.second, "metric"):
        assert " ".join(f"{row.label}: {row.of_each[1]}".split()) in " ".join(text.split())
    other = plan.second[0].plan
    assert other is not None
    assert data["second_yarns"][0]["plan"]["lengths"]["wind_mm"] == float(other.lengths.wind_mm)
    assert data["second_yarns"][0]["plan"]["weft"]["picks"] == other.weft.picks


def test_seen_from_behind_it_lies_as_the_first_does() -> None:
    plan = plan_as_seen(planned(linen()), Viewpoint(False, True))
    other = plan.second[0].plan
    assert other is not None
    assert (other.placement, other.view) == (plan.placement, plan.view)
