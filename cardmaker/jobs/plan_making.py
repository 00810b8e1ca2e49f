"""``plan``, and the plan of every card: which looms and pegs are asked for, which are chosen among those at hand."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final, Literal

from cardmaker.jobs import loading
from cardmaker.jobs.file_lookup import WrongUsage, find
from cardmaker.jobs.loading import load_settings
from cardmaker.jobs.own_settings import ANY, AS_USUAL, AtHand, own_files_named
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import ProblemsFound, Refusal, problem_from
from cardmaker.model.record_class import record, replace
from cardmaker.model.units import wind_step
from cardmaker.reading.read_file import read_pegs
from cardmaker.reckoning.planning import make_plan, smallest_loom
from cardmaker.reckoning.threading.mirror import plan_as_seen, weavers_view
from cardmaker.wording.formatters import Units

if TYPE_CHECKING:
    from pathlib import Path

    from cardmaker.model.peg_plan import Pegs
    from cardmaker.model.settings import Settings

PEG_PANELS: Final = ("room",)  # the panels that show where to wind
BENCH_PANELS: Final = frozenset({
    "room", "turns", "press", "weaving", "rescue", "new-end", "stripe-ends", "every-end", "cautions",
    "dressing", "dressing-wound", "dressing-threaded", "slip-wind", "slip-dress", "dress-steps", "slip-weave",
})  # fmt: skip
"""What asks the bench."""
BEAM_PANELS: Final = frozenset({"woven-size"})  # what shows of it only the turns on the beam
SHUTTLE_PANELS: Final = frozenset({"legend"})  # what shows of it only how full the shuttle is wound
_OF_PEGS: Final = ("pegs", "order", "longest")  # keys of a pegs file that a refusal may point at


AskedSide = Literal["front", "behind", "loom"]  # from which the heddle is threaded; ``loom``: as that says


@record
class PlanRequest:
    """What the command asks for."""

    pattern: str
    loom: str | None
    warp: Fraction | None
    pegs: str | None
    hand: Literal["right", "left"] | None  # None: as the settings say
    side: AskedSide | None  # None: as the settings say, or the loom
    units: Units | None = None
    places: Sequence[str] | None = None  # to wind, to choose from; None: as the settings say, or all at hand


def plan_by_name(request: PlanRequest) -> Plan:
    """The plan of a pattern with all that it can tell. Raises WrongUsage and ProblemsFound."""
    if request.loom == ANY:
        from cardmaker.wording.any_loom_words import NOT_IN_A_PLAN

        raise WrongUsage(NOT_IN_A_PLAN.format(pattern=request.pattern))
    read = loading.load_pattern(find("pattern", request.pattern))
    return plan_for(read, replace(setup_by_name(request), with_second_yarns=True))


def setup_by_name(request: PlanRequest) -> PlanSetup:
    """The looms and places to wind that such a plan is made with. Raises WrongUsage and ProblemsFound."""
    units, at_hand = request.units or "us", AtHand(places=request.places)
    setup = load_plan_setup(request.loom, request.warp, request.pegs, units, any_pegs=True, at_hand=at_hand)
    return as_asked(setup, request.hand, request.side)


@record
class PlanSetup:
    """What stays the same for every pattern of one call: the looms at hand, the one that was asked for, if any, and
    the places to wind: one that was asked for, or all to choose from, or none when nobody needs to know."""

    looms: tuple[Loom, ...]
    loom: Loom | None = None
    warp_mm: Fraction | None = None
    pegs: tuple[Pegs, ...] = ()
    pegs_required: bool = False
    preferred: Loom | None = None  # the settings' loom: threaded wherever it holds the pattern and none is asked for
    in_full: bool = True  # beam, tension, rescue and pace as well
    with_shuttle: bool = True
    with_beam: bool = False  # where not all is asked for
    hand: Literal["right", "left"] = "right"
    side: Literal["front", "behind"] | None = None  # of the heddle; None: as the loom says
    units: Units = "us"  # in quarter yards or in tenths of a metre the warp is wound
    with_second_yarns: bool = False
    with_photograph: bool = False
    is_any: bool = False  # nobody knows the loom: the looms are those that a mark may make


def load_plan_setup(
    loom: str | None,
    warp_mm: Fraction | None,
    pegs: str | None = None,
    units: Units = "us",
    *,
    any_pegs: bool = False,
    in_full: bool = True,
    with_shuttle: bool = True,
    at_hand: AtHand = AS_USUAL,
) -> PlanSetup:
    """Reads the looms, and the pegs by name or, with ``any_pegs``, all; those named, if any are.

    Raises WrongUsage and ProblemsFound.
    """
    settings = load_settings()
    if loom == ANY:
        return _any_loom(settings, warp_mm, units)
    asks_places = any_pegs and pegs is None
    own = own_files_named(settings, at_hand if asks_places else replace(at_hand, places=()))
    looms = loading.load_looms(sound_only=loom is not None, named=own.looms)
    looms, preferred = _with_loom_at(looms, own.loom)
    looms, chosen = _with_loom_at(looms, find("loom", loom) if loom is not None else None)
    if pegs is not None:
        places: tuple[Pegs, ...] = (read_pegs(find("pegs", pegs)),)
    else:
        places = loading.load_pegs(named=own.pegs) if any_pegs else ()
    return PlanSetup(
        looms, chosen, warp_mm, places, pegs is not None, preferred, in_full, with_shuttle, units=units,
        hand=settings.hand, side=settings.side,
    )  # fmt: skip


def _any_loom(settings: Settings, warp_mm: Fraction | None, units: Units) -> PlanSetup:
    """For a loom that nobody knows: one of each that the mark of a heddle may make, and none of hers."""
    from cardmaker.reckoning.threading.any_heddle import ANY_LOOMS

    return PlanSetup(
        ANY_LOOMS, ANY_LOOMS[0], warp_mm, in_full=False, with_shuttle=False, units=units, is_any=True,
        hand=settings.hand, side=settings.side,
    )  # fmt: skip


def _with_loom_at(looms: tuple[Loom, ...], path: Path | None) -> tuple[tuple[Loom, ...], Loom | None]:
    """The looms with that of a file among them, and it. Raises ProblemsFound."""
    if path is None:
        return looms, None
    loom = next((each for each in looms if each.places.file == str(path)), None) or loading.load_loom(path)
    return with_loom(looms, loom), loom


def as_asked(setup: PlanSetup, hand: Literal["right", "left"] | None, side: AskedSide | None) -> PlanSetup:
    """The setup for the hand and the side that a command asks for; where it does not, for those of the settings.

    From the side that the loom says where a command asks for that, whatever the settings say.
    """
    return replace(setup, hand=hand or setup.hand, side=None if side == "loom" else side or setup.side)


def load_plan_setup_for(
    layout: CardLayout,
    loom: str | None,
    warp_mm: Fraction | None = None,
    pegs: str | None = None,
    units: Units | None = None,
    at_hand: AtHand = AS_USUAL,
) -> PlanSetup:
    """Looms and pegs as far as the panels of a layout ask for them, in its units unless others are asked for.

    Raises WrongUsage and ProblemsFound.
    """
    units = units or load_settings().units or layout.units
    loom = _loom_for(layout, loom)
    in_full, with_shuttle = asks_bench(layout), not layout.panels.isdisjoint(SHUTTLE_PANELS)
    setup = load_plan_setup(
        loom, warp_mm, pegs, units,
        any_pegs=shows_pegs(layout), in_full=in_full, with_shuttle=with_shuttle, at_hand=at_hand,
    )  # fmt: skip
    return replace(
        setup,
        with_beam=not layout.panels.isdisjoint(BEAM_PANELS),
        with_second_yarns="second-yarns" in layout.panels,
        with_photograph="photograph" in layout.panels,
    )


def _loom_for(layout: CardLayout, loom: str | None) -> str | None:
    """The loom asked for, or nobody's for the layout that is for every one. Raises WrongUsage where they do not go
    together."""
    is_for_any = layout.needs == "no loom"
    if is_for_any == (loom == ANY) or (is_for_any and loom is None):
        return ANY if is_for_any else loom
    from cardmaker.wording.any_loom_words import for_any_loom, for_one_loom

    raise WrongUsage(for_any_loom(layout.title) if is_for_any else for_one_loom(layout.title))


def with_loom(looms: tuple[Loom, ...], loom: Loom) -> tuple[Loom, ...]:
    """The looms with ``loom`` last, in the stead of any that has its name."""
    return (*(each for each in looms if each.stem != loom.stem), loom)


def plan_for(pattern: Pattern, setup: PlanSetup) -> Plan:
    """The plan on the loom asked for, else on the settings' loom, or the smallest at hand that holds it, as its weaver
    sees it.

    Raises ProblemsFound.
    """
    try:
        loom = setup.loom or _loom_that_holds(pattern, setup)
        plan = make_plan(
            pattern,
            loom,
            at_hand=setup.looms,
            warp_mm=setup.warp_mm,
            loom_was_chosen=loom not in (setup.loom, setup.preferred),
            pegs=setup.pegs,
            pegs_required=setup.pegs_required,
            with_bench=setup.in_full,
            with_shuttle=setup.with_shuttle,
            with_beam=setup.with_beam,
            wind_step=wind_step(setup.units),
            with_second_yarns=setup.with_second_yarns,
        )
    except Refusal as refusal:
        of_pegs = setup.pegs_required and refusal.path[0] in _OF_PEGS
        places = setup.pegs[0].places if of_pegs else pattern.places
        raise ProblemsFound([problem_from(refusal, places)]) from None
    if setup.with_photograph:
        plan = replace(plan, photograph=loading.photograph_of_pattern(pattern))
    return plan_as_seen(plan, weavers_view(loom, left_hand=setup.hand == "left", side=setup.side))


def _loom_that_holds(pattern: Pattern, setup: PlanSetup) -> Loom:
    """The settings' loom where it holds the pattern, or the smallest at hand. Raises the largest loom's Refusal."""
    if setup.preferred is not None:
        try:
            return smallest_loom(pattern, [setup.preferred])
        except Refusal:
            pass
    return smallest_loom(pattern, setup.looms)


def asks_bench(layout: CardLayout) -> bool:
    """Whether any panel of a layout shows what only the bench can answer."""
    return not layout.panels.isdisjoint(BENCH_PANELS)


def shows_pegs(layout: CardLayout) -> bool:
    """Whether any panel of a layout shows where to wind; if none does, nobody looks for a place."""
    return not layout.panels.isdisjoint(PEG_PANELS)
