"""The back of a card: all that belongs to the card is on paper, nothing is said twice, and it lies behind its front."""

from __future__ import annotations

import pytest

from cardmaker.card.composing import Composed, compose_card, wrong_names
from cardmaker.jobs.card_making import nothing_to_say
from cardmaker.model.card_layout import PanelPlace, Paper, TypeSizes
from cardmaker.model.marks import Face, Group, Page, Words
from cardmaker.model.record_class import replace
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.school.handout_sheets import HALF, Size, two_up, with_backs
from cardmaker.wording.step_words import THREAD, WEAVE, WIND
from tests.helpers.backs import back_of, belonging, made
from tests.helpers.card_faults import all_words, faults
from tests.helpers.shipped import LAYOUTS, PATTERNS, plan_for_layout, shipped_layout, shipped_pattern

STEPPED = ("bench", "field", "field-folded", "handout", "handout-large")  # layouts whose fronts have numbered steps
ONE_SIDED = ("dressing", "dressing-brief")  # pages of drawn steps: all that belongs to them is in front
TWO_SIDED = [stem for stem in LAYOUTS if stem not in ONE_SIDED]
IN_SENTENCES = {"title", "more trouble", "student", "source", "pieces"}  # facts of several sentences on either side


def patterns_of(layout: str) -> list[str]:
    """The shipped patterns that have such a card."""
    return [stem for stem in PATTERNS if not nothing_to_say(shipped_layout(layout), shipped_pattern(stem))]


def test_every_layout_has_a_back_but_the_pages_of_dressing() -> None:
    assert [stem for stem in LAYOUTS if not shipped_layout(stem).back] == sorted(ONE_SIDED, key=LAYOUTS.index)


@pytest.mark.parametrize("layout", TWO_SIDED)
@pytest.mark.parametrize("left_hand", [False, True])
def test_all_that_belongs_to_a_card_is_on_paper_and_nothing_twice_but_the_name(layout: str, left_hand: bool) -> None:
    lacking, twice = {}, {}
    for pattern in patterns_of(layout):
        plan, of, card = made(pattern, layout, left_hand=left_hand)
        back = back_of(card)
        if missing := {fact for fact in belonging(plan, of) if fact not in card.on_paper} | {*card.left_out}:
            lacking[pattern] = missing
        if again := (card.printed & back.printed - IN_SENTENCES) | (lines(card) & lines(back) - {plan.pattern.title}):
            twice[pattern] = again
    assert (lacking, twice) == ({}, {})


def lines(side: Composed) -> set[str]:
    """The lines of a page that are longer than a label."""
    return {words.text for words in all_words(side.page.marks) if len(words.text) > 24}


@pytest.mark.parametrize("layout", TWO_SIDED)
def test_what_is_behind_is_in_the_lists_of_its_layout(layout: str) -> None:
    of = shipped_layout(layout)
    printed = {fact for pattern in patterns_of(layout) for fact in back_of(made(pattern, layout)[2]).printed}
    assert printed <= {*of.facts.front, *of.facts.room, *of.facts.back}


@pytest.mark.parametrize("layout", TWO_SIDED)
def test_a_back_has_no_fault(layout: str) -> None:
    """It keeps to its margins, which lie as the turned sheet has them, and nothing in it crosses anything else."""
    of = shipped_layout(layout)
    for number, paper in enumerate(of.papers[:2]):
        for pattern in patterns_of(layout)[:: 2 + 3 * number]:
            back = back_of(made(pattern, layout, number)[2])
            assert faults(back, of.as_back(paper), paper) == [], (pattern, paper.name)


@pytest.mark.parametrize("layout", TWO_SIDED)
def test_the_name_stands_on_the_back(layout: str) -> None:
    plan, _, card = made(patterns_of(layout)[-1], layout)
    assert plan.pattern.title in [words.text for words in all_words(back_of(card).page.marks)]


@pytest.mark.parametrize("layout", STEPPED)
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


@pytest.mark.parametrize("layout", TWO_SIDED)
def test_a_back_changes_nothing_in_front(layout: str) -> None:
    for pattern in patterns_of(layout)[::9]:
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

    back = Composed(page("b"), frozenset(), (), TypeSizes(22, 16, 11, 10.5, 9.5, 9))
    return Composed(page("f"), frozenset(), (), TypeSizes(22, 16, 11, 10.5, 9.5, 9), back)
