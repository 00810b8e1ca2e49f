"""Take-up, picks and width from one geometry: how a warp-faced tape is built when nobody has measured it yet.

The warp bends over a straight weft. F. T. Peirce, Journal of the Textile Institute 28 (1937), T45 (from textile course
pages that quote it, not read whole) takes round, rigid threads; for a weft without crimp his equations close to
``sin θ = D/p`` and a crimp of ``θ·sin θ + cos θ − 1``, with D the sum of both diameters and p the pick spacing (own
derivation, checked by integration in the tests). Real threads flatten, so 0.6 to 1 of D counts (common practice, no
source). The width tells by how much: ends at 1.2 of their diameters to the inch, with half of them on the face, show
1.67 diameters wide and are 0.6 of one thick; a weft as good as round over such ends makes 0.8 of D.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import asin, ceil, cos, floor
from typing import TYPE_CHECKING, Final

from cardmaker.model.pattern import Pattern
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.amounts.yarn_thickness import Range, thickness_mm

if TYPE_CHECKING:
    from cardmaker.model.bench import Number

FLATTENED: Final[Range] = (Fraction(6, 10), Fraction(8, 10), Fraction(1))
"""Of both diameters, least, likely and most: common practice, no source; how the likely one follows is told above."""
TAKE_UP_OF_TAPES: Final[Range] = (Fraction(8, 100), Fraction(15, 100), Fraction(25, 100))
"""What is told of warp-faced tapes, least, likely and most: within it lie one weaver's measured band (18.9 %) and a
band loom's 63 in of warp for 43 in of band; common practice, no source, for its ends."""
_CENT: Final = 100  # by definition of a per cent: no source needed


def warp_faced_take_up(pick_spacing_mm: Number, diameters_mm: Number) -> float:
    """Take-up of the warp over a straight weft, as a share of the warp: ``C/(1 + C)`` with ``C = θ·sin θ + cos θ − 1``.

    ``diameters_mm`` is the sum D of warp and weft diameter. Valid for a spacing of one D (jammed, 36.3 %) or more;
    raises ValueError below.
    """
    if diameters_mm <= 0 or pick_spacing_mm < diameters_mm:
        raise ValueError("picks over a straight weft cannot stand closer than warp and weft diameter together")
    sine = float(diameters_mm / pick_spacing_mm)
    angle = asin(sine)
    crimp = angle * sine + cos(angle) - 1
    return crimp / (1 + crimp)


def usual_take_up(pattern: Pattern, end_yarns: Sequence[str], weft_yarn: str, picks_per_inch: Fraction) -> Range:
    """Least, likely and most take-up of a tape that nobody has measured: by its yarns and its picks.

    In whole per cent, the range rounded outwards, and within what is told of tapes (``TAKE_UP_OF_TAPES``), which is
    also the answer where nothing tells how thick a yarn is.
    """
    thickness = {name: thickness_mm(pattern.yarn(name)) for name in (*dict.fromkeys(end_yarns), weft_yarn)}
    sizes = [size for name in (*end_yarns, weft_yarn) if (size := thickness[name]) is not None]
    if len(sizes) <= len(end_yarns):
        return TAKE_UP_OF_TAPES
    across = sum(sizes[:-1], Fraction(0)) / len(end_yarns) + sizes[-1]
    spacing = MM_PER_INCH / picks_per_inch
    least, likely, most = (_CENT * _take_up(spacing, part * across) for part in FLATTENED)
    return _within(floor(least)), _within(round(likely)), _within(ceil(most))


def _take_up(spacing: Fraction, across: Fraction) -> float:
    """Threads that would overlap are squeezed until they are jammed."""
    return warp_faced_take_up(spacing, min(across, spacing))


def _within(per_cent: int) -> Fraction:
    least, _, most = TAKE_UP_OF_TAPES
    return min(max(Fraction(per_cent, _CENT), least), most)
