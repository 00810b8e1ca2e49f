"""Winding: what to wind, the walk step by step, where balls wait, and what to look at before lifting off."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from cardmaker.model.plan import Method, Plan, Post
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.reckoning.winding.walk import Walk, ticked_within, walk_of
from cardmaker.wording import walk_words
from cardmaker.wording.formatters import Units
from cardmaker.wording.length_words import wind
from cardmaker.wording.phrases import NO_BREAK, capitalised, end_count, listed, plural
from cardmaker.wording.stripe_words import stripe_in_words

WALK: Final = "Winding"
HOME: Final = "home"
FAR: Final = "far"
STEPS: Final = "Step by step"
IN_ORDER: Final = "in the order of the warp, end 1 first"
DOWN_THEN_ON: Final = "down each column, then on at the top of the next"
TO: Final = "to"
STEP_HEADS: Final = ("ends", "yarn", "from and to", "total", "then")

# Over one peg and under the next, the other way on the way back: common practice, no source.
CROSS_SIDES: Final = (
    "Every end passes the cross the other way than the end before it, whichever way you walk. "
    "Two neighbours alike at the cross are a missed cross or a missing end."
)
GO_ON: Final = "go on"  # after a total on the way through a stripe
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


def order_of_steps(method: Method, columns: int) -> str:
    """In which order the steps are done: that of the warp, or a bundle of each colour; and how columns are read."""
    order = "each colour by itself" if method == "bundle" else IN_ORDER
    return f"{order}; {DOWN_THEN_ON}" if columns > 1 else order


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
        "A parking stick through the loops at far: roll the warp on it from there. Cut at home last.",
    ]


def tick_box_note(any_is_far: bool) -> str:
    """What the boxes are for, and what sets those at the far post apart, if there are any."""
    return "underlined: at the far post" if any_is_far else "all of them at home"


TICK: Final = "Tick each total."
TICK_IN_BRIEF: Final = "Tick each."


def underlined_in_brief(any_is_far: bool) -> str:
    """The same behind the boxes of a small card; nothing where no box is underlined."""
    return f"underlined = {FAR}" if any_is_far else ""


def underlined_sentence() -> str:
    """The same as a sentence after others."""
    return f"{capitalised(underlined_in_brief(any_is_far=True))}.".replace(" ", NO_BREAK)


def tick_and_underlined() -> str:
    """What the boxes are for and what a bar under one means, on one line over them."""
    return f"{TICK.removesuffix('.')}; {underlined_in_brief(any_is_far=True)}."


def winds_in_brief(plan: Plan, units: Units) -> list[tuple[str, str]]:
    """What to wind, and how: from where, how often across, where walks without a thread lead to, and where it ends; on
    a small card, where the length stands in the card's own units alone. The fullest first, of three; the last leaves
    where a warp wound in order ends to :func:`finish_sentence`.

    Of balls, each end is once across, and the card tells the ends: so that need not be told where words are too many.
    """
    winding = plan.winding
    across = walk_words.times_across(winding.trips).replace(" ", NO_BREAK)
    ends = finish_sentence(plan)
    if winding.method == "bundle":
        choices = [f" in {plural(winding.bundles, 'bundle')}, each from {HOME}: {across}."] * 3
    elif winding.method == "carry":
        balls, empty = f"{plural(winding.balls, 'ball')} from {HOME}", walk_of(plan.runs, "carry").empty_walks
        walks = f", {plural(empty, 'empty walk').replace(' ', NO_BREAK, 1)}" if empty else ""
        to_ball = f" to{NO_BREAK}the next ball" if empty else ""
        told = (f"{balls}: {across}{walks}{to_ball}", f"{balls}: {across}{walks}", f"{balls}{walks}")
        choices = [f", {each}. {ends}" for each in told]
    else:
        in_full = f" from {HOME}, {across}. {ends}"
        choices = [in_full, in_full, f" from {HOME}, {across}."]
    length, _, _ = wind(plan.lengths, units).partition(" (")
    return [(f"{length}{how[:1].strip()}", how[1:].strip()) for how in choices]


def finish_sentence(plan: Plan) -> str:
    """Where winding in order, or with balls, ends."""
    return f"Finish at {walk_words.finish(plan)}.".replace(" ", NO_BREAK)


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
    stops = [f" stop at {total}, {_AT[walk.stop_of(at)]};" for at, total in within.items()]
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


def of_stripe(ends: int) -> str:
    """After the ends of its first part, all ends of a stripe: ``of 12``."""
    return f"of {ends}"


def way_of_balls(walk: Walk, stretch: Segment, letters: Callable[[str], str], *, by_name: bool = False) -> str:
    """From where balls in turn start, for a narrow column: ``both from home``, or in order ``Wh far, Bu home``; always
    ``by_name`` where others wait meanwhile."""
    starts = _starts(walk, stretch)
    if by_name or len({post for _, post in starts}) > 1:
        return ", ".join(f"{letters(yarn)} {post}" for yarn, post in starts)
    return f"{'both' if len(stretch.yarns) == 2 else 'all'} from {starts[0][1]}"


def way_of_balls_below(way: str) -> str:
    """The same way on a line of its own, where no head says that it is told from where: ``from: Wh far, Bu home``."""
    return way if " from " in way else f"from: {way}"


def then_of_balls(walk: Walk, stretch: Segment, letters: Callable[[str], str]) -> str:
    """What to do when a stretch in turn is wound, for a narrow column: ``tie off Wh``, or that all balls wait."""
    tied_off = [letters(yarn) for yarn, _, is_last in balls_of(walk, stretch) if is_last]
    return f"tie off {' '.join(tied_off)}" if tied_off else "balls wait"


def note_of_balls(walk: Walk, stretch: Segment, part: Segment, letters: Callable[[str], str]) -> str:
    """On the line below the last ``part`` of a stretch, with which yarn it begins and ends, and where the balls that
    wait are after it: ``begins and ends Wh; Bu waits at far``. Of a part that is not all of it, how it ends; of two
    ends their names tell it."""
    begins = walk_words.turn_ends([letters(stroke.yarn) for stroke in walk.strokes], stretch)
    if part.ends < stretch.ends:
        begins = "" if part.ends == len(part.yarns) else f"ends {letters(walk.strokes[part.last_end - 1].yarn)}"
    waiting = [(letters(yarn), post) for yarn, post, is_last in balls_of(walk, stretch) if not is_last]
    if not waiting:
        return begins
    posts = dict.fromkeys(post for _, post in waiting)
    places = [f"{' '.join(yarn for yarn, at in waiting if at is post)} at {post}" for post in posts]
    wait = "waits" if len(waiting) == 1 else "wait"
    told = places[0].replace(" at ", f" {wait} at ", 1) if len(places) == 1 else f"waiting: {', '.join(places)}"
    return f"{begins}; {told}" if begins else told


def empty_hands(plan: Plan) -> str:
    """How to go on where balls in turn wait at different posts; nothing where none of them does."""
    walk = walk_of(plan.runs, plan.winding.method)
    if plan.winding.method != "carry" or not any(_walks_empty(walk, each) for each in walk.stretches if each.in_turn):
        return ""
    return "In turn, walk empty to the next ball."


def balls_begin(plan: Plan) -> str:
    """Where balls begin, and how to go on where one waits at the other post; nothing where none are carried."""
    if plan.winding.method != "carry":
        return ""
    number, walk = plan.winding.balls, walk_of(plan.runs, "carry")
    begin = f"{'Both' if number == 2 else f'All {number}'} balls begin at home"
    return f"{begin}; walk empty to the next." if walk.empty_walks else f"{begin}."


def number_decides(plan: Plan, cross: Sequence[str]) -> str:
    """Where balls are carried and two ends in turn are wound the same way: that it is not the way that decides on which
    side an end passes the cross, with the first such pair that can be likened to ends before it; else nothing."""
    if (pair := _wound_alike(plan)) is None:
        return ""
    first, start, likened = pair
    sides = f"the side of {listed(cross[:2])}" if cross else "the side of the cross"
    return (
        f"The end’s number decides {sides}, not the way you walk: {first} and {first + 1} both go {start} to "
        f"{start.opposite}, {likened or 'each on its own side'}."
    )


def number_decides_in_brief(plan: Plan) -> list[str]:
    """The same beside a picture of the cross, the fullest first: what is to be done. None where no two ends are
    mistaken."""
    if _wound_alike(plan) is None:
        return []
    return [
        "Odd ends pass A and B as end 1 does, even ends as end 2, whichever way you walk.",
        "Odd ends cross like end 1, even like end 2, whichever way you walk.",
        "Odd ends cross like 1, even like 2, whichever way you walk.",
    ]


def number_decides_on_small_card(plan: Plan) -> str:
    """The same in the fewest words; nothing where no two ends are mistaken."""
    return "Odd ends cross like 1, even like 2." if _wound_alike(plan) else ""


def _wound_alike(plan: Plan) -> tuple[int, Post, str] | None:
    """Of carried balls the first two ends in turn that are wound the same way and can be likened to ends before them:
    the number of the first, from which post they go, and to which ends they are likened."""
    strokes = walk_of(plan.runs, plan.winding.method).strokes
    pairs = [at for at in range(1, len(strokes)) if strokes[at - 1].start is strokes[at].start]
    if plan.winding.method != "carry" or not pairs:
        return None
    first = next((at for at in pairs if at > 2), pairs[0])
    like = ("1", "2") if first % 2 else ("2", "1")
    likened = f"{first} like {like[0]}, {first + 1} like {like[1]}" if first > 2 else ""
    return first, strokes[first].start, likened


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
