"""The hatching belongs to the yarn: the same one in a binder and a class, and no two alike on a card."""

from __future__ import annotations

import random
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.layout.ink import HATCHINGS, Ink
from cardmaker.layout.woven_face import outline_for
from cardmaker.layout.yarn_inks import card_inks, settled_hatches
from cardmaker.model.pattern import Alternation, Pattern, Repeat, Stripe, Yarn
from cardmaker.reckoning.stripes.colour_clash import lightness
from tests.helpers.shipped import shipped_pattern

COLOURS = ["#f4f0e4", "#d9b13b", "#cf8a8a", "#8a8a86", "#9c2f2b", "#2f4a7d", "#26242a"]


def pattern_of(*yarns: tuple[str, str]) -> Pattern:
    """A pattern of these yarns (name and colour), each two ends wide."""
    records = tuple(Yarn(name, "linen", colour=colour) for name, colour in yarns)
    return Pattern("Some", "some", records, tuple(Stripe(name, 2) for name, _ in yarns))


def look(ink: Ink) -> tuple[tuple[int, ...], float]:
    return ink.slopes, ink.spacing


def looks(pattern: Pattern, hatches: dict[tuple[str, str], int] | None = None) -> dict[str, object]:
    return {name: look(ink) for name, ink in card_inks(pattern, hatches).items()}


def test_seven_yarns_have_seven_hatchings_and_the_lightest_has_none() -> None:
    inks = card_inks(pattern_of(*((f"yarn {number}", colour) for number, colour in enumerate(COLOURS))))
    assert len({look(ink) for ink in inks.values()}) == 7
    assert inks["yarn 0"].slopes == ()


def test_seven_yarns_of_one_colour_have_seven_hatchings_too() -> None:
    for colour in (*COLOURS, ""):
        inks = card_inks(pattern_of(*((f"yarn {number}", colour) for number in range(7))))
        assert len({look(ink) for ink in inks.values()}) == 7


def test_of_more_than_seven_no_hatching_stands_three_times() -> None:
    inks = card_inks(pattern_of(*((f"yarn {number}", "#9c2f2b") for number in range(12))))
    stand = [look(ink) for ink in inks.values()]
    assert {stand.count(each) for each in stand} == {1, 2}


def test_hatchings_differ_along_a_thread_as_they_do_in_cells() -> None:
    in_cells = {(hatching.slopes, hatching.spacing) for hatching in HATCHINGS}
    assert len({hatching.dash for hatching in HATCHINGS}) == len(in_cells) == 7


def test_what_stands_on_a_colour_is_told_from_it() -> None:
    for ink in card_inks(pattern_of(*((colour, colour) for colour in COLOURS))).values():
        assert abs(lightness(ink.on) - lightness(ink.fill)) > 45
        assert abs(lightness(outline_for(ink.fill)) - lightness(ink.fill)) > 25


def test_the_hatching_does_not_depend_on_the_order_of_the_yarns() -> None:
    pairs = [(f"yarn {number}", colour) for number, colour in enumerate(COLOURS)]
    assert card_inks(pattern_of(*pairs)) == card_inks(pattern_of(*pairs[::-1]))


def test_only_what_is_on_the_card_takes_a_hatching_from_the_others() -> None:
    """A yarn that the file lists and no stripe asks for takes nothing; one inside a repeat or of the weft does."""
    reds = [Yarn(name, "linen", colour="#9c2f2b") for name in ("brick", "rust", "rose", "wine")]
    warp = (Repeat(2, (Stripe("rust", 2), Alternation(("rose", "rust"), 4))),)
    inks = card_inks(Pattern("Some", "some", tuple(reds), warp, weft="wine"))
    assert sorted(inks) == ["rose", "rust", "wine"]
    alone = card_inks(pattern_of(("rose", "#9c2f2b")))
    assert look(inks["rose"]) == look(alone["rose"])
    assert len({look(ink) for ink in inks.values()}) == 3


def test_cells_of_neighbours_are_told_apart_without_colour() -> None:
    """Every two yarns of the six-coloured tape differ by hatching."""
    inks = card_inks(shipped_pattern("fair-day"))
    assert len(inks) == 6
    assert all(look(one) != look(other) for one, other in combinations(inks.values(), 2))


def test_a_yarn_of_several_patterns_keeps_its_hatching_when_each_card_is_printed_alone() -> None:
    """The blue, the red and the white that the catalogue's patterns share, next to whatever they stand."""
    hatches: dict[tuple[str, str], set[object]] = {}
    for stem in ("fair-day", "half-and-half", "three-paths", "nine", "two-rails", "wick", "long-sixty", "five-posts"):
        pattern = shipped_pattern(stem)
        for name, ink in card_inks(pattern).items():
            hatches.setdefault((name, pattern.yarn(name).colour), set()).add(look(ink))
    assert all(len(found) == 1 for found in hatches.values())
    assert len(hatches) > 6


def test_a_yarn_that_gives_way_on_one_card_gives_way_on_all() -> None:
    """Two reds on one card: the darker takes another hatching there, and keeps it where it stands alone."""
    rose, wine, white = ("rose", "#b8503f"), ("wine", "#7c2424"), ("white", "#f4f0e4")
    both, alone = pattern_of(rose, wine), pattern_of(white, wine)
    assert looks(alone)["wine"] == looks(pattern_of(rose))["rose"]
    hatches = settled_hatches([both, alone])
    assert looks(alone, hatches)["wine"] == looks(both, hatches)["wine"] == looks(both)["wine"]
    assert looks(both, hatches)["rose"] != looks(both, hatches)["wine"]
    assert looks(alone, hatches)["white"] == ((), 0.0)


def test_the_same_name_in_another_colour_is_another_yarn() -> None:
    hatches = settled_hatches([pattern_of(("bright", "#9c2f2b")), pattern_of(("bright", "#2f4a7d"))])
    assert len(set(hatches.values())) == len(hatches) == 2


def test_what_is_settled_does_not_depend_on_the_order_of_the_patterns() -> None:
    chance = random.Random(7)
    yarns = [(f"{colour} {number}", colour) for colour in COLOURS for number in range(3)]
    patterns = [pattern_of(*chance.sample(yarns, 4)) for _ in range(30)]
    expected = settled_hatches(patterns)
    for _ in range(5):
        chance.shuffle(patterns)
        assert settled_hatches(patterns) == expected


CARDS = st.lists(st.lists(st.tuples(st.sampled_from("abcdefghij"), st.sampled_from(COLOURS)), min_size=1, max_size=7))


@given(CARDS)
def test_no_two_yarns_of_a_card_share_a_hatching_in_any_binder(cards: list[list[tuple[str, str]]]) -> None:
    patterns = [pattern_of(*dict(card).items()) for card in cards]
    hatches = settled_hatches(patterns)
    for pattern in patterns:
        found = [look(ink) for ink in card_inks(pattern, hatches).values()]
        assert len(set(found)) == len(found)


@pytest.mark.parametrize(("shades", "most"), [(3, 3), (6, 4), (12, 5)])
def test_a_binder_of_ordinary_tapes_leaves_nothing_to_the_single_card(shades: int, most: int) -> None:
    """Of so many shades of seven colours in 30 patterns each has one hatching wherever it stands."""
    chance = random.Random(most)
    yarns = [(f"{colour} {number}", colour) for colour in COLOURS for number in range(shades)]
    patterns = [pattern_of(*chance.sample(yarns, most)) for _ in range(30)]
    hatches = settled_hatches(patterns)
    found: dict[str, set[object]] = {}
    for pattern in patterns:
        for name, each in looks(pattern, hatches).items():
            found.setdefault(name, set()).add(each)
    assert {len(each) for each in found.values()} == {1}
