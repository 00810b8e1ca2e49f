"""A class: who comes, with which loom and pattern, and the kits that this makes."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal, NamedTuple

from cardmaker.model.loom import Loom
from cardmaker.model.money import Money
from cardmaker.model.pattern import Package, Yarn
from cardmaker.model.plan import Plan
from cardmaker.model.problems import NOWHERE, KeyPath, Places, Problem
from cardmaker.model.record_class import record, uncompared

Done = Literal["wound", "threaded"]
NO_PACKAGES: Final[Mapping[str, Package]] = MappingProxyType({})


class Student(NamedTuple):
    """One line of the class file. ``loom`` and ``pattern`` are names as typed: stems or paths; ``loom`` may be the loom
    itself, where the line tells its spaces, and ``pattern`` is empty until it is chosen."""

    name: str
    loom: str | Loom
    pattern: str
    left_hand: bool = False
    large_print: bool = False
    units: Literal["metric", "us"] | None = None


class Spares(NamedTuple):
    """Kits for nobody yet."""

    kits: int
    loom: str | Loom
    pattern: str
    path: KeyPath = ()  # where the file tells of them


@record
class SchoolClass:
    """A class file, read and checked, before any arithmetic."""

    title: str
    stem: str
    students: tuple[Student, ...]
    spares: tuple[Spares, ...] = ()
    choose_from: tuple[str, ...] = ()  # names of patterns as typed; none where every student has one
    teacher: str = ""
    date: str = ""
    place: str = ""
    session_minutes: Fraction | None = None
    wound_beforehand: bool = False
    threaded_beforehand: bool = False  # then they are wound beforehand as well
    in_stages: bool = False  # a slip for each stage instead of one handout
    warp_mm: Fraction | None = None  # None: as long as each pattern asks
    extra: Fraction = Fraction(0)  # of the yarn, as a share of one
    spare_ends: int | None = None  # None: as many as each pattern says
    paper: Literal["letter", "a4"] | None = None  # None: as the settings say, or letter
    units: Literal["metric", "us"] | None = None  # None: as the settings say, or metric
    packages: Mapping[str, Package] = NO_PACKAGES  # by the yarn's name
    notes: tuple[str, ...] = ()
    about: str = ""
    marked_as: str = ""
    places: Places = uncompared(default=NOWHERE)

    @property
    def done(self) -> frozenset[Done]:
        """What is done for the students before the class."""
        wound: frozenset[Done] = frozenset({"wound"} if self.wound_beforehand else ())
        return wound | {"threaded"} if self.threaded_beforehand else wound


class Kit(NamedTuple):
    """One warp with its card. ``student`` is None for a spare kit. Kits are numbered from 1 as the students stand in
    the file, the spare ones last; the number of whoever has not chosen yet stays free, so that no other changes."""

    number: int
    plan: Plan
    student: Student | None = None

    @property
    def left_hand(self) -> bool:
        return self.student is not None and self.student.left_hand

    @property
    def large_print(self) -> bool:
        return self.student is not None and self.student.large_print


class Offer(NamedTuple):
    """What the students at one loom may choose from: a plan of each tape that it holds, in the order of the file, and
    of the others the titles."""

    loom: Loom
    students: tuple[Student, ...]
    plans: tuple[Plan, ...]
    not_held: tuple[str, ...] = ()


class Amount(NamedTuple):
    """So much of one yarn. ``grams`` is None when nothing tells the yarn's weight."""

    length_mm: Fraction
    grams: Fraction | None


@record
class Packages:
    """What to buy of one yarn, in whole packages, and what is left over of it.

    ``cost`` is None where no price is told.
    """

    package: Package
    count: int
    left_mm: Fraction | None
    cost: Money | None


@record
class Purchase:
    """One yarn of the whole class: exact, multiplied and not yet rounded. ``packages`` is None when it is not known
    how the yarn is sold, or when that does not tell how far one package goes."""

    yarn: Yarn
    warp: Amount
    weft: Amount
    total: Amount
    packages: Packages | None = None
    shares_name: bool = False  # another yarn of the class has the same name


@record
class ClassPlan:
    """A class with every kit reckoned, the looms that they were compared with, what there is to choose from, and what
    to look at in its file."""

    school_class: SchoolClass
    kits: tuple[Kit, ...]
    at_hand: tuple[Loom, ...] = ()
    offers: tuple[Offer, ...] = ()
    notes: tuple[Problem, ...] = ()

    @property
    def students(self) -> tuple[Kit, ...]:
        """The kits that somebody has."""
        return tuple(kit for kit in self.kits if kit.student is not None)

    @property
    def undecided(self) -> tuple[Student, ...]:
        """The students who have not chosen yet."""
        return tuple(student for student in self.school_class.students if not student.pattern)

    @property
    def open_offers(self) -> tuple[Offer, ...]:
        """What there is to choose from for those who have not."""
        return tuple(offer for offer in self.offers if not all(student.pattern for student in offer.students))

    @property
    def is_open(self) -> bool:
        """Whether nobody has chosen yet, so that there is nothing to print but what to choose from."""
        return not self.students

    @property
    def spares(self) -> tuple[Kit, ...]:
        return tuple(kit for kit in self.kits if kit.student is None)

    @property
    def plans(self) -> tuple[Plan, ...]:
        """Each plan that any kit follows, once, in the order in which they first appear."""
        return tuple({id(kit.plan): kit.plan for kit in self.kits}.values())

    @property
    def offered(self) -> tuple[Plan, ...]:
        """The plans of what there is to choose from, of all looms."""
        return tuple(plan for offer in self.offers for plan in offer.plans)
