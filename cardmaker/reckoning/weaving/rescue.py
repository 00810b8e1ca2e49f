"""Numbers for when something has gone wrong: a broken end, a skipped space, a piece to put in.

Counting needs no source; the foot of spare yarn on a replacement is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from cardmaker.model.bench import EndPlace, Replacement, Rescue, Rethreading
from cardmaker.model.loom import Side
from cardmaker.model.plan import Placement
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.on_loom.bench_figures import Warp

SPARE_MM: Final = 12 * MM_PER_INCH  # to pin and to weight a new end: common practice, no source
# Of the tape: as closely as anybody guesses it (ours).
PROGRESS: Final = (Fraction(0), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4))


def end_place(end_number: int, end_yarns: Sequence[str], placement: Placement) -> EndPlace:
    """Yarn, hole or slot, and count from the nearer edge (the edge end is 1; the middle end counts from the left).

    Raises ValueError for an end that the warp does not have.
    """
    _own(end_number, len(end_yarns))
    from_right = len(end_yarns) + 1 - end_number
    nearer = Side.LEFT if end_number <= from_right else Side.RIGHT
    return EndPlace(
        end_number,
        end_yarns[end_number - 1],
        placement.kinds[end_number - 1],
        placement.space_of(end_number),
        nearer,
        min(end_number, from_right),
    )


def end_places(end_yarns: Sequence[str], placement: Placement) -> tuple[EndPlace, ...]:
    """Every end, left to right: what to look up when one breaks."""
    return tuple(end_place(number, end_yarns, placement) for number in range(1, len(end_yarns) + 1))


def rethreading(end_number: int, ends: int) -> Rethreading:
    """What to rethread when a space was skipped just before ``end_number``, threading from the left.

    This end and all after it move one space back, however many they are: so the warp comes to lie where it was
    counted out, every end in its own hole or slot, and the closing count agrees. Moving those before it on would be
    less work for a slip near the start, and would leave hole and slot changed in the whole warp (parity; needs no
    source). Raises ValueError for an end that the warp does not have.
    """
    _own(end_number, ends)
    return Rethreading(Side.RIGHT, 0 if end_number == 1 else ends + 1 - end_number)


def replacement_mm(warp_mm: Fraction, waste_mm: Fraction, woven: Fraction) -> Fraction:
    """The piece for an end that breaks when this share of the tape is woven: the warp that is left and 12 inches.

    The woven share is of the warp that can be woven, so that the waste is still there at the end. Raises ValueError for
    a share outside 0 to 1 or a waste longer than the warp.
    """
    if not 0 <= woven <= 1 or not 0 <= waste_mm <= warp_mm:
        raise ValueError("the woven share lies between nought and one, and the waste within the warp")
    return warp_mm - woven * (warp_mm - waste_mm) + SPARE_MM


def replacements(warp_mm: Fraction, waste_mm: Fraction) -> tuple[Replacement, ...]:
    """Pieces for an end that breaks at the start, and with a quarter, half and three quarters of the tape woven."""
    return tuple(Replacement(woven, replacement_mm(warp_mm, waste_mm, woven)) for woven in PROGRESS)


def rescue_figures(warp: Warp) -> Rescue:
    """Where each end lies, what to rethread from it on, and how long a piece to put in must be."""
    return Rescue(
        ends=end_places(warp.yarns, warp.placement),
        rethreading=tuple(rethreading(number, warp.ends) for number in range(1, warp.ends + 1)),
        replacements=replacements(warp.lengths.wound_mm, warp.lengths.waste_mm),
    )


def _own(end_number: int, ends: int) -> None:
    if not 1 <= end_number <= ends:
        raise ValueError(f"end {end_number} of a warp of {ends} ends")
