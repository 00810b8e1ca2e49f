"""The beam: turns, sticks, what a stop lets off, the tape still to come."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cardmaker.wording.formatters import Units, decimal, small_length, tape_length
from cardmaker.wording.phrases import listed, plural
from cardmaker.wording.piece_words import pieces_to_come
from cardmaker.wording.units_in_words import small_length_in_words, with_units_in_words

if TYPE_CHECKING:
    from cardmaker.model.bench import TapeLeft, WarpOnBeam
    from cardmaker.model.loom import Loom
    from cardmaker.model.plan import Lengths

TURNS: Final = "The beam"
TURNS_LEFT: Final = "turns left"
TAPE_TO_COME: Final = "tape to come"
PIECES_TO_COME: Final = "whole pieces to come"
MOST_ROWS: Final = 8  # of the table of turns left
_LISTED_TURNS: Final = (30, 25, 20, 15, 10, 8, 6, 5, 4, 3, 2, 1)


def beam_turns(beam: WarpOnBeam, units: Units) -> str:
    """How often the beam goes round, and how fat the roll gets."""
    return (
        f"The warp goes about {decimal(beam.turns, 0)} times round the beam, "
        f"{small_length(beam.final_diameter_mm, units)} across when it is full."
    )


def turn_mark(turn: int) -> str:
    """Beside the roll: the turn that takes sticks."""
    return f"turn {turn}"


def sticks(beam: WarpOnBeam) -> str:
    """How many sticks, and at which turns: the knot first."""
    if not beam.sticks:
        return ""
    later = [str(turn) for turn in beam.stick_turns if turn]
    start = f"{plural(beam.sticks, 'stick')} in all: 2 at the knot"
    if not later:
        return f"{start}, one each side of the lump."
    return f"{start}, then 2 after {'turn' if len(later) == 1 else 'turns'} {listed(later)}."


def let_off(beam: WarpOnBeam, loom: Loom, units: Units) -> str:
    """What one stop of the beam gives, full and nearly empty."""
    full, empty = (small_length(length, units) for length in (beam.let_off.full_mm, beam.let_off.nearly_empty_mm))
    is_ratchet = loom.beam is not None and loom.beam.held_by == "ratchet"
    stop = "click of the ratchet" if is_ratchet else "turn of the beam to its next stick hole"
    moves = beam.let_off.advances
    whole = "" if moves is None else f": about {plural(moves, 'move')} for the whole tape"
    return f"One {stop} lets off about {full} at first and {empty} at the end{whole}."


def slipped_edge(beam: WarpOnBeam) -> str:
    """Why the packing must be wider than the warp."""
    if beam.slipped_edge_strain is None:
        return ""
    longer = decimal(beam.slipped_edge_strain * 100, 0)
    return f"Keep the packing wider than the warp: an edge that slips off it goes slack by about {longer} %."


def turns_left(beam: WarpOnBeam, most: int = MOST_ROWS) -> list[TapeLeft]:
    """A few whole numbers of turns, close together near the end of the warp, where the question is asked."""
    wanted = [left for turns in _LISTED_TURNS for left in beam.tape_left if left.turns == turns]
    with_tape = [left for left in wanted if left.tape_mm > 0]
    without = [left for left in wanted if left.tape_mm <= 0][:1]
    return [*with_tape[-(most - len(without)) :], *without]


def still_to_come(lengths: Lengths) -> str:
    """The head of the column: what is counted there."""
    if lengths.pieces_come:
        return PIECES_TO_COME
    is_range = lengths.tape_at_least_mm != lengths.tape_from_warp_mm
    return f"{TAPE_TO_COME}, at least" if is_range else TAPE_TO_COME


def tape_to_come(row: TapeLeft, lengths: Lengths, units: Units) -> str:
    """The tape, or the pieces, that so many turns still give."""
    if lengths.pieces_come:
        return pieces_to_come(row.pieces, lengths) or "no whole one"
    return tape_length(row.tape_mm, units) if row.tape_mm > 0 else "none, only waste"


def roll_alt_text(beam: WarpOnBeam, units: Units) -> str:
    """The roll from its end."""
    bare = small_length_in_words(beam.beam_diameter_mm, units)
    turns = with_units_in_words(beam_turns(beam, units))
    return f"The beam from its end, {bare} across when bare. {turns} {sticks(beam)}".rstrip()
