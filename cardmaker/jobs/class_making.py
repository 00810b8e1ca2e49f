"""The pipeline for a class: its file, every student's plan, and the sheets that are printed for them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from cardmaker.jobs.carrying import carried_files, carry, content_digest
from cardmaker.jobs.loading import load_layout, load_looms, load_pattern, problem_of_kind
from cardmaker.jobs.lookup import WrongUsage, find, yaml_file
from cardmaker.jobs.progress import watched
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import KeyPath, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.model.records import replace
from cardmaker.model.school_class import ClassPlan, Kit, SchoolClass, Student
from cardmaker.reading.read_file import read_class, read_loom
from cardmaker.reckoning.planning import make_plan

if TYPE_CHECKING:
    from cardmaker.model.carried import Carried
    from cardmaker.model.marks import Page
    from cardmaker.wording.measures import Units

SheetKind = Literal["handouts", "tags", "teacher", "shopping"]
SHEETS: Final[tuple[SheetKind, ...]] = ("handouts", "tags", "teacher", "shopping")


def load_class(path: Path) -> SchoolClass:
    """The class in a file. Raises ProblemsFound."""
    if other := problem_of_kind(path, "class"):
        raise ProblemsFound(other)
    return read_class(path)


def plan_class(school_class: SchoolClass) -> ClassPlan:
    """Every kit reckoned, the students' first. Raises ProblemsFound with the problems of all of them together."""
    desk = _ClassPlanner(school_class, load_looms(sound_only=True))
    kits: list[Kit] = []
    for path, who, student, loom, pattern, count in _requested_kits(school_class):
        plan = desk.plan(path, who, loom, pattern)
        for _ in range(count):
            if plan is not None:
                kits.append(Kit(len(kits) + 1, plan, student))
    desk.check_packages(kits)
    if desk.problems:
        raise ProblemsFound(desk.problems)
    return ClassPlan(school_class, tuple(kits))


class _RequestedKit(NamedTuple):
    """One line of the file that asks for kits."""

    path: KeyPath
    who: str
    student: Student | None
    loom: str
    pattern: str
    kits: int


def _requested_kits(school_class: SchoolClass) -> Iterator[_RequestedKit]:
    for index, student in enumerate(school_class.students):
        yield _RequestedKit(("students", index), student.name, student, student.loom, student.pattern, 1)
    for spares in school_class.spares:
        yield _RequestedKit(spares.path, "the spare kits", None, spares.loom, spares.pattern, spares.kits)


@dataclass(slots=True)
class _ClassPlanner:
    """What was read and reckoned for one class so far, each file and each pairing of them once, and what is wrong."""

    school_class: SchoolClass
    at_hand: Sequence[Loom]
    problems: list[Problem] = field(default_factory=list)
    patterns: dict[Path, Pattern | None] = field(default_factory=dict)
    looms: dict[Path, Loom | None] = field(default_factory=dict)
    plans: dict[tuple[Path, Path], Plan | Refusal] = field(default_factory=dict)

    def plan(self, path: KeyPath, who: str, loom_name: str, pattern_name: str) -> Plan | None:
        """The plan of a pattern on a loom; None, with a problem at the line that asks for it, where there is none."""
        at_pattern = self._found("pattern", (*path, "pattern"), pattern_name)
        at_loom = self._found("loom", (*path, "loom"), loom_name)
        pattern = self._pattern(at_pattern) if at_pattern else None
        loom = self._loom(at_loom) if at_loom else None
        if pattern is None or loom is None or at_pattern is None or at_loom is None:
            return None
        key = (at_pattern, at_loom)
        if key not in self.plans:
            self.plans[key] = self._planned(pattern, loom)
        plan = self.plans[key]
        if isinstance(plan, Refusal):
            self._refuse(path, who, pattern, plan)
            return None
        return plan

    def _planned(self, pattern: Pattern, loom: Loom) -> Plan | Refusal:
        others = (*(other for other in self.at_hand if other.stem != loom.stem), loom)
        try:
            return make_plan(pattern, loom, at_hand=others, warp_mm=self.school_class.warp_mm)
        except Refusal as refusal:
            return refusal

    def _refuse(self, path: KeyPath, who: str, pattern: Pattern, refusal: Refusal) -> None:
        """The refusal at the student's loom, or at the length of all warps where that is what is wrong."""
        is_length = refusal.path[0] == "length" and self.school_class.warp_mm is not None
        at: KeyPath = ("warp",) if is_length else (*path, "loom")
        message = f"{pattern.title} for {who}: {refusal.message}"
        self._tell(at, message, refusal.remedy)

    def _tell(self, path: KeyPath, message: str, remedy: str) -> None:
        self.problems.append(problem_from(Refusal(path, message, remedy), self.school_class.places))

    def _found(self, kind: Literal["pattern", "loom"], path: KeyPath, name: str) -> Path | None:
        try:
            return yaml_file(find(kind, name), name)
        except WrongUsage as wrong:
            self._tell(path, str(wrong), "")
            return None

    def _pattern(self, path: Path) -> Pattern | None:
        if path not in self.patterns:
            self.patterns[path] = None
            try:
                self.patterns[path] = load_pattern(path)
            except ProblemsFound as found:
                self.problems += found.problems
        return self.patterns[path]

    def _loom(self, path: Path) -> Loom | None:
        if path not in self.looms:
            self.looms[path] = None
            try:
                self.looms[path] = read_loom(path)
            except ProblemsFound as found:
                self.problems += found.problems
        return self.looms[path]

    def check_packages(self, kits: Iterable[Kit]) -> None:
        """Every package is of a yarn that some pattern of the class has; asked only when all patterns are there."""
        if self.problems:
            return
        names = list(dict.fromkeys(colour.yarn for kit in kits for colour in kit.plan.colours))
        for name in self.school_class.packages:
            if name not in names:
                near = get_close_matches(name, names, 1)
                remedy = f"Did you mean '{near[0]}'?" if near else f"They have {', '.join(names)}."
                self._tell(("packages", name), f"no pattern of this class has a yarn '{name}'.", remedy)


class ClassRequest(NamedTuple):
    """What the command line asks for instead of what the file says."""

    paper: Literal["letter", "a4"] | None = None
    units: Units | None = None
    quiet: bool = False


class ClassSheets(NamedTuple):
    """The composed sheets of each kind, and what found no room on which handout."""

    pages: Mapping[SheetKind, tuple[Page, ...]]
    left_out: tuple[str, ...]


def class_sheets(plan: ClassPlan, wishes: ClassRequest) -> ClassSheets:
    """Everything that is printed for a class, composed. Raises ProblemsFound."""
    from cardmaker.pdf.fonts import TypeRuler
    from cardmaker.reckoning.amounts.class_amounts import purchases
    from cardmaker.school.handout_sheets import two_up
    from cardmaker.school.shopping_sheet import compose_shopping
    from cardmaker.school.tag_sheets import compose_tags
    from cardmaker.school.teacher_sheet import compose_teacher

    school_class, ruler = plan.school_class, TypeRuler()
    size, units = wishes.paper or school_class.paper, wishes.units or school_class.units
    half, whole, left_out = _handouts(plan, ClassRequest(size, units, wishes.quiet))
    bought = purchases(
        [kit.plan for kit in plan.kits], school_class.extra, school_class.spare_ends, school_class.packages
    )
    pages: dict[SheetKind, tuple[Page, ...]] = {
        "handouts": (*two_up(half, size), *whole),
        "tags": compose_tags(school_class, plan.kits, size, ruler, units),
        "teacher": compose_teacher(plan, size, ruler, units),
        "shopping": compose_shopping(plan, bought, size, ruler, units),
    }
    return ClassSheets(pages, left_out)


def _handouts(plan: ClassPlan, wishes: ClassRequest) -> tuple[list[Page], list[Page], tuple[str, ...]]:
    """The half sheets, the whole ones in large print, and what was left out of them. Raises ProblemsFound."""
    from cardmaker.pdf.fonts import TypeRuler
    from cardmaker.school.handout_sheets import HALF, WHOLE, compose_handout

    size, units = wishes.paper or "letter", wishes.units or "metric"
    usual, large = (load_layout(find("layout", name)) for name in ("handout", "handout-large"))
    half: list[Page] = []
    whole: list[Page] = []
    left_out: dict[str, list[str]] = {}
    problems: list[Problem] = []
    for kit in watched(plan.kits, len(plan.kits), "handouts", quiet=wishes.quiet):
        layout, paper, pages = (large, WHOLE[size], whole) if kit.large_print else (usual, HALF[size], half)
        try:
            composed = compose_handout(kit, layout, paper, TypeRuler(), units)
        except Refusal as refusal:
            path: KeyPath = ("students", kit.number - 1) if kit.student else ("spares",)
            message = f"{kit.plan.pattern.title}: {refusal.message}"
            problems.append(problem_from(Refusal(path, message, refusal.remedy), plan.school_class.places))
            continue
        pages.append(composed.page)
        if composed.left_out:
            whose = kit.student.name if kit.student else f"kit {kit.number}"
            left_out.setdefault(", ".join(composed.left_out), []).append(whose)
    if problems:
        raise ProblemsFound(problems)
    return half, whole, tuple(f"{what} ({', '.join(whose)})" for what, whose in left_out.items())


def class_pdf(plan: ClassPlan, sheets: ClassSheets, kinds: Sequence[SheetKind]) -> bytes:
    """The sheets of these kinds as one file. Raises ProblemsFound.

    Handouts carry the files of their patterns and looms, as every card does. The class file, with its names, is carried
    by the teacher's own sheets only.
    """
    from cardmaker.model.carried import DIGEST, About
    from cardmaker.pdf.draft import draft_of, with_names
    from cardmaker.pdf.painter import paint_drafts
    from cardmaker.school import class_words

    drafts = [draft_of(page) for kind in kinds for page in _marked(kind, sheets, alone=len(kinds) == 1)]
    if missing := with_names(dict.fromkeys(each for draft in drafts for each in draft.missing)):
        raise ProblemsFound(_unprintable(plan, [(sign, name) for sign, name, _ in missing]))
    title = class_words.sheet_title(plan.school_class, class_words.SHEET_NAMES[kinds[0]] if len(kinds) == 1 else "")
    files = _carried(plan, kinds)
    facts = {DIGEST: content_digest(files)} if files else {}
    about = About(title, plan.school_class.about, author=plan.school_class.teacher, facts=facts)
    return paint_drafts(drafts, about, files)


def _marked(kind: SheetKind, sheets: ClassSheets, *, alone: bool) -> tuple[Page, ...]:
    """The pages of one kind; in a file with others the first has a bookmark, so that each kind is found."""
    from cardmaker.model.marks import Bookmark
    from cardmaker.school import class_words

    pages = sheets.pages[kind]
    if alone or not pages:
        return pages
    return (replace(pages[0], bookmarks=(Bookmark(class_words.SHEET_NAMES[kind]),)), *pages[1:])


def _carried(plan: ClassPlan, kinds: Sequence[SheetKind]) -> tuple[Carried, ...]:
    files = {file[:2]: file for file in (carried_files(plan.plans) if "handouts" in kinds else ())}
    if {"teacher", "shopping"} & set(kinds):
        own = plan.school_class.places
        carry(files, {name.casefold() for name, _ in files}, "class", own.file, own.raw)
    return tuple(files.values())


def _unprintable(plan: ClassPlan, missing: Sequence[tuple[str, str]]) -> Iterator[Problem]:
    """A problem for each character that the type lacks, at the student whose name has it, or else at the file."""
    places = plan.school_class.places
    for sign, name in dict.fromkeys(missing):
        owner = next((index for index, student in enumerate(plan.school_class.students) if sign in student.name), None)
        path: KeyPath = () if owner is None else ("students", owner, "name")
        message = f"The sheets’ typeface has no '{sign}' ({name})." if sign.isprintable() else f"There is {name}."
        yield problem_from(Refusal(path, message, "Write it in other characters."), places)
