"""The walk of winding: how often across, how balls are carried, when to tick, what to do at a change, where it ends."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.plan import Plan, Post
from cardmaker.reckoning.stripes.segments import Segment, hand_counted
from cardmaker.reckoning.winding.walk import boxed_totals, resting_totals, ticked_within, walk_of
from cardmaker.wording.phrases import NO_BREAK, capitalised, end_count, listed, plural
from cardmaker.wording.view_words import edge_of_end_1

# A join at a post lies in the loop that is cut or turned, not in the tape: common practice, no source.
_AT_A_CHANGE: Final = "At a change: cut, knot the next colour on at the post."
_AT_A_CHANGE_IN_BRIEF: Final = "New colour: cut, knot on at the post."  # the same
_CHANGE: Final = "Change: cut, knot on at the post."  # the same, in the fewest words that name the post
_AT_A_CHANGE_IN_A_WORD: Final = "At a change: cut, knot on."  # the same, under the post's own line
_NEW_COLOUR: Final = "New colour: cut, knot on."  # the same
_COUNT_AT_CROSS: Final = "Count at the cross."
_COUNT_AT_CROSSES: Final = "Count at every cross."
# Over one peg and under the next, the other way with the next end: common practice, no source. A board's cross pegs
# are A and B. The number of an end decides, not the way in which it is walked: with empty walks these differ.
_CROSS: Final = (
    "Cross: odd ends pass one side of A and the other of B, even ends the opposite.",
    "Cross: odd ends one side of A, the other of B; even ends opposite.",
    "Cross: odd ends one side, even the other.",
)
CROSS_MADE: Final = (
    "Cross: odd ends below A, above B; even ends above A, below B.",
    "Cross: odd ends below A (by home), even below B.",
    "Cross: odd below A (by home), even below B.",
    "Cross: odd below A (by home), even B.",
)  # the same between the pegs of a board, the fullest first
# What the dots of the walk are and, the fullest first, why it has dotted lines.
_IS: Final = f"{NO_BREAK}={NO_BREAK}"
_WAITING: Final = f"dot{_IS}ball waits"
_TO_THE_NEXT: Final = ("; walk empty to the next one", "")
_DONE: Final = "Tie off when done."
_EACH_TOTAL: Final = "tick each boxed total"
_AT: Final = {Post.HOME: "at home", Post.FAR: "at the far post"}


def times_across(ends: int) -> str:
    """How often the winder walks from post to post with a thread; once across is one end."""
    return "once across" if ends == 1 else f"{ends} times across"


def _there_and_back(plan: Plan) -> str:
    """There and back are two ends; of an odd number one is left over."""
    one_more = ", and 1 more" if plan.winding.trips % 2 else ""
    return f"{plan.winding.round_trips} there and back{one_more}"


def _across(plan: Plan) -> str:
    across = times_across(plan.ends)
    return f"{across}: {_there_and_back(plan)}" if plan.ends > 1 else across


def finish(plan: Plan) -> str:
    """Where the winder stands after the last end, in a word."""
    return "bundles" if plan.winding.method == "bundle" else walk_of(plan.runs, plan.winding.method).finish


def trips(plan: Plan) -> str:
    """Ends as walks from post to post: the commonest miscount is to take there and back for an end."""
    winding = plan.winding
    if winding.method == "bundle":
        return f"{times_across(winding.trips)} in {plural(winding.bundles, 'bundle')}; every bundle starts at home."
    made = f"{end_count(plan.ends)} = {_across(plan)}" if winding.method == "order" else _one_for_each(plan)
    return f"{made}. You finish {_AT[walk_of(plan.runs, winding.method).finish]}."


def _one_for_each(plan: Plan) -> str:
    return f"{times_across(plan.ends)}, one for every end"


def _empty_walks(plan: Plan, *, drawn: bool) -> str:
    """How often more she walks, without a thread, where balls wait: ``drawn`` as dotted lines."""
    empty = walk_of(plan.runs, "carry").empty_walks if plan.winding.method == "carry" else 0
    return f", {plural(empty, 'empty walk')}{' (dotted)' if drawn else ''}" if empty else ""


def trips_in_a_line(plan: Plan, *, drawn: bool = False) -> list[str]:
    """The same for one line of type, the fullest first; ``drawn`` under the walk."""
    if plan.winding.method == "bundle":
        return [trips(plan)]
    empty = _empty_walks(plan, drawn=drawn)
    across = f"{times_across(plan.ends)}{empty}"
    made = [across] if plan.ends == 1 or empty else [_one_for_each(plan), f"{across}, one end each", across]
    ends = f"Finish{NO_BREAK}at{NO_BREAK}{finish(plan)}."
    return [capitalised(f"{each}. {ends}") for each in made]


def method(plan: Plan, *, drawn: bool = False) -> str:
    """The recommended way of winding, with the number that decided it; ``drawn`` under the walk."""
    winding = plan.winding
    if winding.changes == 0:
        return "One colour: wind straight through, no joins."
    joins = plural(winding.joins, "join")
    if winding.method == "order":
        return f"Wind in order, end 1 first: {joins}, {_joined_at(winding.joins, winding.far_changes)}."
    if winding.method == "carry":
        balls = f"Use {winding.balls} balls, one of each colour; wound in order it needs {joins}."
        return " ".join([balls, *_balls(plan, drawn=drawn)])
    return (
        f"Wind one colour at a time, {winding.bundles} bundles, each with its own cross and its own pair of sticks, "
        "and take the ends up in threading order: "
        f"wound in order it needs {joins}."
    )


def ways_in_brief(
    plan: Plan, *, drawn: bool, begins_at_home: bool = False, is_tersest: bool = False
) -> list[list[str]]:
    """What to do at a change, how balls are carried or bundles made: sentences for a small card, in choices, the
    fullest first; ``drawn`` under the walk, and ``begins_at_home`` where that is said over it; ``is_tersest`` where the
    fewest words count. None of one colour."""
    if plan.winding.method == "bundle":
        return [["Each has its own cross and its own pair of sticks; take the ends up in threading order."]]
    if plan.winding.method == "order":
        tries = (_AT_A_CHANGE, _AT_A_CHANGE_IN_BRIEF, *((_CHANGE,) if is_tersest else ()))
        return [[told] for told in tries] if plan.winding.changes else [[]]
    begin, walk, _ = _balls(plan, drawn=drawn)
    if not drawn:
        return [[begin, f"{'Walk empty to the next ball; tie' if walk else 'Tie each'} off when done."]]
    start = capitalised(_WAITING) if begins_at_home else f"{begin.partition(';')[0]}; {_WAITING}"
    return [[f"{start}{walked}.", _DONE] for walked in (_TO_THE_NEXT if walk else ("",))]


def _balls(plan: Plan, *, drawn: bool) -> tuple[str, str, str]:
    """Where balls begin and wait, the walks to one that waits elsewhere, and when a ball is done."""
    number, empty = plan.winding.balls, walk_of(plan.runs, "carry").empty_walks
    dotted = " (dotted)" if drawn else ""
    often = "once" if empty == 1 else f"{empty} times"
    return (
        f"{'Both' if number == 2 else f'All {number}'} balls begin at home; each waits where you leave it.",
        f"Walk empty{dotted} to the next if it is at the other post, {often}." if empty else "",
        "Tie each off after its last end.",
    )


def _joined_at(joins: int, far: int) -> str:
    at = _AT[Post.FAR if far else Post.HOME]
    if joins == 1:
        return at
    return f"{far if 0 < far < joins else 'all'} of them {at}"


def at_a_change(plan: Plan) -> list[str]:
    """How one colour follows another on one thread, the fullest first; balls wait, and bundles have but one."""
    if not plan.winding.changes or plan.winding.method != "order":
        return []
    return [_AT_A_CHANGE, _AT_A_CHANGE_IN_BRIEF, _AT_A_CHANGE_IN_A_WORD]


def change_on_small_card(plan: Plan) -> str:
    """The same in the fewest words that name a colour; nothing where no colour is knotted on."""
    return _NEW_COLOUR if at_a_change(plan) else ""


def cross_and_count(plan: Plan) -> str:
    """How the cross is made, and that the ends are counted there: on a card that has no picture of it."""
    return f"{CROSS_MADE[0]} {count_at_cross(plan)}"


def count_at_cross(plan: Plan) -> str:
    """Where the ends are counted, while they are still on the pegs; each bundle has a cross of its own."""
    return _COUNT_AT_CROSSES if plan.winding.method == "bundle" else _COUNT_AT_CROSS


def walk_asides(plan: Plan, *, brief: bool = False) -> list[str]:
    """What is said beside the heading of the walk, the fullest first: where it starts, and when a box is ticked;
    ``brief``, where all that is said of balls is said of where they start."""
    starts = ["every bundle starts at home" if plan.winding.method == "bundle" else "start at home"]
    if brief and plan.winding.method == "carry":
        balls = "both balls" if plan.winding.balls == 2 else f"all {plan.winding.balls} balls"
        starts = [f"{balls} start at home", f"{balls} from home", "balls from home"]
    starts.append(starts[-1].removeprefix("start ").replace("at home", "from home"))
    ticks = when_to_tick(plan)
    shortest = ticks.replace(", and at ", " and at ")
    briefer = [f"{starts[-1]}; {shortest}", f"{starts[-1].removeprefix('balls ')}; {shortest}"]
    return [*(f"{start}; {ticks}" for start in starts), *briefer, starts[0], ticks] if ticks else [starts[0]]


def begins_at_home(aside: str) -> bool:
    """Whether an aside tells where balls begin."""
    return "balls" in aside


def when_to_tick(plan: Plan) -> str:
    """After which ends a box is ticked; nothing where it is only after the last."""
    walk, method = walk_of(plan.runs, plan.winding.method), plan.winding.method
    if len(boxed_totals(walk, method)) == 1:
        return ""
    if method != "bundle":
        return _EACH_TOTAL
    has_tens = any(ticked_within(walk, method, stretch) for stretch in walk.stretches)
    return f"tick after every bundle{', and at the tens in it' if has_tens else ''}"


def ticks_called_out(plan: Plan) -> str:
    """The totals to call out to who winds this warp, the same on every card; of bundles each has its own."""
    walk, method = walk_of(plan.runs, plan.winding.method), plan.winding.method
    ticked = [str(total) for total in boxed_totals(walk, method).values()]
    if method == "bundle" or not ticked[1:]:
        return ""
    rests = [str(total) for total in resting_totals(walk, method).values()]
    on_the_way = f"; {listed(rests)} on the way without a change" if rests else ""
    return f"Boxes to tick after {listed(ticked)}{on_the_way}."


def cross_in_brief() -> list[str]:
    """How the cross is made, on a card that has no pegs and no picture of it: the fullest first."""
    return [each.replace(" ", NO_BREAK, 1) for each in _CROSS]


def end_1_wound(plan: Plan) -> str:
    """Which end is end 1: the cross keeps the order of winding, so that its edge is that of the first end."""
    edge = edge_of_end_1(plan.view)
    return f"End 1 is the first that you wind; it will lie at {edge}."


def turns_told(plan: Plan) -> str:
    """Of stripes in turn, with which yarn each begins and ends; nothing where there are none."""
    letters = [plan.letters(yarn) for yarn in plan.end_yarns]
    stripes = [stripe for stripe in hand_counted(plan.runs) if stripe.in_turn]
    told = dict.fromkeys(f"{stripe.ends} {turn_ends(letters, stripe)}" for stripe in stripes)
    return f"In turn: {'; '.join(told)}." if told else ""


def turn_ends(letters: Sequence[str], stripe: Segment) -> str:
    """``begins and ends Wh``, or ``begins Wh, ends Bu``, of the letters of all ends."""
    first, last = letters[stripe.first_end - 1], letters[stripe.last_end - 1]
    return f"begins and ends {first}" if first == last else f"begins {first}, ends {last}"


def not_drawn(ends: int, *, tick: bool) -> str:
    """What the dots in the walk of a wide warp stand for, and of boxes below that they are ticked on the way."""
    told = f"The dots are {end_count(ends)} not drawn"
    return f"{told}; tick on the way:" if tick else f"{told}."
