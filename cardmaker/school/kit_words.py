"""What a kit holds, with its counts, as it is after what was done beforehand. Common practice, no source."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from cardmaker.model.plan import Plan
from cardmaker.model.school_class import Done
from cardmaker.wording.phrases import capitalised, end_count, listed, plural

IN_EACH: Final = "In each kit"
BRIGHT: Final = "a bright thread beside end 1"


def kit_holds(plan: Plan, done: Collection[Done], *, brief: bool = False) -> str:
    """A sentence: ``The warp on its stick, 31 ends, 2 keepers banded in its cross, …``; ``brief`` on a tag, which has
    told ends and yarns."""
    things = _in_brief(plan, done) if brief else _things(plan, done)
    return f"{capitalised(', '.join(things) if brief else listed(things))}.{_sticks(plan, done, brief=brief)}"


def _in_brief(plan: Plan, done: Collection[Done]) -> list[str]:
    if "threaded" in done:
        return ["loom threaded, warp on its beam", f"{plan.weft.yarn} weft"]
    keepers = plural(2 * _crosses(plan), "keeper")
    if "wound" in done:
        return ["warp on its stick", keepers, "bright thread by end 1", f"{plan.weft.yarn} weft"]
    return ["the yarn", keepers, plural(2 * _crosses(plan), "band"), "stick", "bright thread"]


def _crosses(plan: Plan) -> int:
    return plan.winding.bundles if plan.winding.method == "bundle" else 1


def _things(plan: Plan, done: Collection[Done]) -> list[str]:
    weft = f"the {plan.weft.yarn} weft"
    if "threaded" in done:
        return [f"the loom, threaded with {end_count(plan.ends)}, the warp on its beam", weft]
    crosses = _crosses(plan)
    keepers = plural(2 * crosses, "keeper")
    if "wound" in done:
        of_cross = "its cross" if crosses == 1 else f"the crosses of its {crosses} bundles"
        return [f"the warp on its stick, {end_count(plan.ends)}", f"{keepers} banded in {of_cross}", BRIGHT, weft]
    balls = f"{listed([colour.yarn for colour in plan.colours])} yarn for warp and weft"
    return [balls, keepers, plural(2 * crosses, "band"), "a parking stick", "a bright thread"]


def _sticks(plan: Plan, done: Collection[Done], *, brief: bool) -> str:
    """The packing that lies at the loom, or in the roll already."""
    if plan.beam is None or not plan.beam.sticks:
        return ""
    sticks = plural(plan.beam.sticks, "packing stick")
    if brief:
        return f" In the roll: {plan.beam.sticks} sticks." if "threaded" in done else f" At its loom: {sticks}."
    return f" {capitalised(sticks)} {'in the roll' if 'threaded' in done else 'at its loom'}."
