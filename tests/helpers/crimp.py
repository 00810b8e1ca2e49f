"""Crimp and take-up from the geometry of plain weave: what the usual take-up is held against.

Two percentages that must never be mixed: *crimp* is the extra thread as a share of the cloth, *take-up* the same length
as a share of the thread. The geometry is F. T. Peirce, Journal of the Textile Institute 28 (1937), T45 (from textile
course pages that quote it, not read whole): round, rigid, inextensible threads. Real ends flatten, so the figures are
upper limits; use 0.6 to 1 of the sum of diameters (common practice, no source).
"""

from __future__ import annotations

from fractions import Fraction
from math import acos, asin, atan2, cos, hypot, sin, sqrt
from typing import Final, TypeVar

from cardmaker.model.bench import Number
from cardmaker.model.record_class import record


@record
class WeaveCurve:
    """One thread of plain weave after Peirce: spacing, length and height a crossing, its weave angle and crimp."""

    spacing_mm: float
    length_mm: float
    height_mm: float
    angle_radians: float
    crimp: float


Share = TypeVar("Share", Fraction, float)
_ROUNDING: Final = 1e-12  # of a diameter


def take_up_from_crimp(crimp: Share) -> Share:
    """``T = C/(1+C)``: 23.3 % of the cloth is 18.9 % of the warp. For a crimp of nought or more; raises ValueError."""
    if crimp < 0:
        raise ValueError("a crimp cannot be negative")
    return crimp / (1 + crimp)


def crimp_from_take_up(take_up: Share) -> Share:
    """``C = T/(1−T)``, the inverse. For a take-up from nought to under one; raises ValueError."""
    if not 0 <= take_up < 1:
        raise ValueError("a take-up is a share of the warp, from nought to under one")
    return take_up / (1 - take_up)


def warp_faced_crimp(pick_spacing_mm: Number, diameters_mm: Number) -> float:
    """Crimp of the warp over a straight weft: ``θ·sin θ + cos θ − 1`` with ``sin θ = D/p``.

    ``diameters_mm`` is the sum D of warp and weft diameter. Closed form of Peirce's equations for a weft without crimp
    (own derivation). Valid for a spacing of one D (jammed, 57.1 %) or more; raises ValueError below.
    """
    if diameters_mm <= 0 or pick_spacing_mm < diameters_mm:
        raise ValueError("picks over a straight weft cannot stand closer than warp and weft diameter together")
    sine = float(diameters_mm / pick_spacing_mm)
    angle = asin(sine)
    return angle * sine + cos(angle) - 1


def rough_crimp(height_mm: Number, spacing_mm: Number) -> float:
    """Peirce's short form ``h = 4/3·p·√c`` turned round: ``c = 9/16·(h/p)²``.

    Against the closed form for a straight weft (height D): 1.5 % of itself low when jammed, 12.5 % high when widely
    spaced, right near a spacing of 1.05 D. For quick sums only.
    """
    if spacing_mm <= 0 or height_mm < 0:
        raise ValueError("a spacing must be above nought and a height not below")
    return float(9 * height_mm * height_mm / (16 * spacing_mm * spacing_mm))


def weave_curve(spacing_mm: Number, height_mm: Number, diameters_mm: Number) -> WeaveCurve:
    """One thread by Peirce's general equations, given its crossings' spacing, its height and the sum of diameters.

    ``p = (l − Dθ)·cos θ + D·sin θ``, ``h = (l − Dθ)·sin θ + D·(1 − cos θ)``, ``c = l/p − 1``. Taking the straight part
    ``l − Dθ`` out of both leaves ``p·sin θ + (D − h)·cos θ = D``, which has a closed solution. Valid for heights from 0
    to D and for a straight part of nought (jammed) or more; raises ValueError where the threads would overlap.
    """
    spacing, height, across = float(spacing_mm), float(height_mm), float(diameters_mm)
    if across <= 0 or spacing <= 0 or not 0 <= height <= across * (1 + _ROUNDING):
        raise ValueError("the height lies between nought and both diameters together")
    reach = hypot(spacing, across - height)
    if reach < across * (1 - _ROUNDING):
        raise ValueError("the threads would overlap: the crossings stand too close for this height")
    angle = asin(min(across / reach, 1.0)) - atan2(across - height, spacing)
    straight = spacing * cos(angle) - (across - height) * sin(angle)
    if straight < -_ROUNDING * across or angle < -_ROUNDING:
        raise ValueError("the threads would overlap: the crossings stand too close for this height")
    length = max(straight, 0.0) + across * max(angle, 0.0)
    return WeaveCurve(spacing, length, height, max(angle, 0.0), length / spacing - 1)


def jammed_curve(height_mm: Number, diameters_mm: Number) -> WeaveCurve:
    """One thread with no straight part: ``cos θ = 1 − h/D``, ``p = D·sin θ``, ``c = θ/sin θ − 1``.

    With half the diameters each way (square cloth) θ is 60° and the crimp 20.9 %. Valid for heights above 0 to D.
    """
    if diameters_mm <= 0 or not 0 < height_mm <= diameters_mm:
        raise ValueError("the height lies above nought and not above both diameters together")
    angle = acos(1 - float(height_mm / diameters_mm))
    return weave_curve(diameters_mm * sin(angle), height_mm, diameters_mm)


def tallest_mm(spacing_mm: Number, diameters_mm: Number) -> float:
    """The greatest height that a thread's crossings at this spacing allow: D, or less when it jams first."""
    if spacing_mm >= diameters_mm:
        return float(diameters_mm)
    sine = float(spacing_mm / diameters_mm)
    return float(diameters_mm) * (1 - sqrt(1 - sine * sine))


def plain_weave(
    end_spacing_mm: Number, pick_spacing_mm: Number, diameters_mm: Number, weft_crimp: Number
) -> tuple[WeaveCurve, WeaveCurve]:
    """Warp and weft of a plain weave whose weft keeps this crimp: the heights of the two add up to D.

    ``end_spacing_mm`` is from end to end along a pick. The weft's height is found by halving (its crimp grows with it).
    Valid while neither system overlaps; raises ValueError otherwise.
    """
    low, high = 0.0, tallest_mm(end_spacing_mm, diameters_mm)
    if not 0 <= weft_crimp <= weave_curve(end_spacing_mm, high, diameters_mm).crimp + _ROUNDING:
        raise ValueError("the ends stand too close for this crimp of the weft")
    for _ in range(100):
        middle = (low + high) / 2
        tighter = weave_curve(end_spacing_mm, middle, diameters_mm).crimp < weft_crimp
        low, high = (middle, high) if tighter else (low, middle)
    weft = weave_curve(end_spacing_mm, low if weft_crimp else 0.0, diameters_mm)
    warp = weave_curve(pick_spacing_mm, float(diameters_mm) - weft.height_mm, diameters_mm)
    return warp, weft
