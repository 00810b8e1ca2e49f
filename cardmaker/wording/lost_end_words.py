"""One end that broke or went astray: which it is, where it lies, what lies beside it, how a new one is put in.

How a new end is put in is common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cardmaker.model.loom import Side, Space
from cardmaker.model.units import MM_PER_INCH
from cardmaker.wording.formatters import Units, mixed, small_length, tape_length
from cardmaker.wording.heddle_words import BACK, FRONT, count_to_space, counted_on_both, name_on_board, place_named
from cardmaker.wording.phrases import a_space, capitalised, plural, weavers_side
from cardmaker.wording.units_in_words import with_units_in_words
from cardmaker.wording.view_words import seen_from

if TYPE_CHECKING:
    from cardmaker.model.bench import EndPlace, LostEnd
    from cardmaker.model.plan import Plan
    from cardmaker.reckoning.weaving.lost_ends import PlaceInStripe

NEW_END: Final = "Put in a new one"
NO_END: Final = "a rescue slip is about one end, and none is named."
NAME_ONE: Final = "Name it so: cardmaker rescue {pattern} --end 1 --out slip.pdf."
BESIDE_IT: Final = "Beside it"
PIN_FROM_FELL_MM: Final = MM_PER_INCH  # common practice, no source
PIN_STAYS_MM: Final = 2 * MM_PER_INCH  # woven before it comes out: common practice, no source
_STICKS_IN_HOLE: Final = frozenset({"thick_in_hole", "thick_counts", "thick_shift", "end_sticks", "knot_sticks"})
MAY_STICK: Final = " It may stick in its hole: pull it through by itself, without a knot."
PIN_IT: Final = "Pin it below the last pick."
SEAT: Final = " At the tape, from your seat, left and right change places."
CAREFUL_IN_BRIEF: Final = "Hooks are sharp; a loaded beam spins back; local rules first."
CAREFUL: Final = (
    "Hooks and pins are sharp, and a beam under a loaded warp spins back: fingers clear. What the loom’s maker and the "
    "rules of the place say comes first."
)


def lost_end_title(lost: LostEnd, plan: Plan) -> str:
    """Which end, of how many, and its yarn: ``End 17 of 31: white (Wh)``."""
    return f"End {lost.place.end_number} of {plan.ends}: {lost_yarn(lost, plan)}"


def lost_yarn(lost: LostEnd, plan: Plan) -> str:
    return f"{lost.place.yarn} ({plan.letters(lost.place.yarn)})"


def from_both_edges(lost: LostEnd) -> str:
    """Its counts from either edge, the nearer one first: ``15 from the right edge, 17 from the left``."""
    counts = {Side.LEFT: lost.from_left, Side.RIGHT: lost.from_right}
    if lost.from_left == lost.from_right:
        return f"{lost.from_left} from either edge"
    near, far = nearer_edge(lost), nearer_edge(lost).opposite
    return f"{counts[near]} from the {near} edge, {counts[far]} from the {far}"


def nearer_edge(lost: LostEnd) -> Side:
    return Side.RIGHT if lost.from_right < lost.from_left else Side.LEFT


def in_its_stripe(place: PlaceInStripe) -> str:
    """Which stripe it lies in and how far inside, from one edge."""
    edge, stripe, in_stripe, segment = place
    if segment.ends == 1:
        return f"Stripe {stripe} from the {edge} is this end alone"
    turn = ", yarns in turn" if segment.in_turn else ""
    return f"Stripe {stripe} from the {edge} ({plural(segment.ends, 'end')}{turn}): its end {in_stripe}"


def its_space(lost: LostEnd, plan: Plan) -> str:
    """Its space by name, of two heddles in both: ``L2, a slot``."""
    return place_named(plan, lost.place.space, lost.place.kind)


def counted_to_it(lost: LostEnd, plan: Plan, *, brief: bool = False) -> list[str]:
    """How to count to its space from the mark; of two heddles on either, ``brief`` in one line where that is the same
    way."""
    loom, back, space = plan.loom, plan.placement.back, lost.place.space
    if back is None:
        return [capitalised(f"{count_to_space(space, loom, 'the mark')}.")]
    if brief and (both := counted_on_both(space, space + back.offset, loom)):
        return [both]
    front, behind = (count_to_space(each, loom, "its mark") for each in (space, space + back.offset))
    return [f"Front: {front}.", f"Back: {behind}."]


def beside_it(lost: LostEnd, plan: Plan) -> list[str]:
    """What lies on its left and on its right: yarn and space, or why there is nothing."""
    sides = ((Side.LEFT, lost.left), (Side.RIGHT, lost.right))
    return [f"On its {side}: {_neighbour(side, end, lost, plan)}." for side, end in sides]


def beside_it_in_brief(lost: LostEnd) -> str:
    """The yarns alone, beside a picture that names the spaces: ``White on its left, blue on its right.``"""
    left, right = lost.left, lost.right
    if left and right:
        if left.yarn == right.yarn:
            return f"{capitalised(left.yarn)} on either side."
        return f"{capitalised(left.yarn)} on its left, {right.yarn} on its right."
    if not left and not right:
        return "It is the only end."
    side, beside = ("left", left) if left else ("right", right)
    return f"It is the edge end: {beside.yarn if beside else ''} on its {side} alone."


def _neighbour(side: Side, end: EndPlace | None, lost: LostEnd, plan: Plan) -> str:
    if end is not None:
        return f"{end.yarn} in {place_named(plan, end.space, end.kind)}"
    step = 1 if weavers_side("right", plan.loom) == side else -1
    space = lost.place.space + step
    if not 1 <= space <= plan.loom.spaces:
        return "nothing, it is the edge end and the board ends there"
    named = place_named(plan, space, plan.loom.kind_of(space)) if plan.placement.back is None else "the next space"
    return f"nothing, it is the edge end; {named}, stays empty"


def progress(lost: LostEnd) -> str:
    """How far the weaving is: ``with half of the tape woven``, ``with 6 turns left on the beam``."""
    if lost.turns_left is not None:
        return f"with {_so_many_turns(lost.turns_left)} left on the beam"
    shares = {Fraction(0): "nothing woven", Fraction(1, 2): "half of the tape woven", Fraction(1): "all woven"}
    share = lost.woven or Fraction(0)
    return f"with {shares.get(share) or f'{_as_share(share)} of the tape woven'}"


def _so_many_turns(turns: Fraction) -> str:
    return f"{_as_share(turns)} turn{'s' if turns > 1 or not turns else ''}"


def _as_share(value: Fraction) -> str:
    """A fraction that somebody typed: as one where it is short, else as a decimal."""
    return mixed(value) if value.denominator <= 16 else f"{float(value):.3g}"


def count_figure(lost: LostEnd) -> tuple[str, tuple[str, ...], str]:
    """The count from the nearer edge, large: its label, the figure, and the count from the other one."""
    if lost.from_left == lost.from_right:
        return "count", (str(lost.from_left),), "from either edge"
    near = nearer_edge(lost)
    counts = {Side.LEFT: lost.from_left, Side.RIGHT: lost.from_right}
    return f"from the {near}", (str(counts[near]),), f"{counts[near.opposite]} from the {near.opposite}"


def space_figure(lost: LostEnd, plan: Plan) -> tuple[str, tuple[str, ...], str]:
    """The name of its space, large, of two heddles of either; and what it is."""
    place, back, loom = lost.place, plan.placement.back, plan.loom
    if back is None:
        label = "its space" if place.space != loom.middle_space else "the mark"
        return label, (name_on_board(place.space, loom),), a_space(place.kind)
    front, behind = (name_on_board(space, loom) for space in (place.space, place.space + back.offset))
    kinds = f"{a_space(place.kind)}, {a_space(place.kind.opposite)}"
    return "its spaces", (f"{FRONT} {front}", f"{BACK} {behind}"), kinds


def length_figure(lost: LostEnd, units: Units) -> tuple[str, tuple[str, ...], str]:
    """How long a new one is, large, in the units that come first; below it in the others, and for when that is."""
    first, _, other = tape_length(lost.length_mm, units).partition(" (")
    return "new end", (first,), f"({other.removesuffix(')')}), {progress(lost)}"


def figures_alt_text(lost: LostEnd, plan: Plan, units: Units) -> str:
    """The three figures in whole words."""
    told = (
        f"{from_both_edges(lost)}. It lies in {its_space(lost, plan)}. "
        f"A new end is {tape_length(lost.length_mm, units)}, {progress(lost)}."
    )
    return with_units_in_words(told)


def new_end_steps(lost: LostEnd, plan: Plan, units: Units, *, brief: bool = False) -> list[tuple[str, str]]:
    """How it is put in, in the order of the hands: what is done, and how; ``brief``, on a slip."""
    length = f"Cut {tape_length(lost.length_mm, units)} of {lost.place.yarn}."
    in_brief = ", ".join(space_figure(lost, plan)[1]) if brief and plan.placement.back else ""
    thread = f"Thread it: {in_brief or its_space(lost, plan)}."
    acts = ("Lay the old end aside.", length, thread, PIN_IT, "Hang a small weight behind.", "Look through both sheds.")
    return list(zip(acts, (_how_in_brief if brief else _how)(lost, plan, units), strict=True))


def _how(lost: LostEnd, plan: Plan, units: Units) -> tuple[str, ...]:
    """Common practice, no source."""
    from_fell, stays = small_length(PIN_FROM_FELL_MM, units), tape_length(PIN_STAYS_MM, units)
    return (
        "Draw it out of its space, and let neither part hang in the shed.",
        f"So long it must be {progress(lost)}.",
        f"{_through(plan)}{MAY_STICK if _may_stick(lost, plan) else ''}",
        f"Stick a pin across the tape {from_fell} from the last pick, and wind the new end round it in a figure of "
        f"eight, as tight as its neighbours.{SEAT if plan.view.from_behind else ''}",
        "It hangs over the back of the loom; let it down as you weave on.",
        f"No two neighbours move together. After {stays} take out the pin and darn the tail in.",
    )


def _how_in_brief(lost: LostEnd, plan: Plan, units: Units) -> tuple[str, ...]:
    """The same on a slip, whose picture names the spaces: common practice, no source."""
    stays = tape_length(PIN_STAYS_MM, units)
    return (
        "Nothing of it hangs in the shed.",
        "",
        _through_in_brief(lost, plan),
        "Wind it in a figure of eight.",
        "",
        f"Pin out after {stays}.",
    )


def _through(plan: Plan) -> str:
    if plan.placement.back is None:
        return "Between its neighbours, through no other space."
    return f"Through both, {_first_heddle(plan)} heddle first."


def _through_in_brief(lost: LostEnd, plan: Plan) -> str:
    knot = _may_stick(lost, plan)
    if plan.placement.back is not None:
        return f"{capitalised(_first_heddle(plan))} first{', no knot' if knot else ''}."
    return "It may stick; no knot." if knot else "Through no other space."


def _first_heddle(plan: Plan) -> str:
    return BACK if plan.view.from_behind else FRONT


def _may_stick(lost: LostEnd, plan: Plan) -> bool:
    """Whether the plan warns that this yarn sticks in a hole, and it lies in one; of two heddles it always does."""
    in_hole = lost.place.kind is Space.HOLE or plan.placement.back is not None
    return in_hole and any(
        note.key in _STICKS_IN_HOLE and note.values.get("yarn") == lost.place.yarn for note in plan.notes
    )


def its_figure(lost: LostEnd, plan: Plan) -> str:
    """Whether it belongs to a figure that is picked up; nothing otherwise."""
    ends = plan.pickup.pattern_ends if plan.pickup else ()
    if lost.place.end_number not in ends:
        return ""
    return f"It is pattern end {ends.index(lost.place.end_number) + 1} of the {len(ends)} that are picked up."


def warp_alt_text(lost: LostEnd, plan: Plan) -> str:
    """The stripes of the whole warp with the end pointed at."""
    return f"All {plan.ends} ends side by side; an arrow points at this one, {from_both_edges(lost)}."


def lost_end_alt_text(lost: LostEnd, plan: Plan) -> str:
    """The board round the space of the end, with what lies beside it."""
    told = [f"The heddle round it, {seen_from(plan.loom, brief=True)}: the end goes in {its_space(lost, plan)}."]
    return with_units_in_words(" ".join([*told, *beside_it(lost, plan)]))
