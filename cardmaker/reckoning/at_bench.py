"""A warp as it comes to the bench, and what the bench answers. Kept light: most cards ask the bench nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from cardmaker.noun import noun
from cardmaker.nouns.loom import Loom
from cardmaker.nouns.pattern import Pattern, Yarn
from cardmaker.nouns.plan import Lengths, Placement, Sheds, Weft, Width
from cardmaker.problems import Refusal
from cardmaker.reckoning.diameters import diameter_mm
from cardmaker.reckoning.width import ENDS_PER_DIAMETER, ends_per_inch_range
from cardmaker.units import MM_PER_INCH

if TYPE_CHECKING:
    from cardmaker.nouns.bench import PickupPlan, Rescue, ShuttleFill, TimePlan, WarpOnBeam, WarpPull
    from cardmaker.nouns.peg_plan import PegPlan


@noun
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


class Bench(NamedTuple):
    """The answers, and the diameters that they rest on (None where nothing tells how thick a yarn is)."""

    diameters_mm: Mapping[str, Fraction] | None = None
    pegs: PegPlan | None = None
    beam: WarpOnBeam | None = None
    tension: WarpPull | None = None
    shuttle: ShuttleFill | None = None
    rescue: Rescue | None = None
    pickup: PickupPlan | None = None
    pace: TimePlan | None = None


def diameters(pattern: Pattern, yarns: Sequence[str]) -> dict[str, Fraction] | None:
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
