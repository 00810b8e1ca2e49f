"""The command that makes a card, a binder, a sheet of tapes or the sheets of a class again, as their PDFs carry it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from cardmaker.jobs.file_lookup import own_folder
from cardmaker.jobs.files_to_carry import MakingCommand, Value, carried_from, layout_source, sources_of
from cardmaker.model.plan import Plan

if TYPE_CHECKING:
    from cardmaker.jobs.binder_making import BinderRequest
    from cardmaker.jobs.binding import BinderCard
    from cardmaker.jobs.card_making import CardSetup
    from cardmaker.jobs.class_making import ClassSheets, SheetKind
    from cardmaker.jobs.event_making import EventSetup
    from cardmaker.jobs.plan_making import PlanSetup
    from cardmaker.jobs.sheet_making import SheetSetup, ToldTape
    from cardmaker.model.binder_contents import Binder
    from cardmaker.model.event import EventPlan
    from cardmaker.model.school_class import ClassPlan


def card_command(plan: Plan, setup: CardSetup, supersedes: Path | None) -> MakingCommand:
    """What makes this card again. The loom is left to be chosen where it was, since the card may say so."""
    pattern, loom, *_ = sources_of(plan)
    plans, layout = setup.plans, setup.layout
    named = plans.loom or plans.preferred  # in the plan it may be turned round, but it is of one file
    was_chosen = len(plans.looms) > 1 and (named is None or named.places.file != loom.path)
    options: dict[str, Value | None] = {
        "--layout": layout_source(layout),
        "--paper": setup.paper.name,
        "--loom": None if was_chosen or plans.is_any else loom,
        "--pegs": carried_from(plans.pegs[0].places, "pegs") if plans.pegs_required else None,
        **({} if plans.is_any else options_at_hand(plans)),
        "--hand": plan.view.hand,
        "--from": plan.view.side,
        "--units": setup.units or layout.units,
        "--warp": f"{plans.warp_mm} mm" if plans.warp_mm else None,
        "--back": setup.with_back,
        "--supersedes": supersedes.name if supersedes else None,
    }
    needs = [name for name in (supersedes.name if supersedes else "", photograph_name(plan)) if name]
    return MakingCommand("card", [pattern], options, needs=needs)


def photograph_name(plan: Plan) -> str:
    """The file of the photograph that is printed with a plan; empty where there is none."""
    source = plan.pattern.source
    return source.photograph if plan.photograph and source else ""


def options_at_hand(plans: PlanSetup) -> dict[str, Value | None]:
    """The looms to choose from and to compare with, and the places to wind, unless one was asked for."""
    places = () if plans.pegs_required else plans.pegs
    return {
        "--looms": [carried_from(each.places, "loom") for each in plans.looms],
        "--places": [carried_from(each.places, "pegs") for each in places],
    }


def sheet_command(tapes: Sequence[ToldTape], setup: SheetSetup) -> MakingCommand:
    """What makes this sheet of tapes again, in the same order."""
    plans = setup.plans
    options: dict[str, Value | None] = {
        "--to": carried_from(setup.layout.places, "sheet"),
        "--paper": setup.paper.name,
        "--title": setup.title or None,
        "--loom": carried_from(plans.loom.places, "loom") if plans.loom else None,
        "--looms": [carried_from(each.places, "loom") for each in plans.looms],
        "--hand": plans.hand,
        "--from": plans.side or "loom",
        "--units": setup.units,
        "--warp": f"{plans.warp_mm} mm" if plans.warp_mm else None,
    }
    return MakingCommand("sheet", [sources_of(tape.plan)[0] for tape in tapes], options)


def binder_command(
    binder: Binder, request: BinderRequest, setup: CardSetup, cards: Mapping[str, BinderCard], around: Path | None
) -> MakingCommand:
    """What makes this binder again, from its file, whose folder laid out as hers is ``around`` it if there is one, or
    from the same patterns in the same order."""
    file = carried_from(binder.places, "binder")
    plans, layout = setup.plans, setup.layout
    options: dict[str, Value | None] = {
        "--title": request.title if file.data else binder.title,
        "--by": request.by,
        "--layout": layout_source(layout),
        "--paper": setup.paper.name,
        "--loom": carried_from(plans.loom.places, "loom") if plans.loom and request.loom else None,
        "--prefer": carried_from(plans.preferred.places, "loom") if plans.preferred else None,
        **options_at_hand(plans),
        "--hand": plans.hand,
        "--from": plans.side or "loom",
        "--units": setup.units or layout.units,
        "--duplex": binder.duplex,
        "--since": request.since.name if request.since else None,
    }
    old = [request.since.name] if request.since else []
    needs = [*old, *dict.fromkeys(card.photograph for card in cards.values() if card.photograph)]
    if not file.data:
        return MakingCommand("binder", [card.sources[0] for card in cards.values()], options, needs=needs)
    return MakingCommand("binder", [file], options, around or own_folder(), needs)


def class_command(
    plan: ClassPlan, sheets: ClassSheets, kinds: Sequence[SheetKind], around: Path | None
) -> MakingCommand:
    """What makes all sheets of this class again, whose file may have a folder laid out as hers ``around`` it."""
    school_class = plan.school_class
    options: dict[str, Value | None] = {
        "--paper": sheets.paper,
        "--units": sheets.units,
        "--looms": [carried_from(loom.places, "loom") for loom in plan.at_hand],
        "--backs": sheets.backs,
        "--stages": school_class.in_stages,
        "--one": len(kinds) > 1,
    }
    return MakingCommand("class", [carried_from(school_class.places, "class")], options, around or own_folder())


def event_command(plan: EventPlan, setup: EventSetup) -> MakingCommand:
    """What makes all that is printed for this event again, whose file may have a folder laid out as hers around it."""
    options: dict[str, Value | None] = {
        "--paper": setup.paper,
        "--units": setup.units,
        "--looms": [carried_from(loom.places, "loom") for loom in setup.plans.looms],
    }
    return MakingCommand("event", [carried_from(plan.event.places, "event")], options, setup.around or own_folder())
