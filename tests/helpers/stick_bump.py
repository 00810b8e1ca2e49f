"""What one packing stick adds to a turn, by geometry: what counting a pair of sticks as a full wrap is held against."""

from __future__ import annotations

from math import acos, atan2, hypot, sqrt

from cardmaker.model.bench import Number


def bump_mm(radius_mm: Number, thickness_mm: Number, breadth_mm: Number = 0) -> float:
    """What one stick adds to the turn over it; for a thin rod ``2(R+u)·sin φ − 2R·φ``, ``cos φ = R/(R+u)``.

    Own derivation: the warp leaves the roll at a tangent, lies on the flat of the stick (``breadth_mm`` round the roll)
    and returns. Holds while the warp touches the roll between neighbouring sticks. Raises ValueError for a roll without
    a radius or a negative stick.
    """
    if radius_mm <= 0 or thickness_mm < 0 or breadth_mm < 0:
        raise ValueError("the roll must have a radius and the stick no negative thickness or breadth")
    radius, top, half = float(radius_mm), float(radius_mm + thickness_mm), float(breadth_mm) / 2
    corner = hypot(top, half)
    reach = sqrt(corner * corner - radius * radius)  # from where the warp leaves the roll to the stick's edge
    return 2 * (half + reach - radius * (acos(radius / corner) + atan2(half, top)))
