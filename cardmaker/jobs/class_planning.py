"""A class reckoned: a plan for every kit, what there is to choose from at each loom, and every problem of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, TypeVar

from cardmaker.jobs.file_lookup import WrongUsage, find, folder_around, yaml_file
from cardmaker.jobs.loading import load_loom, load_looms, load_pattern, load_settings
from cardmaker.jobs.own_settings import ANY, AS_USUAL, AtHand, own_files_named
from cardmaker.jobs.plan_making import with_loom
from cardmaker.model.loom import Loom
from cardmaker.model.plan import Plan
from cardmaker.model.problems import KeyPath, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.model.record_class import replace
from cardmaker.model.school_class import ClassPlan, Kit, Offer, SchoolClass, Spares, Student
from cardmaker.model.settings import Settings
from cardmaker.model.units import wind_step
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.mirror import plan_as_seen, weavers_view
from cardmaker.wording.any_loom_words import NOT_IN_A_CLASS
from cardmaker.wording.phrases import did_you_mean

if TYPE_CHECKING:
    from cardmaker.model.pattern import Pattern
    from cardmaker.wording.formatters import Units

Noun = TypeVar("Noun")


def plan_class(school_class: SchoolClass, units: Units | None = None, at_hand: AtHand = AS_USUAL) -> ClassPlan:
    """Every kit reckoned, the students' first, in ``units`` or the class's own, and in a student's where she has some;
    and what there is to choose from at each loom.

    Raises ProblemsFound with the problems of all of them together."""
    settings = load_settings()
    looms = load_looms(sound_only=True, named=own_files_named(settings, replace(at_hand, places=())).looms)
    planner = _KitPlanner(school_class, looms, units_of_class(school_class, units, settings))
    kits = [*_kits_of_students(planner), *_spare_kits(planner)]
    offers = planner.offers()
    problems = planner.problems or list(_package_problems(school_class, kits, offers))
    if problems:
        raise ProblemsFound(problems)
    return ClassPlan(school_class, tuple(kits), looms, offers, tuple(_not_offered(school_class, kits, offers)))


def units_of_class(school_class: SchoolClass, requested: Units | None, settings: Settings) -> Units:
    """The units that are asked for, or those of the class file, or of the settings, or the usual."""
    return requested or school_class.units or settings.units or "metric"


def folder_around_class(school_class: SchoolClass) -> Path | None:
    """The folder laid out as hers that a class file lies in, if it is another than hers."""
    return folder_around(Path(school_class.places.file), "class")


def _kits_of_students(planner: _KitPlanner) -> Iterator[Kit]:
    """A kit for everybody who has chosen, numbered as the students stand in the file."""
    for index, student in enumerate(planner.school_class.students):
        if student.pattern and (plan := planner.plan(("students", index), student.name, student)):
            yield Kit(index + 1, plan, student)


def _spare_kits(planner: _KitPlanner) -> Iterator[Kit]:
    number = len(planner.school_class.students)
    for spares in planner.school_class.spares:
        if plan := planner.plan(spares.path, "the spare kits", spares):
            yield from (Kit(number + each, plan, None) for each in range(1, spares.kits + 1))
            number += spares.kits


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
        pattern = self._loaded(self._pattern_in, "pattern", (*path, "pattern"), kit.pattern)
        loom = self._loom(path, kit)
        if pattern is None or loom is None:
            return None
        given = self.school_class.warp_mm or pattern.length.warp_mm  # is wound as it is, whatever the units
        own = kit.units if isinstance(kit, Student) and not given else None
        seen = self._planned(pattern, loom, own or self.units)
        if isinstance(seen, Refusal):
            self._refuse((*path, "loom"), f"{pattern.title} for {owner}", seen)
            return None
        return seen

    def offers(self) -> tuple[Offer, ...]:
        """What may be chosen at each loom. A tape that none of the looms holds is a problem at its own line, and a loom
        that holds none of the tapes at that of the first student there who has not chosen."""
        names = enumerate(self.school_class.choose_from)
        tapes = [self._loaded(self._pattern_in, "pattern", ("choose_from", index), name) for index, name in names]
        if not any(tapes) or not (seats := self._seats()):
            return ()
        self._require_a_loom(tapes, [loom for loom, _ in seats])
        offers = tuple(self._offer(loom, seated, [tape for tape in tapes if tape]) for loom, seated in seats)
        if any(offer.plans for offer in offers):
            self._require_a_tape(offers, seats, next(tape for tape in tapes if tape))
        return offers

    def _require_a_loom(self, tapes: Sequence[Pattern | None], looms: Sequence[Loom]) -> None:
        """A problem for each tape that no loom holds: what the largest says of it."""
        largest = max(looms, key=lambda loom: loom.capacity)
        for index, tape in enumerate(tapes):
            if tape and all(isinstance(self._planned(tape, loom, self.units), Refusal) for loom in looms):
                refusal = self._planned(tape, largest, self.units)
                assert isinstance(refusal, Refusal)
                self._refuse(("choose_from", index), tape.title, refusal)

    def _require_a_tape(self, offers: Sequence[Offer], seats: Sequence[tuple[Loom, list[int]]], tape: Pattern) -> None:
        """A problem for each loom that holds none of the tapes, at the first who has to choose there: what it says of
        the first ``tape``."""
        for offer, (loom, seated) in zip(offers, seats, strict=True):
            undecided = [index for index in seated if not self.school_class.students[index].pattern]
            refusal = self._planned(tape, loom, self.units)
            if undecided and not offer.plans and isinstance(refusal, Refusal):
                message = f"no pattern to choose from goes on {loom.title}. {tape.title}: {refusal.message}"
                remedy = "Add one that does under choose_from, or write another loom."
                self._tell(("students", undecided[0], "loom"), message, remedy)

    def _offer(self, loom: Loom, seated: Sequence[int], tapes: Sequence[Pattern]) -> Offer:
        found = [self._planned(tape, loom, self.units) for tape in tapes]
        held = tuple(each for each in found if isinstance(each, Plan))
        not_held = tuple(tape.title for tape, each in zip(tapes, found, strict=True) if isinstance(each, Refusal))
        return Offer(loom, tuple(self.school_class.students[index] for index in seated), held, not_held)

    def _seats(self) -> list[tuple[Loom, list[int]]]:
        """The looms of the class, each with the students at it by their places in the file."""
        seats: dict[str | Loom, tuple[Loom, list[int]]] = {}
        for index, student in enumerate(self.school_class.students):
            if loom := self._loom(("students", index), student):
                seats.setdefault(_key_of(loom), (loom, []))[1].append(index)
        return list(seats.values())

    def _planned(self, pattern: Pattern, loom: Loom, units: Units) -> Plan | Refusal:
        """The plan of a pattern on a loom, or why there is none."""
        key = (pattern.places.file, _key_of(loom), units)
        if key not in self.plans:
            looms, warp_mm = with_loom(self.at_hand, loom), self.school_class.warp_mm
            try:
                plan = make_plan(pattern, loom, at_hand=looms, warp_mm=warp_mm, wind_step=wind_step(units))
                self.plans[key] = plan_as_seen(plan, weavers_view(loom))
            except Refusal as refusal:
                self.plans[key] = refusal
        return self.plans[key]

    def _refuse(self, path: KeyPath, what: str, refusal: Refusal) -> None:
        """The refusal at its line, or at the length of all warps where that is what is wrong."""
        is_length = refusal.path[0] == "length" and self.school_class.warp_mm is not None
        place: KeyPath = ("warp",) if is_length else path
        self._tell(place, f"{what}: {refusal.message}", refusal.remedy)

    def _tell(self, path: KeyPath, message: str, remedy: str = "") -> None:
        """A problem at its line, once."""
        problem = _problem(self.school_class, path, message, remedy)
        if problem not in self.problems:
            self.problems.append(problem)

    def _pattern_in(self, file: Path) -> Pattern:
        return load_pattern(file, folder_around_class(self.school_class))

    def _loom(self, path: KeyPath, kit: Student | Spares) -> Loom | None:
        return kit.loom if isinstance(kit.loom, Loom) else self._loaded(load_loom, "loom", (*path, "loom"), kit.loom)

    def _loaded(
        self, load: Callable[[Path], Noun], kind: Literal["pattern", "loom"], path: KeyPath, name: str
    ) -> Noun | None:
        """What the file of that name holds, or None: it is read, and what is wrong in it told, only once."""
        if (kind, name) == ("loom", ANY):
            self._tell(path, NOT_IN_A_CLASS)
            return None
        try:
            file = yaml_file(find(kind, name, folder_around_class(self.school_class)), name)
        except WrongUsage as error:
            self._tell(path, str(error))
            return None
        if (kind, file) not in self.files:
            self.files[kind, file] = None
            try:
                self.files[kind, file] = load(file)
            except ProblemsFound as error:
                self.problems += error.problems
        noun: Noun | None = self.files[kind, file]
        return noun


def _key_of(loom: Loom) -> str | Loom:
    """What is the same for all who sit at one kind of loom: its file, or its spaces where it has none."""
    return loom.places.file or loom


def _package_problems(school_class: SchoolClass, kits: Sequence[Kit], offers: Sequence[Offer]) -> Iterator[Problem]:
    """A problem for every package that is of no yarn of the class's patterns, asked when all of them are there."""
    plans = [*(kit.plan for kit in kits), *(plan for offer in offers for plan in offer.plans)]
    yarns = list(dict.fromkeys(colour.yarn for plan in plans for colour in plan.colours))
    for name in school_class.packages:
        if name not in yarns:
            remedy = did_you_mean(name, yarns, f"They have {', '.join(yarns)}.")
            message = f"no pattern of this class has a yarn '{name}'."
            yield _problem(school_class, ("packages", name), message, remedy)


def _not_offered(school_class: SchoolClass, kits: Sequence[Kit], offers: Sequence[Offer]) -> Iterator[Problem]:
    """A note for every student whose pattern is none of those to choose from: she may have brought it, or it was typed
    for another."""
    offered = {plan.pattern.places.file for offer in offers for plan in offer.plans}
    for kit in kits:
        if offered and kit.student and kit.plan.pattern.places.file not in offered:
            path: KeyPath = ("students", kit.number - 1, "pattern")
            message = f"{kit.plan.pattern.title} is none of those to choose from."
            remedy = "It is made all the same; if it is a slip, write one of choose_from."
            yield replace(_problem(school_class, path, message, remedy), is_note=True)


def _problem(school_class: SchoolClass, path: KeyPath, message: str, remedy: str = "") -> Problem:
    return problem_from(Refusal(path, message, remedy), school_class.places)
