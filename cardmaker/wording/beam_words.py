"""The beam: turns, sticks, what a stop lets off, the tape still to come."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from cardmaker.model.units import MM_PER_INCH
from cardmaker.wording.formatters import Units, decimal, in_mm, in_sixteenths, small_length, tape_at_least
from cardmaker.wording.phrases import listed, plural
from cardmaker.wording.piece_words import pieces_to_come
from cardmaker.wording.units_in_words import small_length_in_words, with_units_in_words

if TYPE_CHECKING:
    from cardmaker.model.bench import LetOff, TapeLeft, WarpOnBeam
    from cardmaker.model.loom import Loom
    from cardmaker.model.plan import Lengths

TURNS: Final = "The beam"
TURNS_LEFT: Final = "turns left"
ON_BEAM: Final = "on the beam"
TAPE_TO_COME: Final = "tape to come, at least"
PIECES_TO_COME: Final = "whole pieces, at least"
MOST_ROWS: Final = 6  # of the table of turns left
ELLIPSIS, LEFT_OUT = "…", "rows left out"  # in the table, between all pieces and the last few
LEAST_TAPE_MM: Final = MM_PER_INCH / 2  # less of it is none
NO_MOVE: Final = "The whole tape is woven without a move."
ENOUGH_ROWS: Final = 5  # with fewer, the turns that fall between two fives stand there as well, the last first


def beam_turns(beam: WarpOnBeam, units: Units) -> str:
    """How often the beam goes round, and how fat the roll gets."""
    return (
        f"The warp goes about {decimal(beam.turns, 0)} times round the beam, "
        f"{small_length(beam.final_diameter_mm, units)} across when it is full."
    )


def turn_mark(turn: int) -> str:
    """Beside the roll: the turn that takes sticks."""
    return f"turn {turn}"


def sticks(beam: WarpOnBeam, loom: Loom, units: Units, *, brief: bool = False) -> str:
    """How many sticks, and at which turns: the knot first (common practice, no source); their size if not ``brief``."""
    if not beam.sticks or loom.packing is None:
        return ""
    thick, wide = (small_length(length, units) for length in (loom.packing.thickness_mm, loom.packing.width_mm))
    size = "" if brief else f", {thick} by {wide}"
    return f"{plural(beam.sticks, 'stick')} in all{size}: {when_sticks_go_in(beam, loom)}"


def when_sticks_go_in(beam: WarpOnBeam, loom: Loom) -> str:
    """At which turns; first at the knot, or at the rod through the loops of a warp that is beamed first."""
    held, lump = ("rod", "it") if loom.beam_first else ("knot", "the lump")
    later = [str(turn) for turn in beam.stick_turns if turn]
    if not later:
        return f"2 at the {held}, one each side of {lump}."
    return f"2 at the {held}, then 2 after {'turn' if len(later) == 1 else 'turns'} {listed(later)}."


def sticks_in_brief(beam: WarpOnBeam, loom: Loom) -> str:
    """The same in a line: ``2 at the knot, 2 after every 3 turns.``"""
    first, *later = when_sticks_go_in(beam, loom).split(", then ")
    if len(beam.stick_turns) < 3 or loom.packing is None or not later:
        return when_sticks_go_in(beam, loom)
    return f"{first}, 2 after every {plural(loom.packing.every_turns, 'turn')}."


def roll_figures(beam: WarpOnBeam, loom: Loom, units: Units) -> list[tuple[str, str]]:
    """The figures to dress by, each with what it counts: turns, how fat the roll gets, and sticks if it takes any."""
    across = in_mm(Fraction(beam.final_diameter_mm)), in_sixteenths(Fraction(beam.final_diameter_mm))
    big, other = across if units == "metric" else across[::-1]
    sticks_too = [(str(beam.sticks), "sticks")] if beam.sticks and loom.packing is not None else []
    return [(decimal(beam.turns, 0), "turns (about)"), (big, f"across, full ({other})"), *sticks_too]


def let_off(beam: WarpOnBeam, loom: Loom, units: Units) -> str:
    """What one stop of the beam gives, full and nearly empty, and how many stops make a move."""
    full, empty = (small_length(length, units) for length in (beam.let_off.full_mm, beam.let_off.nearly_empty_mm))
    is_ratchet = loom.beam is not None and loom.beam.held_by == "ratchet"
    stop = "click of the ratchet" if is_ratchet else "turn to the next stick hole"
    one = f"One {stop} lets off about {full} at first and {empty} at the end."
    return " ".join(part for part in (one, _moves(beam.let_off), _beyond_the_zone(beam.let_off)) if part)


def _moves(let_off: LetOff) -> str:
    """How many stops the weaving zone takes at once, and how often that is; nothing where no zone is known."""
    if let_off.advances is None:
        return ""
    if let_off.stops_a_move is None:
        return NO_MOVE
    stops = _stops_a_move(let_off.stops_a_move)
    return f"A move takes {stops} of these: about {plural(let_off.advances, 'move')} in all."


def _stops_a_move(stops: tuple[int, int]) -> str:
    """Of the first move and of the last: ``2 or 3``."""
    first, last = stops
    return str(first) if first == last else f"{first} {'or' if last == first + 1 else 'to'} {last}"


def moves_in_brief(beam: WarpOnBeam, loom: Loom) -> str:
    """The same in a line by itself: ``A move: 2 or 3 stick holes; about 9 moves.``"""
    let_off = beam.let_off
    if let_off.advances is None or loom.beam is None:
        return ""
    if let_off.stops_a_move is None:
        return NO_MOVE
    stop = "click" if loom.beam.held_by == "ratchet" else "stick hole"
    stops = f"{_stops_a_move(let_off.stops_a_move)} {stop}{'' if let_off.stops_a_move == (1, 1) else 's'}"
    return f"A move: {stops}; about {plural(let_off.advances, 'move')}."


def _beyond_the_zone(let_off: LetOff) -> str:
    """A beam whose stops are too far apart for its loom."""
    if not let_off.longer_than_zone:
        return ""
    return "One may give more tape than the weaving zone is long: the fell then lies beyond it."


def slipped_edge(beam: WarpOnBeam, units: Units, *, brief: bool = False) -> str:
    """Why the packing must be wider than the warp (common practice, no source); if not ``brief``, what an edge off a
    pair of sticks differs by."""
    if beam.slipped_edge_mm is None:
        return ""
    if brief:
        return "Keep the packing wider than the warp."
    differs = small_length(beam.slipped_edge_mm, units)
    return (
        "Keep the packing wider than the warp: an edge that slips off a pair of sticks while you wind on comes off "
        f"tight, up to {differs} too short at every turn; one that slips later is slack by as much."
    )


def turns_left(beam: WarpOnBeam, most: int = MOST_ROWS) -> list[TapeLeft]:
    """A few whole numbers of turns: the first that gives no tape, the one just before it, and every fifth before.

    The question is asked near the end of the warp, so no turn that still gives tape is hidden beside the one that gives
    none; where the fives are few, more of the last turns stand between them. Of pieces there is a row for every number
    of them that may be left; of many, for all of them and for the last few.
    """
    whole = [left for left in beam.tape_left if left.turns == int(left.turns)]
    with_tape = [left for left in whole if left.tape_mm >= LEAST_TAPE_MM]
    if any(left.pieces for left in whole):
        rows = [*_last_of_each_count(with_tape), *[left for left in whole if not any(left.pieces)][:1]]
        return rows if len(rows) <= most else [rows[0], *rows[1 - most :]]
    none = [left for left in whole if left.tape_mm < LEAST_TAPE_MM and left.turns > 0][:1]
    shown = {left.turns for left in with_tape if left.turns % 5 == 0} | {left.turns for left in with_tape[-1:]}
    between = [left.turns for left in reversed(with_tape) if left.turns not in shown]
    shown |= set(between[: max(0, ENOUGH_ROWS - len(none) - len(shown))])
    return [*(left for left in with_tape if left.turns in shown), *none][-most:]


def _last_of_each_count(with_pieces: Sequence[TapeLeft]) -> list[TapeLeft]:
    """The fewest turns that still give so many pieces, for every number of them."""
    fewest = {left.pieces: left for left in with_pieces}
    return list(fewest.values())


def turns_table(beam: WarpOnBeam, lengths: Lengths, units: Units) -> list[tuple[int | None, str]]:
    """The rows of :func:`turns_left` as they are told: how many turns, and what comes. Where numbers of pieces between
    two rows are left out, a row without turns says so in place of the one below it."""
    rows = turns_left(beam)
    told: list[tuple[int | None, str]] = [(int(row.turns), tape_to_come(row, lengths, units)) for row in rows]
    cut = [at for at, (upper, lower) in enumerate(pairwise(rows), start=1) if _skips(upper, lower)]
    return [(None, LEFT_OUT) if at in cut else row for at, row in enumerate(told)]


def _skips(upper: TapeLeft, lower: TapeLeft) -> bool:
    """Whether there are turns between two rows that give another number of pieces than either."""
    return sum(upper.pieces) - sum(lower.pieces) > 1 and upper.turns - lower.turns > 1


def turns_still_on(turns: int | None) -> str:
    """How much warp is still on the beam, ``5 turns``, or that rows are left out."""
    return ELLIPSIS if turns is None else plural(turns, "turn")


def still_to_come(lengths: Lengths) -> str:
    """The head of the column: what is counted there."""
    if lengths.pieces_come:
        return PIECES_TO_COME
    return TAPE_TO_COME


def tape_to_come(row: TapeLeft, lengths: Lengths, units: Units) -> str:
    """The tape, or the pieces, that so many turns still give."""
    if lengths.pieces_come:
        return pieces_to_come(row.pieces, lengths) or "none"
    return tape_at_least(row.tape_mm, units) if row.tape_mm >= LEAST_TAPE_MM else "none"


def turns_left_in_brief(beam: WarpOnBeam, lengths: Lengths, units: Units) -> str:
    """The fewest turns that still give tape, and how much at least, in the card's own units; nothing where none do."""
    for row in reversed(turns_left(beam)):
        comes = tape_to_come(row, lengths, units)
        if comes != "none":
            least = comes if lengths.pieces_come else f"at least {comes.partition(' (')[0]}"
            return f"{plural(int(row.turns), 'turn')} left on the beam: {least}."
    return ""


def roll_alt_text(beam: WarpOnBeam, loom: Loom, units: Units) -> str:
    """The roll from its end."""
    bare = small_length_in_words(beam.beam_diameter_mm, units)
    turns = with_units_in_words(beam_turns(beam, units))
    packing = with_units_in_words(sticks(beam, loom, units, brief=True))
    return f"The beam from its end, {bare} across when bare. {turns} {packing}".rstrip()
