"""The numbers on the page of dressing, read from the finished page and asked a second time of the plan as programs have
it: every pattern on every loom that holds it, for either hand."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from math import floor
from typing import Any

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording.plan_json import plan_as_json
from tests.helpers.record_cards import CASES, RULER
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import loom_file, paper_of, plan_for_layout, shipped_layout

ON_LOOMS = [(pattern, loom) for pattern, loom, on in CASES if on == "letter"]
NEWTONS_IN_A_KILOGRAM = 9.80665  # NIST Special Publication 811 (2008), appendix B.8
INCH_IN_CM = 2.54  # by definition

Told = dict[str, Any]
Check = Callable[[Told], set[tuple[str, ...]]]


def half_up(number: float) -> str:
    return str(floor(number + 0.5))


def cm(millimetres: float) -> str:
    return half_up(millimetres / 10)


def newtons(force: float) -> str:
    """Whole from ten on."""
    return half_up(force) if force >= 10 else f"{force:.1f}"


def kilograms(force: float) -> str:
    return f"{force / NEWTONS_IN_A_KILOGRAM:.1f}".removesuffix(".0")


def picks(weft: Told, inches: float) -> str:
    """Whole, unless they were measured."""
    close = weft["picks_per_inch"] / inches
    return f"{close:.1f}".removesuffix(".0") if weft["basis"] == "measured" else half_up(close)


def woven(lengths: Told) -> float:
    """On the loom, before it is washed."""
    return float(lengths["tape_from_warp_mm"] / (1 - lengths["shrinkage"]))


def kinds(told: Told) -> Counter[str]:
    return Counter(end["kind"] for end in told["ends_list"])


def sticks(told: Told) -> set[tuple[str, ...]]:
    turns = [str(turn) for turn in told["beam"]["stick_turns"][1:]]
    return {(f"{', '.join(turns[:-1])} and {turns[-1]}" if len(turns) > 1 else "".join(turns),)}


# What is read, and what the plan says: each sentence that has a number of this warp in it.
NUMBERS: dict[str, tuple[str, Check]] = {
    "ends": (r"(\d+) ends?\b[.,]", lambda told: {(str(told["ends"]),)}),
    "tips": (r"Level all (\d+) tips", lambda told: {(str(told["ends"]),)}),
    "first space": (r"End 1: (?:front )?([LR]?\d+|the mark)", lambda told: {(told["placement"]["first_label"],)}),
    "holes, slots": (
        r"(\d+) holes?, (\d+) slots?",
        lambda told: {(str(kinds(told)["hole"]), str(kinds(told)["slot"]))},
    ),
    "empty": (
        r"empty: (\d+) left, (\d+) right",
        lambda told: {(str(told["placement"]["empty_left"]), str(told["placement"]["empty_right"]))},
    ),
    "turns": (r"About (\d+) turns?\.", lambda told: {(half_up(told["beam"]["turns"]),)}),
    "sticks": (r"then 2 after turns? ([\d, and]+\d)", sticks),
    "pull": (
        r"pulls with about ([\d.]+) N \(([\d.]+) kg\)",
        lambda told: {(newtons(told["tension"]["total_n"]), kilograms(told["tension"]["total_n"]))},
    ),
    "fills": (
        r"Fill the shuttle (\d+) times, about (\d+) wraps",
        lambda told: {(str(told["shuttle"]["fills"]), str(told["shuttle"]["wraps_per_fill"]))},
    ),
    "wraps": (r"(\d+) wraps in all", lambda told: {(str(told["shuttle"]["wraps"]),)}),
    "picks": (
        r"Beat (?:about )?([\d.]+) picks to the inch \(([\d.]+) to the cm\)",
        lambda told: {(picks(told["weft"], 1), picks(told["weft"], INCH_IN_CM))},
    ),
    "moves": (r"about (\d+) moves?", lambda told: {(str(told["beam"]["advances"]),)}),
    "tape": (
        r"About (\d+) cm of tape off the loom, (\d+) cm when washed",
        lambda told: {(cm(woven(told["lengths"])), cm(told["lengths"]["tape_from_warp_mm"]))},
    ),
}  # fmt: skip


def page(plan: Plan) -> str:
    return " ".join(
        text_read_aloud(compose_card(plan, shipped_layout("dressing"), paper_of("dressing"), RULER).page)
        .replace("\N{NO-BREAK SPACE}", " ")
        .split()
    )


@pytest.mark.parametrize(("pattern", "loom"), ON_LOOMS)
def test_every_number_is_the_plans(pattern: str, loom: str) -> None:
    seated = plan_for_layout(pattern, "dressing", loom=str(loom_file(loom)))
    for left_hand in (False, True):
        plan = plan_as_seen(seated, Viewpoint(left_hand=left_hand))
        words, told = page(plan), plan_as_json(plan)
        read = {name: set(re.findall(pattern_, words)) for name, (pattern_, _) in NUMBERS.items()}
        as_tuples = {
            name: {each if isinstance(each, tuple) else (each,) for each in found} for name, found in read.items()
        }
        for name, found in as_tuples.items():
            assert len(found) <= 1, (name, found)
            assert found <= NUMBERS[name][1](told) if found else True, (name, found)
        assert {"ends", "tips", "first space", "pull", "picks"} <= {name for name, found in as_tuples.items() if found}


def test_each_of_them_is_on_some_page() -> None:
    words = page(plan_for_layout("three-paths", "dressing"))
    assert [name for name, (pattern, _) in NUMBERS.items() if not re.search(pattern, words)] == []
