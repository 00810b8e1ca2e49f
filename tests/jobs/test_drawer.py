"""What the yarn at hand gives: agreed with ``plan``, and counted a second time from the files."""

from __future__ import annotations

import re
from fractions import Fraction
from math import floor
from random import Random
from typing import Final, NamedTuple

import pytest

from cardmaker.jobs.choosing import ChooseRequest, ChosenTape, choose
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.plan_making import PlanRequest, plan_by_name
from cardmaker.model.pattern import Yarn
from cardmaker.reckoning.amounts.yarn_counts import metres_per_kg
from cardmaker.wording.formatters import Units
from tests.helpers.places import ROOT, shipped_in
from tests.helpers.second_calculator import second_plan

STEMS: Final = [path.stem for path in shipped_in("patterns")]


class Needed(NamedTuple):
    """Grams of each yarn, and the warp, as the second calculator reckons them."""

    grams: dict[str, Fraction]
    wound_mm: Fraction


def needed(stem: str, loom: str, warp_mm: Fraction | None, units: Units) -> Needed:
    pattern, loom_text = ((ROOT / path).read_text() for path in (f"patterns/{stem}.yaml", f"layouts/looms/{loom}.yaml"))
    warp = None if warp_mm is None else f"{float(warp_mm)} mm"
    plan = second_plan(pattern, loom_text, warp, units=units)
    return Needed(
        {line["yarn"]: Fraction(line["grams"]) for line in plan["yarn"]}, Fraction(plan["lengths"]["wound_mm"])
    )


def described(yarn: Yarn) -> str:
    """As somebody types it; what has a label by what 100 g of it measure."""
    label = f"{float(metres_per_kg(yarn) or 0) / 10:.4f} m/100 g"
    return f"{yarn.name} {yarn.fibre} {label if yarn.yards_per_pound else yarn.count}"


def asked(stem: str, grams: dict[str, Fraction], units: Units = "metric") -> ChosenTape:
    """The tape, with so much of each of its own yarns at hand."""
    plan = plan_by_name(PlanRequest(stem, None, None, None, None, None, units))
    yarns = [f"{float(amount)} g {described(plan.pattern.yarn(name))}" for name, amount in grams.items()]
    (tape,) = choose(ChooseRequest([f"patterns/{stem}.yaml"], yarn=yarns, units=units)).tapes
    return tape


@pytest.fixture(autouse=True)
def _at_root(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)


def names_of(stem: str) -> list[str]:
    plan = plan_by_name(PlanRequest(stem, None, None, None, None, None))
    return [amount.yarn for amount in plan.amounts]


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("stem", STEMS)
def test_the_warp_that_is_told_can_be_wound_and_one_step_more_cannot(stem: str, units: Units) -> None:
    chance = Random(f"{stem} {units}")
    step = Fraction(100) if units == "metric" else Fraction(9 * 254, 10)
    for _ in range(3):
        grams = {name: Fraction(chance.randint(20, 1500), 10) for name in names_of(stem)}
        tape = asked(stem, grams, units)
        assert tape.drawer is not None
        loom = tape.plan.loom.stem
        assert all(match.at_hand for match in tape.drawer.matches)
        if tape.drawer.longest is None:
            shortest = (floor(tape.plan.lengths.waste_mm / step) + 1) * step
            takes = needed(stem, loom, shortest, units).grams
            assert any(takes[name] > grams[name] for name in grams)
            continue
        longest = tape.drawer.longest.lengths.wound_mm
        assert (longest / step).denominator == 1
        takes, takes_more = (needed(stem, loom, length, units).grams for length in (longest, longest + step))
        assert all(takes[name] <= grams[name] for name in grams)
        assert any(takes_more[name] > grams[name] for name in grams)


@pytest.mark.parametrize("stem", STEMS)
def test_as_many_kits_as_there_is_yarn_for(stem: str) -> None:
    chance = Random(stem)
    grams = {name: Fraction(chance.randint(20, 1500), 10) for name in names_of(stem)}
    tape = asked(stem, grams)
    one = needed(stem, tape.plan.loom.stem, None, "metric")
    assert tape.drawer is not None
    assert tape.drawer.kits == min(floor(grams[name] / one.grams[name]) for name in grams)
    lacking = {each.yarn.name: each.grams for each in tape.drawer.to_buy}
    assert lacking.keys() == {name for name in grams if one.grams[name] > grams[name]}
    for name, amount in lacking.items():
        assert amount is not None
        assert float(amount) == pytest.approx(float(one.grams[name] - grams[name]), abs=1e-6)


@pytest.mark.parametrize("stem", ["three-paths", "wick", "cord-edge"])
def test_to_the_gram_both_ways(stem: str) -> None:
    """Exactly what ``plan`` tells of a warp is enough for it, and a hundredth of a gram less of any yarn is not."""
    warp = Fraction(3400)
    plan = plan_by_name(PlanRequest(stem, None, warp, None, None, None, "metric", ()))
    needs = {amount.yarn: amount.grams for amount in plan.amounts_without_pegs or plan.amounts}
    exact = {name: Fraction(round(grams + Fraction(1, 2000), 3)) for name, grams in needs.items() if grams is not None}
    tape = asked(stem, exact)
    assert tape.drawer is not None
    assert tape.drawer.longest is not None
    assert tape.drawer.longest.lengths.wound_mm == warp
    for name in exact:
        less = asked(stem, exact | {name: exact[name] - Fraction(1, 100)})
        assert less.drawer is not None
        assert less.drawer.longest is not None
        assert less.drawer.longest.lengths.wound_mm == warp - 100


def test_a_length_of_yarn_does_as_well_as_its_weight() -> None:
    by_weight, by_length = (
        choose(ChooseRequest(["patterns/bare-thread.yaml"], yarn=[yarn])).tapes[0].drawer
        for yarn in ("100 g white linen 20/2", "604.78 m white linen 20/2")  # 20/2: 3,000 yards in a pound
    )
    assert by_weight is not None
    assert by_length is not None
    assert by_weight.kits == by_length.kits > 0


def test_two_balls_of_one_yarn_are_added_up() -> None:
    one, two = (
        choose(ChooseRequest(["patterns/bare-thread.yaml"], yarn=yarns)).tapes[0].drawer
        for yarns in (["40 g white linen 20/2"], ["25 g white linen 20/2", "15 g white linen 20/2"])
    )
    assert one is not None
    assert two is not None
    assert one.kits == two.kits > 0


@pytest.mark.parametrize("yarn", ["99 g white cotton 20/2", "99 g white linen 8/2", "99 g green linen 20/2"])
def test_another_fibre_thickness_or_colour_is_another_yarn(yarn: str) -> None:
    choice = choose(ChooseRequest(["patterns/bare-thread.yaml"], yarn=[yarn]))
    assert choice.tapes == ()
    assert choice.left_out == (("Bare Thread", "yarn", "none of its yarns is at hand"),)


def test_what_is_not_at_hand_is_to_buy() -> None:
    (tape,) = choose(ChooseRequest(["patterns/two-rails.yaml"], yarn=["99 g white linen 20/2"])).tapes
    assert tape.drawer is not None
    assert (tape.drawer.kits, tape.drawer.longest) == (0, None)
    one = needed("two-rails", tape.plan.loom.stem, None, "metric")
    (blue,) = tape.drawer.to_buy
    assert blue.yarn.name == "blue"
    assert blue.grams is not None
    assert abs(blue.grams - one.grams["blue"]) < Fraction(1, 10**6)


def test_one_yarn_does_not_stand_for_two_colours() -> None:
    """Grey Trap's red and green stay two yarns, whatever the one at hand is called."""
    (tape,) = choose(ChooseRequest(["patterns/grey-trap.yaml"], yarn=["99 g red green linen 20/2"])).tapes
    assert tape.drawer is not None
    assert [match.at_hand is not None for match in tape.drawer.matches].count(True) == 1


@pytest.mark.parametrize(
    ("yarn", "told"),
    [
        ("40 red linen 20/2", "does not begin with an amount"),
        ("40 g red 20/2", "does not say its fibre"),
        ("40 g red linen", "does not say its count, or what 100 g of it measure"),
        ("40 g linen 20/2", "does not say its colour"),
        ("40 g red linnen 20/2", "Did you mean linen?"),
        ("40 g red wool 20/2", "does not say which system it is in"),
        ("quay-cotton", "does not say how much there is"),
    ],
)
def test_a_yarn_that_says_too_little_is_refused_with_what_is_missing(yarn: str, told: str) -> None:
    with pytest.raises(WrongUsage, match=re.escape(told)):
        choose(ChooseRequest(["patterns/wick.yaml"], yarn=[yarn]))
