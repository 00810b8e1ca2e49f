"""How thick a yarn is across, from how long a pound of it is.

``diameters per inch = K * sqrt(yards per pound)``. K says how firmly the yarn is packed: 0.90 is Ashenhurst's for firm
worsted and cotton (his 32's cotton is 1/148 in, told in Taylor 1909 p.334), 0.95 is Taylor's own (pp.334-337), 0.84 a
soft woollen's. Good for round spun yarns of 15 to 600 tex; not for flat, looped or hairy ones.
"""

from __future__ import annotations

from fractions import Fraction
from math import isqrt
from typing import Final

from cardmaker.model.pattern import Yarn
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.amounts.yarn_counts import yards_per_pound

FIRM_YARN: Final = Fraction(90, 100)
_ROOT_PLACES: Final = 10**12
KNOT: Final = 2  # a small join is about two diameters across: common practice, no source


def square_root(number: Fraction) -> Fraction:
    """The root correctly rounded to twelve decimals, as a fraction: the one place where exactness has to end.

    The half is found in whole numbers: ``floor(root + 1/2) = (floor(2 root) + 1) // 2``. Raises ValueError below 0.
    """
    twice = isqrt((4 * number.numerator * _ROOT_PLACES**2) // number.denominator)
    return Fraction((twice + 1) // 2, _ROOT_PLACES)


def diameters_per_inch(yarn: Yarn, k: Fraction = FIRM_YARN) -> Fraction | None:
    """How many threads of this yarn, round and just touching, lie in an inch; None when nothing tells its weight.

    A wrapped ruler shows fewer (0.70 to 0.86 of these: two plies touch at their widest), so this is no wraps per inch.
    """
    yards = yards_per_pound(yarn)
    return None if yards is None else k * square_root(yards)


def diameter_mm(yarn: Yarn, k: Fraction = FIRM_YARN) -> Fraction | None:
    """The yarn's diameter, or None when nothing tells its weight. With K from 0.84 to 0.96 it moves by +7 to -6 %."""
    across = diameters_per_inch(yarn, k)
    return None if across is None else MM_PER_INCH / across
