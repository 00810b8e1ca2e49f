"""What a class buys, from plans made by hand: every figure worked beside it, so no card has to be drawn."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardmaker.model.money import Money
from cardmaker.model.pattern import Package, Pattern, Yarn
from cardmaker.model.plan import Plan, Weft
from cardmaker.model.school_class import Amount, Packages, Purchase
from cardmaker.reckoning.amounts.class_amounts import costs, is_same_yarn, purchases
from cardmaker.reckoning.planning import make_plan
from tests.helpers.warps import MIDDLE_BOX, RED, WHITE, pattern

PLAIN = Yarn("Bu", "linen", wraps_per_inch=Fraction(40), colour="#22427c")  # nothing tells what it weighs


def kit(*yarns: Yarn, stripes: str = "3 Re 5 Wh", weft: str = "Re") -> Plan:
    """A warp of 3 m, a spare end of each yarn, and 2 m of weft: red 4 * 3 + 2 = 14 m, white 6 * 3 = 18 m."""
    made: Pattern = replace(pattern(stripes), yarns=yarns, weft=weft)
    plan = make_plan(made, MIDDLE_BOX, warp_mm=Fraction(3000), with_bench=False)
    assert plan.lengths.wind_mm == 3000
    bought = Weft(weft, Fraction(12), "pattern", 100, Fraction(15), Fraction(1500), Fraction(2000))
    return replace(plan, weft=bought)


def crowns(amount: int) -> Money:
    return Money(Fraction(amount), after=" crowns")


def amount(length_mm: int, grams: str) -> Amount:
    return Amount(Fraction(length_mm), Fraction(grams))


def test_warp_weft_and_total_in_millimetres_and_grams() -> None:
    """Red weighs a gram for 10 m, white for 5 m: 12 m, 2 m and 14 m are 1.2, 0.2 and 1.4 g; 18 m are 3.6 g."""
    assert purchases([kit(RED, WHITE)]) == (
        Purchase(RED, amount(12_000, "1.2"), amount(2_000, "0.2"), amount(14_000, "1.4"), None, False),
        Purchase(WHITE, amount(18_000, "3.6"), amount(0, "0"), amount(18_000, "3.6"), None, False),
    )


def test_two_kits_take_both_sums() -> None:
    """2 * 12, 2 * 2 and 2 * 14 m of red."""
    red, white = purchases([kit(RED, WHITE), kit(RED, WHITE)])
    assert (red.warp, red.weft, red.total) == (amount(24_000, "2.4"), amount(4_000, "0.4"), amount(28_000, "2.8"))
    assert (white.warp, white.weft) == (amount(36_000, "7.2"), amount(0, "0"))


def test_three_kits_with_half_as_much_again() -> None:
    """3 * 12 * 1.5 = 54 m of red warp, 3 * 2 * 1.5 = 9 m of weft."""
    red, _ = purchases([kit(RED, WHITE)] * 3, Fraction(1, 2))
    assert (red.warp, red.weft) == (amount(54_000, "5.4"), amount(9_000, "0.9"))


@pytest.mark.parametrize(("spare_ends", "warp_mm"), [(0, 9_000), (1, 12_000), (4, 21_000)])
def test_spare_ends_of_the_class_go_before_the_pattern_s(spare_ends: int, warp_mm: int) -> None:
    red, _ = purchases([kit(RED, WHITE)], spare_ends=spare_ends)
    assert red.warp.length_mm == warp_mm


def test_yarns_of_a_second_pattern_are_added_where_they_are_the_same() -> None:
    """White of the second kit, 9 + 1 ends of 3 m and its weft, joins the 18 m of the first; blue is new and last."""
    second = kit(PLAIN, WHITE, stripes="2 Bu 9 Wh", weft="Wh")
    red, white, blue = purchases([kit(RED, WHITE), second])
    assert (red.total.length_mm, white.warp.length_mm, white.weft.length_mm) == tuple(
        map(Fraction, (14_000, 48_000, 2_000))
    )
    assert (blue.yarn, blue.total) == (PLAIN, Amount(Fraction(9_000), None))


def test_the_shade_and_the_package_of_the_first_that_tells_them() -> None:
    told = replace(RED, name="Cr", shade="Brick", package=Package(Fraction(20_000)))
    other = replace(told, shade="", package=Package(Fraction(30_000)))
    crimson, plain = kit(told, WHITE, stripes="3 Cr 5 Wh", weft="Cr"), kit(RED, WHITE)
    for first, second in ((plain, crimson), (crimson, plain)):
        (found, _) = purchases([first, second])
        assert found.yarn == replace(told, name=first.pattern.yarns[0].name)
        assert found.packages is not None
        assert found.packages.count == 2  # 28 m, 20 m a piece
    (found, _) = purchases([crimson, kit(other, WHITE, stripes="3 Cr 5 Wh", weft="Cr")])
    assert (found.yarn.shade, found.yarn.package) == ("Brick", Package(Fraction(20_000)))


def test_two_yarns_of_one_name_are_told_apart_and_no_others() -> None:
    found = purchases([kit(RED, WHITE), kit(replace(RED, colour="#22427c"), WHITE)])
    assert [each.shares_name for each in found] == [True, False, True]


def test_whole_packages_by_length_with_what_is_left_and_the_cost() -> None:
    """14 m from packages of 6 m: three, 4 m or 0.4 g left, 3 * 3 crowns. Its length goes before its weight."""
    package = Package(Fraction(6_000), Fraction(50), "3 crowns")
    red, white = purchases([kit(RED, WHITE)], packages={"Re": package})
    assert red.packages == Packages(package, 3, Fraction(4_000), crowns(9))
    assert white.packages is None


@pytest.mark.parametrize(("holds_mm", "count"), [(14_000, 1), (13_999, 2), (7_000, 2), (4_666, 4)])
def test_a_package_that_is_just_enough_is_enough(holds_mm: int, count: int) -> None:
    red, _ = purchases([kit(RED, WHITE)], packages={"Re": Package(Fraction(holds_mm))})
    assert red.packages is not None
    assert (red.packages.count, red.packages.left_mm) == (count, Fraction(count * holds_mm - 14_000))


def test_whole_packages_by_weight() -> None:
    """White's 18 m are 3.6 g: two balls of 2 g, which hold 10 m each, leave 2 m or 0.4 g."""
    _, white = purchases([kit(RED, WHITE)], packages={"Wh": Package(None, Fraction(2))})
    assert white.packages == Packages(Package(None, Fraction(2)), 2, Fraction(2_000), None)


def test_a_package_that_does_not_tell_how_far_it_goes_is_not_counted() -> None:
    """Nothing tells what the blue weighs, so its weight tells no length; a package of nothing holds nothing."""
    plans = [kit(PLAIN, stripes="3 Bu", weft="Bu")]
    for package in (Package(None, Fraction(50), "3 crowns"), Package(None, None, "3 crowns"), Package(Fraction(0))):
        (blue,) = purchases(plans, packages={"Bu": package})
        assert blue.packages is None
    (blue,) = purchases(plans, packages={"Bu": Package(Fraction(10_000))})
    assert blue.packages == Packages(Package(Fraction(10_000)), 2, Fraction(6_000), None)  # 4 * 3 + 2 = 14 m


def test_the_class_s_packages_go_before_the_pattern_s() -> None:
    own = replace(RED, package=Package(Fraction(2_000)))
    (red, _) = purchases([kit(own, WHITE)])
    assert red.packages is not None
    assert red.packages.count == 7
    (red, _) = purchases([kit(own, WHITE)], packages={"Re": Package(Fraction(10_000))})
    assert red.packages is not None
    assert red.packages.count == 2


def test_a_package_is_told_by_any_name_the_first_name_first() -> None:
    crimson = replace(RED, name="Cr")
    plans = [kit(RED, WHITE), kit(crimson, WHITE, stripes="3 Cr 5 Wh", weft="Cr"), kit(RED, WHITE)]
    by_other, by_first = Package(Fraction(50_000)), Package(Fraction(40_000))
    assert purchases(plans, packages={"Cr": by_other})[0].packages == Packages(
        by_other, 1, Fraction(8_000), None
    )  # 3 * 14 = 42 m
    assert purchases(plans, packages={"Cr": by_other, "Re": by_first})[0].packages == Packages(
        by_first, 2, Fraction(38_000), None
    )


def test_fibre_colour_weight_and_shade_make_a_yarn() -> None:
    assert is_same_yarn(RED, replace(RED, name="Cr"))
    for changed in (
        replace(RED, fibre="cotton"),
        replace(RED, colour="#22427c"),
        replace(RED, metres_per_kg=Fraction(9_999)),
        replace(RED, colour=""),
    ):
        assert not is_same_yarn(RED, changed)
    brick = replace(RED, shade="Brick")
    assert is_same_yarn(brick, RED)
    assert is_same_yarn(RED, brick)
    assert is_same_yarn(brick, brick)
    assert not is_same_yarn(brick, replace(RED, shade="Rust"))
    nameless = replace(RED, colour="")
    assert is_same_yarn(nameless, nameless)
    assert not is_same_yarn(nameless, replace(nameless, name="Cr"))


def test_costs_are_those_that_are_known() -> None:
    """Red is not sold in packages, white's package has no price, and blue costs 2 * 3 crowns."""
    packages = {"Wh": Package(Fraction(20_000)), "Bu": Package(Fraction(10_000), None, "3 crowns")}
    found = purchases([kit(RED, WHITE), kit(PLAIN, stripes="3 Bu", weft="Bu")], packages=packages)
    assert [each.packages is not None for each in found] == [False, True, True]
    assert costs(found) == [crowns(6)]
    priceless = {"Bu": Package(Fraction(10_000), None, "ask Jory Tamble")}
    assert costs(purchases([kit(PLAIN, stripes="3 Bu", weft="Bu")], packages=priceless)) == []
