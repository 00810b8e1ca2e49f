"""A tape in a few lines, where several stand on one page."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.plan import Plan
from cardmaker.wording import heddle_words, length_words, phrases, shed_words, view_words, walk_words
from cardmaker.wording.formatters import Units, duration

ANY_LOOM: Final = "A sheet says where end 1 goes on a loom: name one of yours, or leave --loom out."


def ends_and_width(plan: Plan, units: Units) -> str:
    """``31 ends, 16 mm wide``."""
    return f"{phrases.end_count(plan.ends)}, {length_words.wide(plan, units)}"


def warp_to_wind(plan: Plan, units: Units) -> str:
    """``Wind 2.74 m (3 yd), 31 times across``; of balls and bundles how many of them."""
    winding = plan.winding
    how = {
        "carry": f"{phrases.plural(winding.balls, 'ball')}, {walk_words.times_across(winding.trips)}",
        "bundle": f"{phrases.plural(winding.bundles, 'bundle')}, {walk_words.times_across(winding.trips)}",
    }.get(winding.method, walk_words.times_across(winding.trips))
    return f"{length_words.wind(plan.lengths, units)}, {how}"


def loom_and_first_space(plan: Plan) -> tuple[str, str]:
    """On which loom, and where its end 1 goes: ``Middle box``, ``end 1: L15, a slot, as you sit``."""
    return plan.loom.title, heddle_words.first_line(plan)


def sheds_in_line(plan: Plan) -> str:
    """Which shed comes next on which side of the weft: ``Weft at right: DOWN; at left: UP.``"""
    first, second = shed_words.sheds_in_turn(plan)
    told = f"{phrases.capitalised(shed_words.weft_side(first.hangs, plan.loom))}: {first.opens.in_capitals}"
    return f"{told}; at {phrases.weavers_side(second.hangs, plan.loom)}: {second.opens.in_capitals}."


def begin_sentence(plan: Plan) -> str:
    """How the first pick begins, as a sentence."""
    return f"{phrases.capitalised(shed_words.begin_words(plan, brief=True))}."


def how_long(plan: Plan) -> str:
    """The time that all steps take at her pace; nothing where the loom's file tells no pace."""
    if plan.pace is None:
        return ""
    time = duration(plan.pace.work.needed_minutes).replace(" ", phrases.NO_BREAK)
    return f"about{phrases.NO_BREAK}{time} in all"


TICK_YOUR_NAME: Final = "Tick your name:"


def chosen_by(names: Sequence[str]) -> str:
    """Who has chosen a tape already."""
    return f"Chosen by {phrases.listed(names)}."


def head_of_sheet(layout_title: str, title: str) -> str:
    """What stands at the head of the page: what it was called, or what the sheet is for."""
    return title or layout_title


def seen_by(plans: Sequence[Plan]) -> str:
    """From where the sides are named in all cells, and for which hand, where that is not the usual."""
    views = dict.fromkeys(view_words.view_beside_heading(plan.loom) for plan in plans)
    hand = ["for a left hand"] if plans[0].view.left_hand else []
    return ", ".join([*hand, *views])


def beside_head(aside: str, seen: str) -> str:
    """What stands at the right of the head: what was asked for, and from where sides are named."""
    return " · ".join(part for part in (aside, seen) if part)


def without(titles: Sequence[str], facts: str) -> str:
    """Which cells lack what."""
    return f"{facts} ({', '.join(titles)})"
