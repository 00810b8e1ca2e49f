"""Where to wind: pegs, route, the cross, the length of one end, and the walk that winding is."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from cardmaker.wording.formatters import Units, in_mm, in_sixteenths, long_way, small_length, tape_length, warp_length
from cardmaker.wording.phrases import capitalised, listed, plural
from cardmaker.wording.units_in_words import with_units_in_words
from cardmaker.wording.winding_words import FAR, HOME

if TYPE_CHECKING:
    from cardmaker.model.peg_plan import PassedPeg, PegPlan

ROOM: Final = "The room"
SHORT_MM: Final = 50  # of what pegs give too much: below, it is told to the millimetre
MORE_THAN_ELSEWHERE: Final = "more than on other cards, so figures differ"
MIDDLES: Final = "middle to middle"
ROUTE_HEADS: Final = (("", "number"), ("out; back the same", "peg"), (MIDDLES, "from the peg before, middle to middle"))
ROUND: Final = "round the pegs"
OUT: Final = "1, 3, 5 …"
BACK: Final = "2, 4, 6 …"

ANY_CROSS: Final = ("A", "B")  # the cross pegs of a board
THE_CROSS: Final = "Cross:"
# Which ends they are, beside where their thread leaves the cross, the fullest first.
ODD_AND_EVEN: Final = ((f"ends {OUT}", f"ends {BACK}"), ("ends 1, 3 …", "ends 2, 4 …"))
NUMBERS_ALONE: Final = ("1, 3 …", "2, 4 …")  # the same on the smallest cards
CROSS_IN_GENERAL: Final = (
    "The cross at two pegs, A and B, home at its left: odd ends, 1, 3, 5 and so on, pass below A and above B; even "
    "ends, 2, 4, 6 and so on, above A and below B."
)


def drawn_from(pegs: PegPlan) -> str:
    """What the picture is of; it takes the width that it finds."""
    return f"{pegs.title}, from above, not to scale"


def peg_name(name: str, pegs: PegPlan) -> str:
    if name == pegs.home:
        return HOME
    return FAR if name == pegs.far else name


def route_in_words(pegs: PegPlan) -> str:
    """The pegs in the order in which the thread meets them."""
    if not pegs.cross:
        return "From home to the far post, round it, and back on the other side: a figure of eight."
    if pegs.kind == "span":
        return "From home past the two cross pegs to the far post, turn, and back."
    stops = ", ".join(pegs.route[1:-1])
    return f"Out: home, {stops}, far ({pegs.far}). Then back the same way."


def route_stops(pegs: PegPlan, units: Units, *, alone: bool = False) -> list[tuple[str, str]]:
    """The pegs in the order in which the thread meets them, each with how far it is from the one before; but the far
    post of a span with how far from home, which is the first thing that is set. What is set up anew has both units,
    unless one has to stand ``alone``; a board has its pegs already."""
    one_unit = in_mm if units == "metric" else in_sixteenths
    stops = [(HOME, "")]
    for dimension in pegs.dimensions:
        name = dimension.stop.name
        label = f"{FAR} ({name})" if name == pegs.far and name != FAR else peg_name(name, pegs)
        centres = dimension.centres_mm
        apart = one_unit(centres) if alone or pegs.kind == "board" else small_length(centres, units)
        is_set_first = pegs.kind == "span" and name == pegs.far and dimension.start.name == pegs.home
        stops.append((label, f"{one_unit(centres)} from {HOME}" if is_set_first else apart))
    return stops


def round_the_pegs(pegs: PegPlan, units: Units) -> str:
    """What the way round the pegs adds to the distances between their middles: with it the list adds up."""
    one_unit = in_mm if units == "metric" else in_sixteenths
    return f"+ {one_unit(pegs.round_pegs_mm)}"


def thread_length(pegs: PegPlan, units: Units, *, brief: bool = False) -> str:
    """One end's length, and how much more that is than wanted; if not ``brief``, how far a span is set, and what is
    wanted. ``brief`` on a card, where it is told why its figures are others than on a card that shows no pegs."""
    length = f"one end is {warp_length(pegs.length_mm, units)} round the pegs"
    if pegs.distance_mm is not None and not brief:
        length = f"set the posts {small_length(pegs.distance_mm, units)} apart from middle to middle: {length}"
    length = capitalised(length)
    if round(pegs.spare_mm) == 0:
        return f"{length}, as wanted."
    is_short = pegs.spare_mm < SHORT_MM
    more = small_length(round(pegs.spare_mm), units) if is_short else tape_length(pegs.spare_mm, units)
    if brief:
        return f"{length}, {more} {MORE_THAN_ELSEWHERE}."
    return f"{length}, {more} more than the {warp_length(pegs.wanted_mm, units)} that are wanted."


def guide(pegs: PegPlan, units: Units, *, brief: bool = False) -> str:
    """A string of the wanted length, laid first: common practice, no source; ``brief`` in one system of units."""
    long = warp_length(pegs.guide_string_mm, units)
    if brief:
        return f"A guide string of {long.partition(' (')[0]}, tied at home, must end at or before far."
    return f"Tie a guide string of {long} at home and lead it this way: it must end at or before far."


def walking_length(pegs: PegPlan, ends: int, units: Units) -> str:
    return f"{plural(ends, 'time')} that is {long_way(pegs.walking_mm, units)} of thread to walk."


def stack(pegs: PegPlan, units: Units) -> str:
    """How high the ends lie on a cross peg, and what the last one gains."""
    where = "cross peg" if pegs.cross else "post"
    high = f"Spread in one layer the ends stand about {small_length(pegs.stack_mm, units)} high on each {where}"
    if pegs.stack_is_too_high and pegs.stack_limit_mm is not None:
        limit = small_length(pegs.stack_limit_mm, units)
        return f"{high}, more than its {limit}: push them down often, or use longer pegs."
    longer = small_length(pegs.pile_up_mm[1], units)
    return f"{high}. Heaped on one another instead, the last comes out up to {longer} longer than the first."


def keeper_sticks(pegs: PegPlan) -> str:
    """Where the sticks go that keep the cross. Two posts alone make it half-way (common practice, no source)."""
    if not pegs.cross:
        return "It is a figure of eight: keeper sticks go on both sides of its X, half-way between the posts."
    first, second = pegs.cross[:2]
    if pegs.has_false_cross:
        return "Keeper sticks go in the X that single ends make, not in the other."
    return f"Keeper sticks go where {first} and {second} stand."


def left_empty(pegs: PegPlan) -> str:
    empty = [peg.name for peg in pegs.pegs if peg.name not in pegs.route]
    return f"Left empty: {listed(empty)}." if empty else ""


def pegs_alt_text(pegs: PegPlan, units: Units) -> str:
    """The pegs in order with the distances to measure, on which side the thread passes each, and those left empty."""
    distances = [
        f"{_peg(each.start.name, pegs)} to {_peg(each.stop.name, pegs)} "
        f"{with_units_in_words(small_length(each.centres_mm, units))}"
        for each in pegs.dimensions
    ]
    alt_text = f"{pegs.title} from above. From middle to middle: {'; '.join(distances)}. {_passing(pegs)}"
    return f"{alt_text} {left_empty(pegs)}".rstrip()


def _peg(name: str, pegs: PegPlan) -> str:
    """A peg as the drawing names it; the far one of a board by its own name as well."""
    label = peg_name(name, pegs)
    return f"{label}, {name}," if label == "far" and name != "far" else label


def _passing(pegs: PegPlan) -> str:
    """On which side of the thread each peg lies, out and back."""
    passed, turning = pegs.round_trip.passed, pegs.turning
    out, back = passed[1 : turning + 1], passed[turning + 1 :]
    going = f"Going out from home the thread has {_sides(out, pegs)}, and turns there."
    return f"{going} Coming back it has {_sides(back, pegs)}." if back else going


def _sides(passed: Sequence[PassedPeg], pegs: PegPlan) -> str:
    return listed([f"{peg_name(peg.name, pegs)} on its {peg.bend}" for peg in passed])


# Beside the way back, where it is drawn no further, the fullest first.
SAME_WAY: Final = ("then the same way", "the same way", "same way", "back the same", "the same")


def sides_at_cross(pegs: PegPlan, above: Sequence[bool], *, any_way: bool = False) -> str:
    """Beside the drawing of a cross between pegs, on which side of them the odd ends and the even ones go by; where
    balls wait, ``any_way``: an end of either kind may be walked out or back."""
    if not pegs.cross:
        return ""
    odd, even = (
        ", ".join(f"{'above' if up is is_odd else 'below'} {name}" for name, up in zip(pegs.cross, above, strict=True))
        for is_odd in (True, False)
    )
    walked = ", whichever way you walk" if any_way else ""
    return f"Odd ends: {odd}. Even ends: {even}{walked}."


def cross_alt_text(pegs: PegPlan, above: Sequence[bool]) -> str:
    """The cross by itself, as it is drawn: ``above`` tells past which pegs the way out runs above on the paper."""
    if not pegs.cross:
        return (
            "The cross, home at its left and the far post at its right: ends 1, 3, 5 and so on and ends 2, "
            "4, 6 and so on pass each other half-way between the two posts."
        )
    out, back = (
        listed([f"{'above' if side is up else 'below'} {name}" for name, side in zip(pegs.cross, above, strict=True)])
        for up in (True, False)
    )
    meet = [
        f"between {name} and {following}"
        for (name, side), (following, beyond) in pairwise(zip(pegs.cross, above, strict=True))
        if side is not beyond
    ]
    where = f"; they cross {listed(meet)}" if meet else ""
    odd, even = f"ends 1, 3, 5 and so on run {out}", f"ends 2, 4, 6 and so on {back}"
    return f"The cross, home at its left: {odd}, {even}{where}."
