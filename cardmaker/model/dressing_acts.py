"""Dressing a loom: the steps from the cross to the first pick and on to the end, each by the name that files use."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import Literal

from cardmaker.model.record_class import record

Slip = Literal["wind", "dress", "weave"]  # of a handout in stages, which a student gets one after the other


class Act(StrEnum):
    """One step of dressing and what follows it; a page has a picture of each that its loom asks for."""

    KEEPERS = "keepers"
    CROSS = "cross"
    THREAD = "thread"
    TWO_HEDDLES = "two heddles"
    TIE_ON = "tie on"
    WIND_ON = "wind on"
    FRONT_TIE = "front tie"
    TIE_LOOM = "tie the loom"
    SHUTTLE = "shuttle"
    FIRST_PICK = "first pick"
    MOVE_ON = "move on"
    FINISH = "finish"


@record
class Dressing:
    """What dressing needs besides the plan; lengths in mm. None where the loom's file does not tell enough."""

    tips_mm: Fraction  # that stand past the knot on the beam
    spare_mm: Fraction  # past the front knot
    tail_mm: Fraction  # of the weft, left at the first pick
    header_mm: Fraction  # woven first, and not counted
    knots: int  # on the beam
    left_at_heddle_mm: Fraction | None  # of the warp when winding on stops; beam first it is told from the keepers
    tape_per_fill_mm: Fraction | None  # woven, on the loom
    loose_at_far: tuple[int, ...]  # ends, as they are wound, that stop at the far peg without a loop there
