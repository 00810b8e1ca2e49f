"""Pick-up: what the hand does row by row, and the longest float."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from cardmaker.wording.phrases import NO_BREAK, listed, plural
from cardmaker.wording.shed_words import raised_in_words, shed_name, shed_name_in_words

if TYPE_CHECKING:
    from cardmaker.model.bench import PickedRow, PickupPlan
    from cardmaker.model.loom import Loom
    from cardmaker.model.pattern import PickupRow
    from cardmaker.model.plan import Plan

PICKUP: Final = "Pick-up"
START_HERE: Final = "Start here, go up:"
SHED_FIRST: Final = "open the shed, then by hand."
ON_PICKUP_CARD: Final = "The figure is picked up by hand: see the pick-up card."
SEE_PICKUP_CARD: Final = "Figure: see the pick-up card."
PICKUP_CARD_IN_BRIEF: Final = "Figure: pick-up card."
NO_FIGURE: Final = "nothing is picked up by hand in it."
USE_HANDOUT: Final = "Use another card: the handout has all of it."
PICKUP_HEADS: Final = ("row", "shed", "by hand")


def then_again(rows: int) -> str:
    """What follows the last row."""
    return f"after row {rows}: row 1 again"


def row_shed(row: PickupRow, loom: Loom) -> str:
    return shed_name(loom, row.shed == "down")


def pattern_end(number: int) -> str:
    """``P2``: the second pattern end, whichever end of the warp that is."""
    return f"P{number}"


def by_hand(row: PickupRow) -> str:
    """What the hand does in one row, in the words of the file; pattern ends are numbered from the left, by names that
    no end of the warp has.

    *Lift* and *drop* are what weavers of such bands say (from memory).
    """
    done = (("lift", row.lift), ("drop", row.drop))
    return "; ".join(f"{what} {listed([pattern_end(end) for end in ends])}" for what, ends in done if ends) or "nothing"


def pickup_ends(yarn: str, numbers: Sequence[int]) -> str:
    """Which ends of the warp the pattern ends are: by their yarn, as one sees them, and by their numbers."""
    places = ", ".join(
        f"{pattern_end(pattern)}{NO_BREAK}is{NO_BREAK}end{NO_BREAK}{end}"
        for pattern, end in enumerate(numbers[1:], start=2)
    )
    first = f"{pattern_end(1)} is the first {yarn} from the left as you sit, end{NO_BREAK}{numbers[0]}"
    return f"{first}{f'; {places}' if places else ''}."


def longest_float(pickup: PickupPlan) -> str:
    rows = max((each.rows for each in pickup.floats if each.side == "face"), default=1)
    more = "" if rows <= pickup.longest_sensible else f", more than {pickup.longest_sensible}: it will catch"
    return f"The longest float of a pattern end runs over {plural(rows, 'pick')}{more}."


def pickup_alt_text(plan: Plan, rows: Sequence[PickupRow], worked: Sequence[PickedRow]) -> str:
    """Row by row what the hand does in which shed, and what is then on top."""
    lines = [
        f"Row {number}, {shed_name_in_words(plan.loom, row.shed == 'down')}: by hand {by_hand(row)}; "
        f"on top {raised_in_words(plan, done.raised)}."
        for number, (row, done) in enumerate(zip(rows, worked, strict=True), start=1)
    ]
    return f"The face of {plural(len(lines), 'row')}, row 1 at the bottom, from the left as you sit. {' '.join(lines)}"
