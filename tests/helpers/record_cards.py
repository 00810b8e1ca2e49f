"""Every demonstration pattern on every loom that holds it: its record card composed and printed once for all tests."""

from __future__ import annotations

from functools import cache

from cardmaker.card.composing import Composed, compose_card
from cardmaker.jobs import card_making, loading, paper_lookup, plan_making
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.plan import Plan
from cardmaker.pdf.fonts import TypeRuler
from tests.helpers.catalogue_table import rows
from tests.helpers.places import ROOT

RULER = TypeRuler()
LOOMS = ("small-box", "middle-box", "broad-paddle", "treadle-pair")
CAPACITY = {"small-box": 23, "middle-box": 33, "broad-paddle": 47, "treadle-pair": 60}
SLOTS_ONLY = {"raised-ribs", "five-posts"}  # two heddles cannot keep an end in slots
PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}

Case = tuple[str, str, str]  # pattern, loom, paper
CASES: list[Case] = [
    (row.stem, loom, paper)
    for row in rows()
    for loom in LOOMS
    if row.ends <= CAPACITY[loom] and not (loom == "treadle-pair" and row.stem in SLOTS_ONLY)
    for paper in PAPERS
]


# What is looked at


@cache
def layout() -> CardLayout:
    return loading.load_layout(ROOT / "layouts" / "cards" / "record.yaml")


def paper_named(name: str) -> Paper:
    return paper_lookup.paper_of(layout(), name)


@cache
def bench(loom: str) -> plan_making.PlanSetup:
    return plan_making.load_plan_setup(str(ROOT / "layouts" / "looms" / f"{loom}.yaml"), None)


@cache
def plan(pattern: str, loom: str) -> Plan:
    return plan_making.plan_for(loading.load_pattern(ROOT / "patterns" / f"{pattern}.yaml"), bench(loom))


@cache
def card(case: Case) -> Composed:
    pattern, loom, paper = case
    return compose_card(plan(pattern, loom), layout(), paper_named(paper), RULER)


@cache
def printed(case: Case) -> bytes:
    pattern, loom, paper = case
    return card_making.make_card(plan(pattern, loom), layout(), paper_named(paper), None).pdf
