"""How many wraps of weft to wind on a stick or netting shuttle, and in how many fills."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from cardmaker.model.shuttle_wraps import ShuttleFill
from cardmaker.reckoning.on_loom.bench_figures import Warp

if TYPE_CHECKING:
    from cardmaker.model.bench import Number


def wrap_mm(notch_to_notch_mm: Number, thickness_mm: Number = 0, build_up_mm: Number = 0) -> Number:
    """One full wrap: twice the notches' distance and twice the shuttle's thickness with the yarn already on one of its
    edges (``build_up_mm``, the mean of a fill).

    Own derivation; a shuttle given by its length alone counts twice that length. Valid while the yarn lies flat; raises
    ValueError for a length not above nought or a negative thickness.
    """
    if notch_to_notch_mm <= 0 or thickness_mm < 0 or build_up_mm < 0:
        raise ValueError("a shuttle has a length above nought and no negative thickness")
    return 2 * notch_to_notch_mm + 2 * (thickness_mm + build_up_mm)


def shuttle_fill(weft_mm: Number, per_wrap_mm: Number, capacity: int | None = None) -> ShuttleFill:
    """Wraps for a length of weft, rounded up, shared evenly over as few fills as the shuttle's ``capacity`` allows.

    Raises ValueError for a negative weft, a wrap not above nought or a capacity under 1.
    """
    if weft_mm < 0 or per_wrap_mm <= 0 or (capacity is not None and capacity < 1):
        raise ValueError("weft is nought or more, a wrap above nought, and a shuttle holds one wrap or more")
    wraps = ceil(weft_mm / per_wrap_mm)
    fills = ceil(wraps / capacity) if capacity else min(wraps, 1)
    return ShuttleFill(float(per_wrap_mm), wraps, fills, ceil(wraps / fills) if fills else 0)


def shuttle_for(warp: Warp) -> ShuttleFill | None:
    """The weft as bought, joins and all, on this loom's shuttle; one fill where nothing tells what it holds."""
    length = warp.loom.shuttle_length_mm
    return shuttle_fill(warp.weft.buy_mm, wrap_mm(length), warp.loom.shuttle_holds) if length else None
