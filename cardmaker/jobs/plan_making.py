"""The plan of a pattern with the looms and pegs at hand: which are asked for, which are chosen."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final, NamedTuple

from cardmaker.jobs.loading import load_looms, load_pegs
from cardmaker.jobs.lookup import find
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import ProblemsFound, Refusal, problem_from
from cardmaker.reading.read_file import read_loom, read_pegs
from cardmaker.reckoning.planning import make_plan, smallest_loom

if TYPE_CHECKING:
    from cardmaker.model.peg_plan import Pegs
PEG_PANELS: Final = ("room",)  # the panels that show where to wind
BENCH_PANELS: Final = frozenset({"room", "turns", "press", "weaving", "rescue", "cautions"})  # what asks the bench
_OF_PEGS: Final = ("pegs", "order", "longest")  # keys of a pegs file that a refusal may point at


def asks_bench(layout: CardLayout) -> bool:
    """Whether any panel of a layout shows what only the bench can answer."""
    return any({place.panel, place.instead} & BENCH_PANELS for row in layout.rows for place in row)


def shows_pegs(layout: CardLayout) -> bool:
    """Whether any panel of a layout shows where to wind; if none does, nobody looks for a place."""
    return any(place.panel in PEG_PANELS for row in layout.rows for place in row)


class Equipment(NamedTuple):
    """What stays the same for every pattern of one call: the looms at hand, the one that was asked for, if any, and
    the places to wind: one that was asked for, or all to choose from, or none when nobody needs to know."""

    looms: tuple[Loom, ...]
    loom: Loom | None = None
    warp_mm: Fraction | None = None
    pegs: tuple[Pegs, ...] = ()
    pegs_were_asked_for: bool = False
    in_full: bool = True  # beam, tension, shuttle, rescue and pace as well


def load_equipment(
    loom_name: str | None,
    warp_mm: Fraction | None,
    pegs_name: str | None = None,
    *,
    any_pegs: bool = False,
    in_full: bool = True,
) -> Equipment:
    """Reads the looms, and the pegs by name or, with ``any_pegs``, all. Raises WrongUsage and ProblemsFound."""
    looms, loom = load_looms(sound_only=loom_name is not None), None
    if loom_name is not None:
        path = find("loom", loom_name)
        loom = next((loom for loom in looms if loom.places.file == str(path)), None) or read_loom(path)
        looms = (*(other for other in looms if other.stem != loom.stem), loom)
    if pegs_name is not None:
        return Equipment(looms, loom, warp_mm, (read_pegs(find("pegs", pegs_name)),), True, in_full)
    return Equipment(looms, loom, warp_mm, load_pegs() if any_pegs else (), in_full=in_full)


def plan_for(pattern: Pattern, bench: Equipment) -> Plan:
    """The plan on the loom asked for, else on the smallest at hand that holds it. Raises ProblemsFound."""
    try:
        return make_plan(
            pattern,
            bench.loom or smallest_loom(pattern, bench.looms),
            at_hand=bench.looms,
            warp_mm=bench.warp_mm,
            loom_was_chosen=bench.loom is None,
            pegs=bench.pegs,
            pegs_were_asked_for=bench.pegs_were_asked_for,
            with_bench=bench.in_full,
        )
    except Refusal as refusal:
        of_pegs = bench.pegs_were_asked_for and refusal.path[0] in _OF_PEGS
        places = bench.pegs[0].places if of_pegs else pattern.places
        raise ProblemsFound([problem_from(refusal, places)]) from None
