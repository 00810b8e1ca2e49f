"""Picks, and the weft that they take.

The plain identity of the books: inches of width times picks per inch is inches of weft in an inch of tape, and so yards
of weft in a yard of it (Brooks 1892 p.149, Taylor 1909 p.312). A narrow tape adds the weft's own crimp and its turn
round the edge end at every pick.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from math import floor
from typing import Final, Literal

from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Lengths, Weft, Width
from cardmaker.model.units import MM_PER_INCH, inches
from cardmaker.reckoning.amounts.measured_tapes import NO_YARN_FIGURES, Learned, YarnFigures, latest

Picks = tuple[Fraction, Literal["pattern", "measured", "default"]]  # to the inch, and what that rests on

ENDS_PER_PICK: Final = Fraction(3)
"""Ends per inch over picks: one loom maker's "three threads of warp for every pass of weft", a rule of thumb."""
WEFT_CRIMP: Final = Fraction(2, 100)  # of the width; 0 to 3 % in warp-faced tape, common practice, no source
TURN: Final = Fraction(math.pi) / 2 - 1  # of the pick spacing: half a circle for the straight step; from geometry
JOINS_SHARE: Final = Fraction(10, 100)  # common practice, no source
JOINS_MM: Final = Fraction(300)  # common practice, no source


def weft_needed(
    pattern: Pattern,
    end_yarns: Sequence[str],
    width: Width,
    lengths: Lengths,
    learned: Learned | None = None,
    of_yarns: YarnFigures = NO_YARN_FIGURES,
    *,
    crimp: Fraction = WEFT_CRIMP,
    turn: Fraction = TURN,
) -> Weft:
    """The weft of the likely tape that the warp as wound gives, or of the pieces that come off it.

    picks = picks per inch * woven length, in whole picks; a pick takes W(1 + crimp) + turn * pick spacing. The books'
    plain identity is ``crimp=0, turn=0``.
    """
    picks_per_inch, basis = usual_picks(pattern, width, learned, of_yarns)
    picks = floor(picks_per_inch * inches(lengths.woven_mm))
    per_pick = width.likely_mm * (1 + crimp) + turn * MM_PER_INCH / picks_per_inch
    used = picks * per_pick
    return Weft(
        yarn=weft_yarn(pattern, end_yarns),
        picks_per_inch=picks_per_inch,
        basis=basis,
        picks=picks,
        per_pick_mm=per_pick,
        used_mm=used,
        buy_mm=used * (1 + JOINS_SHARE) + JOINS_MM,
    )


def weft_yarn(pattern: Pattern, end_yarns: Sequence[str]) -> str:
    """The yarn stated, else that of the edge ends, where it shows least; of two different edges, that of the left."""
    return pattern.weft or end_yarns[0]


def usual_picks(
    pattern: Pattern, width: Width, learned: Learned | None = None, of_yarns: YarnFigures = NO_YARN_FIGURES
) -> Picks:
    """What was beaten before comes before what is wished, that before a record of the file, that before what other
    tapes of its yarn had, that before a guess."""
    if learned and learned.picks_per_inch:
        return learned.picks_per_inch, "measured"
    if pattern.picks_per_inch:
        return pattern.picks_per_inch, "pattern"
    if recorded := latest(pattern, lambda record: record.picks_per_inch):
        return recorded, "measured"
    if of_yarns.picks_per_inch and of_yarns.picks_per_inch.picks_per_inch:
        return of_yarns.picks_per_inch.picks_per_inch, "measured"
    return width.ends_per_inch / ENDS_PER_PICK, "default"
