"""Winding: what to wind, the walk step by step, where balls wait, and what to look at before lifting off."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from cardmaker.model.plan import Method, Plan, Post
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.reckoning.winding.walk import Walk, ticked_within, walk_of
from cardmaker.wording import walk_words
from cardmaker.wording.formatters import Units, long_way
from cardmaker.wording.length_words import wind
from cardmaker.wording.phrases import NO_BREAK, end_count, listed, plural
from cardmaker.wording.stripe_words import stripe_in_words

WALK: Final = "Winding"
HOME: Final = "home"
FAR: Final = "far"
STEPS: Final = "Step by step"
TO: Final = "to"
STEP_HEADS: Final = ("ends", "yarn", "from and to", "total", "then")

# Over one peg and under the next, the other way on the way back: common practice, no source.
CROSS_SIDES: Final = (
    "Every end passes the cross the other way than the end before it, whichever way you walk. "
    "Two neighbours alike at the cross are a missed cross or a missing end."
)
BEFORE_LIFTING: Final = "Before lifting off"
_AT: Final = {Post.HOME: "at home", Post.FAR: "at the far post"}
_TO: Final = {Post.HOME: "home", Post.FAR: "the far post"}


def step_then(walk: Walk, position: int, method: Method) -> str:
    """What to do when a stripe is wound, after so many strokes."""
    if method == "bundle":
        return "tie off; sticks in, band it"
    if walk.ends_ball(position) if method == "carry" else position == len(walk.strokes):
        return "tie off"
    return "ball waits" if method == "carry" else "join next"


def after_each(thens: Sequence[str]) -> str:
    """What :func:`step_then` tells of every step, in one sentence."""
    first, *others = dict.fromkeys(thens)
    return f"After each: {first}; at the end {others[0]}." if others else f"After each: {first}."


def lifting_checks(ends: int, colours: Sequence[tuple[int, str]], method: Method) -> list[str]:
    """What to look at while the warp is still on the pegs. Each bundle has a cross of its own, and sticks of its own:
    its ends are taken up by turns with those of the others (common practice, no source)."""
    totals = ", ".join(f"{number} {yarn}".replace(" ", NO_BREAK) for number, yarn in colours)
    if method == "bundle":
        count, each = f"Count every bundle at its cross: {totals}; {end_count(ends)} in all.", " of every bundle"
    else:
        count, each = f"Count at the cross: {end_count(ends)}; {totals}.", ""
    return [
        count,
        "Look along it: over, under, over, under.",
        f"Two flat sticks through the cross{each}, both ends banded; if it will travel, tie it too.",
        "Cut only now, at home. At the far end turn the parking stick, then the cross is on top.",
    ]


def tick_box_note(any_is_far: bool) -> str:
    """What the boxes are for, and what sets those at the far post apart, if there are any."""
    return "underlined: at the far post" if any_is_far else "all of them at home"


def underlined_in_brief(any_is_far: bool) -> str:
    """The same at the end of a line of a small card; nothing where no box is underlined."""
    return f"underlined: at {FAR}" if any_is_far else ""


def wind_in_brief(plan: Plan, units: Units, *, count_trips: bool = True) -> tuple[str, str]:
    """What to wind, and how: from where, how often across and with how many walks without a thread, and where it ends;
    on a small card, where the length stands in the card's own units alone.

    Of balls, each end is once across, and the card tells the ends: so it need not be told where words are too many.
    """
    winding = plan.winding
    made = walk_words.times_across(winding.trips)
    if winding.method == "bundle":
        how = f"in {plural(winding.bundles, 'bundle')}, each from {HOME}: {made}"
    elif winding.method == "carry":
        empty = walk_of(plan.runs, "carry").empty_walks
        walks = f", {plural(empty, 'empty walk').replace(' ', NO_BREAK, 1)}" if empty else ""
        how = f"{plural(winding.balls, 'ball')} from {HOME}{f': {made}' if count_trips else ''}{walks}"
    else:
        how = f"from {HOME}: {made}"
    ends = "" if winding.method == "bundle" else f" Finish{NO_BREAK}at{NO_BREAK}{walk_words.finish(plan)}."
    length, _, _ = wind(plan.lengths, units).partition(" (")
    return f"{length}{',' if winding.method == 'carry' else ''}", f"{how}.{ends}"


def walking(plan: Plan, units: Units) -> str:
    """The walking that the trips make, with that to a ball that waits elsewhere, in the card's own units alone."""
    empty = walk_of(plan.runs, plan.winding.method).empty_walks
    walk = long_way((plan.ends + empty) * plan.lengths.wound_mm, units)
    return f"walk {walk.partition(' (')[0]}"


def winding_alt_text(plan: Plan) -> str:
    """Every stretch of the walk by the method that the card prints: from which post to which, the total, what then."""
    are = " is " if plan.ends == 1 else " are "
    told = walk_words.trips(plan).replace(" = ", are)
    return f"{walk_words.method(plan)} {' '.join(stretches(plan))} {told}"


def stretches(plan: Plan) -> list[str]:
    """A sentence for every stretch of the walk."""
    walk = walk_of(plan.runs, plan.winding.method)
    return [_stretch(plan, walk, stretch) for stretch in walk.stretches]


def _stretch(plan: Plan, walk: Walk, stretch: Segment) -> str:
    """One stretch, with the totals to stop at on the way."""
    last, within = stretch.last_end, ticked_within(walk, plan.winding.method, stretch)
    stops = [f" stop at {walk.totals[at]}, {_AT[walk.stop_of(at)]};" for at in within]
    start, then = way(plan, walk, stretch), _then(plan, walk, stretch)
    return f"Wind {stripe_in_words(stretch)}, {start};{''.join(stops)} total {walk.totals[last]}{then}."


def way(plan: Plan, walk: Walk, stretch: Segment) -> str:
    """From which post to which; of balls in turn each from where it waits, with the walk to it."""
    if stretch.in_turn and plan.winding.method == "carry":
        starts = listed([f"the {yarn} ball from {_TO[post]}" for yarn, post in _starts(walk, stretch)])
        return f"{starts}, walking empty to each" if _walks_empty(walk, stretch) else starts
    posts = f"from {_TO[walk.strokes[stretch.first_end - 1].start]} to {_TO[walk.stop_of(stretch.last_end)]}"
    return f"{posts}, changing yarn after every end" if stretch.in_turn else posts


def _then(plan: Plan, walk: Walk, stretch: Segment) -> str:
    """What follows the stretch, and at which post."""
    method, last = plan.winding.method, stretch.last_end
    if method == "carry":
        return f", {balls_waiting(balls_of(walk, stretch))}"
    at = _AT[walk.stop_of(last)]
    if method == "bundle":
        return f" of this bundle, {at}"
    return f", {at}" if last == plan.ends else f", change yarn {at}"


def _starts(walk: Walk, stretch: Segment) -> list[tuple[str, Post]]:
    """The yarns of a stretch, each with the post from which its ball starts there."""
    starts = {stroke.yarn: stroke.start for stroke in reversed(walk.strokes[stretch.first_end - 1 : stretch.last_end])}
    return [(yarn, starts[yarn]) for yarn in stretch.yarns]


def _walks_empty(walk: Walk, stretch: Segment) -> bool:
    return any(walk.walks_empty_before(position) for position in range(stretch.first_end + 1, stretch.last_end + 1))


def way_of_balls(walk: Walk, stretch: Segment, letters: Callable[[str], str]) -> str:
    """From where balls in turn start, for a narrow column: ``both from home``, or ``Wh home, Bn far``."""
    starts: dict[Post, list[str]] = {}
    for yarn, post in _starts(walk, stretch):
        starts.setdefault(post, []).append(letters(yarn))
    if len(starts) > 1:
        return ", ".join(f"{' '.join(starts[post])} {post}" for post in Post)
    return f"{'both' if len(stretch.yarns) == 2 else 'all'} from {next(iter(starts))}"


def note_of_balls(walk: Walk, stretch: Segment, letters: Callable[[str], str]) -> str:
    """On the line below, where each ball is after it: ``after it Wh waits at home, Bn at far``."""
    waiting: dict[Post, list[str]] = {}
    tied_off: list[str] = []
    for yarn, post, is_last in balls_of(walk, stretch):
        (tied_off if is_last else waiting.setdefault(post, [])).append(letters(yarn))
    places: list[str] = []
    for post, balls in waiting.items():
        wait = "" if places else " waits" if len(balls) == 1 else " wait"
        places.append(f"{' '.join(balls)}{wait} at {post}")
    if tied_off:
        places.append(f"{' '.join(tied_off)} tied off")
    return f"after it {', '.join(places)}"


def empty_hands(plan: Plan) -> str:
    """How to go on where balls in turn wait at different posts; nothing where none of them does."""
    walk = walk_of(plan.runs, plan.winding.method)
    if plan.winding.method != "carry" or not any(_walks_empty(walk, each) for each in walk.stretches if each.in_turn):
        return ""
    return "In turn, walk empty to the next ball."


def balls_of(walk: Walk, stretch: Segment) -> list[tuple[str, Post, bool]]:
    """The yarns of a stretch, each with the post where its ball stays after it, and whether it has done its last."""
    last = {walk.strokes[position - 1].yarn: position for position in range(stretch.first_end, stretch.last_end + 1)}
    return [(yarn, walk.stop_of(last[yarn]), walk.ends_ball(last[yarn])) for yarn in stretch.yarns]


def balls_waiting(balls: Sequence[tuple[str, Post, bool]]) -> str:
    """Where each ball waits or is tied off."""
    return listed(
        [f"the {yarn} ball {'is tied off' if is_last else 'waits'} {_AT[post]}" for yarn, post, is_last in balls]
    )


def far_changes(plan: Plan) -> str:
    """The totals at which the yarn is changed at the far post, or its ball left there."""
    if plan.winding.method == "bundle":
        return ""
    walk = walk_of(plan.runs, plan.winding.method)
    last_ends = [stretch.last_end for stretch in walk.stretches[:-1]]
    far = [str(at) for at in last_ends if walk.stop_of(at) is Post.FAR]
    if not far:
        return f"No change {_AT[Post.FAR]}." if plan.winding.changes else ""
    if plan.winding.method == "carry":
        return f"The ball stops {_AT[Post.FAR]} after {listed(far)}."
    return f"{'Changes' if len(far) > 1 else 'Change'} {_AT[Post.FAR]} after {listed(far)}."
