"""The back of a card: all that belongs to the card is on paper, nothing is said twice, and it lies behind its front."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import pytest

from cardmaker.card.composing import Composed, compose_card, wrong_names
from cardmaker.jobs import plan_making
from cardmaker.model.card_layout import CardLayout, PanelPlace, Paper
from cardmaker.model.marks import Face, Group, Page, Words
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.threading.mirror import plan_as_seen, weavers_view
from cardmaker.school.handout_sheets import HALF, Size, two_up, with_backs
from cardmaker.wording.step_words import THREAD, WEAVE, WIND
from tests.helpers.card_facts import APPLIES
from tests.helpers.card_faults import all_words
from tests.helpers.shipped import PATTERNS, plan_for_layout, shipped_layout, shipped_pattern

WHOLE_CARDS = ("handout", "handout-large")  # of every shipped pattern all is on paper
WITH_BACKS = (*WHOLE_CARDS, "field")
# Facts of which a tape, a loom or a threading may have nothing to tell.
OF_SOME: dict[str, Callable[[Plan], bool]] = {
    **APPLIES,
    "moved": lambda plan: plan.placement.shifted != 0,
    "both heddles": lambda plan: plan.placement.back is not None,
    "source": lambda plan: plan.pattern.source is not None,
}
IN_SENTENCES = {"title", "more trouble", "student"}  # facts of several sentences, some of which may stand in front


@cache
def made(pattern: str, layout: str, *, left_hand: bool = False) -> tuple[Plan, CardLayout, Composed]:
    of = shipped_layout(layout)
    plan = plan_making.plan_for(
        shipped_pattern(pattern), plan_making.load_plan_setup_for(of.as_back(of.papers[0]), None)
    )
    if left_hand:
        plan = plan_as_seen(plan, weavers_view(plan.loom, left_hand=True))
    return plan, of, compose_card(plan, of, of.papers[0], TypeRuler(), with_back=True)


def back_of(card: Composed) -> Composed:
    assert card.back is not None
    return card.back


@pytest.mark.parametrize("layout", WHOLE_CARDS)
@pytest.mark.parametrize("left_hand", [False, True])
def test_all_that_belongs_to_a_card_is_in_front_or_behind(layout: str, left_hand: bool) -> None:
    lacking = {}
    for pattern in PATTERNS:
        plan, of, card = made(pattern, layout, left_hand=left_hand)
        wanted = (*of.facts.front, *of.facts.room, *of.facts.back)
        applying = [fact for fact in wanted if fact not in OF_SOME or OF_SOME[fact](plan)]
        if missing := {fact for fact in applying if fact not in card.on_paper} | {*card.left_out}:
            lacking[pattern] = missing
    assert lacking == {}


@pytest.mark.parametrize("layout", WITH_BACKS)
def test_no_fact_and_no_line_but_the_name_stands_on_both_sides(layout: str) -> None:
    for pattern in PATTERNS:
        plan, _, card = made(pattern, layout)
        assert card.printed & back_of(card).printed <= IN_SENTENCES, pattern
        front, back = (
            {words.text for words in all_words(side.page.marks) if len(words.text) > 24}
            for side in (card, back_of(card))
        )
        assert front & back <= {plan.pattern.title}, pattern


@pytest.mark.parametrize("layout", WITH_BACKS)
def test_the_name_stands_on_the_back(layout: str) -> None:
    plan, _, card = made("three-paths", layout)
    assert plan.pattern.title in [words.text for words in all_words(back_of(card).page.marks)]


@pytest.mark.parametrize("layout", WITH_BACKS)
def test_no_step_is_numbered_a_second_time(layout: str) -> None:
    steps = {step.in_words for step in (WIND, THREAD, WEAVE)}
    for pattern in PATTERNS:
        _, _, card = made(pattern, layout)
        numbered = [{group.alt for group in _groups(side.page)} & steps for side in (card, back_of(card))]
        assert numbered[0], pattern
        assert numbered[1] == set(), pattern


def _groups(page: Page) -> list[Group]:
    found: list[Group] = []
    waiting = list(page.marks)
    while waiting:
        mark = waiting.pop()
        if isinstance(mark, Group):
            found.append(mark)
            waiting += mark.marks
    return found


@pytest.mark.parametrize("layout", WITH_BACKS)
def test_a_back_changes_nothing_in_front(layout: str) -> None:
    for pattern in PATTERNS[::5]:
        of = shipped_layout(layout)
        alone = compose_card(plan_for_layout(pattern, layout), of, of.papers[0], TypeRuler())
        assert alone.page == made(pattern, layout)[2].page
        assert alone.back is None


def test_the_binding_of_an_upright_back_is_at_the_other_side() -> None:
    record = shipped_layout("record")
    upright, lying = Paper("letter", 215.9, 279.4), Paper("lying", 279.4, 215.9)
    assert record.as_back(upright).binding_side == "right"
    assert record.as_back(lying).binding_side == "left"  # turned over its long edge, which is above
    assert record.as_back(upright).printable(upright).left == record.margin_mm


def test_an_unknown_panel_of_a_back_is_told() -> None:
    layout = replace(shipped_layout("handout"), back=((PanelPlace("truoble", 12, 1),),))
    (refusal,) = wrong_names(layout)
    assert refusal.path == ("back", 0, 0, "panel")
    assert "trouble" in refusal.remedy


# Two cards on a sheet


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("count", [1, 2, 3, 4, 5])
def test_front_and_back_of_a_card_lie_on_one_leaf(size: Size, count: int) -> None:
    """A sheet that lies on its long side is turned over that side: a point x mm from the left stays there."""
    cards = [_numbered(number, size) for number in range(count)]
    pages = with_backs(cards, size)
    assert len(pages) == 2 * -(-count // 2)
    for front, back in zip(pages[::2], pages[1::2], strict=True):
        assert (front.width_mm, front.height_mm) == (back.width_mm, back.height_mm)
        places = [{words.text[1:]: words.x for words in all_words(page.marks)} for page in (front, back)]
        assert places[0] == places[1]
        assert {words.text[0] for words in all_words(back.marks)} == {"b"}
    assert pages[::2] == two_up([card.page for card in cards], size)


def _numbered(number: int, size: Size) -> Composed:
    def page(side: str) -> Page:
        paper = HALF[size]
        words = Words(20.0, 30.0, f"{side}{number}", Face.SANS, 11)
        return Page(paper.width_mm, paper.height_mm, (words,), f"{side}{number}")

    back = Composed(page("b"), frozenset(), ())
    return Composed(page("f"), frozenset(), (), back)
