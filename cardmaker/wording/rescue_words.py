"""When an end breaks: where every end lies, counted from its nearer edge, and how long a new one is."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING, Final

from cardmaker.model.loom import Heddles, Loom, Side
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.reckoning.threading.placement import spaces_in_words
from cardmaker.wording.formatters import Units, mixed, tape_length
from cardmaker.wording.heddle_words import name_on_board
from cardmaker.wording.phrases import NO_BREAK, a_space, capitalised, listed, plural, weavers_side
from cardmaker.wording.stripe_words import in_turn
from cardmaker.wording.view_words import seen_if_behind

if TYPE_CHECKING:
    from cardmaker.model.bench import EndPlace, Replacement
    from cardmaker.model.plan import Plan

RESCUE: Final = "When an end breaks or a space was skipped"
# Common practice, no source.
PUT_IN: Final = (
    "A blunt needle draws it through (hooks are sharp); pin it below the last pick, hang a small weight behind."
)
PUT_IN_IN_BRIEF: Final = "Hooks are sharp; pin it below the last pick, a weight behind."
# A knot at a post lies in the loop that is cut or turned, not in the tape: common practice, no source.
YARN_ENDS: Final = "Yarn breaks or ends as you wind? Undo to the last post, cut, join the next there with a knot."
_SHARES: Final = {Fraction(1, 4): "a quarter", Fraction(1, 2): "half", Fraction(3, 4): "three quarters"}
NEARER_EDGE: Final = "count each end from its nearer edge"


def replacement(replacements: Sequence[Replacement], units: Units, *, brief: bool = False) -> str:
    """The same, and what is done with it. The pin and the weight: common practice, no source."""
    return f"{new_end_lengths(replacements, units)} {PUT_IN_IN_BRIEF if brief else PUT_IN}"


def new_end_lengths(replacements: Sequence[Replacement], units: Units) -> str:
    """How long a new end must be, by how much is woven."""
    lengths = [f"{tape_length(each.length_mm, units)} {_woven(each.woven)}" for each in replacements]
    return f"A{NO_BREAK}new end is {listed(lengths)}."


def _woven(share: Fraction) -> str:
    return f"with {_SHARES.get(share) or mixed(share)}" if share else "with nothing woven"


def row_names(loom: Loom) -> tuple[str, str, str]:
    """Beside the rows of the drawing; of two heddles the front one is meant."""
    front = "front " if loom.heddles is Heddles.TWO else ""
    return "from its edge", f"{front}hole", f"{front}slot"


def space_name(place: EndPlace, loom: Loom) -> str:
    """The space under an end, short: ``L15``, or what is said on the marked one."""
    return name_on_board(place.space, loom)


def from_nearer_edge(plan: Plan) -> str:
    """How the table is read; of two heddles, whose front one it names, also where each end lies in the back one."""
    back = _in_back_heddle(plan)
    return f"nearer edge; {back}" if back else NEARER_EDGE


def _in_back_heddle(plan: Plan) -> str:
    """Where an end lies in the back one of two heddles, of which the front one is named; else nothing."""
    back = plan.placement.back
    if back is None:
        return ""
    further = weavers_side("left" if back.offset < 0 else "right", plan.loom)
    where = f"{plural(abs(back.offset), 'space')} further {further}" if back.offset else "the same number"
    return f"back heddle: {where}"


def ends_by_stripe(plan: Plan, places: Sequence[EndPlace]) -> list[tuple[str, list[str]]]:
    """For each edge the ends that are nearer to it, stripe by stripe from the edge inwards: their counts from it, their
    letters, and their spaces, as in ``1–3 Re L15–L13``."""
    stripes = hand_counted(plan.runs)
    told = []
    for edge in (Side.LEFT, Side.RIGHT):
        near = sorted((place for place in places if place.nearer is edge), key=lambda place: place.count)
        groups = groupby(near, key=lambda place: next(s for s in stripes if place.end_number <= s.last_end))
        if items := [_range(plan, list(inside)) for _, inside in groups]:
            told.append((f"From the {edge} edge:", items))
    return told


def _range(plan: Plan, inside: Sequence[EndPlace]) -> str:
    """Neighbouring ends of one stripe, not parted at the end of a line."""
    first, last = inside[0], inside[-1]
    letters = list(dict.fromkeys(plan.letters(place.yarn) for place in inside))
    yarns = in_turn(" ".join(letters)) if len(letters) > 1 else letters[0]
    spaces = [space_name(place, plan.loom) for place in (first, last)]
    if first is last:
        told = f"{first.count} {yarns} {spaces[0]}"
    else:
        told = f"{first.count}–{last.count} {yarns} {spaces[0]}–{spaces[1]}"
    return told.replace(" ", NO_BREAK)


def kinds_in_turn(plan: Plan, places: Sequence[EndPlace]) -> str:
    """What kind the spaces are, by that of end 1; and where an end lies in the back one of two heddles."""
    first = places[0]
    kinds = (
        f"{space_name(first, plan.loom)} is {a_space(first.kind)}, the next {a_space(first.kind.opposite)}, in turn."
    )
    back = _in_back_heddle(plan)
    return f"{kinds} {capitalised(back)}." if back and len(places) > 1 else kinds


def of_back_heddle(plan: Plan) -> str:
    """Of two heddles, beside a table of the spaces of the front one: where each end lies in the back one."""
    return from_nearer_edge(plan).removeprefix("nearer edge; ") if plan.placement.back else ""


END: Final = "end"
SPACE: Final = "space"


def space_and_kind(place: EndPlace, loom: Loom) -> str:
    """The space of an end in a table: ``L15, slot``; the marked one is called so."""
    name = "mark" if place.space == loom.middle_space else space_name(place, loom)
    return f"{name}, {place.kind}"


def from_edge(edge: Side) -> str:
    """The head of the counts from an edge, as it is called from where the heddle is seen."""
    return f"from {edge}"


def which_edge(places: Sequence[EndPlace]) -> str:
    """From which edge each end is counted: the number of an end is the count from the edge of the first one, that of a
    middle one from either."""
    first, last = places[0].nearer, places[-1].nearer
    near = (len(places) + 1) // 2
    if near == len(places):
        return f"The numbers count from the {first} edge."
    return f"Ends 1 to {near} count from the {first} edge, {near + 1} to {len(places)} from the {last} one."


def rescue_alt_text(places: Sequence[EndPlace], loom: Loom) -> str:
    """Every end counted from its nearer edge, the edge end first, with its space."""
    edges = []
    first = places[0].space  # the ends lie side by side
    in_words = spaces_in_words(range(first, first + len(places)), loom)
    for edge in (Side.LEFT, Side.RIGHT):
        near = sorted((place for place in places if place.nearer is edge), key=lambda place: place.count)
        if near:
            each = "; ".join(
                f"{place.count} {place.yarn}, {in_words[place.space - first]} {place.kind}" for place in near
            )
            edges.append(f"From the {edge} edge: {each}.")
    front = "Hole and slot are those of the front heddle." if loom.heddles is Heddles.TWO else ""
    return " ".join(filter(None, [seen_if_behind(loom), *edges, front]))
