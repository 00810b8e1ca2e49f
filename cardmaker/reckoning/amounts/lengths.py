"""From the finished tape to the warp that must be wound, and back.

``warp = finished / ((1 - shrinkage)(1 - take-up)) + fringes + waste``: each loss is a share of what stood before it, so
the sum divides. Adding the percentages instead winds 3 to 4 % too little at 15 % and 10 %.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal

from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Lengths
from cardmaker.model.problems import Refusal
from cardmaker.model.units import QUARTER_YARD, inches, rounded_up
from cardmaker.reckoning.amounts.allowances import USUAL_TAKE_UP, fringes_mm, shrinkage, waste
from cardmaker.reckoning.amounts.measured_tapes import Learned

USUAL_TAPE_MM: Final = Fraction(
    1800
)  # when nothing is asked for: a waist tie with some over; common practice, no source
SHORT: Final = Fraction(60, 100)  # less of the warp than this comes back as tape; common practice, no source


def warp_lengths(
    pattern: Pattern,
    loom: Loom,
    *,
    warp_mm: Fraction | None = None,
    learned: Learned | None = None,
    wind_step: Fraction = QUARTER_YARD,
) -> Lengths:
    """All lengths of one warp of ``pattern`` on ``loom``.

    What was measured on earlier tapes (``learned``) comes before what the files say, that before what is usual. With a
    ``warp_mm``, here or in the pattern, exactly that is wound and the tape is what it gives; a wished-for length is
    then set aside. Otherwise the warp is rounded up to a whole number of ``wind_step``. Raises Refusal when the warp is
    no longer than the waste, or when no tape is asked for.
    """
    given = warp_mm if warp_mm is not None else pattern.length.warp_mm
    take_up, take_up_basis = _take_up(pattern, learned)
    shrinks, shrinkage_basis = shrinkage(pattern)
    lost, waste_basis = _waste(loom, learned)
    fringes = fringes_mm(pattern)
    wanted, request = _wanted(pattern)
    warp = given if given is not None else wanted / ((1 - shrinks) * (1 - take_up)) + fringes + lost
    wind = given if given is not None else rounded_up(warp, wind_step)
    if wind <= lost:
        raise _nothing_to_weave(wind, lost, loom)
    woven = max(wind - lost - fringes, Fraction(0)) * (1 - take_up)
    return Lengths(
        finished_mm=wanted if given is None else woven * (1 - shrinks),
        on_loom_mm=wanted / (1 - shrinks) if given is None else woven,
        fringes_mm=fringes,
        waste_mm=lost,
        warp_mm=warp,
        wind_mm=wind,
        tape_from_warp_mm=woven * (1 - shrinks),
        woven_mm=woven,
        take_up=take_up,
        shrinkage=shrinks,
        take_up_basis=take_up_basis,
        shrinkage_basis=shrinkage_basis,
        waste_basis=waste_basis,
        request=request if given is None else "warp",
    )


def is_short(lengths: Lengths) -> bool:
    """Whether so much of the warp is lost that a longer one is worth the yarn: under 60 % of it comes back as tape."""
    return lengths.tape_from_warp_mm < SHORT * lengths.wind_mm


def _wanted(pattern: Pattern) -> tuple[Fraction, Literal["finished", "pieces", "default"]]:
    length = pattern.length
    key: Literal["finished", "pieces"] = "pieces" if length.pieces else "finished"
    if not length.pieces and length.finished_mm is None:
        return USUAL_TAPE_MM, "default"
    pieces = sum((piece.length_mm * piece.count for piece in length.pieces), Fraction(0))
    total = pieces if length.pieces else length.finished_mm or Fraction(0)
    if total <= 0 and length.warp_mm is None:
        raise Refusal(("length", key), "This asks for no tape at all.", "Give a length, as in 72 in or 1.8 m.")
    return total, key


def _take_up(pattern: Pattern, learned: Learned | None) -> tuple[Fraction, Literal["pattern", "measured", "default"]]:
    if learned and learned.take_up is not None:
        return learned.take_up, "measured"
    if pattern.length.take_up is not None:
        return pattern.length.take_up, "pattern"
    return USUAL_TAKE_UP, "default"


def _waste(loom: Loom, learned: Learned | None) -> tuple[Fraction, Literal["loom", "measured", "default"]]:
    if learned and learned.waste_mm is not None:
        return learned.waste_mm, "measured"
    return waste(loom)


def _nothing_to_weave(warp: Fraction, lost: Fraction, loom: Loom) -> Refusal:
    return Refusal(
        ("length", "warp"),
        f"A warp of {_both(warp)} leaves nothing to weave: {_both(lost)} is lost on {loom.title}.",
        f"Wind more than {_both(lost)}.",
    )


def _both(length: Fraction) -> str:
    return f"{float(inches(length)):.4g} in ({float(length):.0f} mm)"
