"""How thick a yarn is across, and how many of its ends lie in an inch of tape.

``diameters per inch = K * sqrt(yards per pound)``. K says how firmly the yarn is packed: 0.90 is Ashenhurst's for firm
worsted and cotton (his 32's cotton is 1/148 in, told in Taylor 1909 p.334), 0.95 is Taylor's own (pp.334-337), 0.84 a
soft woollen's. Good for round spun yarns of 15 to 600 tex; not for flat, looped or hairy ones.

In warp-faced tape the ends squeeze past each other, so a yarn of D diameters per inch lies at ``k * D`` ends per inch.
k from 0.85 over 1.20 to 1.55 spans six bands that four weavers measured (K = 0.90); that is no calibrated interval, so
the card shows the range and never one figure alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import isqrt
from typing import Final, Literal

from cardmaker.model.pattern import Pattern, Yarn
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import record
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.amounts.yarn_counts import yards_per_pound

Basis = Literal["sample", "wraps", "count"]
Range = tuple[Fraction, Fraction, Fraction]
# About bands that hand weavers measured (the docstring above): no source gives a range.
ENDS_PER_DIAMETER: Final[Range] = (Fraction(85, 100), Fraction(120, 100), Fraction(155, 100))
ENDS_PER_WRAP: Final[Range] = (Fraction(1), Fraction(3, 2), Fraction(22, 10))  # the above over 0.86 (geometry) to 0.70
SAMPLE_RANGE: Final[Range] = (Fraction(85, 100), Fraction(1), Fraction(115, 100))  # common practice, no source
FIRM_YARN: Final = Fraction(90, 100)  # K: Ashenhurst's 32's cotton of 1/148 in, as Taylor 1909 p.334 tells it
_ROOT_PLACES: Final = 10**12  # ours
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
    per_inch = diameters_per_inch(yarn, k)
    return None if per_inch is None else MM_PER_INCH / per_inch


@record
class EndsPerInch:
    """Ends of one yarn in an inch of warp-faced tape, and what that rests on."""

    low: Fraction
    likely: Fraction
    high: Fraction
    basis: Basis


def ends_per_inch_range(yarn: Yarn) -> EndsPerInch:
    """From a finished tape of this yarn, else from wraps round a ruler, else from its weight, in that order of trust.

    Raises Refusal when nothing tells how thick the yarn is.
    """
    if yarn.ends_per_inch:
        return _range(yarn.ends_per_inch, SAMPLE_RANGE, "sample")
    if yarn.wraps_per_inch:
        return _range(yarn.wraps_per_inch, ENDS_PER_WRAP, "wraps")
    if per_inch := diameters_per_inch(yarn):
        return _range(per_inch, ENDS_PER_DIAMETER, "count")
    raise Refusal(
        ("yarns", yarn.name),
        "Nothing tells how thick this yarn is, so the width cannot be reckoned.",
        "Give its count, yards_per_pound, metres_per_kg, wraps_per_inch or ends_per_inch.",
    )


def _range(figure: Fraction, parts: Range, basis: Basis) -> EndsPerInch:
    low, likely, high = parts
    return EndsPerInch(figure * low, figure * likely, figure * high, basis)


def yarn_diameters(pattern: Pattern, yarns: Sequence[str]) -> dict[str, Fraction] | None:
    """How thick each yarn of the warp is; None when that is not known of all of them."""
    names = dict.fromkeys(yarns)
    known = {name: diameter for name in names if (diameter := thickness_mm(pattern.yarn(name))) is not None}
    return known if len(known) == len(names) else None


def thickness_mm(yarn: Yarn) -> Fraction | None:
    """The diameter by weight, else from how the yarn lay round a ruler or in a tape.

    The way back from the width: there a yarn of D diameters an inch is taken to lie at 1.2 D ends an inch.
    """
    if diameter := diameter_mm(yarn):
        return diameter
    try:
        return MM_PER_INCH * ENDS_PER_DIAMETER[1] / ends_per_inch_range(yarn).likely
    except Refusal:
        return None
