"""Twelve troubles: those of the cards are the list's own sentences, and each warp is told those that it can have."""

from __future__ import annotations

import pytest

from cardmaker.wording import trouble_words
from cardmaker.wording.trouble_words import ON_CARDS, TROUBLES, trouble, troubles_of
from tests.helpers.shipped import PATTERNS, plan_of

# What stood on cards before the list: the room on cards is reckoned with no more letters than these.
LETTERS = {6: (62, 49), 1: (108, 52), 2: (86, 55), 3: (88, 47), 9: (69, 35), 10: (84, 52)}


def test_the_list_is_numbered_from_1_to_12() -> None:
    assert [row.number for row in TROUBLES.values()] == list(TROUBLES) == list(range(1, 13))
    assert all(row.seen and row.cure.endswith(".") for row in TROUBLES.values())
    assert len({row.seen for row in TROUBLES.values()}) == 12


def test_the_lines_of_a_card_are_sentences_of_the_list() -> None:
    lines = trouble(is_fuzzy=False)
    assert lines == [(f"{TROUBLES[number].seen}?", TROUBLES[number].cure) for number in ON_CARDS]
    plan = plan_of("three-paths")
    for number, (_, cure) in zip(ON_CARDS, trouble(is_fuzzy=trouble_words.is_fuzzy(plan)), strict=True):
        assert trouble_words.cure_of(TROUBLES[number], plan).startswith(cure)


@pytest.mark.parametrize("brief", [False, True])
def test_no_line_of_a_card_has_grown(brief: bool) -> None:
    for number, (question, answer) in zip(ON_CARDS, trouble(is_fuzzy=False, brief=brief), strict=True):
        assert len(f"{question} {answer}") <= LETTERS[number][brief], question


def test_what_is_threaded_again_goes_to_the_edge_threaded_last() -> None:
    assert "to the edge threaded last" in TROUBLES[1].cure
    assert "to the edge threaded last" in TROUBLES[3].further


def test_damping_is_for_yarns_with_hairs_and_of_the_yarn_alone() -> None:
    damp = dict(trouble(is_fuzzy=True))["The shed sticks?"]
    assert damp == "Pluck it sideways; slide a finger behind the heddle; damp the yarn only."
    assert "damp" not in dict(trouble(is_fuzzy=False))["The shed sticks?"]
    brief = dict(trouble(is_fuzzy=True, brief=True))
    assert brief["The shed sticks?"] == "Pluck it sideways; damp the yarn only."


@pytest.mark.parametrize("brief", [False, True])
def test_of_a_warp_that_came_wound_nobody_counts_at_a_tick(brief: bool) -> None:
    answers = " ".join(answer for _, answer in trouble(is_fuzzy=False, brief=brief, is_wound=True))
    assert "tick" not in answers
    assert "in the heddle" in answers


@pytest.mark.parametrize("pattern", PATTERNS)
def test_heddles_jam_only_where_there_are_two(pattern: str) -> None:
    plan = plan_of(pattern)
    told = [row.number for row in troubles_of(plan)]
    assert told == [number for number in range(1, 13) if number != 11 or plan.placement.back is not None]
