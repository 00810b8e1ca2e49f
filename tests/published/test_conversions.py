"""Counts against the factors of ASTM D2260 and against pint, a library of units that knows nothing of us."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as some

from cardmaker.model.pattern import CountSystem, Fibre, Yarn
from cardmaker.reckoning.amounts.yarn_amounts import ball_length_mm, grams
from cardmaker.reckoning.amounts.yarn_counts import metres_per_kg_of, tex, yards_per_pound
from tests.helpers.published_sources import D2260, PINT, WEAVING_PAGES, case, source
from tests.helpers.yarn_numbers import number_in


def yarn(system: CountSystem | None, count: str, fibre: Fibre = "other") -> Yarn:
    return Yarn(name="white", fibre=fibre, count=count, system=system)


@source(D2260, "Table 1, tex at number one")
@pytest.mark.parametrize(
    ("system", "tex_at_one", "digits"),
    [
        ("cotton", 590.5412, 4),
        ("linen", 1653.515, 3),
        ("worsted", 885.812, 3),
        ("woollen run", 310.034, 3),
        ("metric", 1000, 3),
        ("tex", 1, 6),
        ("denier", 1 / 9, 9),
    ],
)
def test_tex_of_number_one(system: CountSystem, tex_at_one: float, digits: int) -> None:
    found = tex(yarn(system, "1"))
    assert found is not None
    assert round(float(found), digits) == round(tex_at_one, digits)


@source(D2260, "Table 1, from one number to another, six significant digits")
@pytest.mark.parametrize(
    ("from_system", "to_system", "factor"),
    [
        ("cotton", "worsted", 1.5),
        ("cotton", "linen", 2.8),
        ("cotton", "woollen run", 0.525),
        ("linen", "woollen run", 0.1875),
        ("worsted", "linen", 1.86667),
        ("metric", "cotton", 0.590541),
        ("metric", "linen", 1.65352),
        ("metric", "worsted", 0.885812),
        ("metric", "woollen run", 0.310034),
    ],
)
def test_cross_factors(from_system: CountSystem, to_system: CountSystem, factor: float) -> None:
    found = number_in(to_system, metres_per_kg_of(from_system, Fraction(1)))
    assert float(f"{float(found):.6g}") == factor


@source(D2260, "examples: 10 cotton is 15 worsted is 28 lea; 30 tex is 19.68 cotton")
def test_the_standards_own_examples() -> None:
    ten = metres_per_kg_of("cotton", Fraction(10))
    assert number_in("worsted", ten) == 15
    assert number_in("linen", ten) == 28
    assert round(float(number_in("cotton", metres_per_kg_of("tex", Fraction(30)))), 2) == 19.68


@source(D2260, "Table 1, footnote A: the exact yard and pound, so tex = 496 054.648 / yards per pound")
def test_tex_and_yards_per_pound() -> None:
    one_yard = tex(Yarn("white", "other", yards_per_pound=Fraction(1)))
    assert one_yard is not None
    assert round(float(one_yard), 3) == 496_054.648


@pytest.mark.parametrize(
    ("fibre", "system", "count", "yards"),
    [
        case(WEAVING_PAGES, "a yarn shop's article: linen 20/2", "linen", None, "20/2", 3000),
        case(WEAVING_PAGES, "a hobby page: linen 40/2", "linen", None, "40/2", 6000),
        case(WEAVING_PAGES, "a magazine and a shop's article: cotton 8/2", "cotton", None, "8/2", 3360),
        case(WEAVING_PAGES, "a hobby page: cotton 20/2", "cotton", None, "20/2", 8400),
        case(WEAVING_PAGES, "a yarn shop's article: perle 3/2", "cotton", None, "3/2", 1260),
        case(WEAVING_PAGES, "a magazine: cottolin 22/2 is counted as linen", "cottolin", "linen", "22/2", 3300),
    ],
)
def test_labels_of_the_hand_weaving_trade(fibre: Fibre, system: CountSystem | None, count: str, yards: int) -> None:
    """Nominal yards in a pound, as they are printed there."""
    assert yards_per_pound(yarn(system, count, fibre)) == yards


UNITS: Any = pint.UnitRegistry()
UNITS.define("linen_lea = 300 * yard / pound")
UNITS.define("worsted_number = 560 * yard / pound")
UNITS.define("woollen_run = 1600 * yard / pound")
PINTS_NAMES: dict[CountSystem, str] = {
    "cotton": "number_english",
    "metric": "number_meter",
    "linen": "linen_lea",
    "worsted": "worsted_number",
    "woollen run": "woollen_run",
}
numbers = some.fractions(min_value=1, max_value=300, max_denominator=4)


@source(PINT, "its own units and the three that it lacks, defined by their hanks")
@given(some.sampled_from(sorted(PINTS_NAMES)), numbers)
def test_numbers_of_length_per_weight_agree_with_pint(system: CountSystem, number: Fraction) -> None:
    theirs = UNITS.Quantity(float(number), PINTS_NAMES[system])
    assert float(metres_per_kg_of(system, number)) == pytest.approx(theirs.to("meter/kilogram").magnitude, rel=1e-12)
    ours = tex(Yarn("white", "other", metres_per_kg=metres_per_kg_of(system, number)))
    assert ours is not None
    assert float(ours) == pytest.approx((1 / theirs).to("tex").magnitude, rel=1e-12)


@source(PINT, "its own units and the three that it lacks, defined by their hanks")
@given(some.sampled_from(("tex", "denier")), numbers)
def test_numbers_of_weight_per_length_agree_with_pint(system: CountSystem, number: Fraction) -> None:
    theirs = (1 / UNITS.Quantity(float(number), system)).to("meter/kilogram").magnitude
    assert float(metres_per_kg_of(system, number)) == pytest.approx(theirs, rel=1e-12)


@source(PINT, "its own units and the three that it lacks, defined by their hanks")
@given(some.integers(1, 5000), some.integers(1, 2000))
def test_yards_and_ounces_agree_with_pint(yards: int, ounces: int) -> None:
    linen = yarn(None, "20/2", "linen")
    weight, length = (
        grams(linen, Fraction(yards) * Fraction(9144, 10)),
        ball_length_mm(linen, ounces * Fraction(28349523125, 10**9)),
    )
    assert weight is not None
    assert length is not None
    lea = UNITS.Quantity(10, "linen_lea")
    assert float(weight) == pytest.approx((UNITS.Quantity(yards, "yard") / lea).to("gram").magnitude, rel=1e-12)
    assert float(length) == pytest.approx((UNITS.Quantity(ounces, "ounce") * lea).to("mm").magnitude, rel=1e-12)
