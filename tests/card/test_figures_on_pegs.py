"""The bench card reckons with the warp that its pegs give, other cards with the warp that is wanted: where a figure
differs for it, the bench card says why."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

import pytest

from cardmaker.card.composing import Composed
from cardmaker.model.plan import Plan
from cardmaker.wording.formatters import warp_length
from tests.helpers.backs import back_of, made
from tests.helpers.card_faults import all_words, panels
from tests.helpers.shipped import PATTERNS

OTHERS: Final = ("record", "handout", "handout-large", "field", "dressing")
NUMBER: Final = r"\d+(?:\.\d+)?"
# What is counted for one warp, in the words of each card.
FIGURES: Final = {
    "turns": r"(\d+) turns \(about\)|About (\d+) turns",
    "packing sticks": r"2 at the knot, (?:then )?2 after turns? ([\d, and]+)\.",
    "wraps": r"(\d+) wraps (?:of this shuttle|in all)",
    "fills": r"(\d+) fills of (?:about )?\d+|Fill the shuttle (\d+) times",
    "wraps of a fill": r"\d+ fills of (?:about )?(\d+)|Fill the shuttle \d+ times, about (\d+) wraps",
    "picks": r"(\d+) picks (?:at|,)|in all (\d+) picks",
    "moves": r"about (\d+) moves",
    "a new end": rf"new end is ({NUMBER}) cm",
}
WHY: Final = re.compile(r"One end is (.+?) round the pegs, (.+?) more than on other cards, so figures differ\.")
FOR_OTHER_CARDS: Final = re.compile(
    r" For the [^.]+(?:\.\d+[^.]*)* that these pegs give; for .*?(?:picks|fills of \d+)\."
)


def text(of: Composed) -> str:
    words = (each.text for each in all_words(of.page.marks))
    return " ".join(" ".join(words).replace("\N{NO-BREAK SPACE}", " ").split())


def both_sides(pattern: str, layout: str) -> tuple[Plan, str]:
    plan, _, card = made(pattern, layout)
    return plan, f"{text(card)} {text(back_of(card))}" if card.back else text(card)


def figures_in(told: str) -> dict[str, set[str]]:
    """What a card prints of each of them."""
    read = {name: re.findall(words, told) for name, words in FIGURES.items()}
    return {
        name: {each if isinstance(each, str) else "".join(each) for each in found}
        for name, found in read.items()
        if found
    }


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_card_whose_figures_differ_from_the_others_says_why(pattern: str) -> None:
    """And one that agrees with them says nothing of it."""
    plan, told = both_sides(pattern, "bench")
    ours = figures_in(FOR_OTHER_CARDS.sub("", told))
    theirs = {layout: figures_in(both_sides(pattern, layout)[1]) for layout in OTHERS}
    differs = {
        name for figures in theirs.values() for name, found in figures.items() if name in ours and ours[name] != found
    }
    why = WHY.search(told)
    assert (why is not None) == bool(differs), differs
    if why is not None:
        assert plan.pegs is not None
        assert why[1] == warp_length(plan.lengths.wound_mm, "metric")
        measured, unit = re.match(rf"({NUMBER}) (mm|cm)", why[2]).groups()  # type: ignore[union-attr]
        more_mm = float(measured) * {"mm": 1, "cm": 10}[unit]
        assert abs(more_mm - float(plan.lengths.wound_mm - plan.lengths.wind_mm)) <= {"mm": 0.5, "cm": 5}[unit]


def test_the_figures_are_found_on_the_cards() -> None:
    """Or the comparison would find no difference where there is one."""
    ours = figures_in(FOR_OTHER_CARDS.sub("", both_sides("three-paths", "bench")[1]))
    assert ours == {
        "turns": {"17"}, "packing sticks": {"3, 6, 9, 12 and 15"}, "wraps": {"84"}, "fills": {"4"},
        "wraps of a fill": {"21"}, "moves": {"23"}, "a new end": {"315"},
    }  # fmt: skip
    found: set[str] = set()
    for layout in OTHERS:
        theirs = figures_in(both_sides("three-paths", layout)[1])
        found |= {name for name, values in theirs.items() if name in ours and values != ours[name]}
    assert found == {"wraps", "wraps of a fill", "moves", "a new end"}


@pytest.mark.parametrize("pattern", PATTERNS)
def test_beside_the_beam_stands_for_which_warp_its_figures_are(pattern: str) -> None:
    plan, _, card = made(pattern, "bench")
    (beam,) = (
        " ".join(each.text for each in all_words(group.marks)) for group in panels(card) if group.name == "turns"
    )
    given, asked = (
        warp_length(each, "metric").partition(" (")[0] for each in (plan.lengths.wound_mm, plan.lengths.wind_mm)
    )
    assert (f"for {given} of warp" in beam) == (given != asked)


AT_WEAVING: Final[dict[str, Callable[[Plan], str]]] = {
    "bench": lambda plan: f"{plan.weft.picks} picks",
    "record": lambda plan: f"in all {plan.weft.picks} picks",
}


@pytest.mark.parametrize("pattern", ["two-rails", "wick"])
def test_at_weaving_both_figures_stand(pattern: str) -> None:
    """The picks of the record are told beside those of the bench, where there is room to tell picks."""
    told = both_sides(pattern, "bench")[1]
    bench, record = (made(pattern, layout)[0] for layout in ("bench", "record"))
    assert bench.weft.picks > record.weft.picks
    assert (
        f"that these pegs give; for {warp_length(record.lengths.wind_mm, 'metric')} it is {record.weft.picks} picks"
        in told
    )
    for layout, words in AT_WEAVING.items():
        plan, told = both_sides(pattern, layout)
        assert words(plan) in told
