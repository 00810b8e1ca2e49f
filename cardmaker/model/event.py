"""An event: when and where she shows her weaving, with which tapes, on which loom, and what the hours hold."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from cardmaker.model.bench import SessionPlan
from cardmaker.model.plan import Plan
from cardmaker.model.problems import NOWHERE, Places
from cardmaker.model.record_class import record, uncompared
from cardmaker.model.school_class import Done

ShownAct = Literal["winding", "threading", "weaving"]
SHOWN: tuple[ShownAct, ...] = ("weaving",)  # where the file does not say


@record
class Event:
    """An event file, read and checked, before any arithmetic. Patterns and the loom are names as typed."""

    title: str
    stem: str
    patterns: tuple[str, ...]
    loom: str
    minutes: Fraction  # that she has on the ground
    on_loom: str = ""  # the pattern that is woven there; empty: the first
    shown: tuple[ShownAct, ...] = SHOWN
    date: str = ""
    ground: str = ""
    by: str = ""
    left_hand: bool = False
    paper: Literal["letter", "a4"] | None = None  # None: as the settings say, or letter
    units: Literal["metric", "us"] | None = None  # None: as the settings say, or metric
    notes: tuple[str, ...] = ()
    about: str = ""
    marked_as: str = ""
    places: Places = uncompared(default=NOWHERE)

    @property
    def done(self) -> frozenset[Done]:
        """What is done at home: what is not shown. Who winds there threads there too."""
        if "winding" in self.shown:
            return frozenset()
        return frozenset({"wound"} if "threading" in self.shown else {"wound", "threaded"})


@record
class HoursHeld:
    """What the hours hold of one tape, if it alone is on the loom: None where the loom's file tells no pace."""

    plan: Plan
    time: SessionPlan | None


@record
class EventPlan:
    """An event with every tape reckoned, in the order of the file; ``on_loom`` is the one that is woven there."""

    event: Event
    tapes: tuple[HoursHeld, ...]
    on_loom: HoursHeld

    @property
    def plans(self) -> tuple[Plan, ...]:
        return tuple(tape.plan for tape in self.tapes)
