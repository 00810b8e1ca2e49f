"""What a warp loses on its way to a finished tape: take-up, shrinkage, waste and fringes.

Two percentages share one name in the trade. Take-up here is of the *warp*, T = (l - p)/l; the old books add a per cent
of the *cloth*, C = (l - p)/p. They are never mixed. Shrinkage is of the unwashed tape.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import Final, Literal

from cardmaker.model.loom import Heddles, Loom
from cardmaker.model.pattern import Fibre, Pattern
from cardmaker.reckoning.stripes.stripe_counts import end_yarns

USUAL_TAKE_UP: Final = Fraction(15, 100)
"""For warp-faced tape, within 8 to 25 %: Peirce 1937's geometry with a straight weft gives 18.8 % at a pick spacing of
1.5 diameters and 11.3 % at 2; one weaver's measured band 18.9 %."""
USUAL_SHRINKAGE: Final[dict[Fibre, Fraction]] = {
    "linen": Fraction(5, 100), "cotton": Fraction(8, 100), "cottolin": Fraction(6, 100), "wool": Fraction(10, 100),
    "silk": Fraction(3, 100), "hemp": Fraction(5, 100), "other": Fraction(5, 100),
}  # fmt: skip
"""In length, washed warm: common practice, no source."""
USUAL_WASTE_MM: Final = {Heddles.ONE: Fraction(450), Heddles.TWO: Fraction(600)}  # common practice, no source


def shrinkage(pattern: Pattern) -> tuple[Fraction, Literal["pattern", "default"]]:
    """What washing takes of the unwashed tape: the pattern's own figure, else the usual one of its commonest fibre."""
    if pattern.length.shrinkage is not None:
        return pattern.length.shrinkage, "pattern"
    return USUAL_SHRINKAGE[pattern.yarn(commonest_yarn(pattern)).fibre], "default"


def waste(loom: Loom) -> tuple[Fraction, Literal["loom", "default"]]:
    """What is tied up and cannot be woven: the loom's own figure, else the usual one for its kind."""
    if loom.waste_mm is not None:
        return loom.waste_mm, "loom"
    return USUAL_WASTE_MM[loom.heddles], "default"


def fringes_mm(pattern: Pattern) -> Fraction:
    """Warp that is left unwoven on purpose: two fringes on every piece."""
    return sum((2 * piece.count * piece.fringe_mm for piece in pattern.length.pieces), Fraction(0))


def commonest_yarn(pattern: Pattern) -> str:
    """The yarn of the most ends; of several, the one that comes first from the left. Raises Refusal as stripes do."""
    return Counter(end_yarns(pattern)).most_common(1)[0][0]
