"""Counts by system, labels before counts, and every count that is asked about instead of guessed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from cardmaker.model.pattern import CountSystem, Fibre, Package, Pattern, SecondYarn, Stripe, Yarn
from cardmaker.model.problems import Refusal, path_in_words
from cardmaker.reading.quick_check import schema_of
from cardmaker.reckoning.amounts.yarn_counts import (
    COARSEST_METRES_PER_KG,
    FINEST_METRES_PER_KG,
    METRES_PER_KG_PER_YARD_PER_POUND,
    count_refusal,
    count_refusals,
    metres_per_kg,
    metres_per_kg_of,
    resultant,
    tex,
    yards_per_pound,
)
from cardmaker.reckoning.amounts.yarn_thickness import diameter_mm, diameters_per_inch, square_root
from tests.helpers.yarn_numbers import number_in

SYSTEMS: tuple[CountSystem, ...] = ("linen", "cotton", "worsted", "woollen run", "metric", "tex", "denier")


def yarn(fibre: Fibre, count: str, system: CountSystem | None = None) -> Yarn:
    return Yarn(name="white", fibre=fibre, count=count, system=system)


@pytest.mark.parametrize(
    ("fibre", "count", "system", "yards"),
    [
        ("linen", "20/2", None, 3000),  # 300 * 20 / 2
        ("linen", "12/2", None, 1800),
        ("cotton", "20/2", None, 8400),  # 840 * 20 / 2
        ("cotton", "8/2", None, 3360),
        ("cotton", " 8 / 4 ", None, 1680),
        ("cotton", "4/4", None, 840),
        ("cotton", "1.5/1", None, 1260),
        ("cotton", "10", None, 8400),
        ("cottolin", "22/2", "linen", 3300),
        ("cottolin", "8/2", "cotton", 3360),
        ("wool", "2/20", "worsted", 5600),  # ply/size: 560 * 20 / 2
        ("wool", "20/2", "worsted", 5600),
        ("wool", "4/4", "worsted", 560),
        ("wool", "40/4", "worsted", 5600),
        ("wool", "2/4", "woollen run", 3200),
        ("wool", "5.5", "woollen run", 8800),
        ("silk", "60", "cotton", 50400),
    ],
)
def test_counts_become_yards_per_pound(fibre: Fibre, count: str, system: CountSystem | None, yards: int) -> None:
    assert yards_per_pound(yarn(fibre, count, system)) == yards


@pytest.mark.parametrize(
    ("count", "system", "expected"),
    [
        ("28/2", "metric", Fraction(1_000_000, 14000)),
        ("2/28", "metric", Fraction(1_000_000, 14000)),
        ("74", "tex", Fraction(74)),
        ("74 x 2", "tex", Fraction(148)),
        ("74×2", "tex", Fraction(148)),
        ("29.5 x 2", "tex", Fraction(59)),
        ("90", "denier", Fraction(10)),
        ("90 x 3", "denier", Fraction(30)),
        # here the plies are told by the sign, and may well be many: 4 * 3, and 18 * 15 denier
        ("4 x 3", "tex", Fraction(12)),
        ("18 x 15", "denier", Fraction(30)),
    ],
)
def test_counts_become_tex(count: str, system: CountSystem, expected: Fraction) -> None:
    assert tex(yarn("silk", count, system)) == expected


def test_the_label_wins_over_the_count() -> None:
    nominal = yarn("linen", "16/2")
    assert yards_per_pound(replace(nominal, yards_per_pound=Fraction(2700))) == 2700
    assert metres_per_kg(replace(nominal, metres_per_kg=Fraction(5400))) == 5400
    # A count that would be refused does no harm when the label speaks.
    assert yards_per_pound(replace(nominal, count="2/16", yards_per_pound=Fraction(2700))) == 2700


def test_a_package_with_both_figures_tells_when_nothing_else_does() -> None:
    ball = Package(length_mm=Fraction(320_000), weight_g=Fraction(50))
    assert metres_per_kg(replace(yarn("other", ""), package=ball)) == 6400
    assert yards_per_pound(replace(yarn("linen", "20/2"), package=ball)) == 3000
    assert metres_per_kg(replace(yarn("other", ""), package=Package(weight_g=Fraction(50)))) is None


def test_a_yarn_that_tells_nothing_weighs_nothing_known() -> None:
    bare = yarn("linen", "")
    assert metres_per_kg(bare) is None
    assert yards_per_pound(bare) is None
    assert tex(bare) is None
    assert diameter_mm(bare) is None


@pytest.mark.parametrize(
    ("fibre", "count", "system", "message", "remedy"),
    [
        ("cotton", "2/8", None, "smaller figure first", "Write 8/2 if that is meant, or give yards_per_pound"),
        ("linen", "2/3", None, "smaller figure first", "Write 3/2"),
        ("wool", "3/2", "worsted", "3 plies or 2 plies", "Give yards_per_pound or metres_per_kg"),
        ("wool", "2/3", "metric", "2 plies or 3 plies", "yards_per_pound"),
        ("wool", "5/40", "metric", "5 plies or 40 plies", "yards_per_pound"),
        ("wool", "10/20", "metric", "10 plies or 20 plies", "yards_per_pound"),
        ("wool", "1.5/20", "metric", "no whole number of plies", "yards_per_pound"),
        ("cotton", "8/2.5", None, "no whole number of plies", "yards_per_pound"),
        ("cotton", "0/2", None, "nought", "yards_per_pound"),
        ("cotton", "8/0", None, "nought", "yards_per_pound"),
        ("cotton", "0", None, "nought", "yards_per_pound"),
        ("cotton", "8-2", None, "cannot be read", "Write 8/2, the figures alone."),
        ("cotton", "8 x 2", None, "cannot be read", "Write 8/2, the figures alone."),
        ("cotton", "Ne 8/2", None, "is not a cotton count", "Write a number, or 20/2, or give yards_per_pound"),
        ("linen", "20/2 linen", None, "cannot be read", "Write 20/2, the figures alone."),
        ("linen", "20/2 lea", None, "cannot be read", "Write 20/2, the figures alone."),
        ("linen", "Nm 28/2", None, "cannot be read", "Write 28/2, and system: metric beside it."),
        ("linen", "20/2 cotton", None, "cannot be read", "Write 20/2, and system: cotton beside it."),
        ("linen", "20/2 kg", None, "is not a linen count", "Write a number, or 20/2, or give yards_per_pound"),
        ("linen", "٢٠/٢", None, "is not a linen count", "20/2"),
        ("linen", "٢٠", None, "is not a linen count", "20/2"),
        ("linen", "٧٤ x ٢", "tex", "is not a tex count", "74 x 2"),
        ("linen", "20/2/2", None, "is not a linen count", "20/2"),
        ("linen", "-20", None, "is not a linen count", "20/2"),
        ("linen", "74/2", "tex", "is not a tex count", "Write a number, or 74 x 2, or give yards_per_pound"),
        ("silk", "60/2", "cotton", "before or after twisting", "finished yarn alone"),
    ],
)
def test_a_count_that_can_be_read_two_ways_is_refused(
    fibre: Fibre, count: str, system: CountSystem | None, message: str, remedy: str
) -> None:
    with pytest.raises(Refusal) as refused:
        metres_per_kg(yarn(fibre, count, system))
    assert refused.value.path == ("yarns", "white", "count")
    assert message in refused.value.message
    assert count in refused.value.message
    assert remedy in refused.value.remedy


@pytest.mark.parametrize("fibre", ["cottolin", "wool", "silk", "hemp", "other"])
def test_only_linen_and_cotton_imply_their_system(fibre: Fibre) -> None:
    with pytest.raises(Refusal, match="does not say which system") as refused:
        metres_per_kg(yarn(fibre, "22/2"))
    assert refused.value.path == ("yarns", "white", "system")


def test_a_label_that_says_two_things_is_refused() -> None:
    label = replace(yarn("linen", ""), yards_per_pound=Fraction(3000), metres_per_kg=Fraction(6000))  # 6048, rounded
    assert metres_per_kg(label) == 6000
    with pytest.raises(Refusal, match="3000 yards per pound are 6048 metres per kg, but metres_per_kg says 6200"):
        metres_per_kg(replace(label, metres_per_kg=Fraction(6200)))
    with pytest.raises(Refusal) as refused:
        metres_per_kg(replace(label, metres_per_kg=Fraction(6200)))
    assert refused.value.path == ("yarns", "white", "yards_per_pound")
    assert refused.value.remedy == "Keep the one that the label says."


def test_two_label_figures_may_differ_by_two_per_cent_and_no_more() -> None:
    thousand = 1000 * METRES_PER_KG_PER_YARD_PER_POUND  # what 1000 yards per pound are in metres per kilogram
    label = replace(yarn("linen", ""), yards_per_pound=Fraction(1020), metres_per_kg=thousand)
    assert metres_per_kg(label) == thousand
    with pytest.raises(Refusal):
        metres_per_kg(replace(label, yards_per_pound=Fraction(1021)))


def test_all_refusals_of_a_pattern_are_collected_with_their_keys() -> None:
    pattern = Pattern(
        title="Two Rails",
        stem="two-rails",
        yarns=(yarn("cotton", "2/8"), replace(yarn("linen", "20/2"), name="blue")),
        warp=(Stripe("white", 9),),
        second_yarns=(SecondYarn("wool", (yarn("wool", "22/2"),)),),
    )
    spoken = [path_in_words(refusal.path) for refusal in count_refusals(pattern)]
    assert spoken == ["yarns.white.count", "second_yarns item 1.yarns.white.system"]
    assert [str(refusal) for refusal in count_refusals(pattern)] == [
        "Count 2/8 has its smaller figure first; in linen and cotton the size stands before the plies. "
        "Write 8/2 if that is meant, or give yards_per_pound or metres_per_kg from the label.",
        "Count 22/2 of wool yarn does not say which system it is in. "
        "Say system: linen, cotton, worsted, woollen run, metric, tex or denier, "
        "or give yards_per_pound or metres_per_kg from the label.",
    ]
    assert count_refusals(replace(pattern, yarns=(yarn("cotton", "8/2"),), second_yarns=())) == ()


def test_contraction_shortens_a_plied_yarn_only() -> None:
    two_ply, single = yarn("cotton", "8/2"), yarn("cotton", "8")
    plain, contracted = metres_per_kg(two_ply), metres_per_kg(two_ply, Fraction(5, 100))
    assert plain is not None
    assert contracted == plain * Fraction(95, 100)
    assert metres_per_kg(single, Fraction(5, 100)) == metres_per_kg(single)
    labelled = replace(two_ply, metres_per_kg=Fraction(6500))
    assert metres_per_kg(labelled, Fraction(5, 100)) == 6500


@pytest.mark.parametrize(
    ("system", "metres", "number"),
    [("tex", 50_000, 20), ("denier", 100_000, 90), ("metric", 14_000, 14)],  # 1000 m of 20 g, 9000 m of 90 g, by hand
)
def test_the_number_of_a_yarn_that_is_weighed(system: CountSystem, metres: int, number: int) -> None:
    assert number_in(system, Fraction(metres)) == number


@given(some.sampled_from(SYSTEMS), some.fractions(min_value="1/10", max_value=10_000))
def test_a_number_is_found_again_from_its_metres(system: CountSystem, number: Fraction) -> None:
    assert number_in(system, metres_per_kg_of(system, number)) == number


@given(some.sampled_from(SYSTEMS), some.fractions(min_value="1/10", max_value=1000), some.integers(1, 12))
def test_plies_divide_the_metres(system: CountSystem, number: Fraction, plies: int) -> None:
    assert metres_per_kg_of(system, number, plies) * plies == metres_per_kg_of(system, number)


@given(some.lists(some.fractions(min_value="1/2", max_value=200), min_size=1, max_size=5))
def test_a_twist_of_yarns_weighs_what_they_weigh_together(numbers: list[Fraction]) -> None:
    weights = [tex_of(number) for number in numbers]
    assert tex_of(resultant(numbers)) == sum(weights)


def tex_of(number: Fraction) -> Fraction:
    return 1_000_000 / metres_per_kg_of("cotton", number)


@given(some.fractions(min_value=0, max_value=10**9, max_denominator=10**6))
def test_the_root_is_the_nearest_at_twelve_decimals(number: Fraction) -> None:
    root, half = square_root(number), Fraction(1, 2 * 10**12)
    assert max(root - half, Fraction(0)) ** 2 <= number < (root + half) ** 2


def test_the_root_of_two_at_twelve_decimals() -> None:
    assert square_root(Fraction(2)) == Fraction("1.414213562373")  # 1.41421356237309504880, from memory


def test_a_square_has_its_exact_root() -> None:
    assert square_root(Fraction(49, 4)) == Fraction(7, 2)
    with pytest.raises(ValueError, match="nonnegative"):
        square_root(Fraction(-1))


def test_a_firmer_yarn_is_thinner() -> None:
    cotton = yarn("cotton", "8/2")  # trade figure: 52.2 diameters per inch, 0.487 mm
    across, firm, firmer = diameters_per_inch(cotton), diameter_mm(cotton), diameter_mm(cotton, Fraction(95, 100))
    assert across is not None
    assert firm is not None
    assert firmer is not None
    assert across == pytest.approx(52.2, abs=0.05)
    assert firm == pytest.approx(0.487, abs=0.0005)
    assert firmer / firm == Fraction(90, 95)


# What no yarn can weigh


@pytest.mark.parametrize(
    ("yarn", "key", "words"),
    [
        (Yarn("a", "cotton", "0.01"), "count", "Count 0.01 would weigh 59,054 g a kilometre; 10,000 g, a rope, is"),
        (Yarn("a", "cotton", "0.02", "metric"), "count", "would weigh 50,000 g a kilometre; 10,000 g"),
        (
            Yarn("a", "silk", "0.9", "tex"),
            "count",
            "Count 0.9 would weigh 0.9 g a kilometre; 1 g, a reeled silk, is the",
        ),
        (
            Yarn("a", "wool", package=Package(Fraction(1000), Fraction(50))),
            "package",
            "This package would weigh 50,000 g",
        ),
    ],
)
def test_a_weight_that_no_yarn_has_is_refused_at_its_key(yarn: Yarn, key: str, words: str) -> None:
    refusal = count_refusal(yarn)
    assert refusal is not None
    assert refusal.path == ("yarns", "a", key)
    assert words in str(refusal)


@pytest.mark.parametrize("count", ["1 tex", "10000 tex", "9 denier", "60/2 metric", "1 cotton", "300/2 metric"])
def test_all_yarn_that_is_spun_is_let_be(count: str) -> None:
    number, _, system = count.partition(" ")
    systems: dict[str, CountSystem] = {"tex": "tex", "denier": "denier", "metric": "metric", "cotton": "cotton"}
    assert count_refusal(Yarn("a", "silk" if system != "cotton" else "cotton", number, systems[system])) is None


def test_the_schema_has_the_same_limits_for_what_the_label_says() -> None:
    """10,000 tex are 100 m/kg and 49.6 yd/lb; 1 tex is a million m/kg and 496,055 yd/lb."""
    keys = schema_of("pattern")["$defs"]["yarn"]["properties"]
    metres, yards = keys["metres_per_kg"], keys["yards_per_pound"]
    assert (metres["minimum"], metres["maximum"]) == (COARSEST_METRES_PER_KG, FINEST_METRES_PER_KG)
    assert yards["minimum"] == pytest.approx(COARSEST_METRES_PER_KG * 0.49606, rel=0.01)
    assert yards["maximum"] == pytest.approx(FINEST_METRES_PER_KG * 0.49606, rel=0.001)
