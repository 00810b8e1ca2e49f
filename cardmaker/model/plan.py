"""The plan: every number and choice that a card may print, computed exactly, not yet rounded or worded."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from cardmaker.model.loom import Loom, Space
from cardmaker.model.pattern import Pattern
from cardmaker.model.record_class import record
from cardmaker.model.viewpoint import Viewpoint

if TYPE_CHECKING:  # most cards show none of it, and making these records takes time at every start
    from cardmaker.model.bench import LostEnd, PickupPlan, Rescue, TimePlan, WarpOnBeam, WarpPull
    from cardmaker.model.peg_plan import PegPlan
    from cardmaker.model.photograph import Photograph
    from cardmaker.model.shuttle_wraps import ShuttleFill


class Post(StrEnum):
    """Where the winder stands: the peg that winding starts from, or the turning one."""

    HOME = "home"
    FAR = "far"

    @property
    def opposite(self) -> Post:
        return Post.FAR if self is Post.HOME else Post.HOME


@record
class Run:
    """Neighbouring ends of one yarn. ``total`` counts all ends so far; ``stand_at`` is where the winder is then."""

    yarn: str
    ends: int
    total: int

    @property
    def first_end(self) -> int:
        return self.total - self.ends + 1

    @property
    def stand_at(self) -> Post:
        """An even number of trips ends where it began; an odd number at the other post (needs no source: parity)."""
        return Post.FAR if self.total % 2 else Post.HOME


@record
class Colour:
    """One yarn of the warp (or the weft alone): its letters, and how its ends divide on this loom."""

    yarn: str
    letters: str
    ends: int
    in_holes: int
    in_slots: int


@record
class BackHeddle:
    """The second heddle: each end lies ``offset`` spaces further right there than in the front one (negative: left)."""

    offset: int
    first_space: int
    last_space: int


@record
class Placement:
    """Which space each end lies in, counted from the middle as this weaver counts."""

    spaces: int
    first_space: int
    kinds: tuple[Space, ...]  # of each end in the (front) heddle, left to right
    count_to: int  # what the weaver says on the first space, counting leftwards from the mark
    half_space: Literal["none", "left", "right"]
    shifted: int  # whole spaces to the right of where counting leads (negative: left)
    moved_yarn: str  # the yarn whose ends made the shift necessary, or empty
    back: BackHeddle | None

    @property
    def ends(self) -> int:
        return len(self.kinds)

    @property
    def last_space(self) -> int:
        return self.first_space + self.ends - 1

    @property
    def first_kind(self) -> Space:
        return self.kinds[0]

    @property
    def last_kind(self) -> Space:
        return self.kinds[-1]

    @property
    def empty_left(self) -> int:
        return self.first_space - 1

    @property
    def empty_right(self) -> int:
        return self.spaces - self.last_space

    @property
    def holes(self) -> int:
        return self.kinds.count(Space.HOLE)

    @property
    def slots(self) -> int:
        return self.kinds.count(Space.SLOT)

    @property
    def middle_end(self) -> int | None:
        """The end with as many to its left as to its right; None for an even number."""
        return (self.ends + 1) // 2 if self.ends % 2 else None

    def space_of(self, end_number: int) -> int:
        """The space, from the left, of an end counted from 1."""
        return self.first_space + end_number - 1


@record
class Sheds:
    """The raised ends of each shed, as end numbers from the left. Down raises the hole ends, up the slot ends."""

    down: tuple[int, ...]
    up: tuple[int, ...]


@record
class Carry:
    """One stripe wound with its own ball: from which post the ball starts and at which it waits afterwards."""

    yarn: str
    ends: int
    start: Post
    stop: Post


Method = Literal["order", "bundle", "carry"]


@record
class Winding:
    """How the warp is wound. ``joins`` belong to winding in order, ``bundles`` to one colour at a time,
    ``balls`` and ``carries`` to carrying one ball per colour."""

    trips: int
    changes: int
    far_changes: int
    joins: int
    bundles: int
    balls: int
    carries: tuple[Carry, ...]
    method: Method  # the recommended one

    @property
    def round_trips(self) -> int:
        return self.trips // 2

    @property
    def finish(self) -> Post:
        return Post.FAR if self.trips % 2 else Post.HOME


@record
class PlannedPiece:
    """One kind of piece: how many are ``wanted``, how many ``come`` whole off this warp, and what one of them is."""

    purpose: str
    wanted: int
    come: int
    length_mm: Fraction  # finished
    on_loom_mm: Fraction  # woven, before washing
    fringe_mm: Fraction  # at each end
    warp_mm: Fraction  # that one takes, with both fringes


@record
class Lengths:
    """From finished tape to warp and back. ``warp_mm`` is what the sum gives, ``wind_mm`` what to wind (rounded up),
    ``wound_mm`` what these pegs give.

    Take-up and shrinkage are the likely figures, with the range that they rest in; what somebody stated or measured has
    no range. What to wind and how long to weave covers the long case, the most of both.
    """

    finished_mm: Fraction  # all pieces together, without fringes
    on_loom_mm: Fraction  # woven, off tension, before washing
    fringes_mm: Fraction  # of the pieces that come
    waste_mm: Fraction
    waste_front_mm: Fraction  # from the front knot to the first pick
    warp_mm: Fraction
    wind_mm: Fraction
    wound_mm: Fraction
    tape_from_warp_mm: Fraction  # finished tape that the warp is likely to give; of pieces, those that come
    tape_at_least_mm: Fraction
    woven_mm: Fraction  # of the likely tape, before washing
    take_up: Fraction
    take_up_range: tuple[Fraction, Fraction]
    shrinkage: Fraction
    shrinkage_range: tuple[Fraction, Fraction]
    take_up_basis: Literal["pattern", "measured", "default"]
    shrinkage_basis: Literal["pattern", "measured", "default"]
    waste_basis: Literal["loom", "measured", "default"]
    request: Literal["finished", "pieces", "warp", "default"]
    pieces: tuple[PlannedPiece, ...] = ()
    pieces_spare_mm: Fraction = Fraction(0)  # finished tape that the rest of the warp gives after them, at least

    @property
    def waste_back_mm(self) -> Fraction:
        """What is left behind the last pick: through the heddle to the knot on the beam."""
        return self.waste_mm - self.waste_front_mm

    @property
    def weavable_mm(self) -> Fraction:
        """The warp that becomes tape and fringes."""
        return (self.wind_mm if self.request == "warp" else self.wound_mm) - self.waste_mm

    @property
    def used_mm(self) -> Fraction:
        """Of that, what the tape takes, or the pieces that come with their fringes."""
        return sum((piece.come * piece.warp_mm for piece in self.pieces), Fraction(0)) or self.weavable_mm

    @property
    def pieces_come(self) -> int:
        return sum(piece.come for piece in self.pieces)

    @property
    def pieces_wanted(self) -> int:
        return sum(piece.wanted for piece in self.pieces)


@record
class Width:
    """The finished width as a range, and what it rests on."""

    low_mm: Fraction
    likely_mm: Fraction
    high_mm: Fraction
    basis: Literal["measured", "sample", "wraps", "count"]
    ends_per_inch: Fraction  # at the likely width


@record
class YarnAmount:
    """What one warp and its weft take of one yarn. ``grams`` is None when nothing tells the yarn's weight."""

    yarn: str
    warp_mm: Fraction
    weft_mm: Fraction
    grams: Fraction | None

    @property
    def total_mm(self) -> Fraction:
        return self.warp_mm + self.weft_mm


@record
class Weft:
    """Picks and the yarn they take: ``per_pick_mm`` with crimp and turn, ``used_mm`` in the tape,
    ``buy_mm`` with the allowance for joins."""

    yarn: str
    picks_per_inch: Fraction
    basis: Literal["pattern", "measured", "default"]
    picks: int
    per_pick_mm: Fraction
    used_mm: Fraction
    buy_mm: Fraction


@record
class Note:
    """Something to tell: ``key`` names the sentence in the wording, ``values`` fill it."""

    kind: Literal["warning", "advice", "caution"]
    about: str
    key: str
    values: Mapping[str, str | int | Fraction]


@record
class OtherLoom:
    """How the pattern sits on another loom at hand; ``placement`` is None when it does not fit."""

    loom: Loom
    placement: Placement | None
    why_not: str = ""

    @property
    def title(self) -> str:
        return self.loom.title


@record
class SecondPlan:
    """The same tape in another yarn of its file, with as many ends; ``plan`` is None where the loom does not take it,
    and ``why_not`` says why."""

    title: str
    plan: Plan | None
    why_not: str = ""


@record
class MeasuredOn:
    """A figure, by its name in ``Learned``, that a tape of another pattern taught, through the yarn's or the loom's
    file."""

    figure: str
    pattern: str  # that tape's title
    date: str = ""


@record
class Plan:
    """Everything reckoned for one pattern on one loom."""

    pattern: Pattern
    loom: Loom
    end_yarns: tuple[str, ...]  # the yarn of each end, left to right
    runs: tuple[Run, ...]
    colours: tuple[Colour, ...]  # in the order in which they first appear; a weft that is not in the warp last
    same_both_ways: bool
    placement: Placement
    sheds: Sheds
    winding: Winding
    lengths: Lengths
    width: Width
    weft: Weft
    amounts: tuple[YarnAmount, ...]
    notes: tuple[Note, ...]
    other_looms: tuple[OtherLoom, ...] = ()
    # The bench: each is None where the loom's file, the pattern or the pegs at hand do not tell enough.
    pegs: PegPlan | None = None  # its length is what these pegs give; ``lengths.wind_mm`` stays what was asked for
    beam: WarpOnBeam | None = None
    tension: WarpPull | None = None
    shuttle: ShuttleFill | None = None
    # For the warp to wind, where these pegs may give more; none without pegs.
    weft_without_pegs: Weft | None = None
    shuttle_without_pegs: ShuttleFill | None = None
    amounts_without_pegs: tuple[YarnAmount, ...] = ()
    rescue: Rescue | None = None
    lost_end: LostEnd | None = None  # the one that a slip is about, in the view of this plan
    pickup: PickupPlan | None = None
    pace: TimePlan | None = None
    second: tuple[SecondPlan, ...] = ()  # in each second yarn of the file, where the card tells of them
    photograph: Photograph | None = None  # that may be printed, where the card shows it
    learned_from: tuple[str, ...] = ()  # dates of the measured records used, latest first, as typed
    learned_on: tuple[tuple[str, str], ...] = ()  # each figure that a record gave, by its name in ``Learned``; its date
    measured_on: tuple[MeasuredOn, ...] = ()  # figures that came from the files of its yarns and its loom

    @property
    def view(self) -> Viewpoint:
        """From where every side in it is named, and from which edge its ends and spaces are numbered."""
        return self.loom.view

    @property
    def ends(self) -> int:
        return len(self.end_yarns)

    def letters(self, yarn: str) -> str:
        """The two-letter code of a yarn. Raises KeyError."""
        for colour in self.colours:
            if colour.yarn == yarn:
                return colour.letters
        raise KeyError(yarn)
