"""Looms: their spaces, their mark, and how the pattern sits on others."""

from __future__ import annotations

from typing import Final

from cardmaker.model.loom import Heddles, Loom, Mark
from cardmaker.model.plan import OtherLoom, Plan
from cardmaker.reckoning.threading.placement import space_label
from cardmaker.wording.heddle_words import empty_in
from cardmaker.wording.phrases import a_space, plural

LOOMS: Final = "On your other looms"


def heddle_spaces(loom: Loom, *, brief: bool = False) -> str:
    if loom.heddles is Heddles.TWO and brief:
        return f"2 × {loom.spaces} spaces"
    spaces = f"{plural(loom.slots, 'slot')} and {plural(loom.holes, 'hole')}"
    return f"two heddles, each of {spaces}" if loom.heddles is Heddles.TWO else spaces


def marked_middle(loom: Loom) -> str:
    """What this weaver says on the mark, or where the mark stands."""
    if loom.middle_space is None:
        return "between two spaces"
    return f"{a_space(loom.kind_of(loom.middle_space))}, counted as {'one' if loom.mark is Mark.ONE else 'zero'}"


def marks_of_files(plan: Plan) -> str:
    """What the files of the loom and the yarns are marked as, by their names; nothing where the pattern's own mark says
    the same."""
    loom, own = plan.loom, plan.pattern.marked_as
    marks = [(loom.title, loom.marked_as)]
    marks += [(yarn.shelf.title, yarn.shelf.marked_as) for yarn in plan.pattern.yarns if yarn.shelf]
    return "; ".join(dict.fromkeys(f"{title}: {mark}" for title, mark in marks if mark not in ("", own)))


def on_other_loom(other_loom: OtherLoom) -> str:
    """How the pattern sits on another loom, or why it does not."""
    placement = other_loom.placement
    if placement is None:
        return f"{other_loom.why_not}."
    first, last = (space_label(space, other_loom.loom) for space in (placement.first_space, placement.last_space))
    empty = empty_in(placement, other_loom.loom)
    front = "front " if placement.back else ""
    return f"{front}{first}, {a_space(placement.first_kind)}, to {last}; {empty}."
