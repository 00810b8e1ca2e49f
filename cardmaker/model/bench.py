"""What the bench asks and the arithmetic answers: beam, pull, pace, rescue, pick-up, other sizes.

Every field with a unit in its name is an unrounded number in that unit; counts are integers.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from cardmaker.model.loom import MeasuredPress, Side, Space
from cardmaker.model.pattern import Fibre
from cardmaker.model.record_class import record

Number = Fraction | float  # a length, a share or a force, exact where the sum allows it
Status = Literal["published", "measured", "computed", "common practice, no source", "from memory"]
StripeRun = tuple[str, int]  # a yarn and how many ends of it lie side by side


@record
class LetOff:
    """The warp that one stop of the beam lets off: roll full, half the warp gone, at the end; and the moves.

    A move is as many stops, one after the other, as the weaving zone takes: few while the roll is full, more later.
    """

    full_mm: float
    half_mm: float
    nearly_empty_mm: float
    advances: int | None  # the moves; None when the loom's weaving zone is not known
    stops_a_move: tuple[int, int] | None = None  # of the first move and of the last; None without a move
    longer_than_zone: bool = False  # at first one stop gives more tape than the zone is long: the fell lies beyond it


@record
class TapeLeft:
    """Finished tape still to come, at least, while so many turns of warp are on the beam; of pieces, whole ones."""

    turns: float
    tape_mm: float
    pieces: tuple[int, ...] = ()  # of each kind, in the order of the plan


@record
class WarpOnBeam:
    """One warp wound on one beam."""

    turns: float
    warp_layer_mm: float
    packing_share_mm: float  # of every turn
    beam_diameter_mm: float
    final_diameter_mm: float
    sticks: int
    stick_turns: tuple[int, ...]  # the turn after which two go in; 0 stands for the knot
    let_off: LetOff
    tape_left: tuple[TapeLeft, ...]  # the full beam first, then every whole number of turns down to 0
    slipped_edge_mm: float | None  # what an edge off one pair of sticks differs by at every turn; None without packing

    @property
    def build_up_mm(self) -> float:
        """Radial growth a turn."""
        return self.warp_layer_mm + self.packing_share_mm


@record
class Pull:
    """A tension as it is told three ways, and what that figure rests on."""

    name: Literal["low", "working", "high"]
    cn_per_tex: float
    newtons_per_end: float
    newtons: float  # the whole warp: also the pull on loom, clamp and furniture
    status: Status


@record
class Stiffness:
    """The pull that would double a yarn's length, for its thickness, in cN/tex: likely, and the range it may lie in."""

    low: float
    likely: float
    high: float


@record
class PressMark:
    """How far the weight dips the warp at one tension: likely, and between the stiffest and the softest yarn."""

    pull: Pull
    least_mm: float
    likely_mm: float
    most_mm: float


@record
class PressGauge:
    """A weight at the middle of a clear span of this warp, and where it dips to when the warp is tight, right, slack.

    ``marks`` stand from the top down; there are none where the range of the stiffness is so wide that one would run
    into the next. ``loom_weight_g`` is what the loom's file names, ``fitting_weight_g`` what suits this warp best.
    """

    weight_g: Fraction
    weight_n: float
    span_mm: Fraction
    shortest_free_mm: Fraction  # all the yarn that shares the stretch; as long as the longest when the loom's file says
    longest_free_mm: Fraction
    marks: tuple[PressMark, ...]
    loom_weight_g: Fraction | None
    fitting_weight_g: Fraction | None
    loom_weight_is: Literal["fitting", "too heavy", "too light"] | None = None


@record
class Pace:
    """How long the weaving takes at her pace, in whole minutes, rounded up.

    ``picked_rows`` of the picks are picked up by hand, so many of them in a minute; a guess where no file tells it.
    """

    picks: int
    picks_per_minute: float
    minutes: int
    picked_rows: int = 0
    picked_rows_per_minute: float | None = None
    picked_is_guess: bool = False


@record
class WorkMinutes:
    """Whole minutes for each step of the work, every one rounded up: whoever adds up what is printed finds the sum that
    is printed."""

    winding_minutes: int
    threading_minutes: int
    fixed_minutes: int
    weaving_minutes: int

    @property
    def steps(self) -> tuple[int, int, int, int]:
        """Winding, threading, the rest of dressing, weaving."""
        return self.winding_minutes, self.threading_minutes, self.fixed_minutes, self.weaving_minutes

    @property
    def needed_minutes(self) -> int:
        return sum(self.steps)


@record
class SessionPlan:
    """Whether one session holds the work, and what gets woven in it. The session is rounded down."""

    session_minutes: int
    work: WorkMinutes
    woven_mm: Fraction  # on the loom, in the time that the other steps leave
    sensible_warp_mm: Fraction | None  # that would just be woven off; None when no tape at all can be woven

    @property
    def steps(self) -> tuple[int, int, int, int]:
        """Winding, threading, the rest of dressing, weaving."""
        return self.work.steps

    @property
    def needed_minutes(self) -> int:
        return self.work.needed_minutes

    @property
    def spare_minutes(self) -> int:
        """Minutes left over; negative is how much too long the plan is."""
        return self.session_minutes - self.needed_minutes

    @property
    def fits(self) -> bool:
        return self.spare_minutes >= 0


@record
class EndPlace:
    """One end as somebody who has lost it looks for it: ``count`` from the ``nearer`` edge, the edge end being 1."""

    end_number: int
    yarn: str
    kind: Space
    space: int
    nearer: Side
    count: int


@record
class Rethreading:
    """What to thread over again when a space was skipped just before an end: so many ends, to the edge at this side.

    Before the first end no space is skipped: it has no neighbour there, and ``ends`` is 0.
    """

    side: Side
    ends: int


@record
class Replacement:
    """How long a piece must be that replaces an end once this share of the tape is woven."""

    woven: Fraction
    length_mm: Fraction


@record
class LostEnd:
    """One end that has broken or gone astray, as whoever puts a new one in looks for it.

    Sides are those that the plan's view names. ``left`` and ``right`` are the ends beside it, None at an edge.
    """

    place: EndPlace
    from_left: int  # its count from the left edge of the warp, the edge end being 1
    from_right: int
    left: EndPlace | None
    right: EndPlace | None
    length_mm: Number  # of the piece to put in
    woven: Fraction | None  # the share of the tape that is woven; None where the turns left tell how far it is
    turns_left: Fraction | None = None  # of warp on the beam


@record
class PickedRow:
    """One row of pick-up: the ends on top once it has been worked by hand, as end numbers from the left."""

    row: int
    shed: Literal["down", "up"]
    lifted: tuple[int, ...]  # end numbers
    dropped: tuple[int, ...]  # end numbers
    raised: tuple[int, ...]


@record
class Float:
    """A pattern end that stays on one side of the tape for several rows; the last may lie in the next repeat."""

    pattern_end: int  # counted among the pattern ends from the left, from 1
    end_number: int
    first_row: int
    rows: int
    side: Literal["face", "back"]


@record
class PickupPlan:
    """A pick-up figure worked out. The rows repeat from 1."""

    pattern_ends: tuple[int, ...]  # end numbers, left to right
    rows: tuple[PickedRow, ...]
    floats: tuple[Float, ...]  # every stay of two rows or more, by pattern end and row
    same_shed_after: tuple[int, ...]  # rows whose next row uses the same shed: two picks together on the ground
    longest_sensible: int
    same_both_ways: bool  # the figure is its own mirror image: it reads the same from both edges

    @property
    def long_floats(self) -> tuple[Float, ...]:
        """Floats on the face past the sensible length: they catch and pull."""
        return tuple(each for each in self.floats if each.side == "face" and each.rows > self.longest_sensible)


@record
class ThickEnd:
    """An end in a hole that it, or a small join in it, does not pass. ``passes`` is the yarn alone."""

    end_number: int
    yarn: str
    diameter_mm: float
    passes: bool


@record
class Resized:
    """The same design in another number of ends: the one asked for, or the nearest that the design can have."""

    runs: tuple[StripeRun, ...]

    @property
    def ends(self) -> int:
        return sum(ends for _, ends in self.runs)


@record
class WarpPull:
    """How hard this warp should be pulled, and how far a known weight dips it. ``tex`` is the mean of its ends.

    ``standard`` is the warp that wove well on this loom; without one, the level is what is usual. Where neither tells
    of a span on this loom, there is no gauge.
    """

    ends: int
    tex: Number
    fibre: Fibre  # of the most of it, by weight
    pulls: tuple[Pull, ...]  # low, working, high
    stiffness: Stiffness
    level_range: tuple[float, float]  # cN/tex at which the standard wove, as its yarn was stiff or soft
    standard: MeasuredPress | None = None
    gauge: PressGauge | None = None

    @property
    def working(self) -> Pull:
        return next(pull for pull in self.pulls if pull.name == "working")

    @property
    def kilograms(self) -> float:
        """What would have to hang on the warp to pull as hard as the working tension does."""
        return self.working.newtons / 9.80665


@record
class Rescue:
    """What to look up when something has gone wrong: one entry for each end, left to right, and spare pieces."""

    ends: tuple[EndPlace, ...]
    rethreading: tuple[Rethreading, ...]  # when a space was skipped just before this end
    replacements: tuple[Replacement, ...]


@record
class TimePlan:
    """The weaving at her pace, all steps of the work, and the whole session where she has said how long one is."""

    pace: Pace
    work: WorkMinutes
    session: SessionPlan | None
