"""A warp as it comes to the bench, and what the bench answers: pegs, beam, tension, shuttle, clock and pick-up.

Each answer is given where the files tell enough, and is None where they do not. What answers is loaded only when it is
asked: most cards ask the bench nothing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Lengths, Placement, Sheds, Weft, Width
from cardmaker.model.record_class import record
from cardmaker.reckoning.amounts.yarn_thickness import yarn_diameters

if TYPE_CHECKING:
    from cardmaker.model.bench import PickupPlan, Rescue, ShuttleFill, TimePlan, WarpOnBeam, WarpPull
    from cardmaker.model.peg_plan import PegPlan, Pegs


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


def figures_at_bench(warp: Warp, pegs: Sequence[Pegs] = (), *, pegs_required: bool = False) -> BenchFigures:
    """All answers. ``pegs`` are the places to choose from; none means that nobody asks.

    Raises Refusal for a pick-up that cannot be worked, and, where these very pegs were asked for, for a length that
    they cannot give.
    """
    from cardmaker.reckoning.on_loom.beam import on_beam
    from cardmaker.reckoning.on_loom.press_gauge import warp_pull
    from cardmaker.reckoning.weaving.pickup import pickup_plan
    from cardmaker.reckoning.weaving.rescue import rescue_figures
    from cardmaker.reckoning.weaving.shuttle import shuttle_for
    from cardmaker.reckoning.weaving.working_time import time_plan
    from cardmaker.reckoning.winding.setting_pegs import pegs_for

    diameters_mm = yarn_diameters(warp.pattern, warp.yarns)
    return BenchFigures(
        diameters_mm=diameters_mm,
        pegs=pegs_for(warp, pegs, diameters_mm, pegs_required) if diameters_mm else None,
        beam=on_beam(warp, diameters_mm) if diameters_mm else None,
        tension=warp_pull(warp),
        shuttle=shuttle_for(warp),
        rescue=rescue_figures(warp),
        pickup=pickup_plan(warp.pattern.pickup, warp.yarns, warp.sheds) if warp.pattern.pickup else None,
        pace=time_plan(warp),
    )
