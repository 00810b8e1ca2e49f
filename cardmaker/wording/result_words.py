"""What came off the loom: the blanks for it, and which figures an earlier tape gave."""

from __future__ import annotations

from typing import Final

from cardmaker.model.plan import Plan
from cardmaker.wording.phrases import listed


def learned_from_tapes(plan: Plan) -> str:
    """Which figures come from what was measured, and when; empty when none does."""
    figures = learned_figure_names(plan)
    if not figures:
        return ""
    dates = [date for date in plan.learned_from if date]
    of = f"From your {'tapes' if len(dates) > 1 else 'tape'} of {listed(dates)}" if dates else "From an earlier tape"
    return f"{of}: {listed(figures)}."


def learned_figure_names(plan: Plan) -> list[str]:
    """The figures of this plan that a measured record gave."""
    came = (
        ("take-up", plan.lengths.take_up_basis == "measured"),
        ("waste", plan.lengths.waste_basis == "measured"),
        ("width", plan.width.basis == "measured" and plan.pattern.width_mm is None),
        ("picks per inch", plan.weft.basis == "measured"),
    )
    return [name for name, is_measured in came if is_measured]


RESULTS: Final = "What came off the loom"
RESULT_BLANKS: Final = ("date", "loom", "warp", "tape", "width", "picks per inch", "leftover", "note")
RESULTS_ALT_TEXT: Final = (
    f"Blank lines to write on after weaving, named like a measured record in the file: {listed(RESULT_BLANKS)}."
)
