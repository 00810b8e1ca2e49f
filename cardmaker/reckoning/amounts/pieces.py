"""Which whole pieces come off a warp: in the order of the file, each with its length on the loom and both its fringes.

Nothing of an outer fringe is taken from the waste: what is tied up at the knots cannot be counted on.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import floor

from cardmaker.model.pattern import Piece
from cardmaker.model.plan import PlannedPiece


def planned_pieces(
    pieces: Sequence[Piece], warp_mm: Fraction, take_up: Fraction, shrinkage: Fraction
) -> tuple[PlannedPiece, ...]:
    """How many of each kind come off ``warp_mm`` of warp without its waste.

    A piece takes ``length / (1 − shrinkage) / (1 − take-up)`` and two fringes of warp. The first kind takes what it
    needs, then the next; a kind that no longer fits lets a later, shorter one have what is left.
    """
    planned = []
    for piece in pieces:
        on_loom = piece.length_mm / (1 - shrinkage)
        each = on_loom / (1 - take_up) + 2 * piece.fringe_mm
        come = min(piece.count, floor(warp_mm / each)) if each > 0 and warp_mm > 0 else 0
        warp_mm -= come * each
        planned.append(PlannedPiece(piece.purpose, piece.count, come, piece.length_mm, on_loom, piece.fringe_mm, each))
    return tuple(planned)


def pieces_still_to_come(planned: Sequence[PlannedPiece], warp_mm: Fraction | float) -> tuple[int, ...]:
    """How many of each kind are still whole in the last ``warp_mm`` of warp, woven in their order."""
    still = []
    for piece in reversed(planned):
        whole = min(piece.come, floor(warp_mm / piece.warp_mm)) if piece.come else 0
        still.append(whole)
        warp_mm = warp_mm - whole * piece.warp_mm if whole == piece.come else 0
    return tuple(reversed(still))
