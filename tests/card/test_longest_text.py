"""A card that does not fit because of one text says which, at its key, and how many letters fit."""

from __future__ import annotations

import re

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.longest_text import BRIEF, _all_cut, _texts
from cardmaker.card.sheet import Sheet
from cardmaker.model.card_layout import CardLayout, PanelPlace, Paper
from cardmaker.model.pattern import LONGEST_TITLE
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import replace
from tests.helpers.paper_tools import RULER
from tests.helpers.shipped import plan_of, shipped_layout

WORDS = "Grandmother Hathersage's box loom with the two long rails, mended twice since 1990"


def low(height_mm: float) -> tuple[CardLayout, Paper]:
    """A name on a card of little height, and nothing that may be left out."""
    layout = replace(shipped_layout("field"), ribbon=False, rows=((PanelPlace("name", 12, 1, True),),), other_half=())
    return layout, Paper("low", 101.6, height_mm)


def card_of(plan: Plan, height_mm: float) -> Composed:
    layout, paper = low(height_mm)
    return compose_card(plan, layout, paper, RULER)


def sheet_of(plan: Plan) -> Sheet:
    layout, paper = low(36)
    return Sheet(plan, layout, paper, RULER, "metric", {}, (), layout.type_sizes, plan)


def titled(letters: int) -> Plan:
    plan = plan_of("nine")
    return replace(plan, pattern=replace(plan.pattern, title=WORDS[:letters].rstrip()))


def test_the_title_is_refused_at_its_key_with_the_longest_that_fits() -> None:
    with pytest.raises(Refusal) as refused:
        card_of(titled(LONGEST_TITLE), 36)
    assert refused.value.path == ("title",)
    fits = re.fullmatch(r"this title has 80 letters; .* on low, (\d+) fit\.", str(refused.value.message))
    assert fits
    longest = int(fits[1])
    assert BRIEF < longest < LONGEST_TITLE
    assert card_of(titled(longest), 36)
    with pytest.raises(Refusal):
        card_of(titled(longest + 1), 36)


def test_of_the_loom_its_title_is_told() -> None:
    plan = plan_of("nine")
    named = replace(plan, loom=replace(plan.loom, title=WORDS))
    with pytest.raises(Refusal, match=r"the title of the loom has \d+ letters; .*, \d+ fit"):
        card_of(named, 36)


def test_a_long_shade_of_a_yarn_with_a_long_name_is_looked_at_too() -> None:
    """All texts are cut at once to see whether they are to blame, the names of yarns as well."""
    plan = titled(LONGEST_TITLE)
    yarn, *others = plan.pattern.yarns
    named = replace(yarn, name="a name of forty letters and of seven words", shade=WORDS)
    ours = replace(plan, pattern=replace(plan.pattern, yarns=(named, *others)))
    texts = list(_texts(sheet_of(ours)))
    assert {"the longest name of a yarn", "this shade"} <= {text.name for text in texts}
    cut = _all_cut(sheet_of(ours), texts)
    short, *_ = cut.plan.pattern.yarns
    assert max(len(short.name), len(short.shade)) <= BRIEF


def test_a_card_that_holds_no_shorter_text_either_is_refused_for_its_height() -> None:
    with pytest.raises(Refusal, match="9 ends do not fit on low: the card needs") as refused:
        card_of(titled(LONGEST_TITLE), 14)
    assert refused.value.path == ("warp",)


def test_what_fits_is_not_asked() -> None:
    assert card_of(titled(LONGEST_TITLE), 140)


def test_what_is_too_long_for_the_back_is_told_as_well() -> None:
    """A small card's back is for visitors: what is known of the tape stands there, and nothing else is to blame."""
    layout, plan = shipped_layout("field"), plan_of("three-paths")
    assert plan.pattern.source is not None
    source = replace(plan.pattern.source, differences=(WORDS * 5,))
    long = replace(plan, pattern=replace(plan.pattern, source=source))
    with pytest.raises(Refusal, match=r"this difference has \d+ letters; .* on 4x6, \d+ fit") as refused:
        compose_card(long, layout, layout.papers[0], RULER, with_back=True)
    assert refused.value.path == ("source", "differences", 0)
