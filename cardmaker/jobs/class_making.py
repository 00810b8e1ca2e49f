"""``class``: a class file, every student's plan, and the sheets that are printed for them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from cardmaker.jobs.class_planning import folder_around_class, plan_class, units_of_class
from cardmaker.jobs.file_lookup import WrongUsage, find
from cardmaker.jobs.files_to_carry import carried_from, content_digest, files_with_command, layout_source, sources_of
from cardmaker.jobs.lacking_facts import lines_by_facts
from cardmaker.jobs.loading import load_class, load_settings
from cardmaker.jobs.making_commands import class_command
from cardmaker.jobs.own_settings import AtHand, own_out
from cardmaker.model.carried_file import DIGEST, About, Carried
from cardmaker.model.plan import Plan
from cardmaker.model.problems import KeyPath, Problem, ProblemsFound
from cardmaker.model.record_class import replace
from cardmaker.model.school_class import ClassPlan, SchoolClass
from cardmaker.model.settings import Settings

if TYPE_CHECKING:
    from cardmaker.layout.yarn_inks import Hatches
    from cardmaker.model.marks import Page
    from cardmaker.school.handout_sheets import Size
    from cardmaker.wording.formatters import Units

SheetKind = Literal["choose", "handouts", "tags", "teacher", "shopping"]
SHEETS: Final[tuple[SheetKind, ...]] = ("choose", "handouts", "tags", "teacher", "shopping")
_OWN_SHEETS: Final[frozenset[SheetKind]] = frozenset({"choose", "teacher", "shopping"})  # hers, and not given away


class ClassRequest(NamedTuple):
    """What the command asks for; without paper or units, those of the class file are taken."""

    school_class: str
    out: Path | None
    in_one: bool
    paper: Size | None
    units: Units | None
    quiet: bool
    backs: bool = False
    looms: Sequence[str] | None = None
    stages: bool = False


class ClassSheets(NamedTuple):
    """The composed sheets of each kind, what found no room on which handout, and the layouts that they were made by, as
    their files are carried. A kind without pages is not printed."""

    pages: Mapping[SheetKind, tuple[Page, ...]]
    left_out: tuple[str, ...]
    paper: Size
    units: Units
    backs: bool
    layouts: tuple[Carried, ...]


class WrittenClass(NamedTuple):
    """The files with the number of pages in each, what found no room on what, what to look at in the class file, and
    what to do next."""

    pages: Mapping[Path, int]
    left_out: tuple[str, ...]
    notes: tuple[Problem, ...]
    next_steps: tuple[str, ...]


def write_class(request: ClassRequest) -> WrittenClass:
    """Handouts, kit tags, the teacher's sheet and the shopping sheet, and as long as somebody has no pattern what to
    choose from; all or none. Raises ProblemsFound, WrongUsage, CannotWrite.
    """
    from cardmaker.files import write_many
    from cardmaker.school import offer_words

    settings = load_settings()
    path = find("class", request.school_class)
    plan = plan_class(_as_requested(load_class(path), request), request.units, AtHand(request.looms))
    kinds = kinds_of_sheets(plan)
    targets = _targets(path, request.out or own_out(settings), kinds, in_one=request.in_one)
    sheets = class_sheets(plan, request.paper, request.units, quiet=request.quiet, backs=request.backs)
    write_many({target: class_pdf(plan, sheets, kinds) for target, kinds in targets.items()})
    pages = {target: sum(len(sheets.pages[kind]) for kind in kinds) for target, kinds in targets.items()}
    steps = (*offer_words.not_on_page(plan), *offer_words.steps_to_choose(plan, request.school_class))
    return WrittenClass(pages, sheets.left_out, plan.notes, steps)


def kinds_of_sheets(plan: ClassPlan) -> tuple[SheetKind, ...]:
    """What is printed: only what to choose from until somebody has, and nothing of that once all have."""
    if plan.undecided:
        return SHEETS[:1] if plan.is_open else SHEETS
    return SHEETS[1:]


def _as_requested(school_class: SchoolClass, request: ClassRequest) -> SchoolClass:
    return replace(school_class, in_stages=True) if request.stages else school_class


def _targets(path: Path, out: Path, kinds: tuple[SheetKind, ...], *, in_one: bool) -> dict[Path, tuple[SheetKind, ...]]:
    """The files to write, with the kinds of sheets that go into each. Raises WrongUsage."""
    is_file = out.suffix.lower() == ".pdf" and not out.is_dir()
    if is_file and not in_one:
        raise WrongUsage(f"{out} is one file, but a class makes four: name a folder, or say --one.")
    if in_one:
        return {out if is_file else out / f"{path.stem}-class.pdf": kinds}
    return {out / f"{path.stem}-{kind}.pdf": (kind,) for kind in kinds}


# The sheets


def class_sheets(
    plan: ClassPlan, paper: Size | None = None, units: Units | None = None, *, quiet: bool = False, backs: bool = False
) -> ClassSheets:
    """Everything that is printed for a class, composed. Raises ProblemsFound."""
    from cardmaker.layout.yarn_inks import settled_hatches

    school_class, settings = plan.school_class, load_settings()
    size, units = _paper_of_class(school_class, paper, settings), units_of_class(school_class, units, settings)
    hatches = settled_hatches(each.pattern for each in (*plan.plans, *plan.offered))
    pages: dict[SheetKind, tuple[Page, ...]] = dict.fromkeys(SHEETS, ())
    layouts: list[Carried] = []
    left_out: list[str] = []
    if plan.undecided:
        from cardmaker.jobs.class_choosing import choosing_pages

        to_choose = choosing_pages(plan, size, units, hatches)
        pages["choose"] = to_choose.pages
        layouts.append(carried_from(to_choose.layout.places, "sheet"))
        left_out += lines_by_facts(to_choose.left_out)
    if not plan.is_open:
        from cardmaker.jobs.handout_making import make_handouts

        around = folder_around_class(school_class)
        handouts = make_handouts(plan, size, units, hatches, around=around, quiet=quiet, backs=backs)
        pages |= {"handouts": handouts.pages, **_sheets_of_kits(plan, size, units, hatches)}
        layouts += map(layout_source, handouts.layouts)
        left_out += handouts.left_out
    return ClassSheets(pages, tuple(left_out), size, units, backs, tuple(layouts))


def _sheets_of_kits(plan: ClassPlan, size: Size, units: Units, hatches: Hatches) -> dict[SheetKind, tuple[Page, ...]]:
    """Tags, the teacher's sheet and what to buy."""
    from cardmaker.pdf.fonts import RULER
    from cardmaker.reckoning.amounts.class_amounts import purchases
    from cardmaker.school.shopping_sheet import compose_shopping
    from cardmaker.school.tag_sheets import compose_tags
    from cardmaker.school.teacher_sheet import compose_teacher

    school_class = plan.school_class
    plans = [kit.plan for kit in plan.kits]
    bought = purchases(plans, school_class.extra, school_class.spare_ends, school_class.packages)
    return {
        "tags": compose_tags(school_class, plan.kits, size, RULER, units, hatches),
        "teacher": compose_teacher(plan, size, RULER, units),
        "shopping": compose_shopping(plan, bought, size, RULER, units),
    }


def _paper_of_class(school_class: SchoolClass, requested: Size | None, settings: Settings) -> Size:
    usual: Size = "a4" if settings.paper.casefold().endswith("a4") else "letter"
    return requested or school_class.paper or usual


def class_pdf(plan: ClassPlan, sheets: ClassSheets, kinds: Sequence[SheetKind]) -> bytes:
    """The sheets of these kinds as one file. Raises ProblemsFound."""
    from cardmaker.pdf.draft import draft_of
    from cardmaker.pdf.painter import paint_drafts
    from cardmaker.school import class_words

    drafts = [draft_of(page) for kind in kinds for page in _with_bookmark(kind, sheets, alone=len(kinds) == 1)]
    if missing := dict.fromkeys(sign for draft in drafts for sign, _ in draft.missing):
        raise ProblemsFound(_unprintable(sign, plan.school_class) for sign in missing)
    title = class_words.sheet_title(plan.school_class, class_words.SHEET_NAMES[kinds[0]] if len(kinds) == 1 else "")
    files = _carried(plan, sheets, kinds)
    facts = {DIGEST: content_digest(files)} if files else {}
    about = About(title, plan.school_class.about, author=plan.school_class.teacher, facts=facts)
    return paint_drafts(drafts, about, files)


def _with_bookmark(kind: SheetKind, sheets: ClassSheets, *, alone: bool) -> tuple[Page, ...]:
    """The pages of one kind; in a file with others the first has a bookmark, so that each kind is found."""
    from cardmaker.model.marks import Bookmark
    from cardmaker.school import class_words

    pages = sheets.pages[kind]
    if alone or not pages:
        return pages
    return (replace(pages[0], bookmarks=(Bookmark(class_words.SHEET_NAMES[kind]),)), *pages[1:])


def _carried(plan: ClassPlan, sheets: ClassSheets, kinds: Sequence[SheetKind]) -> tuple[Carried, ...]:
    """The teacher's own sheets carry all that the class was made from, and the command.

    What is given away carries no more than a student may have: looms, layouts, and those patterns whose files hold no
    note for the teacher; neither the class file, which has all names in it, nor the command.
    """
    if _OWN_SHEETS & set(kinds):
        sources = [file for each in (*plan.plans, *plan.offered) for file in sources_of(each)]
        command = class_command(plan, sheets, kinds, folder_around_class(plan.school_class))
        return files_with_command([*sources, *sheets.layouts], command)
    return files_with_command([*(file for each in plan.plans for file in _for_students(each)), *sheets.layouts])


def _for_students(plan: Plan) -> tuple[Carried, ...]:
    pattern, *others = sources_of(plan)
    return tuple(others) if plan.pattern.notes.teacher else (pattern, *others)


def _unprintable(sign: str, school_class: SchoolClass) -> Problem:
    """The problem of a sign that the type lacks, at the student whose name has it, or else at the file."""
    from cardmaker.jobs.typeface_check import unprintable

    owner = next((index for index, student in enumerate(school_class.students) if sign in student.name), None)
    path: KeyPath = () if owner is None else ("students", owner, "name")
    return unprintable(sign, school_class.places, path, "The sheets'")
