"""Winding: trips, changes, the method, the walk step by step, and what to look at before lifting off."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from cardmaker.model.plan import Method, Plan, Post
from cardmaker.model.units import MM_PER_YARD
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.reckoning.winding.walk import Walk, walk_of
from cardmaker.wording import length_words, phrases
from cardmaker.wording.measures import Units, both, decimal
from cardmaker.wording.phrases import end_count, listed, plural
from cardmaker.wording.stripe_words import stripe_in_words

if TYPE_CHECKING:
    pass


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


def yarns_in_turn(names: str) -> str:
    return f"{names} in turn"


def balls_waiting(balls: Sequence[tuple[str, Post]]) -> str:
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
        f"Count at the cross: {phrases.end_count(ends)}; {totals}.",
        "Look along the cross: over, under, over, under, all the way across.",
        "Put two flat sticks through the cross and band both ends of them; if the warp will travel, tie the cross too.",
        "Cut only now, at home. Begin at the far end: turn the parking stick, and the cross comes to lie on top.",
    ]


def tick_boxes(any_is_far: bool) -> str:
    """What the boxes are for, and what sets those at the far post apart, if there are any."""
    where = "a box with a foot is at the far post" if any_is_far else "every total is reached at home"
    return f"Tick as you wind; {where}."


def trips_and_walking(plan: Plan, units: Units) -> str:
    """Trips times length: half a joke, wholly useful."""
    total = plan.ends * plan.lengths.wind_mm
    far = both(f"{decimal(total / 1000, 0)} m", f"{decimal(total / MM_PER_YARD, 0)} yd", units)
    return f"{length_words.wind(plan.lengths, units)}: {plan.ends} trips, {far} of walking."


_AT: Final = {Post.HOME: "at home", Post.FAR: "at the far post"}
_TO: Final = {Post.HOME: "home", Post.FAR: "the far post"}


# winding


def winding_alt_text(plan: Plan) -> str:
    """Every stretch of the walk by the method that the card prints: from which post to which, the total, what then."""
    found = walk_of(plan.runs, plan.winding.method)
    told = " ".join(_stretch(plan, found, stretch) for stretch in found.stretches)
    trips = plural(plan.winding.trips, "trip")
    return f"{_method_alt_text(plan)} {told} That is {trips}; you finish {_AT[found.finish]}."


def _method_alt_text(plan: Plan) -> str:
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
    return f"Wind {stripe_in_words(stretch)}, {start};{''.join(stops)} total {found.totals[last]}{then}."


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
        return f", {balls_waiting_in_words(found, stretch)}"
    at = _AT[found.stop_of(last)]
    if method == "bundle":
        return f" of this bundle, {at}"
    return f", {at}" if last == plan.ends else f", change yarn {at}"


def balls_waiting_in_words(found: Walk, stretch: Segment) -> str:
    """Where the balls of a stretch wait after it."""
    stops = {stroke.yarn: stroke.stop for stroke in found.strokes[stretch.first_end - 1 : stretch.last_end]}
    return listed([f"the {yarn} ball waits {_AT[stops[yarn]]}" for yarn in stretch.yarns])


WALK: Final = "Winding"


def colour_changes(plan: Plan) -> str:
    winding = plan.winding
    if not winding.changes:
        return "no changes"
    if winding.method != "order":
        return plural(winding.changes, "change")
    far = f", {winding.far_changes} at far" if winding.far_changes else ", all at home"
    if winding.changes == 1:
        far = " at far" if winding.far_changes else " at home"
    return f"{plural(winding.changes, 'change')}{far}"


HOME: Final = "home"
FAR: Final = "far"


def trips(plan: Plan) -> str:
    """Ends as trips: the commonest miscount is to take a round trip for an end."""
    winding = plan.winding
    if winding.method == "bundle":
        return f"{plural(winding.trips, 'trip')} in {plural(winding.bundles, 'bundle')}; every bundle starts at home."
    if winding.method == "carry":
        post = "at the far post" if walk_of(plan.runs, "carry").finish is Post.FAR else "at home"
        return f"{plural(winding.trips, 'trip')}, one for every end; the last one ends {post}."
    over = " and 1 single" if winding.trips % 2 else ""
    where = "you finish at the far post, and that is right" if winding.finish is Post.FAR else "you finish at home"
    return f"{end_count(winding.trips)} = {plural(winding.round_trips, 'round trip')}{over}; {where}."


def method(plan: Plan) -> str:
    """The recommended way of winding, with the number that decided it."""
    winding = plan.winding
    if winding.changes == 0:
        return "One colour: wind straight through, no joins."
    joins = plural(winding.joins, "join")
    if winding.method == "order":
        at_far = f"{winding.far_changes} of them at the far post" if winding.far_changes else "all of them at home"
        if winding.far_changes == winding.joins:
            at_far = "all of them at the far post"
        if winding.joins == 1:
            at_far = "at the far post" if winding.far_changes else "at home"
        return f"Wind in order, end 1 first: {joins}, {at_far}."
    if winding.method == "carry":
        return (
            f"Carry {winding.balls} balls, one of each colour, and tie nothing; wound in order it needs {joins}. "
            "Every ball starts at home and waits at the post where its last stroke ended."
        )
    return (
        f"Wind one colour at a time, {winding.bundles} bundles, and take the ends up in threading order: "
        f"wound in order it needs {joins}."
    )


TAILS: Final = "Join only at a post. Count at the cross."
