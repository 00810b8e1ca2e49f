"""Threading on a loom that nobody knows yet: what holds on every heddle, by what stands at its mark."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.loom import Loom, Space
from cardmaker.model.plan import Placement, Plan
from cardmaker.reckoning.threading.any_heddle import kind_at_mark, on_any_heddle, spaces_needed
from cardmaker.reckoning.weaving.sheds import raised_runs
from cardmaker.wording.heddle_words import counted_number
from cardmaker.wording.phrases import a_space, plural, weavers_side
from cardmaker.wording.shed_words import AS_IN_PICTURE, shed_colours

ODD, EVEN = "1, 3, 5 …", "2, 4, 6 …"

LOOK: Final = "Look what your heddle’s mark stands on, and take that line."
COUNTED: Final = "Count holes and slots alike; the mark is 0 (if you say 1 on it, count one more)."
TWO_HEDDLES: Final = (
    "Two heddles: count so on the front one; each end goes through a hole of one and a slot of the other."
)
MARK, FIRST, LAST, ON_TOP = "mark on", "end 1", "last end", "DOWN"
ON_TOP_ALT: Final = "warp down shows ends"
DOWN_AND_UP: Final = "Warp DOWN shows the ends in your line, UP the others."
LAST_AS_TOLD: Final = "last end as in your line"
NOT_IN_A_CLASS: Final = (
    "a class plans every loom. Write its spaces, as in {slots: 12, holes: 11}, or make this card apart: cardmaker card "
    "PATTERN --loom any"
)
NOT_AT_AN_EVENT: Final = "an event is woven on one loom. Name it, as in middle-box."
NOT_IN_A_PLAN: Final = "A plan is of one loom. What holds on every loom is a card: cardmaker card {pattern} --loom any"


def for_one_loom(title: str) -> str:
    """Why a layout does not go with a loom that nobody knows."""
    return f"{title} is for one loom. What holds on every loom is on the card any-loom: leave --layout out."


def for_any_loom(title: str) -> str:
    """Why a loom does not go with the layout for all of them."""
    return f"{title} is for a loom that nobody knows: leave --loom out, or name another layout."


def mark_named(loom: Loom) -> str:
    """What the mark stands on: ``a slot``; between two spaces, which lies left of it: ``between, hole left``."""
    kind = kind_at_mark(loom)
    return a_space(kind) if loom.middle_space is not None else f"between, {kind} left"


def first_on_line(loom: Loom, placement: Placement) -> str:
    """Where end 1 goes: ``15 left, slot``."""
    return _counted(loom, placement.first_space, placement.first_kind)


def last_on_line(loom: Loom, placement: Placement) -> str:
    """The same of the last end."""
    return _counted(loom, placement.last_space, placement.last_kind)


def _counted(loom: Loom, space: int, kind: Space) -> str:
    if space == loom.middle_space:
        return f"at the mark, {kind}"
    side = "right" if space > (loom.spaces + 1) / 2 else "left"
    return f"{counted_number(space, loom)} {weavers_side(side, loom)}, {kind}"


def lines(plan: Plan) -> list[tuple[str, str, str, str]]:
    """A line for each heddle: what its mark stands on, where end 1 and the last end go, which ends the shed down
    shows."""
    return [
        (mark_named(loom), first_on_line(loom, placed), last_on_line(loom, placed), _in_holes(placed))
        for loom, placed in on_any_heddle(plan)
    ]


def _in_holes(placement: Placement) -> str:
    """The ends that stay on top while the warp is pressed down."""
    if placement.ends == 1:
        return "the end" if placement.first_kind is Space.HOLE else "none"
    return ODD if placement.first_kind is Space.HOLE else EVEN


def how_wide(plan: Plan) -> str:
    """Which heddles hold the warp, whatever stands at their marks."""
    return f"Any heddle of {plural(spaces_needed(plan), 'space')} holds it."


def spaces_filled(plan: Plan) -> str:
    """What to count when all is threaded."""
    return f"{plural(plan.ends, 'space')}, none skipped"


def shown(plan: Plan) -> list[tuple[str, str]]:
    """What shows while the odd ends are on top, and while the even ones are: ``ends 1, 3, 5 …``, with the colours."""
    odd, even = (range(first, plan.ends + 1, 2) for first in (1, 2))
    shown = [(ODD, odd), (EVEN, even)]
    return [(f"ends {which}:", f"{_colours(ends, plan)}.") for which, ends in shown if ends]


def _colours(ends: Sequence[int], plan: Plan) -> str:
    """Edge to edge; where they change too often for a line, so many of each."""
    return shed_colours(raised_runs(ends, plan.end_yarns), plan).replace(AS_IN_PICTURE, "")
