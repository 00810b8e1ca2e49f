"""The warp on its beam: turns, growth, packing sticks, what a stop lets off, how much tape is still to come.

The warp is taken as a ribbon of even thickness wound evenly. Each turn lies on a circle through the middle of its own
layer, so ``warp = π·turns·(bare diameter + turns·build-up)``: the sum of those circles, and for ten turns or more
within 0.01 % the length of the Archimedean spiral (own derivation, checked by integration in the tests). Valid while
the build-up is small beside the beam (under a tenth of its diameter) and the edges ride on the packing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import count, takewhile
from math import ceil, floor, pi, sqrt
from typing import Final

from cardmaker.model.bench import LetOff, Number, TapeLeft, WarpOnBeam
from cardmaker.model.loom import Beam, Loom, Packing
from cardmaker.model.plan import Lengths
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.amounts.pieces import pieces_still_to_come
from cardmaker.reckoning.amounts.yarn_thickness import square_root
from cardmaker.reckoning.on_loom.bench_figures import Warp

FILL: Final = 0.8  # share of a heaped layer that is yarn, 0.7 to 0.9: common practice, no source
MOST_TURNS: Final = (
    2_000  # a metre across and more on any beam here; beyond it the warp or the beam is a slip of the pen (ours)
)
_STEADY: Final = 1e-9  # of a turn: what floating point may add to a whole number (ours)


def warp_layer_mm(ends: int, diameter_mm: Number, spread_mm: Number, fill: Number = FILL) -> float:
    """Thickness of one turn of warp.

    While the ends lie side by side within the spread it is one end; beyond that the area of the ends, heaped:
    ``ends·π·d² / (4·spread·fill)``, never less than one end. The area form is geometry; ``fill`` 0.7 to 0.9 is common
    practice, no source. Raises ValueError for anything not above nought, or a fill above 1.
    """
    if ends < 1 or diameter_mm <= 0 or spread_mm <= 0 or not 0 < fill <= 1:
        raise ValueError("ends, diameter and spread must be above nought, and the fill a share of one")
    if ends * diameter_mm <= spread_mm:
        return float(diameter_mm)
    return float(max(diameter_mm, ends * pi * diameter_mm * diameter_mm / (4 * spread_mm * fill)))


def packing_share_mm(packing: Packing | None) -> float:
    """What packing adds to each turn: its thickness spread over the turns between two of them.

    Own derivation for a full wrap (paper, or slats all round). Two sticks bridge a little less:
    of a pair of 2 mm by 15 mm, 1.7 mm on a roll 32 mm across and 1.1 mm on one of 50 mm. Counting a pair as a full wrap
    is common practice, no source.
    """
    return float(packing.thickness_mm / packing.every_turns) if packing else 0.0


def turns_on_beam(warp_mm: Number, beam_diameter_mm: Number, build_up_mm: Number) -> float:
    """Turns that a warp makes: ``(−D₀ + √(D₀² + 4·t·L/π)) / 2t``; with no build-up ``L/(π·D₀)``.

    Raises ValueError for a negative length or build-up, or a beam without a diameter.
    """
    if warp_mm < 0 or beam_diameter_mm <= 0 or build_up_mm < 0:
        raise ValueError("a beam needs a diameter, and neither warp nor build-up can be negative")
    # Written without the difference of two near numbers, so that a thin build-up loses nothing.
    bare = float(beam_diameter_mm)
    return 2 * float(warp_mm) / pi / (bare + sqrt(bare * bare + 4 * float(build_up_mm) * float(warp_mm) / pi))


def warp_on_turns_mm(turns: Number, beam_diameter_mm: Number, build_up_mm: Number) -> float:
    """The warp on the innermost ``turns`` turns: ``π·n·(D₀ + n·t)``, the inverse of ``turns_on_beam``."""
    if turns < 0 or beam_diameter_mm <= 0 or build_up_mm < 0:
        raise ValueError("a beam needs a diameter, and neither turns nor build-up can be negative")
    return pi * float(turns) * float(beam_diameter_mm + turns * build_up_mm)


def final_diameter_mm(turns: Number, beam_diameter_mm: Number, build_up_mm: Number) -> float:
    """Across the wound roll: ``D₀ + 2·n·t``."""
    return float(beam_diameter_mm + 2 * turns * build_up_mm)


def stick_turns(turns: Number, every_turns: int) -> tuple[int, ...]:
    """After which turns two sticks go in: at the knot (0), then every so many, while there is warp left to cover them.

    Common practice, no source. Raises ValueError when ``every_turns`` is under 1.
    """
    if every_turns < 1:
        raise ValueError("sticks go in every whole number of turns, 1 or more")
    return tuple(takewhile(lambda turn: turn == 0 or turn < turns - _STEADY, count(0, every_turns)))


def let_off_mm(turns: Number, beam: Beam, build_up_mm: Number) -> float:
    """The warp that one stop lets off with so many turns on the beam: the turn lying there, divided by the stops.

    Taken as the difference of what lies on the beam before and after, so that the stops add up to the warp.
    """
    after = max(float(turns) - 1 / beam.stops_per_turn, 0.0)
    diameter = float(beam.diameter_mm)
    return warp_on_turns_mm(turns, diameter, build_up_mm) - warp_on_turns_mm(after, diameter, build_up_mm)


def advances(
    warp_mm: Number, waste_mm: Number, zone_mm: Number, take_up: Number, beam: Beam, build_up: Number
) -> tuple[int, ...]:
    """The stops of each move: the beam is let off by as many whole stops as the weaving zone takes, at least one.

    The first zone is woven before the first move. Own derivation; the zone is measured on the tape, so a stop is worth
    its length less the take-up. Raises ValueError when the zone is not above nought.
    """
    if zone_mm <= 0:
        raise ValueError("the weaving zone must be above nought")
    wanted = float((warp_mm - waste_mm) * (1 - take_up))
    zone, kept, diameter, build_up = map(float, (zone_mm, 1 - take_up, beam.diameter_mm, build_up))
    turns, woven = turns_on_beam(warp_mm, diameter, build_up), zone
    moves: list[int] = []
    while woven < wanted * (1 - _STEADY) and turns > 0:
        stop = let_off_mm(turns, beam, build_up) * kept
        stops = max(1, min(floor(zone / stop + _STEADY), ceil(turns * beam.stops_per_turn - _STEADY)))
        left = max(turns - stops / beam.stops_per_turn, 0.0)
        before, after = (warp_on_turns_mm(each, diameter, build_up) for each in (turns, left))
        turns, woven = left, woven + (before - after) * kept
        moves.append(stops)
    return tuple(moves)


def let_off_lengths(
    warp_mm: Number, waste_mm: Number, take_up: Number, loom: Loom, build_up_mm: Number, left_mm: Number = 0
) -> LetOff:
    """What one stop lets off with the beam full, with half of the warp gone and at the end, and the moves.

    ``left_mm`` of warp is still on the beam when the last pick is woven; the last stop is the one before.

    Raises ValueError when the loom has no beam.
    """
    beam = _beam(loom)
    full = let_off_mm(turns_on_beam(warp_mm, beam.diameter_mm, build_up_mm), beam, build_up_mm)
    half = let_off_mm(turns_on_beam(warp_mm / 2, beam.diameter_mm, build_up_mm), beam, build_up_mm)
    at_end = turns_on_beam(left_mm, beam.diameter_mm, build_up_mm) + 1 / beam.stops_per_turn
    empty = let_off_mm(at_end, beam, build_up_mm)
    if loom.weaving_zone_mm is None:
        return LetOff(full, half, empty, None)
    zone = loom.weaving_zone_mm[1] - loom.weaving_zone_mm[0]
    moves = advances(warp_mm, waste_mm, zone, take_up, beam, build_up_mm)
    first_and_last = (moves[0], moves[-1]) if moves else None
    return LetOff(full, half, empty, len(moves), first_and_last, bool(moves) and full * float(1 - take_up) > zone)


def still_to_weave_mm(on_beam_mm: Number, lengths: Lengths) -> float:
    """The warp that still becomes tape and fringes: what is on the beam less the waste at the back, never under nought
    and never more than the whole warp gives.

    The waste in front lies before the first pick and is never on the beam. What hangs between the beam and the last
    pick is counted as waste at the back, so there may be a hand's breadth more (own derivation).
    """
    return float(min(max(on_beam_mm - lengths.waste_back_mm, 0), lengths.weavable_mm))


def tape_left(beam_diameter_mm: Number, build_up_mm: Number, lengths: Lengths) -> tuple[TapeLeft, ...]:
    """Finished tape still to come, at least: first for the full beam, then for each whole number of turns left, down to
    none. Of pieces, those that are still whole; a piece that is begun does not count.

    The full beam gives exactly what is promised for the warp; from the turn on where only waste is left it is nought.
    The figures are for looking up, not for cutting (own derivation from the turns).
    """
    turns = turns_on_beam(lengths.wound_mm, beam_diameter_mm, build_up_mm)
    rows = [
        TapeLeft(
            turns, float(lengths.tape_at_least_mm), tuple(piece.come for piece in lengths.pieces if lengths.pieces_come)
        )
    ]
    for left in range(ceil(turns - _STEADY) - 1, -1, -1):
        on_beam = warp_on_turns_mm(left, beam_diameter_mm, build_up_mm)
        rows.append(_tape_of(left, still_to_weave_mm(on_beam, lengths), lengths))
    return tuple(rows)


def _tape_of(turns: int, warp_mm: float, lengths: Lengths) -> TapeLeft:
    if lengths.pieces_come:
        still = pieces_still_to_come(lengths.pieces, warp_mm)
        tape = sum(count * piece.length_mm for count, piece in zip(still, lengths.pieces, strict=True))
        return TapeLeft(turns, float(tape), still)
    at_least = (1 - lengths.take_up_range[1]) * (1 - lengths.shrinkage_range[1])
    return TapeLeft(turns, warp_mm * float(at_least))


def slipped_edge_mm(drop_mm: Number) -> float:
    """By how much a turn of an edge that lies ``drop_mm`` lower differs from the other ends': ``2π·drop``.

    Own derivation: the difference of two circles, whatever the roll's size; the most, since a stick bridges. An edge
    that lies lower while the warp is wound on is wound shorter and comes off tight; one that slips down on the finished
    roll has this much too much, and is slack. Raises ValueError for a negative drop.
    """
    if drop_mm < 0:
        raise ValueError("an edge drops by nought or more")
    return 2 * pi * float(drop_mm)


def warp_on_beam(loom: Loom, layer_mm: Number, lengths: Lengths) -> WarpOnBeam:
    """Everything about one warp on the loom's beam. ``layer_mm`` comes from ``warp_layer_mm``.

    Raises ValueError when the loom has no beam, and Refusal when the warp takes more than MOST_TURNS turns.
    """
    beam, packing, share = _beam(loom), loom.packing, packing_share_mm(loom.packing)
    build_up, bare = layer_mm + share, float(beam.diameter_mm)
    turns = turns_on_beam(lengths.wound_mm, bare, build_up)
    if turns > MOST_TURNS:
        message = f"This warp makes {floor(turns):,} turns on the beam of {loom.title}, {bare:g} mm across."
        raise Refusal(("length",), message, "Check the length asked for, and the beam's diameter in the loom's file.")
    unused = lengths.wound_mm - lengths.used_mm
    knots = stick_turns(turns, packing.every_turns) if packing else ()
    return WarpOnBeam(
        turns=turns,
        warp_layer_mm=float(layer_mm),
        packing_share_mm=share,
        beam_diameter_mm=bare,
        final_diameter_mm=final_diameter_mm(turns, bare, build_up),
        sticks=2 * len(knots),
        stick_turns=knots,
        let_off=let_off_lengths(
            lengths.wound_mm, unused, lengths.take_up, loom, build_up, max(unused - lengths.waste_front_mm, Fraction(0))
        ),
        tape_left=tape_left(bare, build_up, lengths),
        slipped_edge_mm=slipped_edge_mm(packing.thickness_mm) if packing else None,
    )


def _beam(loom: Loom) -> Beam:
    if loom.beam is None:
        raise ValueError(f"{loom.title} has no beam in its file")
    return loom.beam


def on_beam(warp: Warp, diameters_mm: Mapping[str, Fraction]) -> WarpOnBeam | None:
    """The warp on the loom's beam, spread as wide as the tape will be (common practice, no source: up to twice that).

    Ends of several thicknesses count as alike ones that fill the same room.
    """
    if warp.loom.beam is None:
        return None
    layer = warp_layer_mm(warp.ends, _even_diameter(warp.yarns, diameters_mm), warp.width.likely_mm)
    return warp_on_beam(warp.loom, layer, warp.lengths)


def _even_diameter(yarns: Sequence[str], diameters_mm: Mapping[str, Fraction]) -> Fraction:
    """The diameter of alike ends that would fill the same area: the root of the mean square."""
    if len(set(diameters_mm.values())) == 1:
        return next(iter(diameters_mm.values()))
    return square_root(sum((diameters_mm[name] ** 2 for name in yarns), Fraction(0)) / len(yarns))
