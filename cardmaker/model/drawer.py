"""What lies in the drawer, and what a tape could be made of it."""

from __future__ import annotations

from fractions import Fraction

from cardmaker.model.pattern import Yarn
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import record


@record
class YarnAtHand:
    """So much of a yarn; ``told`` is what it is called where it is told of, and ``yarn`` is named by its colour alone.

    ``stem`` is that of its file, if it has one.
    """

    told: str
    yarn: Yarn
    length_mm: Fraction
    grams: Fraction
    stem: str = ""


@record
class YarnMatch:
    """A yarn of the pattern, and the one at hand that it can be; None where none is like it."""

    yarn: Yarn
    at_hand: YarnAtHand | None


@record
class YarnToBuy:
    """What one warp lacks of a yarn; ``grams`` is None when nothing tells its weight."""

    yarn: Yarn
    length_mm: Fraction
    grams: Fraction | None


@record
class DrawerPlan:
    """What a tape takes of what is at hand.

    ``longest`` is the plan of the longest warp, None where not even the shortest can be wound; ``is_most`` where a
    longer one is none although there is yarn. ``kits`` is how many warps as long as the pattern asks, ``to_buy`` what
    lacks for the first of them.
    """

    matches: tuple[YarnMatch, ...]
    longest: Plan | None
    kits: int
    to_buy: tuple[YarnToBuy, ...]
    is_most: bool = False

    @property
    def is_like_some(self) -> bool:
        return any(match.at_hand for match in self.matches)
