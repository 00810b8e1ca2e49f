"""How tight one warp should be, and the press test that shows it: which weight, and how far it dips.

What the dip depends on and nobody knows well is how stiff the yarn is: every mark is therefore a range, from the
stiffest to the softest that the yarn may be, and marks that would run into each other are not printed. A warp that wove
well on this loom is worth more: its dip tells the level, and what its yarn's stiffness changed in that dip it changes
in the next one too, so that most of the doubt goes.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor
from typing import Final, Literal, NamedTuple

from cardmaker.model.bench import PressGauge, PressMark, Pull, Stiffness, WarpPull
from cardmaker.model.loom import DEEPEST_DIP, HEAVIEST_PRESS_G, LIGHTEST_PRESS_G, Loom, MeasuredPress, Press
from cardmaker.model.pattern import Fibre
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.amounts.yarn_counts import tex
from cardmaker.reckoning.on_loom.bench_figures import Warp
from cardmaker.reckoning.on_loom.tension import (
    GRAVITY_N_PER_G,
    STIFFNESS,
    WORKING_CN_PER_TEX,
    held_press_n,
    level_cn_per_tex,
    pressed_dip_mm,
    pulls,
)

BEST_DIPS_MM: Final = (4, 6)  # of a right warp: less is hard to read, more is the stretch's doing (ours)
CLEAR_MM: Final = 0.3  # between the marks of two levels: what an eye keeps apart beside a line (ours)
LOWEST_LEVEL: Final = 0.05  # cN/tex: a tenth of what is usual, threads that hang in loops (ours)
HIGHEST_LEVEL: Final = 5.0  # cN/tex: a quarter of what common yarn breaks at (common practice, no source)
LIKELY_FREE: Final = Fraction(3, 2)  # of the span: between the span alone and twice the span (ours)
_STEPS_G: Final = ((50, 1), (200, 5), (HEAVIEST_PRESS_G, 10))  # up to so much, weighed to so much (ours)


class _Stretch(NamedTuple):
    """One of the three cases: how stiff the yarn is, in cN/tex, and how much of it shares the stretch."""

    stiffness: float
    free_mm: Fraction


class _PressedWarp(NamedTuple):
    """A warp under a weight: its span, its ends' tex together, its levels, and pairs of (level, stretch) to try."""

    span_mm: Fraction
    whole_tex: float
    levels: tuple[Pull, Pull, Pull]
    pairs: tuple[tuple[float, _Stretch], ...]  # of the working level; the likely pair first

    def dip_mm(self, press_n: float, level: float, stretch: _Stretch) -> float:
        """Raises ValueError for a weight that sinks deeper than half the span."""
        newtons, stiffness_n = (each * self.whole_tex / 100 for each in (level, stretch.stiffness))
        return pressed_dip_mm(newtons, press_n, self.span_mm, stiffness_n, stretch.free_mm)

    def grams_at(self, dip_mm: float) -> float:
        """The weight that dips the warp so far at the working level, as far as is likely."""
        level, stretch = self.pairs[0]
        newtons, stiffness_n = (each * self.whole_tex / 100 for each in (level, stretch.stiffness))
        return held_press_n(dip_mm, newtons, self.span_mm, stiffness_n, stretch.free_mm) / GRAVITY_N_PER_G


def warp_pull(warp: Warp) -> WarpPull | None:
    """The tensions of the whole warp, thick ends bearing more of it, as their tex says; and its press test.

    Without tex of every yarn there is none. Raises Refusal when what was measured on this loom cannot be.
    """
    weights = {name: tex(warp.pattern.yarn(name)) for name in dict.fromkeys(warp.yarns)}
    tex_of: dict[Fibre, Fraction] = {}  # of all ends together, by fibre
    for name in warp.yarns:
        weight, fibre = weights[name], warp.pattern.yarn(name).fibre
        if weight is None:
            return None
        tex_of[fibre] = tex_of.get(fibre, Fraction(0)) + weight
    whole = sum(tex_of.values(), Fraction(0))
    stiffness = _mean_stiffness(tex_of)
    standard = warp.loom.measured_press
    levels = standard_levels(warp.loom) or (WORKING_CN_PER_TEX,) * 3
    told = pulls(whole / warp.ends, warp.ends, standard_cn_per_tex=levels[1] if standard else None)
    return WarpPull(
        ends=warp.ends,
        tex=whole / warp.ends,
        fibre=max(tex_of, key=lambda fibre: tex_of[fibre]),
        pulls=told,
        stiffness=stiffness,
        level_range=(min(levels), max(levels)),
        standard=standard,
        gauge=_gauge(warp.loom, told, float(whole), levels, stiffness, _is_as_stiff(warp.loom, tex_of)),
    )


def _is_as_stiff(loom: Loom, tex_of: Mapping[Fibre, Fraction]) -> bool:
    """Whether stretch does to this warp what it did to the standard, if there is one.

    Yarn of one fibre is taken to be alike (ours); *other* may be anything. Where nobody says how much of it is free,
    the spans must be one as well.
    """
    standard, press = loom.measured_press, loom.press
    if standard is None:
        return True
    is_one_stretch = press is None or press.free_mm is not None or press.span_mm == standard.span_mm
    return is_one_stretch and standard.fibre != "other" and {standard.fibre} == tex_of.keys()


def standard_levels(loom: Loom) -> tuple[float, float, float] | None:
    """The level of the warp that wove well on this loom, if its yarn was as stiff as it may be, as is likely, as soft.

    In cN/tex; nought where so stiff a yarn would have held the weight by its stretch alone. None when nothing was
    measured. Raises Refusal, which points at the dip, for a level that no warp is woven at.
    """
    measured = loom.measured_press
    if measured is None:
        return None
    press_n = float(measured.weight_g) * GRAVITY_N_PER_G
    stiff, likely, soft = (
        level_cn_per_tex(press_n, measured.dip_mm, measured.span_mm, measured.ends * measured.tex, *stretch)
        for stretch in _stretches(STIFFNESS[measured.fibre], _free_mm(loom, measured.span_mm))
    )
    _refuse_level(measured, likely)
    return max(stiff, 0.0), likely, soft


def _refuse_level(measured: MeasuredPress, level: float) -> None:
    path = ("measured", "press", "dip")
    if level < LOWEST_LEVEL:
        message = (
            "A warp that this weight dips so far has next to no pull of its own: what holds the weight is how far the "
            "yarn stretches."
        )
        raise Refusal(path, message, "Hang a lighter weight, best one that dips it by 4 to 6 mm, or look at tex.")
    if level > HIGHEST_LEVEL:
        message = (
            f"A warp of {measured.ends} ends that this weight dips so little is pulled at a quarter or more of what "
            "its yarn breaks at."
        )
        raise Refusal(path, message, "Look at weight, span, dip, ends and tex once more.")


def _mean_stiffness(tex_of: dict[Fibre, Fraction]) -> Stiffness:
    """Of the whole warp, each fibre by its share: side by side, ends stretch alike and their pulls add up."""
    whole = float(sum(tex_of.values()))
    shares = [(STIFFNESS[fibre], float(weight) / whole) for fibre, weight in tex_of.items()]
    return Stiffness(
        low=sum(stiffness.low * share for stiffness, share in shares),
        likely=sum(stiffness.likely * share for stiffness, share in shares),
        high=sum(stiffness.high * share for stiffness, share in shares),
    )


def _free_mm(loom: Loom, span_mm: Fraction) -> tuple[Fraction, Fraction, Fraction]:
    """The yarn that shares the stretch: shortest, likely, longest. The file's, else from the span to twice the span."""
    if loom.press is not None and loom.press.free_mm is not None:
        return (max(loom.press.free_mm, span_mm),) * 3
    return span_mm, LIKELY_FREE * span_mm, 2 * span_mm


def _stretches(stiffness: Stiffness, free_mm: tuple[Fraction, Fraction, Fraction]) -> tuple[_Stretch, ...]:
    """The three cases: stiff yarn and little of it, what is likely, soft yarn and much of it."""
    return tuple(map(_Stretch, (stiffness.high, stiffness.likely, stiffness.low), free_mm))


def _gauge(
    loom: Loom,
    levels: tuple[Pull, Pull, Pull],
    whole_tex: float,
    working: tuple[float, float, float],
    stiffness: Stiffness,
    is_as_stiff: bool,
) -> PressGauge | None:
    """The press test of a warp; ``is_as_stiff`` as its standard was, whatever that is."""
    press = loom.press or (Press(loom.measured_press.span_mm) if loom.measured_press else None)
    if press is None:
        return None
    free = _free_mm(loom, press.span_mm)
    stiff, likely, soft = _stretches(stiffness, free)
    if is_as_stiff:
        pairs = ((working[1], likely), (working[0], stiff), (working[2], soft))
    else:
        pairs = ((working[1], likely), (max(working), stiff), (min(working), soft))
    warp = _PressedWarp(press.span_mm, whole_tex, levels, pairs)
    return _gauge_with_weight(warp, press.weight_g, _fitting_weight(warp, loom.measured_press), (free[0], free[-1]))


def _gauge_with_weight(
    warp: _PressedWarp, own_g: Fraction | None, fitting_g: Fraction | None, free_mm: tuple[Fraction, Fraction]
) -> PressGauge | None:
    """Her own weight wherever it keeps the marks apart, else the one that suits this warp."""
    own_marks = _marks(warp, own_g) if own_g else ()
    verdict = _verdict(warp, own_g) if own_g else None
    is_own = own_g is not None and (bool(own_marks) or fitting_g is None)
    weight_g = own_g if is_own else fitting_g
    if weight_g is None:
        return None
    marks = own_marks if is_own else _marks(warp, weight_g)
    weight_n = float(weight_g) * GRAVITY_N_PER_G
    return PressGauge(weight_g, weight_n, warp.span_mm, *free_mm, marks, own_g, fitting_g, verdict)


def _verdict(warp: _PressedWarp, own_g: Fraction) -> Literal["fitting", "too heavy", "too light"]:
    shallow, deep = (warp.grams_at(dip) for dip in (BEST_DIPS_MM[0] - 0.05, BEST_DIPS_MM[1] + 0.05))  # as printed
    return "too light" if own_g < shallow else "too heavy" if own_g > deep else "fitting"


def _fitting_weight(warp: _PressedWarp, standard: MeasuredPress | None) -> Fraction | None:
    """Of the weights that dip a right warp by 4 to 6 mm and can be weighed, one that keeps the marks farthest apart.

    The weight of the standard, where it does; else three are tried: the lightest, the heaviest, and one between. None
    when a kitchen has no such weight.
    """
    if standard and _verdict(warp, standard.weight_g) == "fitting" and _marks(warp, standard.weight_g):
        return standard.weight_g
    shallow, deep = (warp.grams_at(dip) for dip in BEST_DIPS_MM)
    lightest, heaviest = _weighable(shallow, ceil), _weighable(deep, floor)
    between = _weighable((shallow + deep) / 2, round)
    tried = [grams for grams in dict.fromkeys((lightest, between, heaviest)) if lightest <= grams <= heaviest]
    sound = [Fraction(grams) for grams in tried if LIGHTEST_PRESS_G <= grams <= HEAVIEST_PRESS_G]
    return max(sound, key=lambda grams: _clearance(_all_marks(warp, grams)), default=None)


def _weighable(grams: float, rounded: Callable[[float], int]) -> int:
    step = next((step for most, step in _STEPS_G if grams <= most), _STEPS_G[-1][1])
    return rounded(grams / step) * step


def _marks(warp: _PressedWarp, grams: Fraction) -> tuple[PressMark, ...]:
    """The marks of this weight from the top down, or none where one would run into the next."""
    marks = _all_marks(warp, grams)
    return marks if _clearance(marks) >= CLEAR_MM else ()


def _clearance(marks: Sequence[PressMark]) -> float:
    """The least room between one mark and the next below it; less than nought where they overlap or there are none."""
    return min((below.least_mm - above.most_mm for above, below in pairwise(marks)), default=-1.0)


def _all_marks(warp: _PressedWarp, grams: Fraction) -> tuple[PressMark, ...]:
    """Every mark over all cases of stretch; none when the weight sinks deeper than a tenth of the span in one."""
    press_n, (low, working, high) = float(grams) * GRAVITY_N_PER_G, warp.levels
    deepest = DEEPEST_DIP * warp.span_mm
    marks = []
    for pull in (high, working, low):
        share = pull.cn_per_tex / working.cn_per_tex
        try:
            dips = [warp.dip_mm(press_n, share * level, stretch) for level, stretch in warp.pairs]
        except ValueError:
            return ()
        if max(dips) > deepest:
            return ()
        marks.append(PressMark(pull, min(dips), dips[0], max(dips)))
    return tuple(marks)
