"""``class``: a class file, every student's plan, and the sheets that are printed for them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal, NamedTuple, TypeVar

from cardmaker.jobs.file_lookup import WrongUsage, find, folder_around, yaml_file
from cardmaker.jobs.files_to_carry import content_digest, files_with_command, layout_source, sources_of
from cardmaker.jobs.loading import load_class, load_loom, load_looms, load_pattern, load_settings
from cardmaker.jobs.making_commands import class_command
from cardmaker.jobs.own_settings import ANY, AS_USUAL, AtHand, own_files_named, own_out
from cardmaker.jobs.plan_making import with_loom
from cardmaker.model.carried_file import DIGEST, About, Carried
from cardmaker.model.loom import Loom
from cardmaker.model.plan import Plan
from cardmaker.model.problems import KeyPath, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.model.record_class import replace
from cardmaker.model.school_class import ClassPlan, Kit, SchoolClass, Spares, Student
from cardmaker.model.settings import Settings
from cardmaker.model.units import wind_step
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.mirror import plan_as_seen, weavers_view
from cardmaker.wording.any_loom_words import NOT_IN_A_CLASS
from cardmaker.wording.phrases import did_you_mean

if TYPE_CHECKING:
    from cardmaker.model.card_layout import CardLayout
    from cardmaker.model.marks import Page
    from cardmaker.model.pattern import Pattern
    from cardmaker.school.handout_sheets import Size
    from cardmaker.wording.formatters import Units

SheetKind = Literal["handouts", "tags", "teacher", "shopping"]
SHEETS: Final[tuple[SheetKind, ...]] = ("handouts", "tags", "teacher", "shopping")

Noun = TypeVar("Noun")


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
    """The composed sheets of each kind, what found no room on which handout, and what else they were made from."""

    pages: Mapping[SheetKind, tuple[Page, ...]]
    left_out: tuple[str, ...]
    paper: Size
    units: Units
    backs: bool
    layouts: tuple[CardLayout, ...]


def write_class(request: ClassRequest) -> tuple[dict[Path, int], tuple[str, ...]]:
    """Handouts, kit tags, the teacher's sheet and the shopping sheet, all or none.

    Returns the files, with the number of pages in each, and what found no room on which handout. Raises ProblemsFound,
    WrongUsage, CannotWrite.
    """
    from cardmaker.files import write_many

    settings = load_settings()
    path = find("class", request.school_class)
    plan = plan_class(_as_requested(load_class(path), request), request.units, AtHand(request.looms))
    targets = _targets(path, request.out or own_out(settings), in_one=request.in_one)
    sheets = class_sheets(plan, request.paper, request.units, quiet=request.quiet, backs=request.backs)
    write_many({target: class_pdf(plan, sheets, kinds) for target, kinds in targets.items()})
    pages = {target: sum(len(sheets.pages[kind]) for kind in kinds) for target, kinds in targets.items()}
    return pages, sheets.left_out


def _as_requested(school_class: SchoolClass, request: ClassRequest) -> SchoolClass:
    return replace(school_class, in_stages=True) if request.stages else school_class


def _targets(path: Path, out: Path, *, in_one: bool) -> dict[Path, tuple[SheetKind, ...]]:
    """The files to write, with the kinds of sheets that go into each. Raises WrongUsage."""
    is_file = out.suffix.lower() == ".pdf" and not out.is_dir()
    if is_file and not in_one:
        raise WrongUsage(f"{out} is one file, but a class makes four: name a folder, or say --one.")
    if in_one:
        return {out if is_file else out / f"{path.stem}-class.pdf": SHEETS}
    return {out / f"{path.stem}-{kind}.pdf": (kind,) for kind in SHEETS}


# The plan


def plan_class(school_class: SchoolClass, units: Units | None = None, at_hand: AtHand = AS_USUAL) -> ClassPlan:
    """Every kit reckoned, the students' first, in ``units`` or the class's own, and in a student's where she has some.

    Raises ProblemsFound with the problems of all of them together."""
    settings = load_settings()
    looms = load_looms(sound_only=True, named=own_files_named(settings, replace(at_hand, places=())).looms)
    planner = _KitPlanner(school_class, looms, units_of_class(school_class, units, settings))
    kits: list[Kit] = []
    for index, student in enumerate(school_class.students):
        if plan := planner.plan(("students", index), student.name, student):
            kits.append(Kit(len(kits) + 1, plan, student))
    for spares in school_class.spares:
        if plan := planner.plan(spares.path, "the spare kits", spares):
            kits += [Kit(len(kits) + number, plan, None) for number in range(1, spares.kits + 1)]
    problems = planner.problems or list(_package_problems(school_class, kits))
    if problems:
        raise ProblemsFound(problems)
    return ClassPlan(school_class, tuple(kits), looms)


def units_of_class(school_class: SchoolClass, requested: Units | None, settings: Settings) -> Units:
    """The units that are asked for, or those of the class file, or of the settings, or the usual."""
    return requested or school_class.units or settings.units or "metric"


def _paper_of_class(school_class: SchoolClass, requested: Size | None, settings: Settings) -> Size:
    usual: Size = "a4" if settings.paper.casefold().endswith("a4") else "letter"
    return requested or school_class.paper or usual


@dataclass(slots=True)
class _KitPlanner:
    """What was read and reckoned for one class so far, each file and each pairing of them once, and what is wrong."""

    school_class: SchoolClass
    at_hand: tuple[Loom, ...]
    units: Units
    problems: list[Problem] = field(default_factory=list)
    files: dict[tuple[str, Path], Any] = field(default_factory=dict)
    plans: dict[tuple[str, str | Loom, Units], Plan | Refusal] = field(default_factory=dict)

    def plan(self, path: KeyPath, owner: str, kit: Student | Spares) -> Plan | None:
        """The plan of a kit; None, with a problem at the line that asks for it, where there is none."""
        pattern = self._loaded(self._pattern_in, "pattern", path, kit.pattern)
        loom = kit.loom if isinstance(kit.loom, Loom) else self._loaded(load_loom, "loom", path, kit.loom)
        if pattern is None or loom is None:
            return None
        given = self.school_class.warp_mm or pattern.length.warp_mm  # is wound as it is, whatever the units
        own = kit.units if isinstance(kit, Student) and not given else None
        units = own or self.units
        key = (pattern.places.file, loom if isinstance(kit.loom, Loom) else loom.places.file, units)
        if key not in self.plans:
            looms, warp_mm = with_loom(self.at_hand, loom), self.school_class.warp_mm
            try:
                step = wind_step(units)
                plan = make_plan(pattern, loom, at_hand=looms, warp_mm=warp_mm, wind_step=step)
                self.plans[key] = plan_as_seen(plan, weavers_view(loom))
            except Refusal as refusal:
                self.plans[key] = refusal
        seen = self.plans[key]
        if isinstance(seen, Refusal):
            self._refuse(path, f"{pattern.title} for {owner}", seen)
            return None
        return seen

    def _refuse(self, path: KeyPath, kit: str, refusal: Refusal) -> None:
        """The refusal at the student's loom, or at the length of all warps where that is what is wrong."""
        is_length = refusal.path[0] == "length" and self.school_class.warp_mm is not None
        place: KeyPath = ("warp",) if is_length else (*path, "loom")
        self.problems.append(_problem(self.school_class, place, f"{kit}: {refusal.message}", refusal.remedy))

    def _pattern_in(self, file: Path) -> Pattern:
        return load_pattern(file, _around(self.school_class))

    def _loaded(
        self, load: Callable[[Path], Noun], kind: Literal["pattern", "loom"], path: KeyPath, name: str
    ) -> Noun | None:
        """What the file of that name holds, or None: it is read, and what is wrong in it told, only once."""
        if (kind, name) == ("loom", ANY):
            self.problems.append(_problem(self.school_class, (*path, kind), NOT_IN_A_CLASS))
            return None
        try:
            file = yaml_file(find(kind, name, _around(self.school_class)), name)
        except WrongUsage as error:
            self.problems.append(_problem(self.school_class, (*path, kind), str(error)))
            return None
        if (kind, file) not in self.files:
            self.files[kind, file] = None
            try:
                self.files[kind, file] = load(file)
            except ProblemsFound as error:
                self.problems += error.problems
        noun: Noun | None = self.files[kind, file]
        return noun


def _package_problems(school_class: SchoolClass, kits: Sequence[Kit]) -> Iterator[Problem]:
    """A problem for every package that is of no yarn of the class's patterns, asked when all of them are there."""
    yarns = list(dict.fromkeys(colour.yarn for kit in kits for colour in kit.plan.colours))
    for name in school_class.packages:
        if name not in yarns:
            remedy = did_you_mean(name, yarns, f"They have {', '.join(yarns)}.")
            message = f"no pattern of this class has a yarn '{name}'."
            yield _problem(school_class, ("packages", name), message, remedy)


def _problem(school_class: SchoolClass, path: KeyPath, message: str, remedy: str = "") -> Problem:
    return problem_from(Refusal(path, message, remedy), school_class.places)


# The sheets


def class_sheets(
    plan: ClassPlan, paper: Size | None = None, units: Units | None = None, *, quiet: bool = False, backs: bool = False
) -> ClassSheets:
    """Everything that is printed for a class, composed. Raises ProblemsFound."""
    from cardmaker.jobs.handout_making import make_handouts
    from cardmaker.layout.yarn_inks import settled_hatches
    from cardmaker.pdf.fonts import RULER
    from cardmaker.reckoning.amounts.class_amounts import purchases
    from cardmaker.school.shopping_sheet import compose_shopping
    from cardmaker.school.tag_sheets import compose_tags
    from cardmaker.school.teacher_sheet import compose_teacher

    school_class, ruler = plan.school_class, RULER
    settings = load_settings()
    size, units = _paper_of_class(school_class, paper, settings), units_of_class(school_class, units, settings)
    hatches = settled_hatches(kit.plan.pattern for kit in plan.kits)
    handouts = make_handouts(plan, size, units, hatches, around=_around(school_class), quiet=quiet, backs=backs)
    plans = [kit.plan for kit in plan.kits]
    bought = purchases(plans, school_class.extra, school_class.spare_ends, school_class.packages)
    pages: dict[SheetKind, tuple[Page, ...]] = {
        "handouts": handouts.pages,
        "tags": compose_tags(school_class, plan.kits, size, ruler, units, hatches),
        "teacher": compose_teacher(plan, size, ruler, units),
        "shopping": compose_shopping(plan, bought, size, ruler, units),
    }
    return ClassSheets(pages, handouts.left_out, size, units, backs, handouts.layouts)


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
    layouts = [layout_source(layout) for layout in sheets.layouts]
    if {"teacher", "shopping"} & set(kinds):
        sources = [*(file for each in plan.plans for file in sources_of(each)), *layouts]
        return files_with_command(sources, class_command(plan, sheets, kinds, _around(plan.school_class)))
    return files_with_command([*(file for each in plan.plans for file in _for_students(each)), *layouts])


def _for_students(plan: Plan) -> tuple[Carried, ...]:
    pattern, *others = sources_of(plan)
    return tuple(others) if plan.pattern.notes.teacher else (pattern, *others)


def _around(school_class: SchoolClass) -> Path | None:
    """The folder laid out as hers that a class file lies in, if it is another than hers."""
    return folder_around(Path(school_class.places.file), "class")


def _unprintable(sign: str, school_class: SchoolClass) -> Problem:
    """The problem of a sign that the type lacks, at the student whose name has it, or else at the file."""
    from cardmaker.jobs.typeface_check import unprintable

    owner = next((index for index, student in enumerate(school_class.students) if sign in student.name), None)
    path: KeyPath = () if owner is None else ("students", owner, "name")
    return unprintable(sign, school_class.places, path, "The sheets'")
