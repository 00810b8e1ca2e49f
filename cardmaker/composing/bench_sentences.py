"""The sentences of the bench that a card prints: winding step by step, beam, sticks, pull, rescue."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cardmaker.composing import wording
from cardmaker.composing.measures import Units, decimal, small_length, tape_length, warp_length
from cardmaker.composing.wording import listed, plural
from cardmaker.nouns.loom import Loom
from cardmaker.nouns.plan import Method, Post

if TYPE_CHECKING:  # named only in signatures: most cards never load the bench's nouns
    from cardmaker.nouns.bench import CoinDip, ShuttleFill, TimePlan, WarpOnBeam, WarpPull

TURNS: Final = "The beam"
TURNS_LEFT: Final = "turns left"
TAPE_TO_COME: Final = "tape to come"


def turns_aside(loom: Loom) -> str:
    return loom.title


def turns(beam: WarpOnBeam, units: Units) -> str:
    """How often the beam goes round, and how fat the roll gets."""
    return (
        f"The warp goes about {decimal(Fraction(beam.turns), 0)} times round the beam, "
        f"{small_length(Fraction(beam.final_diameter_mm), units)} across when it is full."
    )


def sticks(beam: WarpOnBeam, loom: Loom) -> str:
    """How many sticks, and at which turns: the knot first."""
    if not beam.sticks:
        return ""
    later = [str(turn) for turn in beam.stick_turns if turn]
    start = f"{plural(beam.sticks, 'stick')} in all: 2 at the knot"
    if not later:
        return f"{start}, one each side of the lump."
    return f"{start}, then 2 after {'turn' if len(later) == 1 else 'turns'} {listed(later)}."


def let_off(beam: WarpOnBeam, loom: Loom, units: Units) -> str:
    """What one stop of the beam gives, full and nearly empty."""
    full, empty = (
        small_length(Fraction(length), units) for length in (beam.let_off.full_mm, beam.let_off.nearly_empty_mm)
    )
    stop = (
        "click of the ratchet"
        if loom.beam and loom.beam.held_by == "ratchet"
        else "turn of the beam to its next stick hole"
    )
    said = f"One {stop} lets off about {full} at first and {empty} at the end"
    if beam.let_off.advances is not None:
        return f"{said}: about {plural(beam.let_off.advances, 'move')} for the whole tape."
    return f"{said}."


def slipped_edge(beam: WarpOnBeam) -> str:
    """Why the packing must be wider than the warp."""
    if beam.slipped_edge_strain is None:
        return ""
    longer = decimal(Fraction(beam.slipped_edge_strain) * 100, 0)
    return f"Keep the packing wider than the warp: an edge that slips off it goes slack by about {longer} %."


def tape(length_mm: float, units: Units) -> str:
    return tape_length(Fraction(length_mm), units) if length_mm > 0 else "none, only waste"


# pull

PRESS: Final = "How tight"
AT_REST: Final = "warp at rest"
PRESS_IS_ESTIMATE: Final = "These are estimates: stiff linen stretches under the weight and reads a little too tight."


def pull(pull: WarpPull) -> str:
    """The neutral level, for one end and for all of them."""
    working = pull.working
    return (
        f"About {decimal(Fraction(working.newtons_per_end), 1)} N on each end, "
        f"{decimal(Fraction(working.newtons), 0)} N on the whole warp, the weight of "
        f"{decimal(Fraction(pull.kilograms), 1)} kg. The loom, the table and you feel all of it."
    )


def press(pull: WarpPull, units: Units) -> str:
    """What to hang where, and how to read it."""
    if pull.weight_g is None or pull.span_mm is None:
        return ""
    return (
        f"Hang {decimal(Fraction(pull.weight_g), 0)} g in the middle of a clear "
        f"{tape_length(Fraction(pull.span_mm), units)} and stand the gauge beside it: "
        "the warp should come down to the middle mark."
    )


def gauge_mark(dip: CoinDip, units: Units) -> str:
    """One mark of the gauge: what it means, and how deep it is."""
    name = {"low": "too slack", "working": "right", "high": "too tight"}[dip.pull.name]
    return f"{name} {small_length(Fraction(dip.dip_mm), units)}"


# shuttle and pace

WEAVING: Final = "Shuttle and pace"


def wraps(fill: ShuttleFill, weft_mm: Fraction, units: Units) -> str:
    """The weft on the shuttle."""
    fills = f"{fill.fills} fills of {fill.wraps_per_fill}" if fill.fills > 1 else "one fill"
    return f"Weft {warp_length(weft_mm, units)}: {plural(fill.wraps, 'wrap')} of this shuttle, {fills}."


def hours(plan: TimePlan) -> str:
    """Picks and hours, and whether the session holds them."""
    pace = plan.pace
    said = (
        f"{pace.picks} picks at {decimal(Fraction(pace.picks_per_minute), 0)} a minute: about {_hours(pace.minutes)}."
    )
    session = plan.session
    if session is None:
        return said
    steps = (
        f" Winding {_minutes(session.winding_minutes)}, threading {_minutes(session.threading_minutes)}, "
        f"the rest of dressing {_minutes(session.fixed_minutes)}"
    )
    if session.fits:
        return f"{said}{steps}: all of it fits {_hours(session.session_minutes)}."
    return f"{said}{steps}: it does not fit {_hours(session.session_minutes)}."


def _minutes(minutes: float) -> str:
    return f"{decimal(Fraction(minutes), 0)} min"


def _hours(minutes: float) -> str:
    return f"{decimal(Fraction(minutes) / 60, 1)} h" if minutes >= 90 else _minutes(minutes)


# winding, step by step

STEPS: Final = "Winding, step by step"
FROM_OTHER_EDGE: Final = "from the tape’s right edge"
STEP_HEADS: Final = ("ends", "yarn", "from and to", "total", "then")


TO_AND_FRO: Final = "to and fro"


def step_then(is_last: bool, method: Method) -> str:
    """What to do when a stripe is wound."""
    if method == "bundle":
        return "band the bundle"
    if is_last:
        return "tie off"
    return "ball waits" if method == "carry" else "join the next yarn"


def in_turn(names: str) -> str:
    return f"{names} in turn"


def waiting(balls: Sequence[tuple[str, Post]]) -> str:
    """Where each ball waits after an alternation."""
    return "; ".join(f"{letters} waits {'at home' if post is Post.HOME else 'far'}" for letters, post in balls)


CROSS_SIDES: Final = (
    "Every end passes the cross the other way than the end before it, whichever way you walk. "
    "Two neighbours alike at the cross are a missed cross or a missing end."
)
BEFORE_LIFTING: Final = "Before lifting off"


def lifting_checks(ends: int, colours: Sequence[tuple[int, str]]) -> list[str]:
    """What to look at while the warp is still on the pegs."""
    totals = ", ".join(f"{count} {yarn}" for yarn, count in colours)
    return [
        f"Count at the cross: {wording.ends(ends)}; {totals}.",
        "Look along the cross: over, under, over, under, all the way across.",
        "Put two flat sticks through the cross and band both ends of them; if the warp will travel, tie the cross too.",
        "Cut only now, at home. Begin at the far end: turn the parking stick, and the cross comes to lie on top.",
    ]


# rescue

RESCUE: Final = "When an end breaks or a space was skipped"


NEARER_EDGE: Final = "count each end from its nearer edge"


def replacement(lengths: Sequence[tuple[str, Fraction]], units: Units) -> str:
    """How long a new end must be, by how much is woven."""
    said = [f"{tape_length(length, units)} when {share} is woven" for share, length in lengths]
    return f"A new end is {listed(said)}. Pin it below the last pick; hang a small weight behind."


def share(woven: Fraction) -> str:
    """How much is woven, in words."""
    return {Fraction(0): "nothing", Fraction(1, 4): "a quarter", Fraction(1, 2): "half"}.get(woven, "three quarters")


SKIPPED: Final = (
    "Two neighbours that move together: a space was skipped between them. "
    "Thread over again from there to the nearer edge."
)


# pick-up

PICKUP: Final = "Pick-up"
PICKUP_HEADS: Final = ("row", "shed", "by hand")


def by_hand(lifted: Sequence[int], dropped: Sequence[int]) -> str:
    """What the hand does in one row; pattern ends are numbered from the left."""
    said = []
    if lifted:
        said.append(f"pick up {listed([str(end) for end in lifted])}")
    if dropped:
        said.append(f"push down {listed([str(end) for end in dropped])}")
    return "; ".join(said) or "nothing"


def pickup_ends(yarn: str, numbers: Sequence[int]) -> str:
    """Which ends of the warp the pattern ends are."""
    places = ", ".join(f"{pattern} is end {end}" for pattern, end in enumerate(numbers, start=1))
    return f"Pattern ends ({yarn}), from the left: {places}. Then again from row 1."


def longest_float(rows: int, sensible: int) -> str:
    more = "" if rows <= sensible else f", more than {sensible}: it will catch"
    return f"The longest float runs over {plural(rows, 'pick')}{more}."
