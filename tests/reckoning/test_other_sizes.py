"""Other sizes of one design: worked lists and laws."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardmaker.model.bench import Resized, StripeRun
from cardmaker.reckoning.stripes.other_sizes import LONGEST_LIST, ends_for_yarn, nearest_ends_for_width, sizes_around

T08 = (("red", 3), ("white", 5), ("blue", 3), ("white", 9), ("blue", 3), ("white", 5), ("red", 3))


def resized(runs: Sequence[StripeRun], wanted: int) -> Resized:
    """The size that was asked for, or the nearest of those around it; of two as near the narrower."""
    return min(sizes_around(runs, wanted), key=lambda size: (abs(size.ends - wanted), size.ends))


def turns(first: str, second: str, ends: int) -> list[StripeRun]:
    return [((first, second)[place % 2], 1) for place in range(ends)]


def lengths(runs: Sequence[StripeRun]) -> list[int]:
    return [ends for _, ends in runs]


def parities(runs: Sequence[StripeRun]) -> list[tuple[str, int]]:
    """Yarn and hole-or-slot of every single end, counted from the first of them."""
    starts = [(yarn, sum(lengths(runs[:place])) % 2, ends) for place, (yarn, ends) in enumerate(runs)]
    singles = [(yarn, start) for yarn, start, ends in starts if ends == 1]
    return [(yarn, (start - singles[0][1]) % 2) for yarn, start in singles]


def test_three_paths_wider_and_narrower() -> None:
    """31 ends to 27 and 35: the paths keep their 3, the white between gives way in proportion, both edges alike."""
    assert lengths(resized(T08, 27).runs) == [3, 4, 3, 7, 3, 4, 3]
    assert resized(T08, 31).runs == T08
    assert lengths(resized(T08, 35).runs) == [3, 6, 3, 11, 3, 6, 3]
    assert [size.ends for size in sizes_around(T08, 31)] == [27, 29, 31, 33, 35]


def test_odd_stays_odd_where_both_edges_are_alike() -> None:
    even = resized(T08, 30)
    assert even.ends == 29
    assert resized([("white", 11), ("blue", 6), ("white", 4), ("red", 1)], 23).ends == 23


def test_the_centre_end_stays_one() -> None:
    wick = [("white", 7), ("red", 1), ("white", 7)]
    assert resized(wick, 21).runs == (("white", 10), ("red", 1), ("white", 10))
    assert resized(wick, 11).runs == (("white", 5), ("red", 1), ("white", 5))


def test_dots_stay_in_their_sheds() -> None:
    """Four dots, the outer two in one shed and the inner two in the other: the white between changes by two."""
    drips = [("white", 4), ("blue", 1), ("white", 4), ("blue", 1), ("white", 5)]
    drips = [*drips, *drips[-2::-1]]
    for size in sizes_around(drips, 25) + sizes_around(drips, 41):
        assert parities(size.runs) == parities(drips)
        assert [ends for yarn, ends in size.runs if yarn == "blue"] == [1, 1, 1, 1]


def test_a_fenced_ladder_keeps_its_bars() -> None:
    """4 blue, 15 in turn, 4 blue: the block stays odd, begins and ends white, and the fences stay alike."""
    sizes = sizes_around([("blue", 4), *turns("white", "blue", 15), ("blue", 4)], 31)
    assert 31 in [size.ends for size in sizes]
    for size in sizes:
        inside = size.runs[1:-1]
        assert list(inside) == turns("white", "blue", len(inside))
        assert len(inside) % 2 == 1
        assert size.runs[0] == size.runs[-1]


def test_a_chequer_keeps_its_blocks_even_and_its_joints() -> None:
    """Four blocks of 8, out of step at doubled ends: at 24 four blocks of 6, at 96 four of 24, the joints still two."""
    chequer = [run for pair in (("w", "b"), ("b", "w")) * 2 for run in turns(*pair, 8)]
    for ends, block in ((24, 6), (96, 24)):
        wanted = [yarn for pair in (("w", "b"), ("b", "w")) * 2 for yarn, _ in turns(*pair, block)]
        assert resized(chequer, ends).runs == tuple((yarn, len(list(group))) for yarn, group in groupby(wanted))


def test_three_colours_in_turn_change_by_whole_turns() -> None:
    """27 ends, period three against two: six at a time keep both the colours' order and the sheds."""
    threes = [("w", 1), ("b", 1), ("r", 1)] * 9
    assert [size.ends for size in sizes_around(threes, 27)] == [15, 21, 27, 33, 39]
    assert resized(threes, 33).runs == tuple([("w", 1), ("b", 1), ("r", 1)] * 11)


def test_equal_stripes_stay_equal_only_where_it_costs_little() -> None:
    """Five twos and four fours: at 30 every four is a five; 28 would need twos of four, so two fours grow."""
    bars = [("brown", 2), ("white", 4), ("blue", 2), ("white", 4), ("brown", 2)]
    bars = [*bars, *bars[-2::-1]]
    assert lengths(resized(bars, 30).runs) == [2, 5, 2, 5, 2, 5, 2, 5, 2]
    assert lengths(resized(bars, 28).runs) == [2, 5, 2, 4, 2, 4, 2, 5, 2]


def test_what_cannot_change_is_made_up_for_by_what_can() -> None:
    """Sixty single ends of sixty yarns and a stripe of ten: at 200 ends the stripe has 140."""
    runs = [*((f"yarn {place}", 1) for place in range(60)), ("white", 10)]
    assert resized(runs, 200).runs == (*runs[:-1], ("white", 140))


def test_a_solid_tape_may_have_any_number() -> None:
    assert resized([("w", 9)], 10).runs == (("w", 10),)
    assert [size.ends for size in sizes_around([("w", 9)], 9)] == [7, 8, 9, 10, 11]


def test_stripes_that_are_not_the_same_both_ways_keep_their_proportion() -> None:
    """8, 4 and 12 of 24 ends are 10, 5 and 15 of 30: no stripe in the middle is held to even numbers."""
    assert lengths(resized([("white", 8), ("blue", 4), ("red", 12)], 30).runs) == [10, 5, 15]


def test_mirrored_steps_of_three_yarns_grow_by_whole_turns_on_both_sides() -> None:
    """Six ends of three yarns change by six, so that their order and their sheds stay: twice that is 19 to 31 ends."""
    there = [("a", 1), ("b", 1), ("c", 1)]
    back = there[::-1]

    def mirrored(turns: int) -> tuple[StripeRun, ...]:
        return (("w", 2), *there * turns, ("d", 3), *back * turns, ("w", 2))

    assert resized(mirrored(2), 31).runs == mirrored(4)


def test_bars_that_share_an_end_are_left_as_single_ends() -> None:
    """The block of bars read from the left is not that read from the right, so only the doubled ends grow, by two."""
    shared = [("a", 1), ("b", 1), ("a", 2), ("b", 1), ("a", 1), ("b", 1), ("a", 2), ("b", 1), ("a", 1)]
    assert lengths(resized(shared, 15).runs) == [1, 1, 4, 1, 1, 1, 4, 1, 1]
    assert [size.ends for size in sizes_around(shared, 11)] == [11, 15, 19]


def test_eight_yarns_in_turn_are_bars_and_nine_are_single_ends() -> None:
    eight, nine = ([(yarn, 1) for yarn in yarns * 2] for yarns in ("abcdefgh", "abcdefghi"))
    assert [size.ends for size in sizes_around(eight, 16)] == [16, 24, 32]
    assert [size.ends for size in sizes_around(nine, 18)] == [18]


@pytest.mark.parametrize(
    "runs",
    [
        [("blue", 4), *turns("white", "blue", 15), ("red", 6)],  # the stripe is no bar of the block beside it
        [("w", 1), ("b", 3), ("w", 1), ("b", 1), ("r", 5)],  # a line of three between single ends is no bar
        [*turns("w", "b", 6), ("w", 3), *turns("b", "w", 6), ("r", 5)],  # nor is one of three between two blocks
    ],
)
def test_only_single_ends_are_bars(runs: list[StripeRun]) -> None:
    """Were a stripe taken for one bar, its other ends would be missing and others made up for them."""
    assert resized(runs, sum(lengths(runs))).runs == tuple(runs)


def test_nothing_but_single_ends_cannot_change() -> None:
    fixed = [("w", 1), ("b", 1), ("r", 1)]
    assert [size.runs for size in sizes_around(fixed, 9)] == [tuple(fixed)]
    assert resized([("w", 2), ("b", 2)], 1).ends == 4  # stripes never become dots


stripes = st.lists(st.tuples(st.sampled_from("abcd"), st.integers(1, 12)), min_size=1, max_size=9)


def joined(runs: Sequence[StripeRun]) -> tuple[StripeRun, ...]:
    return tuple((yarn, sum(lengths(list(group)))) for yarn, group in groupby(runs, key=lambda run: run[0]))


@settings(max_examples=150, deadline=None)
@given(stripes, st.booleans(), st.integers(1, 120))
def test_laws(half: list[StripeRun], mirrored: bool, wanted: int) -> None:
    runs = joined([*half, *half[-2::-1]] if mirrored else half)
    sizes = sizes_around(runs, wanted)
    nearest = resized(runs, wanted)
    assert len({size.ends for size in sizes}) == len(sizes)
    for size in sizes:
        assert size.ends == sum(lengths(size.runs))
        assert size.runs == joined(size.runs)
        if runs == runs[::-1] and len(runs) > 1:
            assert size.runs == size.runs[::-1]
            assert size.ends % 2 == sum(lengths(runs)) % 2
    plain = all(ends > 1 for _, ends in runs)
    if plain:
        assert [yarn for yarn, _ in nearest.runs] == [yarn for yarn, _ in runs]
        assert min(lengths(nearest.runs)) >= 2


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.integers(2, 12), min_size=1, max_size=4),
    st.lists(st.booleans(), min_size=1, max_size=4),
    st.integers(0, 40),
)
def test_the_total_is_met_and_single_ends_stay_single(whites: list[int], dots: list[bool], more: int) -> None:
    """White stripes with dots or wider blue lines between, mirrored: every even growth is met, every dot stays one."""
    half: list[StripeRun] = []
    for white, dot in zip(whites, dots, strict=False):
        half += [("white", white), ("blue", 1 if dot else 3)]
    runs = joined([*half, ("white", 5), *half[::-1]])
    wanted = sum(lengths(runs)) + 2 * more
    size = resized(runs, wanted)
    assert size.ends == wanted
    assert [ends == 1 for _, ends in size.runs] == [ends == 1 for _, ends in runs]
    assert parities(size.runs) == parities(runs)
    assert size.runs == size.runs[::-1]


@given(stripes)
def test_its_own_size_is_itself(runs: list[StripeRun]) -> None:
    size = resized(runs, sum(lengths(runs)))
    assert size.runs == joined(runs)


@settings(max_examples=60, deadline=None)
@given(st.integers(2, 5), st.integers(3, 12), st.integers(4, 9), st.integers(20, 120))
def test_bar_blocks_keep_odd_and_even(edge: int, block: int, gap: int, wanted: int) -> None:
    """Two blocks of bars with a stripe between: the counts of bars keep odd or even, the stripe as well."""
    first = turns("w", "b", 2 * block)
    runs = joined([("r", edge), *first, ("r", gap), *turns("b", "w", 2 * block + 1), ("r", edge)])
    sized = resized(runs, wanted).runs
    bars = [len(list(group)) for red, group in groupby(sized, key=lambda run: run[0] == "r") if not red]
    assert [count % 2 for count in bars] == [0, 1]
    middle = [ends for yarn, ends in sized if yarn == "r"][1]
    assert middle % 2 == gap % 2


def test_ends_for_a_width_and_for_another_yarn() -> None:
    """3/8 in at 52 an inch: 19.5, so 20. 31 ends of 0.5 mm in a yarn of 0.65 mm: 23.8, so 24."""
    assert nearest_ends_for_width(Fraction(3, 8) * Fraction(254, 10), 52) == 20
    assert ends_for_yarn(31, Fraction(1, 2), Fraction(65, 100)) == 24


def test_ends_are_taken_to_the_nearest_whole_and_never_to_none() -> None:
    inch = Fraction(254, 10)
    assert [nearest_ends_for_width(inch, per_inch) for per_inch in (Fraction(104, 10), Fraction(105, 10))] == [10, 11]
    assert nearest_ends_for_width(3 * inch, 1) == 3
    assert nearest_ends_for_width(1, 50) == 2  # 1.97
    assert nearest_ends_for_width(Fraction(1, 10), 50) == 1  # 0.2
    assert [ends_for_yarn(10, thicker, 1) for thicker in (Fraction(104, 100), Fraction(105, 100))] == [10, 11]
    assert ends_for_yarn(1, 1, 1) == ends_for_yarn(1, 1, 9) == 1


@pytest.mark.parametrize(
    ("runs", "wanted", "told"),
    [
        ([], 5, "a stripe list has one run or more, each of one end or more"),
        ([("w", 0)], 5, "a stripe list has one run or more, each of one end or more"),
        (T08, 0, "resizing holds for 1 to 600 ends"),
        (T08, 601, "resizing holds for 1 to 600 ends"),
        ([("w", 601)], 5, "resizing holds for 1 to 600 ends"),
    ],
)
def test_lists_and_sizes_out_of_range_are_refused(runs: Sequence[StripeRun], wanted: int, told: str) -> None:
    with pytest.raises(ValueError, match=f"^{told}$"):
        sizes_around(runs, wanted)


def test_the_longest_list_and_the_smallest_size() -> None:
    assert resized([("w", LONGEST_LIST)], LONGEST_LIST).ends == LONGEST_LIST
    assert resized([("w", LONGEST_LIST)], 1).ends == 2
    assert resized([("w", 1)], 1).runs == (("w", 1),)


def test_a_width_and_a_yarn_of_nothing_are_refused() -> None:
    for width, per_inch in ((0, 50), (10, 0)):
        with pytest.raises(ValueError, match=r"^a width and its ends per inch are above nought$"):
            nearest_ends_for_width(width, per_inch)
    for ends, old, new in ((0, 1, 1), (31, 0, 1), (31, 1, 0)):
        with pytest.raises(ValueError, match=r"^ends and diameters are above nought$"):
            ends_for_yarn(ends, old, new)
