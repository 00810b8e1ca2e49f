"""Pick-up: what the hand does row by row, and the longest float."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from cardmaker.model.bench import PickedRow
from cardmaker.model.pattern import PickupRow
from cardmaker.model.plan import Plan
from cardmaker.wording import pickup_words, shed_words
from cardmaker.wording.phrases import listed, plural
from cardmaker.wording.shed_words import shed_name

if TYPE_CHECKING:
    pass


# pick-up

PICKUP: Final = "Pick-up"
PICKUP_HEADS: Final = ("row", "shed", "by hand")


def by_hand(lifted: Sequence[int], dropped: Sequence[int]) -> str:
    """What the hand does in one row; pattern ends are numbered from the left."""
    said = []
    if lifted:
        said.append(f"pick up {listed([str(end) for end in lifted])}")
    if dropped:
        said.append(f"push down {listed([str(end) for end in dropped])}")
    return "; ".join(said) or "nothing"


def pickup_ends(yarn: str, numbers: Sequence[int]) -> str:
    """Which ends of the warp the pattern ends are."""
    places = ", ".join(f"{pattern} is end {end}" for pattern, end in enumerate(numbers, start=1))
    return f"Pattern ends ({yarn}), from the left: {places}. Then again from row 1."


def longest_float(rows: int, sensible: int) -> str:
    more = "" if rows <= sensible else f", more than {sensible}: it will catch"
    return f"The longest float runs over {plural(rows, 'pick')}{more}."


PICKUP_IN_TERMINAL: Final = "Pick-up"


def pickup_lines(plan: Plan) -> list[str]:
    """Every row of the figure, plain ones too, with what the hand does."""
    found, asked = plan.pickup, plan.pattern.pickup
    if found is None or asked is None:
        return []
    numbers = {end: number for number, end in enumerate(found.pattern_ends, start=1)}
    places = listed([str(end) for end in found.pattern_ends])
    yarn = f"{asked.pattern_yarn} ends 1 to {len(numbers)}" if len(numbers) > 1 else f"the {asked.pattern_yarn} end"
    return [
        f"{yarn}: {'ends' if len(numbers) > 1 else 'end'} {places} of the warp.",
        *(f"{row.row:>2} {row.shed:<4} {_by_hand(row, numbers)}".rstrip() for row in found.rows),
    ]


def _by_hand(row: PickedRow, numbers: dict[int, int]) -> str:
    done = (("lift", row.lifted), ("drop", row.dropped))
    return ", ".join(f"{what} {listed([str(numbers[end]) for end in ends])}" for what, ends in done if ends)


# pick-up


def pickup_alt_text(plan: Plan, asked: Sequence[PickupRow], worked: Sequence[PickedRow]) -> str:
    """Row by row what the hand does in which shed, and what is then on top."""
    told = [
        f"Row {number}, {shed_name(plan.loom, row.shed == 'down').lower()}: by hand "
        f"{pickup_words.by_hand(row.lift, row.drop)}; on top {shed_words.raised_in_words(plan, done.raised)}."
        for number, (row, done) in enumerate(zip(asked, worked, strict=True), start=1)
    ]
    return f"The face of {plural(len(told), 'row')}, from the left. {' '.join(told)}"
