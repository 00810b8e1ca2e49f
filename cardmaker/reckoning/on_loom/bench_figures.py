"""A warp as it comes to the bench, and what the bench answers: beam, tension, shuttle, clock and pick-up.

Each answer is given where the files tell enough, and is None where they do not. What answers is loaded only when it is
asked: most cards ask the bench nothing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Lengths, Placement, Sheds, Weft, Width
from cardmaker.model.record_class import record

if TYPE_CHECKING:
    from cardmaker.model.bench import PickupPlan, Rescue, TimePlan, WarpOnBeam, WarpPull
    from cardmaker.model.shuttle_wraps import ShuttleFill


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


@record
class BenchFigures:
    """The answers; each is None where the files do not tell enough."""

    beam: WarpOnBeam | None = None
    tension: WarpPull | None = None
    shuttle: ShuttleFill | None = None
    rescue: Rescue | None = None
    pickup: PickupPlan | None = None
    pace: TimePlan | None = None


def beam_or_shuttle(
    warp: Warp, diameters_mm: Mapping[str, Fraction] | None, *, with_beam: bool, with_shuttle: bool
) -> BenchFigures:
    """The turns on the beam, or how full the shuttle is wound, for a card that shows nothing else of the bench."""
    beam, shuttle = None, None
    if with_beam and diameters_mm:
        from cardmaker.reckoning.on_loom.beam import on_beam

        beam = on_beam(warp, diameters_mm)
    if with_shuttle:
        from cardmaker.reckoning.weaving.shuttle import shuttle_for

        shuttle = shuttle_for(warp)
    return BenchFigures(beam, shuttle=shuttle)


def figures_at_bench(warp: Warp, diameters_mm: Mapping[str, Fraction] | None) -> BenchFigures:
    """All answers. Raises Refusal for a pick-up that cannot be worked."""
    from cardmaker.reckoning.on_loom.beam import on_beam
    from cardmaker.reckoning.on_loom.press_gauge import warp_pull
    from cardmaker.reckoning.weaving.pickup import pickup_plan
    from cardmaker.reckoning.weaving.rescue import rescue_figures
    from cardmaker.reckoning.weaving.shuttle import shuttle_for
    from cardmaker.reckoning.weaving.working_time import time_plan

    return BenchFigures(
        beam=on_beam(warp, diameters_mm) if diameters_mm else None,
        tension=warp_pull(warp),
        shuttle=shuttle_for(warp),
        rescue=rescue_figures(warp),
        pickup=pickup_plan(warp.pattern.pickup, warp.yarns, warp.sheds) if warp.pattern.pickup else None,
        pace=time_plan(warp),
    )
