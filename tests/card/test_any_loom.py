"""The card for a loom that nobody knows: the laws of cards, no loom on it, and the commands that make it."""

from __future__ import annotations

from functools import cache

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.model.card_layout import Paper
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.any_heddle import ANY_LOOMS
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording import any_loom_words
from cardmaker.wording.phrases import NO_BREAK
from tests.helpers.card_faults import all_words, faults
from tests.helpers.ground import ground_of, low_contrasts
from tests.helpers.paper_tools import RULER
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import LOOMS, PATTERNS, shipped_layout, shipped_loom, shipped_pattern

CARD = shipped_layout("any-loom")
NOT_OF_ALL = frozenset({"change", "cross reminder", "pickup card"})  # of one yarn, of one end, without a figure
VIEWS = [Viewpoint(left, behind) for left in (False, True) for behind in (False, True)]


@cache
def card(name: str, view: Viewpoint, paper: Paper) -> Composed:
    plan = make_plan(shipped_pattern(name), ANY_LOOMS[0], at_hand=ANY_LOOMS, with_bench=False)
    return compose_card(plan_as_seen(plan, view), CARD, paper, RULER)


@pytest.mark.parametrize("view", VIEWS, ids=["right", "right-behind", "left", "left-behind"])
@pytest.mark.parametrize("name", PATTERNS)
def test_it_keeps_the_laws_of_cards(name: str, view: Viewpoint) -> None:
    for paper in CARD.papers:
        made = card(name, view, paper)
        assert faults(made, CARD, paper) == []
        assert not {*CARD.facts.front} & {*made.lacking}
        assert {*CARD.facts.front} - NOT_OF_ALL <= made.printed
        assert low_contrasts(ground_of(made.page), all_words(made.page.marks)) == []


@pytest.mark.parametrize("name", PATTERNS)
def test_every_line_is_on_it_and_read_aloud_and_no_loom(name: str) -> None:
    made = card(name, VIEWS[0], CARD.papers[0])
    plan = make_plan(shipped_pattern(name), ANY_LOOMS[0], at_hand=ANY_LOOMS, with_bench=False)
    aloud = text_read_aloud(made.page).replace(NO_BREAK, " ")
    for line in any_loom_words.lines(plan):
        assert all(cell in aloud for cell in line)
    for ends, colours in any_loom_words.shown(plan):
        assert f"{ends} {colours}".replace(NO_BREAK, " ") in aloud
    for stem in LOOMS:
        assert shipped_loom(stem).title not in aloud
