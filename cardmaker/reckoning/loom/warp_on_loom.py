"""A warp as it comes to the bench, and what the bench answers. Kept light: most cards ask the bench nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern, Yarn
from cardmaker.model.plan import Lengths, Placement, Sheds, Weft, Width
from cardmaker.model.problems import Refusal
from cardmaker.model.records import record
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.amounts.diameters import diameter_mm
from cardmaker.reckoning.amounts.width import ENDS_PER_DIAMETER, ends_per_inch_range

if TYPE_CHECKING:
    from cardmaker.model.bench import PickupPlan, Rescue, ShuttleFill, TimePlan, WarpOnBeam, WarpPull
    from cardmaker.model.peg_plan import PegPlan


@record
class Warp:
    """What is known of one warp before it comes to the bench."""

    pattern: Pattern
    loom: Loom
    yarns: Sequence[str]  # of each end
    placement: Placement
    sheds: Sheds
    lengths: Lengths
    width: Width
    weft: Weft

    @property
    def ends(self) -> int:
        return len(self.yarns)


class BenchFigures(NamedTuple):
    """The answers, and the diameters that they rest on (None where nothing tells how thick a yarn is)."""

    diameters_mm: Mapping[str, Fraction] | None = None
    pegs: PegPlan | None = None
    beam: WarpOnBeam | None = None
    tension: WarpPull | None = None
    shuttle: ShuttleFill | None = None
    rescue: Rescue | None = None
    pickup: PickupPlan | None = None
    pace: TimePlan | None = None


def yarn_diameters(pattern: Pattern, yarns: Sequence[str]) -> dict[str, Fraction] | None:
    """How thick each yarn of the warp is; None when that is not known of all of them."""
    found = {name: thickness_mm(pattern.yarn(name)) for name in dict.fromkeys(yarns)}
    known = {name: across for name, across in found.items() if across is not None}
    return known if len(known) == len(found) else None


def thickness_mm(yarn: Yarn) -> Fraction | None:
    """The diameter by weight, else from how the yarn lay round a ruler or in a tape.

    The way back from the width: there a yarn of D diameters an inch is taken to lie at 1.2 D ends an inch.
    """
    if across := diameter_mm(yarn):
        return across
    try:
        return MM_PER_INCH * ENDS_PER_DIAMETER[1] / ends_per_inch_range(yarn).likely
    except Refusal:
        return None
