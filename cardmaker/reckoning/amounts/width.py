"""How wide the tape will be: measured, or reckoned as a range from how many ends lie in an inch.

In warp-faced tape the ends squeeze past each other, so a yarn of D diameters per inch lies at ``k * D`` ends per inch.
k from 0.85 over 1.20 to 1.55 spans six bands that four weavers measured (K = 0.90); that is no calibrated interval, so
the card shows the range and never one figure alone. The dents of the heddle do not set the width; drawing in does.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from typing import Final, Literal

from cardmaker.model.pattern import Pattern, Yarn
from cardmaker.model.plan import Width
from cardmaker.model.problems import Refusal
from cardmaker.model.records import record
from cardmaker.model.units import MM_PER_INCH, inches
from cardmaker.reckoning.amounts.diameters import diameters_per_inch
from cardmaker.reckoning.amounts.learning import Learned, latest

Basis = Literal["sample", "wraps", "count"]
Range = tuple[Fraction, Fraction, Fraction]
ENDS_PER_DIAMETER: Final[Range] = (Fraction(85, 100), Fraction(120, 100), Fraction(155, 100))
ENDS_PER_WRAP: Final[Range] = (Fraction(1), Fraction(3, 2), Fraction(22, 10))  # the above over 0.86 to 0.70
SAMPLE_RANGE: Final[Range] = (Fraction(85, 100), Fraction(1), Fraction(115, 100))  # common practice, no source
MEASURED_RANGE: Final = (Fraction(95, 100), Fraction(105, 100))  # of the width; common practice, no source
_WEAKEST_LAST: Final[tuple[Basis, ...]] = ("sample", "wraps", "count")


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
    if across := diameters_per_inch(yarn):
        return _range(across, ENDS_PER_DIAMETER, "count")
    raise Refusal(
        ("yarns", yarn.name),
        "Nothing tells how thick this yarn is, so the width cannot be reckoned.",
        "Give its count, yards_per_pound, metres_per_kg, wraps_per_inch or ends_per_inch.",
    )


def tape_width(pattern: Pattern, end_yarns: Sequence[str], learned: Learned | None = None) -> Width:
    """The finished width of ``end_yarns``: the pattern's own measured width, else by the latest record, else reckoned.

    Reckoned, the yarns' shares add up (ends / ends per inch of each), and the whole rests on the weakest of its yarns.
    """
    measured = _measured(pattern, len(end_yarns), learned)
    if measured:
        low, high = (measured * part for part in MEASURED_RANGE)
        return Width(low, measured, high, "measured", len(end_yarns) / inches(measured))
    shares = [(ends, ends_per_inch_range(pattern.yarn(name))) for name, ends in Counter(end_yarns).items()]
    likely = MM_PER_INCH * sum((ends / found.likely for ends, found in shares), Fraction(0))
    return Width(
        low_mm=MM_PER_INCH * sum((ends / found.high for ends, found in shares), Fraction(0)),
        likely_mm=likely,
        high_mm=MM_PER_INCH * sum((ends / found.low for ends, found in shares), Fraction(0)),
        basis=max((found.basis for _, found in shares), key=_WEAKEST_LAST.index),
        ends_per_inch=len(end_yarns) / inches(likely),
    )


def _range(figure: Fraction, parts: Range, basis: Basis) -> EndsPerInch:
    low, likely, high = parts
    return EndsPerInch(figure * low, figure * likely, figure * high, basis)


def _measured(pattern: Pattern, ends: int, learned: Learned | None) -> Fraction | None:
    """A width key is a measurement too, and the one that its writer put first."""
    if pattern.width_mm:
        return pattern.width_mm
    if learned and learned.ends_per_inch:
        return ends / learned.ends_per_inch * MM_PER_INCH
    return latest(pattern, lambda record: record.width_mm)
