"""The beam: turns, sticks, what a stop lets off, the tape still to come."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cardmaker.model.bench import TapeLeft, WarpOnBeam
from cardmaker.model.loom import Loom
from cardmaker.model.plan import Plan
from cardmaker.wording.measures import Units, decimal, in_mm, small_length, tape_length, tape_lengths
from cardmaker.wording.phrases import listed, plural
from cardmaker.wording.units_in_words import small_length_in_words, with_units_in_words

if TYPE_CHECKING:
    pass

TURNS: Final = "The beam"
TURNS_LEFT: Final = "turns left"
TAPE_TO_COME: Final = "tape to come"


def beam_of(loom: Loom) -> str:
    return loom.title


def beam_turns(beam: WarpOnBeam, units: Units) -> str:
    """How often the beam goes round, and how fat the roll gets."""
    return (
        f"The warp goes about {decimal(Fraction(beam.turns), 0)} times round the beam, "
        f"{small_length(Fraction(beam.final_diameter_mm), units)} across when it is full."
    )


def sticks(beam: WarpOnBeam, loom: Loom) -> str:
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
    full, empty = (
        small_length(Fraction(length), units) for length in (beam.let_off.full_mm, beam.let_off.nearly_empty_mm)
    )
    stop = (
        "click of the ratchet"
        if loom.beam and loom.beam.held_by == "ratchet"
        else "turn of the beam to its next stick hole"
    )
    said = f"One {stop} lets off about {full} at first and {empty} at the end"
    if beam.let_off.advances is not None:
        return f"{said}: about {plural(beam.let_off.advances, 'move')} for the whole tape."
    return f"{said}."


def slipped_edge(beam: WarpOnBeam) -> str:
    """Why the packing must be wider than the warp."""
    if beam.slipped_edge_strain is None:
        return ""
    longer = decimal(Fraction(beam.slipped_edge_strain) * 100, 0)
    return f"Keep the packing wider than the warp: an edge that slips off it goes slack by about {longer} %."


def tape_to_come(length_mm: float, units: Units) -> str:
    return tape_length(Fraction(length_mm), units) if length_mm > 0 else "none, only waste"


BEAM: Final = "On the beam"

ROWS_OF_TAPE: Final = 8  # of the turns-left table in the terminal


def beam_lines(plan: Plan, units: Units) -> list[str]:
    """Turns, sticks, what a stop lets off, and the tape still to come by the turns that are left."""
    found = plan.beam
    if found is None:
        return []
    turns = decimal(Fraction(found.turns), 0)
    lines = [f"About {turns} turns; the roll is {in_mm(Fraction(found.final_diameter_mm))} across when full."]
    if found.sticks:
        later = [str(turn) for turn in found.stick_turns if turn]
        after = f", then 2 after {plural(len(later), 'turn').split()[1]} {listed(later)}" if later else ""
        lines.append(f"{found.sticks} sticks: 2 at the knot{after}.")
    lines.append(_let_off(found))
    rows = rows_of_tape(found)
    if rows:
        left = ", ".join(str(int(row.turns)) for row in rows)
        lines.append(
            f"Turns left {left}: tape still to come {tape_lengths([Fraction(row.tape_mm) for row in rows], units)}."
        )
    return lines


def _let_off(found: WarpOnBeam) -> str:
    off, moves = found.let_off, found.let_off.advances
    full, empty = (decimal(Fraction(length) / 10, 1) for length in (off.full_mm, off.nearly_empty_mm))
    said = f"One stop of the beam lets off {full} cm at first and {empty} cm at the end"
    return f"{said}." if moves is None else f"{said}; about {plural(moves, 'move')} in all."


def rows_of_tape(found: WarpOnBeam, rows: int = ROWS_OF_TAPE) -> list[TapeLeft]:
    """At most so many whole turns, evenly spread, with tape still to come; the fewest turns that give any are there."""
    whole = [row for row in found.tape_left if row.turns == int(row.turns) and row.tape_mm > 0]
    step = -(-len(whole) // rows) if whole else 1
    return whole[::-1][::step][::-1]


# beam and pull


def roll_alt_text(beam: WarpOnBeam, loom: Loom, units: Units) -> str:
    """The roll from its end."""
    bare = small_length_in_words(Fraction(beam.beam_diameter_mm), units)
    told = f"The beam from its end, {bare} across when bare. {with_units_in_words(beam_turns(beam, units))}"
    return f"{told} {sticks(beam, loom)}".rstrip()
