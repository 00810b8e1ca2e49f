"""``sheet``: several tapes on one page, or on as many as they take."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import Final, Literal, NamedTuple

from cardmaker.jobs import loading, plan_making
from cardmaker.jobs.binder_files import pattern_paths
from cardmaker.jobs.file_lookup import WrongUsage, find
from cardmaker.jobs.files_to_carry import content_digest, files_with_command, sources_of
from cardmaker.jobs.lacking_facts import lines_by_facts
from cardmaker.jobs.making_commands import sheet_command
from cardmaker.jobs.own_settings import AtHand, own_out
from cardmaker.jobs.paper_lookup import paper_of
from cardmaker.jobs.plan_making import AskedSide, PlanSetup
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.carried_file import DIGEST, About
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Problem, ProblemsFound, problem_from
from cardmaker.model.record_class import record
from cardmaker.wording import tape_words
from cardmaker.wording.formatters import Units

USUAL: Final = "reference"
MOST_IN_TITLE: Final = 200  # letters, as of a title in a file
_TIME_PANELS: Final = frozenset({"tape-time", "tape-size"})


@record
class SheetRequest:
    """What the command asks for; what is left out is as the settings say, or as usual."""

    patterns: Sequence[str]
    to: str = USUAL
    paper: str | None = None
    title: str = ""
    loom: str | None = None
    warp: Fraction | None = None
    hand: Literal["right", "left"] | None = None
    side: AskedSide | None = None
    units: Units | None = None
    looms: Sequence[str] | None = None


@record
class SheetSetup:
    """What stays the same for all tapes of a sheet."""

    plans: PlanSetup
    layout: CardLayout
    paper: Paper
    units: Units
    title: str = ""
    note: str = ""  # what is said of all tapes


class ToldTape(NamedTuple):
    """A tape of a sheet: its plan, and what is said of it besides."""

    plan: Plan
    said: tuple[str, ...] = ()


class FinishedSheet(NamedTuple):
    """The PDF, how many tapes and pages it has, and what found no room on which tapes."""

    pdf: bytes
    tapes: int
    pages: int
    left_out: tuple[str, ...]


def write_sheet(request: SheetRequest, out: Path | None) -> tuple[Path, FinishedSheet]:
    """The sheet of the patterns that are named, in their order: its file, and what it is.

    Raises WrongUsage, ProblemsFound, CannotWrite.
    """
    paths = pattern_paths(request.patterns)
    setup = load_sheet_setup(request)
    return write_tapes([ToldTape(plan) for plan in plans_of(paths, setup.plans)], setup, out)


def load_sheet_setup(request: SheetRequest) -> SheetSetup:
    """The layout, the paper, and the looms at hand. Raises WrongUsage, ProblemsFound."""
    if len(request.title) > MOST_IN_TITLE:
        raise WrongUsage(f"The title has {len(request.title)} letters. Write {MOST_IN_TITLE} at most.")
    settings = loading.load_settings()
    layout = loading.load_sheet(find("sheet", request.to))
    units = request.units or settings.units or layout.units
    plans = plan_making.load_plan_setup(
        request.loom, request.warp, units=units, in_full=not layout.panels.isdisjoint(_TIME_PANELS),
        with_shuttle=False, at_hand=AtHand(request.looms, ()),
    )  # fmt: skip
    plans = plan_making.as_asked(plans, request.hand, request.side)
    if plans.is_any:
        raise WrongUsage(tape_words.ANY_LOOM)
    return SheetSetup(plans, layout, paper_of(layout, request.paper, settings.paper), units, request.title)


def plans_of(paths: Sequence[Path], setup: PlanSetup) -> list[Plan]:
    """The plans of patterns. Raises ProblemsFound with all that is wrong with any."""
    plans: list[Plan] = []
    problems: list[Problem] = []
    for path in paths:
        try:
            plans.append(plan_making.plan_for(loading.load_pattern(path), setup))
        except ProblemsFound as error:
            problems += error.problems
    if problems:
        raise ProblemsFound(problems)
    return plans


def write_tapes(tapes: Sequence[ToldTape], setup: SheetSetup, out: Path | None) -> tuple[Path, FinishedSheet]:
    """The sheet of tapes, written. Raises WrongUsage, ProblemsFound, CannotWrite."""
    from cardmaker.files import write_whole

    out = out or own_out(loading.load_settings())
    target = out if out.suffix.lower() == ".pdf" and not out.is_dir() else out / f"{setup.layout.stem}-sheet.pdf"
    sheet = make_sheet(tapes, setup)
    write_whole(target, sheet.pdf)
    return target, sheet


def make_sheet(tapes: Sequence[ToldTape], setup: SheetSetup) -> FinishedSheet:
    """The sheet, painted; the files that it was made from are in it. Raises ProblemsFound."""
    from cardmaker.layout.yarn_inks import settled_hatches
    from cardmaker.pdf.draft import draft_of
    from cardmaker.pdf.fonts import RULER
    from cardmaker.pdf.painter import paint_drafts
    from cardmaker.tape_sheet.sheet_pages import CellRefusal, Tape, compose_tape_sheet

    hatches = settled_hatches(tape.plan.pattern for tape in tapes)
    cells = [Tape(tape.plan, tape.said) for tape in tapes]
    try:
        sheet = compose_tape_sheet(
            cells, setup.layout, setup.paper, RULER, setup.units, hatches, setup.title, setup.note
        )
    except CellRefusal as refusal:
        raise ProblemsFound([problem_from(refusal, refusal.places)]) from None
    drafts = [draft_of(page) for page in sheet.pages]
    if missing := dict.fromkeys(sign for draft in drafts for sign, _ in draft.missing):
        raise ProblemsFound(_unprintable(tapes, missing))
    sources = [source for tape in tapes for source in sources_of(tape.plan)]
    files = files_with_command(sources, None if any(tape.said for tape in tapes) else sheet_command(tapes, setup))
    about = About(sheet.pages[0].title, setup.layout.about, facts={DIGEST: content_digest(files)})
    return FinishedSheet(paint_drafts(drafts, about, files), len(tapes), len(drafts), lines_by_facts(sheet.left_out))


def _unprintable(tapes: Sequence[ToldTape], missing: Sequence[str] | dict[str, None]) -> list[Problem]:
    from cardmaker.jobs.pattern_letters import key_with_sign
    from cardmaker.jobs.typeface_check import unprintable

    return [
        unprintable(sign, tape.plan.pattern.places, key_with_sign(tape.plan.pattern, sign), "The sheet's")
        for sign in missing
        for tape in tapes
        if key_with_sign(tape.plan.pattern, sign)
    ]
