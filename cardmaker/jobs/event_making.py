"""``event``: an event file, a plan for every tape, and what is printed for the day."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from cardmaker.events import event_words
from cardmaker.jobs import loading, plan_making
from cardmaker.jobs.file_lookup import WrongUsage, find, folder_around, yaml_file
from cardmaker.jobs.files_to_carry import carried_from, content_digest, files_with_command, layout_source, sources_of
from cardmaker.jobs.lacking_facts import lines_by_facts
from cardmaker.jobs.making_commands import event_command
from cardmaker.jobs.own_settings import ANY, AS_USUAL, AtHand, own_out
from cardmaker.jobs.paper_lookup import paper_of
from cardmaker.jobs.plan_making import PlanSetup
from cardmaker.model.carried_file import DIGEST, About, Carried
from cardmaker.model.event import Event, EventPlan, HoursHeld
from cardmaker.model.plan import Plan
from cardmaker.model.problems import KeyPath, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.model.record_class import record, replace
from cardmaker.reckoning.weaving.working_time import kit_time
from cardmaker.wording.any_loom_words import NOT_AT_AN_EVENT

if TYPE_CHECKING:
    from cardmaker.layout.yarn_inks import Hatches
    from cardmaker.model.bench import SessionPlan
    from cardmaker.model.card_layout import CardLayout
    from cardmaker.model.marks import Page
    from cardmaker.pdf.draft import Draft
    from cardmaker.wording.formatters import Units

EventKind = Literal["day", "sheet", "cards", "labels"]
EVENT_KINDS: Final[tuple[EventKind, ...]] = ("day", "sheet", "cards", "labels")
EventPaper = Literal["letter", "a4"]
CARD: Final = "field"
PAGE: Final = "reference"


class EventRequest(NamedTuple):
    """What the command asks for; without paper or units, those of the event file are taken."""

    event: str
    out: Path | None
    paper: EventPaper | None
    units: Units | None
    looms: Sequence[str] | None = None


@record
class EventSetup:
    """What all that is printed for an event is made with."""

    paper: EventPaper
    units: Units
    plans: PlanSetup
    around: Path | None


class EventPrints(NamedTuple):
    """The pages of each kind, drawn; what found no room on what; and the layouts that they were made by."""

    drafts: dict[EventKind, list[Draft]]
    left_out: tuple[str, ...]
    sources: tuple[Carried, ...]


def write_event(request: EventRequest) -> tuple[dict[Path, int], tuple[str, ...]]:
    """The day's pages, the tapes on one page, field cards and labels, all or none.

    Returns the files, with the number of pages in each, and what found no room. Raises ProblemsFound, WrongUsage,
    CannotWrite.
    """
    from cardmaker.files import write_many

    path = find("event", request.event)
    event = loading.load_event(path)
    setup = load_event_setup(event, request.paper, request.units, AtHand(request.looms, ()))
    plan = plan_event(event, setup)
    out = request.out or own_out(loading.load_settings())
    if out.suffix.lower() == ".pdf" and not out.is_dir():
        raise WrongUsage(f"{out} is one file, but an event makes {len(EVENT_KINDS)}: name a folder.")
    prints = event_prints(plan, setup)
    write_many({out / f"{path.stem}-{kind}.pdf": event_pdf(plan, prints, setup, kind) for kind in EVENT_KINDS})
    return {out / f"{path.stem}-{kind}.pdf": len(prints.drafts[kind]) for kind in EVENT_KINDS}, prints.left_out


# the plan


def load_event_setup(
    event: Event, paper: EventPaper | None = None, units: Units | None = None, at_hand: AtHand = AS_USUAL
) -> EventSetup:
    """The loom, the paper and the units of an event. Raises ProblemsFound, with the event's line."""
    settings = loading.load_settings()
    units = units or event.units or settings.units or "metric"
    usual: EventPaper = "a4" if settings.paper.casefold().endswith("a4") else "letter"
    around = folder_around(Path(event.places.file), "event")
    if event.loom == ANY:
        raise ProblemsFound([_problem_of_event(event, ("loom",), NOT_AT_AN_EVENT)])
    try:
        loom = yaml_file(find("loom", event.loom, around), event.loom)
    except WrongUsage as error:
        raise ProblemsFound([_problem_of_event(event, ("loom",), str(error))]) from None
    plans = plan_making.load_plan_setup(str(loom), None, units=units, at_hand=replace(at_hand, places=()))
    plans = plan_making.as_asked(plans, "left" if event.left_hand else "right", "loom")
    return EventSetup(paper or event.paper or usual, units, plans, around)


def plan_event(event: Event, setup: EventSetup) -> EventPlan:
    """Every tape reckoned on the event's loom. Raises ProblemsFound with the problems of all of them together."""
    tapes: list[HoursHeld] = []
    problems: list[Problem] = []
    for index, name in enumerate(event.patterns):
        try:
            plan = _plan_of(event, index, name, setup)
        except ProblemsFound as error:
            problems += error.problems
        else:
            tapes.append(HoursHeld(plan, _time(event, plan)))
    if problems:
        raise ProblemsFound(problems)
    named = event.on_loom or event.patterns[0]
    return EventPlan(event, tuple(tapes), tapes[event.patterns.index(named)])


def _plan_of(event: Event, index: int, name: str, setup: EventSetup) -> Plan:
    try:
        file = yaml_file(find("pattern", name, setup.around), name)
    except WrongUsage as error:
        raise ProblemsFound([_problem_of_event(event, ("patterns", index), str(error))]) from None
    return plan_making.plan_for(loading.load_pattern(file, setup.around), setup.plans)


def _time(event: Event, plan: Plan) -> SessionPlan | None:
    done = event.done
    return kit_time(
        plan, Fraction(event.minutes), wound_beforehand="wound" in done, threaded_beforehand="threaded" in done
    )


def _problem_of_event(event: Event, path: KeyPath, message: str, remedy: str = "") -> Problem:
    return problem_from(Refusal(path, message, remedy), event.places)


# what is printed


def event_prints(plan: EventPlan, setup: EventSetup) -> EventPrints:
    """Everything that is printed for an event, drawn. Raises ProblemsFound."""
    from cardmaker.events.day_pages import compose_day
    from cardmaker.events.label_sheets import compose_labels
    from cardmaker.layout.yarn_inks import settled_hatches
    from cardmaker.pdf.fonts import RULER

    hatches = settled_hatches(each.pattern for each in plan.plans)
    card, page = _layout("layout", CARD, setup), _layout("sheet", PAGE, setup)
    cards, lacking_cards = _cards(plan, card, setup, hatches)
    sheet, lacking_cells = _sheet(plan, page, setup, hatches)
    labels = compose_labels(plan.event, plan.plans, setup.paper, RULER, setup.units, hatches)
    day = compose_day(
        plan, setup.paper, RULER, setup.units, sheets=len(sheet), cards=len(plan.plans), labels=len(plan.plans)
    )
    drafts: dict[EventKind, list[Draft]] = {
        "day": _drawn(plan.event, day), "sheet": sheet, "cards": cards, "labels": _drawn(plan.event, labels)
    }  # fmt: skip
    layouts = (layout_source(card), carried_from(page.places, "sheet"))
    return EventPrints(drafts, (*lacking_cards, *lacking_cells), layouts)


def _layout(kind: Literal["layout", "sheet"], name: str, setup: EventSetup) -> CardLayout:
    path = find(kind, name, setup.around)
    return loading.load_layout(path) if kind == "layout" else loading.load_sheet(path)


def _cards(plan: EventPlan, layout: CardLayout, setup: EventSetup, hatches: Hatches) -> tuple[list[Draft], list[str]]:
    """A card of each tape with the visitors' side behind it, and what found no room. Raises ProblemsFound."""
    from cardmaker.jobs.card_making import draw_card

    paper = paper_of(layout, None, setup.paper)
    drafts: list[Draft] = []
    lacking: list[tuple[str, tuple[str, ...]]] = []
    for each in plan.plans:
        card = draw_card(each, layout, paper, setup.units, hatches=hatches, with_back=bool(layout.back))
        drafts += card.sides
        lacking.append((each.pattern.title, tuple(fact for fact in card.left_out if fact not in card.on_back)))
    return drafts, list(lines_by_facts(lacking))


def _sheet(plan: EventPlan, layout: CardLayout, setup: EventSetup, hatches: Hatches) -> tuple[list[Draft], list[str]]:
    """The tapes side by side, and what found no room in their cells. Raises ProblemsFound."""
    from cardmaker.pdf.fonts import RULER
    from cardmaker.tape_sheet.sheet_pages import CellRefusal, Tape, compose_tape_sheet

    event, paper = plan.event, paper_of(layout, setup.paper)
    tapes = [Tape(each) for each in plan.plans]
    title = event_words.head_of_page(event)
    try:
        sheet = compose_tape_sheet(tapes, layout, paper, RULER, setup.units, hatches, title)
    except CellRefusal as refusal:
        raise ProblemsFound([problem_from(refusal, refusal.places)]) from None
    return _drawn(event, sheet.pages), list(lines_by_facts(sheet.left_out))


def _drawn(event: Event, pages: Sequence[Page]) -> list[Draft]:
    """The pages drawn. Raises ProblemsFound where the type lacks a sign."""
    from cardmaker.jobs.typeface_check import unprintable
    from cardmaker.pdf.draft import draft_of

    drafts = [draft_of(page) for page in pages]
    if missing := dict.fromkeys(sign for draft in drafts for sign, _ in draft.missing):
        raise ProblemsFound(unprintable(sign, event.places, (), "The pages'") for sign in missing)
    return drafts


def event_pdf(plan: EventPlan, prints: EventPrints, setup: EventSetup, kind: EventKind) -> bytes:
    """The pages of one kind as a file; the files that they were made from are in it, and the command."""
    from cardmaker.pdf.painter import paint_drafts

    event = plan.event
    sources = [*(source for each in plan.plans for source in sources_of(each)), *prints.sources]
    files = files_with_command(sources, event_command(plan, setup))
    title = event_words.document_title(event, event_words.KIND_NAMES[kind])
    about = About(title, event.about, author=event.by, facts={DIGEST: content_digest(files)})
    return paint_drafts(prints.drafts[kind], about, files)
