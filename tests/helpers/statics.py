"""Exact statics, the least energy of a stretched thread, and the note of a plucked end: what the pulls and dips that a
card prints are held against."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from scipy.optimize import minimize_scalar

from cardmaker.model.bench import Number
from cardmaker.reckoning.on_loom.tension import _above_nought


def least_energy_dip_mm(
    rest_n: float, press_n: float, span_mm: float, stiffness_n: float, free_mm: float, deepest: float = 0.5
) -> float:
    """Where a weight on a stretched thread comes to rest, found without any balance of forces.

    It is where weight and thread have the least energy together: ``U = T₀·ΔL + EA·ΔL²/2·L_free − W·δ`` with ``ΔL =
    2√(δ² + (L/2)²) − L``, down to ``deepest`` of the span (textbook physics; scipy's bounded search).
    """

    def energy(dip: float) -> float:
        longer = 2 * dip * dip / (sqrt(dip * dip + span_mm * span_mm / 4) + span_mm / 2)
        return rest_n * longer + stiffness_n * longer * longer / (2 * free_mm) - press_n * dip

    found = minimize_scalar(energy, bounds=(0.0, deepest * span_mm), method="bounded", options={"xatol": 1e-7})
    return float(found.x)


def dip_mm(press_n: Number, tension: Number, span_mm: Number) -> float:
    """How far the weight dips at the pull that the warp has under it: ``δ = W·L / 2√(4T² − W²)``, exact statics.

    Valid while the pull is more than half the weight (else the warp could not hold it); raises ValueError otherwise.
    """
    _above_nought(press_n, tension, span_mm)
    if 2 * tension <= press_n:
        raise ValueError("a warp at half the weight's pull or less cannot hold it up")
    press, pull = float(press_n), float(tension)
    return press * float(span_mm) / (2 * sqrt((2 * pull - press) * (2 * pull + press)))


def tension_n(press_n: Number, dip_mm: Number, span_mm: Number) -> float:
    """The warp's pull from a weight at mid-span: ``T = W·√(δ² + (L/2)²) / 2δ``, exact statics.

    Valid for a press at the middle of a clear span; includes the stretch that the press itself causes
    (see ``rest_tension_n``). Raises ValueError for anything not above nought.
    """
    _above_nought(press_n, dip_mm, span_mm)
    dip, half = float(dip_mm), float(span_mm) / 2
    return float(press_n) * sqrt(dip * dip + half * half) / (2 * dip)


def short_tension_n(press_n: Number, dip_mm: Number, span_mm: Number) -> float:
    """The short form ``W·L/4δ``: always a little low, under 0.5 % while the dip is under a twentieth of the span."""
    _above_nought(press_n, dip_mm, span_mm)
    return float(press_n * span_mm / (4 * dip_mm))


def short_form_error(dip_mm: Number, span_mm: Number) -> float:
    """By what share of the true pull the short form is low: ``1 − 1/√(1 + 4(δ/L)²)``, about ``2(δ/L)²``."""
    _above_nought(dip_mm, span_mm)
    return 1 - 1 / sqrt(1 + 4 * float(dip_mm / span_mm) ** 2)


def pressed_tension_n(rest_n: Number, press_n: Number, span_mm: Number, stiffness_n: Number, free_mm: Number) -> float:
    """The pull while the weight rests on it: ``T₀ + EA·ΔL/L_free``, ``ΔL = 2√(δ² + (L/2)²) − L``, solved by halving.

    ``stiffness_n`` is EA, the pull that would double the warp's length; ``free_mm`` is all the yarn that shares the
    stretch, at least the span. Valid while the yarn stretches evenly (a per cent or two). Raises ValueError
    outside, and for a weight that would dip by more than half the span.
    """
    _above_nought(press_n, span_mm, free_mm)
    if rest_n < 0 or stiffness_n <= 0 or free_mm < span_mm:
        raise ValueError(
            "rest tension cannot be negative, stiffness is above nought, and all the yarn is the span or more"
        )

    def held_n(dip: float) -> float:
        return 2 * _stretched_n(rest_n, dip, span_mm, stiffness_n, free_mm) * dip / _side_mm(dip, span_mm)

    low, high = 0.0, float(span_mm) / 2
    if held_n(high) < press_n:
        raise ValueError("the weight would dip by more than half the span: too heavy for this warp")
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if held_n(middle) < press_n else (low, middle)
    return _stretched_n(rest_n, high, span_mm, stiffness_n, free_mm)


def rest_tension_n(readings: Sequence[tuple[Number, Number]], span_mm: Number) -> float:
    """The pull with nothing on it, from two or more (weight in N, dip in mm): the line ``T = T₀ + m·δ²`` through them.

    Least squares on the exact statics; ``m`` is 2·EA/(L·L_free) in theory. Valid while the dips differ and are under a
    tenth of the span. Raises ValueError for fewer than two different dips.
    """
    squares = [float(dip) ** 2 for _, dip in readings]
    pulls = [tension_n(press, dip, span_mm) for press, dip in readings]
    if len(set(squares)) < 2:
        raise ValueError("two or more readings with different dips are needed")
    mean_square, mean_pull = sum(squares) / len(squares), sum(pulls) / len(pulls)
    spread = sum((square - mean_square) ** 2 for square in squares)
    joint = sum((square - mean_square) * (pull - mean_pull) for square, pull in zip(squares, pulls, strict=True))
    return mean_pull - joint / spread * mean_square


def tension_from_pitch_n(hertz: Number, span_mm: Number, tex: Number) -> float:
    """One plucked end (Mersenne): ``T = 4·L²·f²·μ`` with μ = tex·10⁻⁶ kg/m.

    Valid for the lowest note of a single thin end held at both ends of the span; a ribbon couples its ends.
    """
    _above_nought(hertz, span_mm, tex)
    return 4 * (float(span_mm) / 1000) ** 2 * float(hertz) ** 2 * float(tex) * 1e-6


def pitch_hz(tension: Number, span_mm: Number, tex: Number) -> float:
    """The lowest note of one end at this pull: ``√(T/μ) / 2L``, the inverse of ``tension_from_pitch_n``."""
    _above_nought(tension, span_mm, tex)
    return sqrt(float(tension) / (float(tex) * 1e-6)) / (2 * float(span_mm) / 1000)


def level_from_pitch_cn_per_tex(hertz: Number, span_mm: Number) -> float:
    """Pull for thickness from the note alone: ``4·10⁻⁴·(L·f)²`` with L in metres; the yarn's count drops out."""
    _above_nought(hertz, span_mm)
    return 4e-4 * (float(span_mm) / 1000 * float(hertz)) ** 2


def _side_mm(dip: float, span_mm: Number) -> float:
    return sqrt(dip * dip + (float(span_mm) / 2) ** 2)


def _stretched_n(rest_n: Number, dip: float, span_mm: Number, stiffness_n: Number, free_mm: Number) -> float:
    longer = 2 * dip * dip / (_side_mm(dip, span_mm) + float(span_mm) / 2)  # 2·side − span, without cancelling
    return float(rest_n) + float(stiffness_n) * longer / float(free_mm)
