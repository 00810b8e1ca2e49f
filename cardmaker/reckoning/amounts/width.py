"""How wide the tape will be: measured, or reckoned as a range from how many ends of each yarn lie in an inch.

The dents of the heddle do not set the width; drawing in does.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import accumulate
from typing import Final

from cardmaker.model.pattern import LEAST_ENDS_PER_INCH, MOST_ENDS_PER_INCH, Pattern
from cardmaker.model.plan import Width
from cardmaker.model.problems import KeyPath, Refusal
from cardmaker.model.units import MM_PER_INCH, inches
from cardmaker.reckoning.amounts.measured_tapes import Learned, latest
from cardmaker.reckoning.amounts.yarn_thickness import Basis, ends_per_inch_range
from cardmaker.reckoning.stripes.stripe_counts import end_yarns

MEASURED_RANGE: Final = (Fraction(95, 100), Fraction(105, 100))  # of the width; common practice, no source
_WEAKEST_LAST: Final[tuple[Basis, ...]] = ("sample", "wraps", "count")


def tape_width(pattern: Pattern, end_yarns: Sequence[str], learned: Learned | None = None) -> Width:
    """The finished width of ``end_yarns``: as the latest record has it, else the pattern's own width, else reckoned.

    Reckoned, the yarns' shares add up (ends / ends per inch of each), and the whole rests on the weakest of its yarns.
    """
    measured = _measured(pattern, len(end_yarns), learned)
    if measured:
        low, high = (measured * part for part in MEASURED_RANGE)
        return Width(low, measured, high, "measured", len(end_yarns) / inches(measured))
    shares = [(ends, ends_per_inch_range(pattern.yarn(name))) for name, ends in Counter(end_yarns).items()]
    likely = MM_PER_INCH * sum((ends / per_inch.likely for ends, per_inch in shares), Fraction(0))
    return Width(
        low_mm=MM_PER_INCH * sum((ends / per_inch.high for ends, per_inch in shares), Fraction(0)),
        likely_mm=likely,
        high_mm=MM_PER_INCH * sum((ends / per_inch.low for ends, per_inch in shares), Fraction(0)),
        basis=max((per_inch.basis for _, per_inch in shares), key=_WEAKEST_LAST.index),
        ends_per_inch=len(end_yarns) / inches(likely),
    )


def end_edges(pattern: Pattern, end_yarns: Sequence[str]) -> tuple[float, ...]:
    """Where each end of the tape begins, and at last where the tape ends, in parts of its width from 0 to 1: the shares
    that add up to the reckoned width."""
    shares = relative_thickness(pattern, end_yarns)
    if len(set(shares.values())) < 2:
        return tuple(number / len(end_yarns) for number in range(len(end_yarns) + 1))
    sums = tuple(accumulate((shares[yarn] for yarn in end_yarns), initial=0.0))
    return tuple(each / sums[-1] for each in sums)


def relative_thickness(pattern: Pattern, end_yarns: Sequence[str]) -> dict[str, float]:
    """How thick an end of each yarn lies in the tape, in times of the thinnest of them.

    It is wider than its neighbours by as much as fewer of it lie in an inch. All are alike where nothing tells how
    thick a yarn is.
    """
    try:
        shares = {name: 1 / float(ends_per_inch_range(pattern.yarn(name)).likely) for name in dict.fromkeys(end_yarns)}
    except Refusal:
        return dict.fromkeys(end_yarns, 1.0)
    thinnest = min(shares.values())
    return {name: share / thinnest for name, share in shares.items()}


def width_refusals(pattern: Pattern) -> Iterator[Refusal]:
    """Every width of the file that the ends of its stripes cannot have, each with its key. Raises what stripes do."""
    ends = len(end_yarns(pattern))
    widths: list[tuple[KeyPath, Fraction | None]] = [(("width",), pattern.width_mm)]
    widths += [(("measured", index, "width"), record.width_mm) for index, record in enumerate(pattern.measured)]
    for path, width in widths:
        per_inch = ends / inches(width) if width else Fraction(LEAST_ENDS_PER_INCH)
        if LEAST_ENDS_PER_INCH <= per_inch <= MOST_ENDS_PER_INCH:
            continue
        few = per_inch < LEAST_ENDS_PER_INCH
        bound = f"{LEAST_ENDS_PER_INCH} is the least" if few else f"{MOST_ENDS_PER_INCH} is the most"
        message = f"{ends} ends across {float(width or 0):.4g} mm are {float(per_inch):.3g} to the inch; {bound}."
        yield Refusal(path, message, "Check the width and its unit, and the stripes.")


def _measured(pattern: Pattern, ends: int, learned: Learned | None) -> Fraction | None:
    """What came off the loom comes before a width that is stated, as with picks and take-up."""
    if learned and learned.ends_per_inch:
        return ends / learned.ends_per_inch * MM_PER_INCH
    return latest(pattern, lambda record: record.width_mm) or pattern.width_mm
