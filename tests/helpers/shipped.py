"""The files that the program ships with, each read once, and the plans of their patterns."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Final

from cardmaker.jobs import loading, paper_lookup, plan_making
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.peg_plan import Pegs
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.reading.read_file import read_loom, read_pegs
from cardmaker.wording.formatters import Units
from tests.helpers.places import ROOT, shipped_in

PATTERN_FILES: Final = shipped_in("patterns")
LOOM_FILES: Final = shipped_in("layouts/looms")
PEGS_FILES: Final = shipped_in("layouts/pegs")
LAYOUT_FILES: Final = shipped_in("layouts/cards")
PATTERNS: Final = tuple(path.stem for path in PATTERN_FILES)
LOOMS: Final = tuple(path.stem for path in LOOM_FILES)
PEGS: Final = tuple(path.stem for path in PEGS_FILES)
# Of one end, which a command of its own makes (tests/card/test_lost_end_panel.py), and of one step, which a student
# gets after the other (tests/card/test_slips.py), and of no loom (tests/card/test_any_loom.py): none tells all that a
# card does.
SLIPS: Final = ("rescue", "handout-wind", "handout-dress", "handout-weave", "any-loom")
LAYOUTS: Final = tuple(path.stem for path in LAYOUT_FILES if path.stem not in SLIPS)


def pattern_file(stem: str) -> Path:
    return ROOT / "patterns" / f"{stem}.yaml"


def loom_file(stem: str) -> Path:
    return ROOT / "layouts" / "looms" / f"{stem}.yaml"


@cache
def shipped_pattern(stem: str) -> Pattern:
    return loading.load_pattern(pattern_file(stem))


@cache
def shipped_loom(stem: str) -> Loom:
    return read_loom(loom_file(stem))


@cache
def shipped_pegs(stem: str) -> Pegs:
    return read_pegs(ROOT / "layouts" / "pegs" / f"{stem}.yaml")


@cache
def shipped_layout(stem: str) -> CardLayout:
    return loading.load_layout(ROOT / "layouts" / "cards" / f"{stem}.yaml")


def paper_of(layout: str, name: str | None = None) -> Paper:
    """A paper of a shipped layout; its first one unless it is named."""
    return paper_lookup.paper_of(shipped_layout(layout), name)


@cache
def equipment(loom: str | None = None, pegs: str | None = None) -> plan_making.PlanSetup:
    """A loom by name, or none so that the smallest is chosen; a place to wind by name, or all of them."""
    return plan_making.load_plan_setup(loom and str(loom_file(loom)), None, pegs, any_pegs=True)


@cache
def plan_for_layout(pattern: str, stem: str, units: Units | None = None, loom: str | None = None) -> Plan:
    """As the command makes it for a card: with a place to wind only where the layout shows one."""
    setup = plan_making.load_plan_setup_for(shipped_layout(stem), loom, units=units)
    return plan_making.plan_for(shipped_pattern(pattern), setup)


@cache
def plan_of(pattern: str, loom: str | None = None, pegs: str | None = None, units: Units = "us") -> Plan:
    return plan_making.plan_for(shipped_pattern(pattern), replace(equipment(loom, pegs), units=units))
