"""Where a warp lies on a heddle that nobody has seen yet: counting from the mark asks only what stands at the mark.

A mark stands on a hole, on a slot, or between the two, and then either may lie left of it: four heddles, each wide
enough for any warp. Counting from the middle (common practice, no source) never asks how many spaces there are.
"""

from __future__ import annotations

from typing import Final

from cardmaker.model.loom import Heddles, Loom, Space
from cardmaker.model.pattern import MOST_ENDS
from cardmaker.model.plan import OtherLoom, Placement, Plan
from cardmaker.reckoning.amounts.allowances import USUAL_WASTE_MM

_TITLE: Final = "Any loom"
_STEMS: Final = ("hole at the mark", "slot at the mark", "hole left of the mark", "slot left of the mark")


def _heddle(stem: str, spaces: int, at_or_left: Space) -> Loom:
    """A heddle of so many spaces whose middle one, or the one left of its middle, is of a kind."""
    outer = at_or_left if (spaces + 1) // 2 % 2 else at_or_left.opposite
    like_outer, others = (spaces + 1) // 2, spaces // 2
    slots, holes = (like_outer, others) if outer is Space.SLOT else (others, like_outer)
    waste = max(USUAL_WASTE_MM.values())  # of whichever loom it will be: too long a warp is no fault
    return Loom(_TITLE, stem, Heddles.ONE, slots, holes, outer, shuttle_stated=False, waste_mm=waste)


def _heddles() -> tuple[Loom, ...]:
    spaces = 2 * MOST_ENDS + 4  # on either side room for the widest warp, moved over by a space
    widths = (spaces + 1, spaces + 1, spaces, spaces)
    kinds = (Space.HOLE, Space.SLOT) * 2
    return tuple(_heddle(*each) for each in zip(_STEMS, widths, kinds, strict=True))


ANY_LOOMS: Final = _heddles()


def on_any_heddle(plan: Plan) -> list[tuple[Loom, Placement]]:
    """Each heddle that a mark may make, with where the warp lies on it, as the plan's weaver sees it.

    ``plan`` is one that was made with ``ANY_LOOMS`` at hand. Whoever sees the heddle from its other side has the hole
    on the left where another has the slot, so that of these two the one with the hole left of the mark comes first.
    """
    every = [OtherLoom(plan.loom, plan.placement), *plan.other_looms]
    placed = [(other.loom, other.placement) for other in every if other.placement is not None]
    return sorted(placed, key=lambda each: (each[0].middle_space is None, kind_at_mark(each[0]) is Space.SLOT))


def kind_at_mark(loom: Loom) -> Space:
    """The kind of the marked space, or of the one left of the mark as its weaver sees it."""
    if loom.middle_space is not None:
        return loom.kind_of(loom.middle_space)
    left = loom.kind_of(loom.spaces // 2)
    return left.opposite if loom.sides_swapped else left


def spaces_needed(plan: Plan) -> int:
    """So many spaces hold the warp, whatever stands at the mark."""
    return max(_needed(loom, placement) for loom, placement in on_any_heddle(plan))


def _needed(loom: Loom, placement: Placement) -> int:
    """As many on either side of the middle as the farther end asks for."""
    middle = loom.spaces + 1  # in half spaces
    farthest = max(middle - 2 * placement.first_space, 2 * placement.last_space - middle)
    return farthest + 1
