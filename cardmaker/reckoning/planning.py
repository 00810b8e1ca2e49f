"""One pattern on one loom: every question asked in turn, the answers put together into a plan."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from cardmaker.model.loom import Loom, Space
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Colour, Lengths, OtherLoom, Placement, Plan, SecondPlan, YarnAmount
from cardmaker.model.printers_quotes import pattern_in_print
from cardmaker.model.problems import Refusal
from cardmaker.model.units import QUARTER_YARD
from cardmaker.reckoning.advice import Facts, notes
from cardmaker.reckoning.amounts.lengths import warp_lengths
from cardmaker.reckoning.amounts.measured_tapes import NO_YARN_FIGURES, learned_figures
from cardmaker.reckoning.amounts.weave_geometry import usual_take_up
from cardmaker.reckoning.amounts.weft import usual_picks, weft_needed, weft_yarn
from cardmaker.reckoning.amounts.width import tape_width
from cardmaker.reckoning.amounts.yarn_amounts import yarn_needed
from cardmaker.reckoning.amounts.yarn_thickness import yarn_diameters
from cardmaker.reckoning.on_loom.bench_figures import Warp, beam_or_shuttle, figures_at_bench
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, is_same_both_ways, runs
from cardmaker.reckoning.stripes.yarn_letters import letters
from cardmaker.reckoning.threading.placement import place, slots_only_ends
from cardmaker.reckoning.weaving.sheds import both_sheds
from cardmaker.reckoning.winding.winding_methods import plan_winding

if TYPE_CHECKING:
    from cardmaker.model.peg_plan import Pegs


def make_plan(
    pattern: Pattern,
    loom: Loom,
    *,
    at_hand: Sequence[Loom] = (),
    warp_mm: Fraction | None = None,
    loom_was_chosen: bool = False,
    pegs: Sequence[Pegs] = (),
    pegs_required: bool = False,
    with_bench: bool = True,
    with_shuttle: bool = True,
    with_beam: bool = False,
    wind_step: Fraction = QUARTER_YARD,
    with_second_yarns: bool = False,
) -> Plan:
    """The plan of ``pattern`` on ``loom``. ``warp_mm`` is a warp that is given, whatever the pattern asks for.

    ``at_hand`` are the looms to compare with and to name when this one is too small. ``loom_was_chosen``: nobody asked
    for this loom, and the plan says so. ``pegs`` are the places to wind to choose from (none: the plan has none), and
    when ``pegs_required`` they must do. Without ``with_bench`` nobody asks for beam, tension, rescue and pace, but for
    the beam ``with_beam``, and without ``with_shuttle`` either for the shuttle. ``wind_step`` is what the warp to wind
    is rounded up to. ``with_second_yarns`` all is reckoned again in each of them. Raises Refusal.
    """
    yarns, is_taught = end_yarns(pattern), loom.measured_waste or any(yarn.shelf for yarn in pattern.yarns)
    of_yarns = NO_YARN_FIGURES
    if is_taught:  # few yarns have a file
        from cardmaker.reckoning.amounts.shelf_figures import as_measured, measured_on, yarn_figures

        pattern = as_measured(pattern, loom)
        of_yarns = yarn_figures(pattern, loom, yarns, weft_yarn(pattern, yarns))
    placement = _placement(pattern, yarns, loom, at_hand)
    stripes = runs(yarns)
    learned = learned_figures(pattern, loom, len(yarns))
    width = tape_width(pattern, yarns, learned)
    picks_per_inch, _ = usual_picks(pattern, width, learned, of_yarns)
    take_up = usual_take_up(pattern, yarns, weft_yarn(pattern, yarns), picks_per_inch)
    diameters_mm = yarn_diameters(pattern, yarns)

    def lengths_of(wound_mm: Fraction | None) -> Lengths:
        return warp_lengths(
            pattern,
            loom,
            warp_mm=warp_mm,
            wound_mm=wound_mm,
            learned=learned,
            of_yarns=of_yarns,
            usual_take_up=take_up,
            wind_step=wind_step,
        )

    lengths, sheds = lengths_of(None), both_sheds(placement)
    peg_plan = None
    if pegs and diameters_mm:
        from cardmaker.reckoning.weaving.shuttle import shuttle_for
        from cardmaker.reckoning.winding.setting_pegs import pegs_for

        peg_plan = pegs_for(lengths.wind_mm, yarns, diameters_mm, pegs, required=pegs_required)
    weft_without_pegs, shuttle_without_pegs = None, None
    amounts_without_pegs: tuple[YarnAmount, ...] = ()
    if peg_plan is not None:
        usual = weft_without_pegs = weft_needed(pattern, yarns, width, lengths, learned, of_yarns)
        shuttle_without_pegs = shuttle_for(Warp(pattern, loom, yarns, placement, sheds, lengths, width, usual))
        amounts_without_pegs = yarn_needed(pattern, yarns, lengths, usual)
        lengths = lengths_of(peg_plan.length_mm)
    weft = weft_needed(pattern, yarns, width, lengths, learned, of_yarns)
    warp = Warp(pattern, loom, yarns, placement, sheds, lengths, width, weft)
    everything = with_bench or pattern.pickup is not None
    if everything:
        bench = figures_at_bench(warp, diameters_mm)
    else:
        bench = beam_or_shuttle(warp, diameters_mm, with_beam=with_beam, with_shuttle=with_shuttle)
    facts = Facts(
        pattern,
        loom,
        yarns,
        placement,
        lengths,
        weft,
        at_hand,
        loom_was_chosen,
        diameters_mm,
        peg_plan,
        bool(pegs and diameters_mm),
        bench,
    )
    return Plan(
        pattern=pattern_in_print(pattern),
        loom=loom,
        end_yarns=yarns,
        runs=stripes,
        colours=_colours(yarns, placement, weft.yarn),
        same_both_ways=is_same_both_ways(yarns),
        placement=placement,
        sheds=sheds,
        winding=plan_winding(stripes),
        lengths=lengths,
        width=width,
        weft=weft,
        amounts=yarn_needed(pattern, yarns, lengths, weft),
        notes=notes(facts),
        other_looms=tuple(_other_loom(pattern, yarns, each) for each in at_hand if each.stem != loom.stem),
        pegs=peg_plan,
        beam=bench.beam,
        tension=bench.tension,
        shuttle=bench.shuttle,
        weft_without_pegs=weft_without_pegs,
        shuttle_without_pegs=shuttle_without_pegs,
        amounts_without_pegs=amounts_without_pegs,
        rescue=bench.rescue,
        pickup=bench.pickup,
        pace=bench.pace,
        second=_in_second_yarns(pattern, loom, warp_mm, wind_step) if with_second_yarns else (),
        learned_from=learned.dates if learned else (),
        learned_on=learned.date_of if learned else (),
        measured_on=measured_on(pattern, loom, learned, of_yarns, lengths, width, weft) if is_taught else (),
    )


def _in_second_yarns(
    pattern: Pattern, loom: Loom, warp_mm: Fraction | None, wind_step: Fraction
) -> tuple[SecondPlan, ...]:
    """The whole plan in each second yarn: what to wind, with no pegs to wind it on."""
    if not pattern.second_yarns:
        return ()
    from cardmaker.reckoning.amounts.other_yarns import in_second_yarn

    plans = []
    for second in pattern.second_yarns:
        other = in_second_yarn(pattern, second)
        try:
            plan = make_plan(other, loom, warp_mm=warp_mm, with_bench=False, with_shuttle=False, wind_step=wind_step)
        except Refusal as refusal:
            plans.append(SecondPlan(second.title, None, refusal.message))
        else:
            plans.append(SecondPlan(second.title, plan))
    return tuple(plans)


def smallest_loom(pattern: Pattern, looms: Iterable[Loom]) -> Loom:
    """The loom of least capacity that holds the pattern, one heddle before two. Raises the largest loom's Refusal."""
    yarns = end_yarns(pattern)
    bound = slots_only_ends(pattern, yarns)
    refusal = Refusal(("warp",), "There is no loom at hand.", "Describe one in a file and name it with --loom.")
    for loom in sorted(looms, key=lambda loom: (loom.back_heddle is not None, loom.capacity, loom.title)):
        try:
            place(yarns, loom, bound)
        except Refusal as error:
            refusal = error
        else:
            return loom
    raise refusal


def _placement(pattern: Pattern, yarns: Sequence[str], loom: Loom, at_hand: Sequence[Loom]) -> Placement:
    """Where the warp lies on the loom. Raises a Refusal that names a loom at hand that holds it."""
    bound = slots_only_ends(pattern, yarns)
    try:
        return place(yarns, loom, bound)
    except Refusal as refusal:
        try:
            better = smallest_loom(pattern, at_hand)
        except Refusal:
            raise refusal from None
        remedy = f"{refusal.remedy} {better.title} holds it as it is.".strip()
        raise Refusal(refusal.path, refusal.message, remedy) from None


def _colours(yarns: Sequence[str], placement: Placement, weft_yarn: str) -> tuple[Colour, ...]:
    ends = Counter(yarns)
    in_holes = Counter(yarn for yarn, kind in zip(yarns, placement.kinds, strict=True) if kind is Space.HOLE)
    names = (*ends, *({weft_yarn} - ends.keys()))
    codes = letters(names)
    return tuple(Colour(name, codes[name], ends[name], in_holes[name], ends[name] - in_holes[name]) for name in names)


def _other_loom(pattern: Pattern, yarns: Sequence[str], loom: Loom) -> OtherLoom:
    """How the same warp sits on another loom, or why not, in a few words."""
    try:
        placement = place(yarns, loom, slots_only_ends(pattern, yarns))
    except Refusal:
        why_not = (
            f"too small: {loom.capacity} ends at most"
            if len(yarns) > loom.capacity
            else "thick ends would lie in holes"
        )
        return OtherLoom(loom, None, why_not)
    return OtherLoom(loom, placement)
