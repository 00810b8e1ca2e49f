"""From the finished tape to the warp that must be wound, and back.

``warp = finished / ((1 - shrinkage)(1 - take-up)) + fringes + waste``: each loss is a share of what stood before it, so
the sum divides. Adding the percentages instead winds 3 to 4 % too little at 15 % and 10 %.

Where take-up and shrinkage are ranges, what to wind covers the most of both, and the tape that comes is told twice: at
least, with the most of both, and about, with the likely ones.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal

from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern, Piece
from cardmaker.model.plan import Lengths
from cardmaker.model.problems import Refusal
from cardmaker.model.units import QUARTER_YARD, inches, rounded_up
from cardmaker.reckoning.amounts.allowances import front_share, shrinkage, waste
from cardmaker.reckoning.amounts.measured_tapes import NO_YARN_FIGURES, Learned, YarnFigures
from cardmaker.reckoning.amounts.pieces import planned_pieces
from cardmaker.reckoning.amounts.weave_geometry import TAKE_UP_OF_TAPES
from cardmaker.reckoning.amounts.yarn_thickness import Range

USUAL_TAPE_MM: Final = Fraction(
    1800
)  # when nothing is asked for: a waist tie with some over; common practice, no source
SHORT: Final = Fraction(60, 100)  # less of the warp than this comes back as tape; common practice, no source


def warp_lengths(
    pattern: Pattern,
    loom: Loom,
    *,
    warp_mm: Fraction | None = None,
    wound_mm: Fraction | None = None,
    learned: Learned | None = None,
    of_yarns: YarnFigures = NO_YARN_FIGURES,
    usual_take_up: Range = TAKE_UP_OF_TAPES,
    wind_step: Fraction = QUARTER_YARD,
) -> Lengths:
    """All lengths of one warp of ``pattern`` on ``loom``.

    What was measured on earlier tapes (``learned``) comes before what the pattern says, that before what tapes of its
    yarns taught, that before what is usual. With a
    ``warp_mm``, here or in the pattern, exactly that is wound and the tape is what it gives; a wished-for length is
    then set aside, and of wished-for pieces those that come whole are told. Otherwise the warp is rounded up to a whole
    number of ``wind_step``. ``wound_mm`` is what the pegs give, never less than what was to be wound. Raises Refusal
    when the warp is no longer than the waste, or when no tape is asked for.
    """
    given = warp_mm if warp_mm is not None else pattern.length.warp_mm
    take_ups, take_up_basis = _take_up(pattern, learned, of_yarns, usual_take_up)
    shrinks, shrinkage_basis = _shrinkage(pattern, learned, of_yarns)
    if take_up_basis == "measured":  # with the likely shrinkage: so the two together are what her tape did
        shrinks = (shrinks[1],) * 3
    lost, waste_basis = _waste(loom, learned)
    wanted, request = _wanted(pattern)
    pieces = pattern.length.pieces
    fringes = _fringes(pieces)
    at_least = (1 - shrinks[2]) * (1 - take_ups[2])
    warp = given if given is not None else wanted / at_least + fringes + lost
    wind = given if given is not None else rounded_up(warp, wind_step)
    wound = wind if wound_mm is None else wound_mm
    weavable = (wind if given is not None else wound) - lost
    if weavable <= 0:
        raise _nothing_to_weave(wind, lost, loom)
    planned = planned_pieces(pieces, weavable, take_ups[2], shrinks[2])
    taken = sum((piece.come * piece.warp_mm for piece in planned), Fraction(0))
    come = sum((piece.come * piece.length_mm for piece in planned), Fraction(0))
    woven = weavable * (1 - take_ups[1])
    if come:
        woven = come / (1 - shrinks[2])
    likely = come or woven * (1 - shrinks[1])
    return Lengths(
        finished_mm=wanted if given is None else likely,
        on_loom_mm=wanted / (1 - shrinks[2]) if given is None else woven,
        fringes_mm=sum((2 * piece.come * piece.fringe_mm for piece in planned), Fraction(0)),
        waste_mm=lost,
        waste_front_mm=lost * front_share(loom),
        warp_mm=warp,
        wind_mm=wind,
        wound_mm=wound,
        tape_from_warp_mm=likely,
        tape_at_least_mm=come or weavable * at_least,
        woven_mm=woven,
        take_up=take_ups[1],
        take_up_range=(take_ups[0], take_ups[2]),
        shrinkage=shrinks[1],
        shrinkage_range=(shrinks[0], shrinks[2]),
        take_up_basis=take_up_basis,
        shrinkage_basis=shrinkage_basis,
        waste_basis=waste_basis,
        request=request if given is None else "warp",
        pieces=planned,
        pieces_spare_mm=(weavable - taken) * at_least if pieces else Fraction(0),
    )


def all_tape_mm(lengths: Lengths) -> Fraction:
    """The finished tape that comes off the warp, with the rest that is left over from pieces."""
    return lengths.tape_from_warp_mm + (lengths.pieces_spare_mm if lengths.pieces_come else Fraction(0))


def is_short(lengths: Lengths) -> bool:
    """Whether so much of the warp is lost that a longer one is worth the yarn: under 60 % of it becomes tape, fringes
    that are wanted left aside."""
    return all_tape_mm(lengths) < SHORT * (lengths.wind_mm - lengths.fringes_mm)


def _fringes(pieces: tuple[Piece, ...]) -> Fraction:
    """Warp that is left unwoven on purpose: two fringes on every piece."""
    return sum((2 * piece.count * piece.fringe_mm for piece in pieces), Fraction(0))


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


def _take_up(
    pattern: Pattern, learned: Learned | None, of_yarns: YarnFigures, usual: Range
) -> tuple[Range, Literal["pattern", "measured", "default"]]:
    if learned and learned.take_up is not None:
        return (learned.take_up,) * 3, "measured"
    if pattern.length.take_up is not None:
        return (pattern.length.take_up,) * 3, "pattern"
    if of_yarns.take_up and of_yarns.take_up.take_up is not None:
        return (of_yarns.take_up.take_up,) * 3, "measured"
    return usual, "default"


def _shrinkage(
    pattern: Pattern, learned: Learned | None, of_yarns: YarnFigures
) -> tuple[Range, Literal["pattern", "measured", "default"]]:
    """The one that a yarn's take-up was reckoned with, where that take-up is used and the pattern says none itself: so
    the two together are what that tape did."""
    own_take_up = pattern.length.take_up is not None or (learned is not None and learned.take_up is not None)
    with_take_up = None if own_take_up or of_yarns.take_up is None else of_yarns.take_up.shrinkage
    if pattern.length.shrinkage is None and with_take_up is not None:
        return (with_take_up,) * 3, "measured"
    return shrinkage(pattern)


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
