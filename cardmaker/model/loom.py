"""A loom as its file describes it: the heddle's spaces, how its weaver counts, beam, packing, shuttle."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING, Final, Literal

from cardmaker.model.pattern import Fibre
from cardmaker.model.problems import NOWHERE, Places
from cardmaker.model.record_class import record, uncompared
from cardmaker.model.viewpoint import FROM_SEAT, Viewpoint

if TYPE_CHECKING:  # few looms have words of their own
    from cardmaker.model.dressing_acts import Act

# What a press test may be, and why (limits of ours)
LIGHTEST_PRESS_G: Final = 1  # a kitchen scale shows no less
HEAVIEST_PRESS_G: Final = 5000  # more is a load that a narrow warp and its loom must carry, not a test
SHORTEST_SPAN_MM: Final = 100  # on less, a dip that can be read stretches the yarn more than its own pull does
LONGEST_SPAN_MM: Final = 3000  # no narrow loom has more between two rests
LONGEST_FREE_MM: Final = 10_000  # longer than a warp stands stretched in any room
LEAST_DIP_MM: Final = 1  # half a millimetre is what an eye reads: of less, more than half would be guessed
DEEPEST_DIP: Final = Fraction(1, 10)  # of the span: there the yarn is 2 % longer, and linen breaks at 2 to 3.5 %


class Space(StrEnum):
    """What an end passes through."""

    HOLE = "hole"
    SLOT = "slot"

    @property
    def opposite(self) -> Space:
        return Space.SLOT if self is Space.HOLE else Space.HOLE


class Heddles(StrEnum):
    """One rigid heddle, or two on treadles."""

    ONE = "one heddle"
    TWO = "two heddles"


class Mark(StrEnum):
    """What this weaver says on the marked middle space: "one", or nothing (she begins with the next)."""

    ONE = "counted as one"
    ZERO = "counted as zero"


class Side(StrEnum):
    """As the weaver sits."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def opposite(self) -> Side:
        return Side.RIGHT if self is Side.LEFT else Side.LEFT


@record
class Beam:
    """The warp beam: bare diameter, and what keeps it from turning."""

    diameter_mm: Fraction
    held_by: Literal["stick", "ratchet"]
    stops_per_turn: int


@record
class Packing:
    """Sticks laid between the layers on the beam: ``every_turns`` turns, two sticks go in."""

    thickness_mm: Fraction
    width_mm: Fraction
    every_turns: int


@record
class Press:
    """Where a known weight, such as a stack of coins, is hung on the warp: at the middle of a clear span.

    Without a weight, the one that suits each warp is reckoned. All the yarn that is free to stretch shares it: the span
    and what lies beside it, from where the tape is held to where the warp leaves the beam.
    """

    span_mm: Fraction
    weight_g: Fraction | None = None
    free_mm: Fraction | None = None


@record
class MeasuredPress:
    """How far a weight dipped a warp that wove well on this loom, and what warp that was: the standard for the next."""

    weight_g: Fraction
    span_mm: Fraction
    dip_mm: Fraction
    ends: int
    tex: Fraction  # of one end; the mean where they differ
    fibre: Fibre
    pattern: str = ""  # the tape that it became, by its title
    date: str = ""


@record
class MeasuredWaste:
    """What this loom could not weave of a warp, in front and at the back together, and which tape that was."""

    length_mm: Fraction
    pattern: str
    date: str = ""


@record
class WeaverPace:
    """How fast this weaver works: seconds for winding and for threading one end, and minutes for all that does not
    grow with the ends (tying on, winding on, the first inches); and how many rows of a figure she picks up in a minute,
    where her file tells it."""

    winding_seconds: Fraction
    threading_seconds: Fraction
    picks_per_minute: Fraction
    fixed_minutes: Fraction
    session_minutes: Fraction | None = None
    picked_rows_per_minute: Fraction | None = None


@record
class Loom:
    """One loom. Spaces are numbered 1 to ``spaces`` from the left of its ``view``, holes and slots alternating; for a
    left hand from the right."""

    title: str
    stem: str
    heddles: Heddles
    slots: int
    holes: int
    outer: Space  # the kind of space 1
    mark: Mark = Mark.ZERO
    back_heddle: Literal["same", "opposite"] | None = None  # two heddles only
    hole_size_mm: Fraction | None = None
    beam: Beam | None = None
    packing: Packing | None = None
    waste_mm: Fraction | None = None  # in front and at the back together
    weaving_zone_mm: tuple[Fraction, Fraction] | None = None  # from, to, measured from the heddle bar
    shuttle_down: Side = Side.LEFT  # where the shuttle travels to while the warp is pressed down
    shuttle_up: Side = Side.RIGHT  # where it travels to while the warp is lifted up
    shuttle_length_mm: Fraction | None = None
    shuttle_stated: bool = True  # else both sides are the usual ones, and a guess
    threads_from: Literal["front", "back"] = "front"
    marked_as: str = ""
    view: Viewpoint = FROM_SEAT  # from where its spaces are numbered and its sides named
    places: Places = uncompared(default=NOWHERE)
    shuttle_holds: int | None = None  # wraps of weft with which it still passes the shed
    front_raised_by: Side | None = None  # two heddles: the foot that raises the front one; None when nobody says
    shuttle_by_foot: bool = (
        False  # no tie-up: ``shuttle_down`` is then the left foot's side, ``shuttle_up`` the right's
    )
    press: Press | None = None
    measured_press: MeasuredPress | None = None
    measured_waste: MeasuredWaste | None = None
    pace: WeaverPace | None = None
    waste_front_mm: Fraction | None = None  # of the waste, what lies in front of the first pick
    beam_first: bool = False  # the warp goes on the beam before it is threaded; else it is threaded first
    cloth_beam: bool = False  # the tape winds on a beam in front; else a hand or a belt holds the warp's front
    shuttle_kind: Literal["flat", "netting"] = "flat"
    own_words: tuple[tuple[Act, str], ...] = ()  # this weaver's words for a step of dressing, instead of ours

    @property
    def sides_swapped(self) -> bool:
        """Whether what is reckoned as left is what the weaver calls right: so it is for a left hand."""
        return self.view.left_hand

    @property
    def spaces(self) -> int:
        return self.slots + self.holes

    @property
    def middle_space(self) -> int | None:
        """The marked space; None when the mark stands between two spaces."""
        return (self.spaces + 1) // 2 if self.spaces % 2 else None

    @property
    def capacity(self) -> int:
        """The most ends it holds: two heddles that are the same hold one fewer than their spaces."""
        return self.spaces - 1 if self.back_heddle == "same" else self.spaces

    def foot_of(self, *, is_down: bool) -> Side | None:
        """The foot that opens a shed of two heddles; None with one heddle, or when no tie-up tells.

        Down raises the front heddle and up the back one: the two always move opposite ways, so that each end is in a
        hole of one and a slot of the other.
        """
        front = self.front_raised_by
        return front if front is None or is_down else front.opposite

    def kind_of(self, space: int) -> Space:
        """Whether ``space`` (1 to ``spaces``, from the left) of the front heddle is a hole or a slot."""
        return self.outer if space % 2 else self.outer.opposite
