"""What a warp loses on its way to a finished tape: shrinkage, and waste in front and at the back.

Two percentages share one name in the trade. Take-up here is of the *warp*, T = (l - p)/l; the old books add a per cent
of the *cloth*, C = (l - p)/p. They are never mixed. Shrinkage is of the unwashed tape.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import Final, Literal

from cardmaker.model.loom import Heddles, Loom
from cardmaker.model.pattern import Fibre, Pattern
from cardmaker.reckoning.amounts.yarn_thickness import Range
from cardmaker.reckoning.stripes.stripe_counts import end_yarns


def _per_cent(least: int, likely: int, most: int) -> Range:
    return Fraction(least, 100), Fraction(likely, 100), Fraction(most, 100)


USUAL_SHRINKAGE: Final[dict[Fibre, Range]] = {
    "linen": _per_cent(3, 5, 10), "cotton": _per_cent(5, 8, 12), "cottolin": _per_cent(4, 6, 8),
    "wool": _per_cent(5, 10, 15), "silk": _per_cent(2, 3, 5), "hemp": _per_cent(3, 5, 10),
    "other": _per_cent(2, 5, 15),
}  # fmt: skip
"""In length, washed warm, least, likely and most: common practice, no source."""
USUAL_WASTE_MM: Final = {Heddles.ONE: Fraction(450), Heddles.TWO: Fraction(600)}  # common practice, no source
FRONT_SHARE: Final = Fraction(1, 3)
"""Of a waste given as one figure, what lies in front of the first pick; the rest reaches from the last pick through the
heddle to the knot on the beam. Common practice, no source."""


def shrinkage(pattern: Pattern) -> tuple[Range, Literal["pattern", "default"]]:
    """What washing takes of the unwashed tape: the pattern's own figure, else the usual range of its main fibre."""
    if pattern.length.shrinkage is not None:
        return (pattern.length.shrinkage,) * 3, "pattern"
    return USUAL_SHRINKAGE[commonest_fibre(pattern)], "default"


def waste(loom: Loom) -> tuple[Fraction, Literal["measured", "loom", "default"]]:
    """What is tied up and cannot be woven: measured on an earlier warp, else as the loom's file has it, else as is
    usual for its kind."""
    if loom.measured_waste is not None:
        return loom.measured_waste.length_mm, "measured"
    if loom.waste_mm is not None:
        return loom.waste_mm, "loom"
    return USUAL_WASTE_MM[loom.heddles], "default"


def front_share(loom: Loom) -> Fraction:
    """The share of the waste that lies in front: as the loom's file has it in two parts, else ``FRONT_SHARE``."""
    if loom.waste_mm and loom.waste_front_mm is not None:
        return loom.waste_front_mm / loom.waste_mm
    return FRONT_SHARE


def commonest_fibre(pattern: Pattern) -> Fibre:
    """The fibre of the most ends; of several, the one that comes first from the left. Raises Refusal as stripes do."""
    ends = Counter(pattern.yarn(name).fibre for name in end_yarns(pattern))
    return max(ends, key=ends.__getitem__)
