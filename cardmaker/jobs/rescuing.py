"""``rescue``: which end is meant, what is asked about it, and a slip of it; without an end the list of troubles."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal, NamedTuple

from cardmaker.jobs import plan_making
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.files_to_carry import MakingCommand, Value, carried_from, sources_of
from cardmaker.jobs.loading import load_layout, load_settings
from cardmaker.jobs.paper_lookup import paper_of
from cardmaker.model.loom import Side
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.reckoning.weaving import lost_ends
from cardmaker.wording import rescue_report
from cardmaker.wording.formatters import Units
from cardmaker.wording.phrases import plural

if TYPE_CHECKING:
    from cardmaker.model.bench import LostEnd

LAYOUT: Final = "rescue"  # the card layout of a slip
_ALONE: Final = ("in_stripe", "edge", "woven", "turns_left", "out", "paper")  # what says nothing without an end


class RescueRequest(NamedTuple):
    """What the command asks for: an end by its count from an edge, or by its stripe; or no end at all."""

    pattern: str
    end: int | None
    stripe: int | None
    in_stripe: int | None
    edge: Literal["left", "right"] | None  # None: the one where end 1 is
    woven: Fraction | None
    turns_left: Fraction | None
    loom: str | None
    pegs: str | None
    warp: Fraction | None
    hand: Literal["right", "left"] | None  # None: as the settings say
    side: plan_making.AskedSide | None
    units: Units | None
    json: bool
    out: Path | None
    paper: str | None
    places: Sequence[str] | None = None


def rescue_text(request: RescueRequest) -> str:
    """What is told in the terminal. Raises WrongUsage, ProblemsFound."""
    plan, units = _plan(request)
    if not _names_an_end(request):
        if request.json:
            return _as_text(rescue_report.troubles_json(plan, units))
        return rescue_report.troubles_text(plan, units)
    lost, in_stripe = _found(request, plan)
    if request.json:
        return _as_text(rescue_report.lost_end_json(plan, lost, in_stripe, units))
    return rescue_report.lost_end_text(plan, lost, in_stripe, units)


def write_slip(request: RescueRequest) -> tuple[Path, str]:
    """The slip of an end, written: its file, and what kind of card it is. Raises WrongUsage, ProblemsFound,
    CannotWrite."""
    from cardmaker.files import write_whole
    from cardmaker.jobs import card_making
    from cardmaker.jobs.file_lookup import find

    plan, units = _plan(request)
    lost, _ = _found(request, plan)
    layout = load_layout(find("layout", LAYOUT))
    paper = paper_of(layout, request.paper, load_settings().paper)
    command = _command(request, plan, lost, paper.name, units)
    card = card_making.make_card(replace(plan, lost_end=lost), layout, paper, units, command=command)
    target = _target(request.out or Path(), request.pattern, lost)
    write_whole(target, card.pdf)
    return target, f"{plan.loom.title}, {paper.name}, end {lost.place.end_number}"


def _command(request: RescueRequest, plan: Plan, lost: LostEnd, paper: str, units: Units) -> MakingCommand:
    """What makes this slip again, on the same loom and with the same places to wind to choose from."""
    pattern, loom, *_ = sources_of(plan)
    setup = plan_making.setup_by_name(_asked(request, units))
    options: dict[str, Value | None] = {
        "--end": str(lost.place.end_number),
        "--woven": str(request.woven) if request.woven else None,
        "--turns-left": str(request.turns_left) if request.turns_left is not None else None,
        "--paper": paper,
        "--loom": loom,
        "--pegs": carried_from(setup.pegs[0].places, "pegs") if setup.pegs_required else None,
        "--places": [carried_from(each.places, "pegs") for each in setup.pegs if not setup.pegs_required],
        "--hand": plan.view.hand,
        "--from": plan.view.side,
        "--units": units,
        "--warp": f"{request.warp} mm" if request.warp else None,
    }
    return MakingCommand("rescue", [pattern], options)


def _target(out: Path, pattern: str, lost: LostEnd) -> Path:
    """The file that is named, or in the folder one that says which end it is of."""
    if out.suffix.lower() == ".pdf" and not out.is_dir():
        return out
    return out / f"{Path(pattern).stem}-end-{lost.place.end_number}-{LAYOUT}.pdf"


def _as_text(values: dict[str, Any]) -> str:
    import json

    return json.dumps(values, ensure_ascii=False, indent=2) + "\n"


def _plan(request: RescueRequest) -> tuple[Plan, Units]:
    """The plan, as ``plan`` tells it. Raises WrongUsage, ProblemsFound."""
    units: Units = request.units or load_settings().units or "metric"
    _refuse_what_does_not_go_together(request)
    return plan_making.plan_by_name(_asked(request, units)), units


def _asked(request: RescueRequest, units: Units) -> plan_making.PlanRequest:
    return plan_making.PlanRequest(
        request.pattern, request.loom, request.warp, request.pegs, request.hand, request.side, units, request.places
    )


def _names_an_end(request: RescueRequest) -> bool:
    return request.end is not None or request.stripe is not None


def _refuse_what_does_not_go_together(request: RescueRequest) -> None:
    if request.end is not None and (request.stripe is not None or request.in_stripe is not None):
        raise WrongUsage("--end counts over the whole warp: leave --stripe and --in-stripe out, or --end.")
    if request.stripe is not None and request.in_stripe is None:
        raise WrongUsage("--stripe needs --in-stripe as well: which end of the stripe, counted from the same edge.")
    if request.stripe is None and request.in_stripe is not None:
        raise WrongUsage("--in-stripe needs --stripe as well: which stripe, counted from the same edge.")
    if request.json and request.out is not None:
        raise WrongUsage("--json tells programs in the terminal, and --out writes a slip: leave one of them out.")
    if request.paper is not None and request.out is None:
        raise WrongUsage("--paper is of a slip: say with --out where to write it.")
    if not _names_an_end(request):
        for name in _ALONE:
            if getattr(request, name) is not None:
                option = f"--{name.replace('_', '-')}"
                raise WrongUsage(f"{option} is about one end: say which, as in --end 17, or --stripe 3 --in-stripe 2.")


def _found(request: RescueRequest, plan: Plan) -> tuple[LostEnd, lost_ends.PlaceInStripe]:
    """The end that is meant, with its stripe. Raises WrongUsage, at the option, for one that there is not."""
    edge = Side(request.edge) if request.edge else lost_ends.first_edge(plan)
    number = _by_stripe(request, edge, plan) if request.end is None else _by_count(request.end, edge, plan)
    _refuse_turns(request.turns_left, plan)
    if plan.rescue is None:
        raise ValueError("a plan with all its figures tells where every end is")
    lost = lost_ends.lost_end(number, plan, plan.rescue, request.woven or Fraction(0), request.turns_left)
    return lost, lost_ends.place_in_stripe(number, edge, plan)


def _by_count(count: int, edge: Side, plan: Plan) -> int:
    try:
        return lost_ends.end_from_edge(count, edge, plan)
    except ValueError:
        ends = plural(plan.ends, "end")
        raise WrongUsage(f"--end {count}: {plan.pattern.title} has {ends}. {_write(plan.ends)}") from None


def _by_stripe(request: RescueRequest, edge: Side, plan: Plan) -> int:
    stripe, count = request.stripe or 0, request.in_stripe or 0
    stripes = lost_ends.stripes_from_edge(edge, plan)
    if not 1 <= stripe <= len(stripes):
        has = plural(len(stripes), "stripe")
        raise WrongUsage(f"--stripe {stripe}: {plan.pattern.title} has {has}. {_write(len(stripes))}")
    try:
        return lost_ends.end_in_stripe(stripe, count, edge, plan)
    except ValueError:
        ends = stripes[stripe - 1].ends
        has = f"stripe {stripe} from the {edge} edge has {plural(ends, 'end')}"
        raise WrongUsage(f"--in-stripe {count}: {has}. {_write(ends)}") from None


def _write(most: int) -> str:
    return f"Write a number from 1 to {most}." if most > 1 else "Write 1."


def _refuse_turns(turns: Fraction | None, plan: Plan) -> None:
    if turns is None:
        return
    if plan.beam is None:
        why = f"nobody has noted enough of the beam of {plan.loom.title}, or of the yarn, to reckon with turns"
        raise WrongUsage(f"--turns-left: {why}. Say how much is woven instead, as in --woven 1/2.")
    if turns > (most := lost_ends.most_turns(plan.beam)):
        makes = f"this warp makes about {plural(most, 'turn')} on {plan.loom.title}"
        raise WrongUsage(f"--turns-left {float(turns):g}: {makes}. Write a number from 0 to {most}.")
