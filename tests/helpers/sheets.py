"""The sheet that the panels of one card draw with, for tests that ask one drawing and not the whole card."""

from __future__ import annotations

from cardmaker.card.sheet import Sheet
from cardmaker.layout.yarn_inks import card_inks
from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import FROM_SEAT
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.reckoning.threading.mirror import plan_as_seen
from tests.helpers.shipped import paper_of, shipped_layout


def sheet_of(plan: Plan, layout: str) -> Sheet:
    """For the first paper of a shipped layout."""
    of = shipped_layout(layout)
    inks, segments = card_inks(plan.pattern), hand_counted(plan.runs)
    return Sheet(
        plan, of, paper_of(layout), TypeRuler(), of.units, inks, segments, of.type_sizes, plan_as_seen(plan, FROM_SEAT)
    )
