"""A pattern as its file states it: yarns, stripes, lengths, where it comes from. Nothing is reckoned here."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal

from cardmaker.model.problems import NOWHERE, Places
from cardmaker.model.record_class import record, uncompared

# The longest names in letters, so that two lines of the smallest card hold them (limits of ours)
LONGEST_TITLE: Final = 80  # of a loom and a place to wind as well
LONGEST_CODE: Final = 16
LONGEST_USE: Final = 60
LONGEST_YARN_NAME: Final = 30
MOST_ENDS: Final = 400  # of a stripe and of a warp (a limit of ours): ten times the widest tape of a small heddle
LEAST_ENDS_PER_INCH: Final = 3  # one end is 8 mm wide (a limit of ours)
MOST_ENDS_PER_INCH: Final = 300  # thinner than sewing silk (a limit of ours)

Fibre = Literal["linen", "cotton", "cottolin", "wool", "silk", "hemp", "other"]
CountSystem = Literal["linen", "cotton", "worsted", "woollen run", "metric", "tex", "denier"]
OWN_SYSTEM: Final[dict[Fibre, CountSystem]] = {"linen": "linen", "cotton": "cotton"}  # meant where a label says none


@record
class Package:
    """How the yarn is sold: a ball, skein or cone of so much, at a price (text, with its currency, as typed)."""

    length_mm: Fraction | None = None
    weight_g: Fraction | None = None
    price: str = ""


@record
class Yarn:
    """One yarn of the pattern, under the name that the stripes use for it."""

    name: str
    fibre: Fibre
    count: str = ""
    system: CountSystem | None = None
    yards_per_pound: Fraction | None = None
    metres_per_kg: Fraction | None = None
    wraps_per_inch: Fraction | None = None
    ends_per_inch: Fraction | None = None
    colour: str = ""  # #rrggbb in lower case, or empty when the file says none
    shade: str = ""
    lot: str = ""
    dye: str = ""
    dye_evidence: str = ""
    slots_only: bool = False
    package: Package | None = None
    shelf: ShelfYarn | None = uncompared(default=None)  # the file that describes it for all patterns


@record
class YarnMeasurement:
    """What one tape taught of its yarn for every later one: a record in the yarn's file."""

    pattern: str  # the title of the tape, as it is told on cards
    date: str = ""
    loom: str = ""
    ends_per_inch: Fraction | None = None
    take_up: Fraction | None = None  # of the warp, as a fraction of one
    shrinkage: Fraction | None = None  # with which the take-up was reckoned, where that was not the usual one
    picks_per_inch: Fraction | None = None


@record
class ShelfYarn:
    """A yarn that has a file of its own, which any pattern may name by the file's stem."""

    title: str
    stem: str
    yarn: Yarn  # as its file tells it, under its stem
    measured: tuple[YarnMeasurement, ...] = ()
    at_hand_g: Fraction | None = None  # how much of it lies in the drawer, where that is told
    marked_as: str = ""  # printed small on every card: "sample data, invented"
    places: Places = uncompared(default=NOWHERE)


@record
class Stripe:
    """``9 white``: so many ends of one yarn side by side."""

    yarn: str
    ends: int


@record
class Alternation:
    """``{alternate: [white, blue], ends: 15}``: yarns in turn, beginning with the first, until ``ends`` are there."""

    yarns: tuple[str, ...]
    ends: int


@record
class Repeat:
    """``{repeat: 9, stripes: [...]}``: the same items so many times over."""

    times: int
    stripes: tuple[WarpItem, ...]


WarpItem = Stripe | Alternation | Repeat
Mirror = Literal["last stripe", "whole"]


@record
class Piece:
    """One of several pieces cut from one warp."""

    purpose: str
    length_mm: Fraction
    count: int = 1
    fringe_mm: Fraction = Fraction(0)  # at each end of each piece


@record
class WantedLength:
    """What is wanted: so much finished tape, or pieces, or whatever a given warp yields (at most one of the three)."""

    finished_mm: Fraction | None = None
    pieces: tuple[Piece, ...] = ()
    warp_mm: Fraction | None = None
    take_up: Fraction | None = None  # of the warp, as a fraction of one
    shrinkage: Fraction | None = None  # of the unwashed tape, as a fraction of one
    spare_ends: int = 1  # of each colour


@record
class PickupRow:
    """One row of pick-up: the shed, the pattern ends lifted and the pattern ends dropped.

    ``lift`` and ``drop`` count the pattern yarn's ends from the left, from 1.
    """

    shed: Literal["down", "up"]
    lift: tuple[int, ...] = ()
    drop: tuple[int, ...] = ()


@record
class Pickup:
    """A pick-up figure worked by hand on a plain ground."""

    pattern_yarn: str
    rows: tuple[PickupRow, ...]


@record
class Measurement:
    """A record of what really came off the loom."""

    date: str
    loom: str = ""
    warp_mm: Fraction | None = None
    tape_mm: Fraction | None = None  # finished, rested
    width_mm: Fraction | None = None
    picks_per_inch: Fraction | None = None
    leftover_mm: Fraction | None = None  # warp that could not be woven
    fringes_mm: Fraction | None = None  # warp that was left bare on purpose
    note: str = ""


@record
class Source:
    """Where the pattern comes from. Everything is text, as typed; an empty text is not recorded."""

    grade: Literal["A", "B", "C", "D", "E", "F"]
    what: str = ""  # a few words that complete "after ...": "a tape tie on a seed pouch"
    holder: str = ""
    object_number: str = ""
    attached_to: str = ""
    place: str = ""
    period: str = ""
    attributed: str = ""
    counted_by: str = ""
    counted_when: str = ""
    counted_how: str = ""
    certainty: str = ""
    fibre: str = ""
    twist: str = ""
    colour_today: str = ""
    colour_then: str = ""
    colour_reason: str = ""
    differences: tuple[str, ...] = ()
    photograph: str = ""
    may_print_photograph: str = ""
    references: tuple[str, ...] = ()


@record
class Notes:
    """Words for one audience each; none is ever printed on another's card."""

    student: tuple[str, ...] = ()
    teacher: tuple[str, ...] = ()
    visitor: tuple[str, ...] = ()


@record
class Change:
    """One line of the version history."""

    version: str
    date: str
    what: str


@record
class SecondYarn:
    """The same design in another yarn: the new yarn of each old name that changes."""

    title: str
    yarns: tuple[Yarn, ...]


@record
class Pattern:
    """A pattern file, read and checked, before any arithmetic."""

    title: str
    stem: str  # the file's name without its ending
    yarns: tuple[Yarn, ...]
    warp: tuple[WarpItem, ...]
    code: str = ""
    version: str = ""
    date: str = ""
    purposes: tuple[str, ...] = ()
    about: str = ""
    mirror: Mirror | None = None
    stated_ends: int | None = None
    weft: str = ""  # a yarn's name; empty means the yarn of the edge ends
    length: WantedLength = WantedLength()
    picks_per_inch: Fraction | None = None
    width_mm: Fraction | None = None
    second_yarns: tuple[SecondYarn, ...] = ()
    pickup: Pickup | None = None
    measured: tuple[Measurement, ...] = ()
    source: Source | None = None
    notes: Notes = Notes()
    changes: tuple[Change, ...] = ()
    credit: str = ""
    marked_as: str = ""  # printed small on every card: "sample data, invented"
    places: Places = uncompared(default=NOWHERE)

    @property
    def all_yarns(self) -> tuple[Yarn, ...]:
        """Its own yarns, and those that it may be woven in instead."""
        return (*self.yarns, *(yarn for second in self.second_yarns for yarn in second.yarns))

    def yarn(self, name: str) -> Yarn:
        """The yarn of that name. Raises KeyError."""
        for yarn in self.yarns:
            if yarn.name == name:
                return yarn
        raise KeyError(name)
