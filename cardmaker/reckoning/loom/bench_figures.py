"""The bench: what pegs, beam, tension, shuttle, clock and pick-up ask of one warp, put together.

Each answer is given where the files tell enough, and is None where they do not.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Final

from cardmaker.model.bench import Rescue, ShuttleFill, TimePlan, WarpOnBeam, WarpPull
from cardmaker.model.peg_plan import PegPlan, Pegs
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.amounts.diameters import square_root
from cardmaker.reckoning.amounts.yarn_counts import tex
from cardmaker.reckoning.loom.beam import warp_layer_mm, warp_on_beam
from cardmaker.reckoning.loom.tension import coin_dips, pulls
from cardmaker.reckoning.loom.warp_on_loom import BenchFigures, Warp, yarn_diameters
from cardmaker.reckoning.weaving.pace import session_plan, weaving_pace
from cardmaker.reckoning.weaving.pickup import pickup_plan
from cardmaker.reckoning.weaving.rescue import end_places, replacements, rethreading
from cardmaker.reckoning.weaving.shuttle import shuttle_fill, wrap_mm
from cardmaker.reckoning.winding.setting_pegs import WASTEFUL, choose_pegs, plan_pegs

DEEPEST_DIP: Final = Fraction(1, 4)  # of the span: deeper, and the press stretches the warp more than it tells (ours)


def figures_at_bench(warp: Warp, pegs: Sequence[Pegs] = (), *, pegs_were_asked_for: bool = False) -> BenchFigures:
    """All answers. ``pegs`` are the places to choose from; none means that nobody asks.

    Raises Refusal for a pick-up that cannot be worked, and, where these very pegs were asked for, for a length that
    they cannot give.
    """
    across = yarn_diameters(warp.pattern, warp.yarns)
    return BenchFigures(
        diameters_mm=across,
        pegs=pegs_for(warp, pegs, across, pegs_were_asked_for) if across else None,
        beam=on_beam(warp, across) if across else None,
        tension=warp_pull(warp),
        shuttle=fill(warp),
        rescue=rescue_figures(warp),
        pickup=pickup_plan(warp.pattern.pickup, warp.yarns, warp.sheds) if warp.pattern.pickup else None,
        pace=time_plan(warp),
    )


def pegs_for(
    warp: Warp, pegs: Sequence[Pegs], across: Mapping[str, Fraction], were_asked_for: bool = False
) -> PegPlan | None:
    """The best of these places for this warp; None when none will do and nobody asked for one of them."""
    mean = sum((across[name] for name in warp.yarns), Fraction(0)) / warp.ends  # so that the stack at the cross is true
    wanted = warp.lengths.wind_mm
    try:
        if len(pegs) == 1:
            return plan_pegs(pegs[0], wanted, warp.ends, mean)
        return _best_place(pegs, wanted, warp.ends, mean) if pegs else None
    except Refusal:
        if were_asked_for:
            raise
        return None


def _best_place(pegs: Sequence[Pegs], wanted: Fraction, ends: int, diameter: Fraction) -> PegPlan:
    """As ``choose_pegs``; but spans, which take longest, only where no board or table goes before them all."""
    boards = [each for each in pegs if each.kind != "span"]
    try:
        best = choose_pegs(boards, wanted, ends, diameter)
    except Refusal:
        return choose_pegs(pegs, wanted, ends, diameter)
    wins = best.spare_mm <= WASTEFUL * wanted and not best.stack_is_too_high
    return best if wins else choose_pegs(pegs, wanted, ends, diameter)


def on_beam(warp: Warp, across: Mapping[str, Fraction]) -> WarpOnBeam | None:
    """The warp on the loom's beam, spread as wide as the tape will be (common practice, no source: up to twice that).

    Ends of several thicknesses count as alike ones that fill the same room. What is left for fringes gives no tape, so
    it goes with the waste.
    """
    if warp.loom.beam is None:
        return None
    lengths = warp.lengths
    layer = warp_layer_mm(warp.ends, _even_diameter(warp.yarns, across), warp.width.likely_mm)
    lost = lengths.waste_mm + lengths.fringes_mm
    return warp_on_beam(warp.loom, layer, lengths.wind_mm, lost, lengths.take_up, lengths.shrinkage)


def _even_diameter(yarns: Sequence[str], across: Mapping[str, Fraction]) -> Fraction:
    """The diameter of alike ends that would fill the same area: the root of the mean square."""
    if len(set(across.values())) == 1:
        return next(iter(across.values()))
    return square_root(sum((across[name] ** 2 for name in yarns), Fraction(0)) / len(yarns))


def warp_pull(warp: Warp) -> WarpPull | None:
    """The tensions of the whole warp; thick ends bear more of it, as their tex says."""
    weights = {name: tex(warp.pattern.yarn(name)) for name in dict.fromkeys(warp.yarns)}
    if None in weights.values():
        return None
    mean = sum((weights[name] or Fraction(0) for name in warp.yarns), Fraction(0)) / warp.ends
    levels = pulls(mean, warp.ends)
    press = warp.loom.press
    if press is None:
        return WarpPull(warp.ends, mean, levels)
    dips = tuple(
        each
        for each in coin_dips(levels, 1, press.weight_g, press.span_mm)
        if each.dip_mm <= DEEPEST_DIP * press.span_mm
    )
    return WarpPull(warp.ends, mean, levels, press.weight_g, press.span_mm, dips)


def fill(warp: Warp) -> ShuttleFill | None:
    """The weft as bought, joins and all, on this loom's shuttle; one fill where nothing tells what it holds."""
    length = warp.loom.shuttle_length_mm
    return shuttle_fill(warp.weft.buy_mm, wrap_mm(length), warp.loom.shuttle_holds) if length else None


def rescue_figures(warp: Warp) -> Rescue:
    """Where each end lies, what to rethread from it on, and how long a piece to put in must be."""
    must_stay = any(warp.pattern.yarn(name).slots_only for name in dict.fromkeys(warp.yarns))
    return Rescue(
        ends=end_places(warp.yarns, warp.placement),
        rethreading=tuple(rethreading(number, warp.ends, must_stay=must_stay) for number in range(1, warp.ends + 1)),
        replacements=replacements(warp.lengths.wind_mm, warp.lengths.waste_mm),
    )


def time_plan(warp: Warp) -> TimePlan | None:
    """The weaving at the pace that the loom's file tells of its weaver, and the session if it tells that too."""
    hers, weft = warp.loom.pace, warp.weft
    if hers is None:
        return None
    weaving = weaving_pace(weft.picks, hers.picks_per_minute)
    if hers.session_minutes is None:
        return TimePlan(weaving, None)
    session = session_plan(
        hers.session_minutes,
        ends=warp.ends,
        winding_seconds_per_end=hers.winding_seconds,
        threading_seconds_per_end=hers.threading_seconds,
        fixed_minutes=hers.fixed_minutes,
        picks=weft.picks,
        picks_per_minute=hers.picks_per_minute,
        picks_per_inch=weft.picks_per_inch,
        take_up=warp.lengths.take_up,
        waste_mm=warp.lengths.waste_mm,
    )
    return TimePlan(weaving, session)
