"""Cards made with their backs, and of which plan a layout's facts have anything to tell."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from cardmaker.card.composing import Composed, compose_card
from cardmaker.jobs import plan_making
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.plan import Plan
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.reckoning.threading.mirror import plan_as_seen, weavers_view
from cardmaker.wording import source_words, winding_words
from tests.helpers.card_facts import APPLIES
from tests.helpers.shipped import shipped_layout, shipped_pattern

WOVEN_AS_MADE_UP = "F"  # the grade of a tape that somebody made up: that it is new is all that is known of it


def _tells(field: str) -> Callable[[Plan], bool]:
    """Whether a tape that was not made up has that field in its source."""
    return lambda plan: (
        plan.pattern.source is not None
        and plan.pattern.source.grade != WOVEN_AS_MADE_UP
        and bool(getattr(plan.pattern.source, field))
    )


def _has_more_facts(plan: Plan) -> bool:
    """Whether a source has more than how far it may be believed, which every record tells in front."""
    return plan.pattern.source is not None and len(source_words.source_facts(plan.pattern.source)) > 3


# Facts of which a tape, a loom or a threading may have nothing to tell. What is not here, every one has.
OF_SOME: dict[str, Callable[[Plan], bool]] = {
    **APPLIES,
    "moved": lambda plan: plan.placement.shifted != 0,
    "both heddles": lambda plan: plan.placement.back is not None,
    "source": _has_more_facts,
    "history": lambda plan: plan.pattern.source is not None,
    "how sure": _tells("certainty"),
    "new": _tells("differences"),
    "other edge": lambda plan: not plan.same_both_ways,
    "photograph": lambda plan: plan.photograph is not None,
    "second yarns": lambda plan: bool(plan.second),
    "empty walks": lambda plan: bool(winding_words.empty_hands(plan)),
    "in turn": lambda plan: any(stripe.in_turn for stripe in hand_counted(plan.runs)),
}


@cache
def made(pattern: str, layout: str, paper: int = 0, *, left_hand: bool = False) -> tuple[Plan, CardLayout, Composed]:
    """A shipped pattern's card with its back."""
    of = shipped_layout(layout)
    plan = plan_making.plan_for(
        shipped_pattern(pattern), plan_making.load_plan_setup_for(of.as_back(of.papers[paper]), None)
    )
    if left_hand:
        plan = plan_as_seen(plan, weavers_view(plan.loom, left_hand=True))
    return plan, of, compose_card(plan, of, of.papers[paper], TypeRuler(), with_back=True)


def back_of(card: Composed) -> Composed:
    """The back of a card that was made with one."""
    assert card.back is not None
    return card.back


def belonging(plan: Plan, of: CardLayout) -> set[str]:
    """The facts of a layout's three lists that apply to a plan."""
    listed = (*of.facts.front, *of.facts.room, *of.facts.back)
    return {fact for fact in listed if fact not in OF_SOME or OF_SOME[fact](plan)}
