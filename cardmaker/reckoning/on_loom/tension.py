"""Tension of the warp: what is sensible, and how far a known weight at mid-span dips it.

The statics are textbook physics; the levels carry their own status. Forces in newtons,
``linear density`` in tex (grams a kilometre), levels in centinewtons a tex.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import sqrt
from typing import Final

from cardmaker.model.bench import CoinDip, Number, Pull, WarpPull
from cardmaker.reckoning.amounts.yarn_counts import tex
from cardmaker.reckoning.on_loom.bench_figures import Warp

GRAVITY_N_PER_G: Final = 9.80665e-3  # standard gravity, exact by definition
LOW_CN_PER_TEX: Final = 0.3  # common practice, no source
WORKING_CN_PER_TEX: Final = 0.5  # middle of the 0.25 to 0.75 at which ASTM D1907 exercises yarns
HIGH_CN_PER_TEX: Final = 1.0  # common practice, no source
SHARE_OF_BREAKING: Final = 0.1  # steady pull: common practice, no source
DEEPEST_DIP: Final = Fraction(1, 4)  # of the span: deeper, and the press stretches the warp more than it tells (ours)


def dip_mm(press_n: Number, tension: Number, span_mm: Number) -> float:
    """How far the weight dips at a given pull: ``δ = W·L / 2√(4T² − W²)``, exact statics.

    Valid while the pull is more than half the weight (else the warp could not hold it); raises ValueError otherwise.
    """
    _above_nought(press_n, tension, span_mm)
    if 2 * tension <= press_n:
        raise ValueError("a warp at half the weight's pull or less cannot hold it up")
    press, pull = float(press_n), float(tension)
    return press * float(span_mm) / (2 * sqrt((2 * pull - press) * (2 * pull + press)))


def pulls(tex: Number, ends: int, breaking_cn_per_tex: Number | None = None) -> tuple[Pull, Pull, Pull]:
    """Low, working and high tension of a warp of ``ends`` alike.

    Low 0.3 cN/tex: common practice, no source. Working 0.5: the middle of the range (0.25 to 0.75) at which ASTM D1907
    exercises yarns to measure them. High: a tenth of the breaking load when that is known, else 1.0; both common
    practice, no source. For yarn of 15 to 600 tex. Raises ValueError for a count or strength not above nought.
    """
    _above_nought(tex, ends)
    if breaking_cn_per_tex is None:
        high = HIGH_CN_PER_TEX
    else:
        _above_nought(breaking_cn_per_tex)
        high = SHARE_OF_BREAKING * float(breaking_cn_per_tex)

    def newtons(level: float) -> float:
        return level * float(tex) / 100

    def whole(level: float) -> float:
        return newtons(level) * ends

    return (
        Pull("low", LOW_CN_PER_TEX, newtons(LOW_CN_PER_TEX), whole(LOW_CN_PER_TEX), "common practice, no source"),
        Pull("working", WORKING_CN_PER_TEX, newtons(WORKING_CN_PER_TEX), whole(WORKING_CN_PER_TEX), "published"),
        Pull("high", high, newtons(high), whole(high), "common practice, no source"),
    )


def stack_n(coins: int, grams_each: Number) -> float:
    """The weight of a stack of coins: a handy known weight. Raises ValueError for none, or for coins without mass."""
    _above_nought(coins, grams_each)
    return coins * float(grams_each) * GRAVITY_N_PER_G


def coin_dips(levels: Sequence[Pull], coins: int, grams_each: Number, span_mm: Number) -> tuple[CoinDip, ...]:
    """How far the stack dips at mid-span of the whole warp at each tension that can hold it."""
    press = stack_n(coins, grams_each)
    dips = [(pull, dip_mm(press, pull.newtons, span_mm)) for pull in levels if 2 * pull.newtons > press]
    return tuple(CoinDip(pull, press, dip) for pull, dip in dips)


def warp_pull(warp: Warp) -> WarpPull | None:
    """The tensions of the whole warp; thick ends bear more of it, as their tex says."""
    weights = {name: tex(warp.pattern.yarn(name)) for name in dict.fromkeys(warp.yarns)}
    if None in weights.values():
        return None
    mean = sum((weights[name] or Fraction(0) for name in warp.yarns), Fraction(0)) / warp.ends
    levels = pulls(mean, warp.ends)
    press = warp.loom.press
    if press is None:
        return WarpPull(warp.ends, mean, levels)
    dips = tuple(
        each
        for each in coin_dips(levels, 1, press.weight_g, press.span_mm)
        if each.dip_mm <= DEEPEST_DIP * press.span_mm
    )
    return WarpPull(warp.ends, mean, levels, press.weight_g, press.span_mm, dips)


def _above_nought(*values: Number) -> None:
    if any(value <= 0 for value in values):
        raise ValueError("every weight, length, count and pull must be above nought")
