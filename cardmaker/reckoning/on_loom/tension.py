"""Tension of the warp: what is sensible, and how far a known weight at mid-span dips it.

The statics are textbook physics; the levels and the stiffness of yarn carry their own status. Forces in newtons,
``linear density`` in tex (grams a kilometre), levels and stiffness in centinewtons a tex.
"""

from __future__ import annotations

from math import sqrt
from typing import Final

from cardmaker.model.bench import Number, Pull, Stiffness
from cardmaker.model.pattern import Fibre

GRAVITY_N_PER_G: Final = 9.80665e-3  # standard gravity, exact by definition
LOW_CN_PER_TEX: Final = 0.3  # common practice, no source
WORKING_CN_PER_TEX: Final = 0.5  # middle of the 0.25 to 0.75 at which ASTM D1907 exercises yarns
HIGH_CN_PER_TEX: Final = 1.0  # common practice, no source
NEAR_MM: Final = 1e-9  # how near a dip is reckoned: a thousandth of a micrometre (ours)
SHARE_OF_BREAKING: Final = 0.1  # steady pull: common practice, no source

STIFFNESS: Final[dict[Fibre, Stiffness]] = {
    "linen": Stiffness(250, 500, 1000),
    "hemp": Stiffness(250, 500, 1000),
    "cottolin": Stiffness(175, 350, 700),
    "silk": Stiffness(200, 400, 800),
    "cotton": Stiffness(125, 250, 500),
    "wool": Stiffness(50, 100, 200),
    "other": Stiffness(50, 250, 1000),
}
"""Of yarn, at the small pulls of a warp: from memory, no source, so half and double are held possible too.

For the likely figures speaks what yarn does when it breaks, also from memory: linen at 18 to 28 cN/tex and 2 to 3.5 %
longer, cotton at some 15 and 5 to 7 %, wool at 7 and 10 % or more. Of another fibre all of it is possible."""


def pressed_dip_mm(rest_n: Number, press_n: Number, span_mm: Number, stiffness_n: Number, free_mm: Number) -> float:
    """How far a weight at the middle of a clear span dips a warp that pulls ``rest_n`` without it.

    Exact statics of a thread that stretches: ``2·T·δ/√(δ² + (L/2)²) = W`` with ``T = T₀ + EA·(2√(δ² + (L/2)²) − L)/
    L_free``, solved by Newton's steps. ``stiffness_n`` is EA, the pull that would double the warp's length;
    ``free_mm`` is L_free, all the yarn that shares the stretch, at least the span. Its own weight sags it by less than
    a tenth of a millimetre and is left out. Valid while the yarn stretches evenly (a per cent or two). Raises
    ValueError outside, and for a weight that would dip it by more than half the span.
    """
    _above_nought(press_n, span_mm, stiffness_n, free_mm)
    if rest_n < 0 or free_mm < span_mm:
        raise ValueError("rest tension cannot be negative, and all the yarn is the span or more")
    rest, press, half, share = float(rest_n), float(press_n), float(span_mm) / 2, float(stiffness_n) / float(free_mm)
    low, high = 0.0, half
    if _held_n(high, rest, half, share) < press:
        raise ValueError("the weight would dip by more than half the span: too heavy for this warp")
    sine = press / 2 / rest if press < 2 * rest else 1.0  # of a thread that does not stretch, which dips farther
    dip = min(high, half * sine / sqrt(1 - sine * sine)) if sine < 1 else high
    while True:  # Newton's steps, and half the way where one would lead too far: never more than halving takes
        over = _held_n(dip, rest, half, share) - press
        low, high = (dip, high) if over < 0 else (low, dip)
        before, dip = dip, dip - over / _slope_n_per_mm(dip, rest, half, share)
        if not low < dip < high:
            dip = (low + high) / 2
        if abs(dip - before) < NEAR_MM:
            return dip


def held_press_n(dip_mm: Number, rest_n: Number, span_mm: Number, stiffness_n: Number, free_mm: Number) -> float:
    """The weight that dips the warp so far: the inverse of :func:`pressed_dip_mm`, in closed form."""
    _above_nought(dip_mm, span_mm, stiffness_n, free_mm)
    return _held_n(float(dip_mm), float(rest_n), float(span_mm) / 2, float(stiffness_n) / float(free_mm))


def _held_n(dip: float, rest_n: float, half: float, stiffness_n_per_mm: float) -> float:
    """What the two legs hold up between them at this dip."""
    leg = sqrt(dip * dip + half * half)
    longer = 2 * dip * dip / (leg + half)  # two legs less the span, without cancelling
    return 2 * (rest_n + stiffness_n_per_mm * longer) * dip / leg


def _slope_n_per_mm(dip: float, rest_n: float, half: float, stiffness_n_per_mm: float) -> float:
    """How much more they hold up for each millimetre that they dip farther: the derivative of that; above nought."""
    leg = sqrt(dip * dip + half * half)
    pull = rest_n + stiffness_n_per_mm * 2 * dip * dip / (leg + half)
    return 2 * (pull * half * half / leg + stiffness_n_per_mm * 2 * dip * dip) / (leg * leg)


def level_cn_per_tex(
    press_n: Number, dip_mm: Number, span_mm: Number, whole_tex: Number, stiffness: float, free_mm: Number
) -> float:
    """The level at rest of a warp that a weight dips so far: its pull under the weight, less what the stretch adds.

    ``whole_tex`` is all ends together, ``stiffness`` in cN/tex. Nought or less when the stretch alone holds the weight.
    """
    _above_nought(press_n, dip_mm, span_mm, whole_tex, stiffness, free_mm)
    dip, half = float(dip_mm), float(span_mm) / 2
    leg = sqrt(dip * dip + half * half)
    pressed = 100 * float(press_n) * leg / (2 * dip) / float(whole_tex)
    return pressed - stiffness * 2 * dip * dip / (leg + half) / float(free_mm)


def pulls(
    tex: Number, ends: int, breaking_cn_per_tex: Number | None = None, *, standard_cn_per_tex: float | None = None
) -> tuple[Pull, Pull, Pull]:
    """Low, working and high tension of a warp of ``ends`` alike.

    Low 0.3 cN/tex: common practice, no source. Working 0.5: the middle of the range (0.25 to 0.75) at which ASTM D1907
    exercises yarns to measure them. High: a tenth of the breaking load when that is known, else 1.0; both common
    practice, no source. For yarn of 15 to 600 tex. With the ``standard`` of a warp that wove well, that is the working
    level, and low and high stand to it as those above do. Raises ValueError for a count, strength or level not above
    nought.
    """
    _above_nought(tex, ends)
    working = WORKING_CN_PER_TEX if standard_cn_per_tex is None else standard_cn_per_tex
    _above_nought(working)
    high = HIGH_CN_PER_TEX * working / WORKING_CN_PER_TEX
    if breaking_cn_per_tex is not None:
        _above_nought(breaking_cn_per_tex)
        high = SHARE_OF_BREAKING * float(breaking_cn_per_tex)
    low = LOW_CN_PER_TEX * working / WORKING_CN_PER_TEX

    def newtons(level: float) -> float:
        return level * float(tex) / 100

    def whole(level: float) -> float:
        return newtons(level) * ends

    return (
        Pull("low", low, newtons(low), whole(low), "common practice, no source"),
        Pull(
            "working", working, newtons(working), whole(working),
            "published" if standard_cn_per_tex is None else "measured",
        ),
        Pull("high", high, newtons(high), whole(high), "common practice, no source"),
    )  # fmt: skip


def _above_nought(*values: Number) -> None:
    if any(value <= 0 for value in values):
        raise ValueError("every weight, length, count and pull must be above nought")
