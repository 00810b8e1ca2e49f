"""The drawings of a card in words, whole: from these alone somebody who cannot see them winds, threads and weaves.

They ask the plan what the drawings ask it. Yarns go by their names and spaces by their side, because letters and signs
are mumbled when a page is read aloud.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Final

from cardmaker.composing import wording
from cardmaker.composing.measures import Units
from cardmaker.composing.spelt_out import small_told
from cardmaker.composing.wording import ends, listed, plural, side
from cardmaker.nouns.loom import Heddles, Loom, Mark
from cardmaker.nouns.plan import Plan, Post
from cardmaker.reckoning.placement import said_spaces
from cardmaker.reckoning.segments import Segment, segments
from cardmaker.reckoning.stripes import runs
from cardmaker.reckoning.walk import Walk, walk

_AT: Final = {Post.HOME: "at home", Post.FAR: "at the far post"}
_TO: Final = {Post.HOME: "home", Post.FAR: "the far post"}


# the order


def order(plan: Plan, stripes: Sequence[Segment]) -> str:
    """Every stripe in turn with its ends, its yarn and the running total; and which ends lie in holes."""
    told = "; ".join(f"{_stripe(stripe)}, total {stripe.last_end}" for stripe in stripes)
    start = f"{ends(plan.ends)} from the {side('left', plan.loom)} edge: {told}."
    return f"{start} {_in_holes(plan)} {_other_edge(plan, stripes)}"


def _stripe(stripe: Segment) -> str:
    if stripe.in_turn:
        return f"{stripe.ends} of {listed(stripe.yarns)} in turn"
    return f"{stripe.ends} {stripe.yarns[0]}"


def _in_holes(plan: Plan) -> str:
    first = plan.placement.first_kind
    where = " of the front heddle" if plan.placement.back else ""
    if plan.ends == 1:
        return f"It lies in a {first}{where}."
    return f"End 1 lies in a {first}{where}, end 2 in a {first.other}, and so on in turn."


def _other_edge(plan: Plan, stripes: Sequence[Segment]) -> str:
    if plan.same_both_ways:
        return "It is the same from both edges."
    return f"From the other edge: {_stripes(plan.end_yarns[::-1])}."


def _stripes(yarns: Sequence[str]) -> str:
    """The stripes that such ends make, without totals."""
    return "; ".join(_stripe(stripe) for stripe in segments(runs(yarns)))


# winding


def winding(plan: Plan) -> str:
    """Every stretch of the walk by the method that the card prints: from which post to which, the total, what then."""
    found = walk(plan.runs, plan.winding.method)
    told = " ".join(_stretch(plan, found, stretch) for stretch in found.stretches)
    trips = plural(plan.winding.trips, "trip")
    return f"{_method(plan)} {told} That is {trips}; you finish {_AT[found.finish]}."


def _method(plan: Plan) -> str:
    method = plan.winding.method
    if not plan.winding.changes:
        return "Wind straight through from home, one colour, no joins."
    if method == "carry":
        return f"Carry {plan.winding.balls} balls, one of each colour; each of them starts at home."
    if method == "bundle":
        return f"Wind one colour at a time, {plan.winding.bundles} bundles; each of them starts at home."
    return "Wind in order from home, end 1 first, each yarn joined to the one before."


def _stretch(plan: Plan, found: Walk, stretch: Segment) -> str:
    """One stretch, with the totals to stop at on the way."""
    first, last = stretch.first_end, stretch.last_end
    stops = [f" stop at {total}, {_AT[found.stop_of(at)]};" for at, total in found.totals.items() if first <= at < last]
    start, then = way(plan, found, stretch), _then(plan, found, stretch)
    return f"Wind {_stripe(stretch)}, {start};{''.join(stops)} total {found.totals[last]}{then}."


def way(plan: Plan, found: Walk, stretch: Segment) -> str:
    """From which post to which; balls in turn go to and fro, each from where it waits."""
    if stretch.in_turn and plan.winding.method == "carry":
        strokes = found.strokes[stretch.first_end - 1 : stretch.last_end]
        starts = {stroke.yarn: stroke.start for stroke in reversed(strokes)}
        return listed([f"the {yarn} ball from {_TO[starts[yarn]]}" for yarn in stretch.yarns])
    told = f"from {_TO[found.strokes[stretch.first_end - 1].start]} to {_TO[found.stop_of(stretch.last_end)]}"
    return f"{told}, changing yarn after every end" if stretch.in_turn else told


def _then(plan: Plan, found: Walk, stretch: Segment) -> str:
    """What follows the stretch, and at which post."""
    method, last = plan.winding.method, stretch.last_end
    if method == "carry":
        return f", {waiting(found, stretch)}"
    at = _AT[found.stop_of(last)]
    if method == "bundle":
        return f" of this bundle, {at}"
    return f", {at}" if last == plan.ends else f", change yarn {at}"


def waiting(found: Walk, stretch: Segment) -> str:
    """Where the balls of a stretch wait after it."""
    stops = {stroke.yarn: stroke.stop for stroke in found.strokes[stretch.first_end - 1 : stretch.last_end]}
    return listed([f"the {yarn} ball waits {_AT[stops[yarn]]}" for yarn in stretch.yarns])


# the heddle


def heddle(plan: Plan, *, behind: bool = False) -> str:
    """Where counting starts, the first and the last space, what stays empty, the space of every end, the middle."""
    placement, loom = plan.placement, plan.loom
    threaded = _threaded(plan)
    empty = f"{placement.empty_left} empty {side('left', loom)}, {placement.empty_right} empty {side('right', loom)}"
    seen = "seen from behind the heddle" if behind else wording.SEAT
    holds = f"{plural(placement.holes, 'hole')} and {plural(placement.slots, 'slot')}"
    return " ".join(
        [
            f"{loom.title}, {seen}: {_openings(loom)}. {_mark(loom)}",
            f"End 1 goes into {threaded[0]}; end {plan.ends} into {threaded[-1]}; {empty}.",
            *[_stripe_threaded(plan, stripe, threaded) for stripe in segments(plan.runs)],
            f"{_middle(plan, threaded)} The ends fill {holds}{' of the front heddle' if placement.back else ''}.",
        ]
    )


def _openings(loom: Loom) -> str:
    spaces = f"{plural(loom.slots, 'slot')} and {plural(loom.holes, 'hole')}"
    return f"two heddles, each of {spaces}" if loom.heddles is Heddles.TWO else spaces


def _mark(loom: Loom) -> str:
    """What the names of the spaces are counted from."""
    if loom.middle_space is None:
        return "Spaces are counted to the left and right of the mark, which stands between two of them."
    called = 1 if loom.mark is Mark.ONE else 0
    kind = wording.a_space(loom.kind_of(loom.middle_space))
    return (
        f"Spaces are counted to the left and right of the marked one in the middle, {kind}, which counts as {called}."
    )


def _threaded(plan: Plan) -> list[str]:
    """The space of every end, ``left 15 slot``; in two heddles both."""
    placement, loom, back = plan.placement, plan.loom, plan.placement.back
    spaces = range(placement.first_space, placement.last_space + 1)
    front = said_spaces(spaces, loom)
    if back is None:
        return [f"{space} {kind}" for space, kind in zip(front, placement.kinds, strict=True)]
    behind = said_spaces(range(back.first_space, back.last_space + 1), loom)
    return [
        f"front {one.removeprefix('the ')} {kind} with back {other.removeprefix('the ')} {kind.other}"
        for one, other, kind in zip(front, behind, placement.kinds, strict=True)
    ]


def _stripe_threaded(plan: Plan, stripe: Segment, threaded: Sequence[str]) -> str:
    """The spaces of a stripe, end by end; where yarns are in turn each end is named."""
    first, last, yarns = stripe.first_end, stripe.last_end, stripe.yarns
    each = threaded[first - 1 : last]
    if len(yarns) > 1:
        named = [f"{yarn} {space}" for yarn, space in zip(plan.end_yarns[first - 1 : last], each, strict=True)]
        return f"Ends {first} to {last}, {listed(yarns)} in turn: {', '.join(named)}."
    which = f"End {first}" if first == last else f"Ends {first} {'and' if last == first + 1 else 'to'} {last}"
    return f"{which}, {yarns[0]}: {', '.join(each)}."


def _middle(plan: Plan, threaded: Sequence[str]) -> str:
    """Where the middle of the warp lies."""
    number = plan.placement.middle_end
    if number is None:
        left = plan.ends // 2
        return f"The middle is between ends {left} and {left + 1}."
    return f"The middle end is {number}, {plan.end_yarns[number - 1]}, in {threaded[number - 1]}."


# weaving


def shuttle(plan: Plan) -> str:
    """The weft, and which shed is next by where it hangs."""
    loom = plan.loom
    rules = (
        f"When it hangs {side(drawn, loom)}, {_next(loom, down)}."
        for drawn, down in ((loom.shuttle_down.other, True), (loom.shuttle_up.other, False))
    )
    return f"The weft is {plan.weft.yarn}. {' '.join(rules)}"


def _next(loom: Loom, down: bool) -> str:
    word = wording.shed_word(loom, down).lower()
    return f"the {word} is next" if loom.heddles is Heddles.TWO else f"the next shed is {word}"


def face(plan: Plan, units: Units) -> str:
    """What the cloth shows, and how wide it is."""
    return f"{sheds(plan)} {_wide(plan, units)}"


def sheds(plan: Plan) -> str:
    """What is on top in each shed, edge to edge."""
    down, up = (
        f"{wording.shed_name(plan.loom, down)}: {raised(plan, shed)}."
        for down, shed in ((True, plan.sheds.down), (False, plan.sheds.up))
    )
    return f"The woven face, picks in turn, seen from the left. {down} {up}"


def raised(plan: Plan, end_numbers: Iterable[int]) -> str:
    """Such ends from the left, neighbours of one yarn together."""
    return _stripes([plan.end_yarns[number - 1] for number in end_numbers]) or "nothing"


def _wide(plan: Plan, units: Units) -> str:
    return f"The tape is about {_width_told(plan.width.likely_mm, units)} wide."


@lru_cache(maxsize=8)  # face and ribbon both tell it
def _width_told(width_mm: Fraction, units: Units) -> str:
    return small_told(width_mm, units)


def ribbon(plan: Plan, units: Units, beside: Sequence[str], *, has_window: bool) -> str:
    """The tape at life size, what stands beside it, and the frame below it."""
    told = f"The tape at life size, from its left edge: {_stripes(plan.end_yarns)}. {_wide(plan, units)}"
    scale = f" Beside it {listed(beside)}." if beside else ""
    return f"{told}{scale}{' Below it an empty frame for your sample.' if has_window else ''}"


MM_BAR: Final = "a bar of 100 millimetres"
INCH_BAR: Final = "a bar of 4 inches"


def swatches(yarns: Sequence[str]) -> str:
    """The legend's pictures."""
    return f"A swatch of each yarn as the pictures show it, and a ring to knot a snip through: {listed(yarns)}."


RESULTS: Final = (
    f"Blank lines to write on after weaving, named like a measured record in the file: {listed(wording.RESULT_BLANKS)}."
)
NAMED: Final = "Blank lines for a name and a date."
