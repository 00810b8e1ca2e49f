"""Dressing: of each step one line of what to do, its numbers, why it is done so, and what else.

All of it is common practice without a source, or geometry, unless a figure has a source of its own where it is
reckoned. Where weavers do it in more than one good way, a sentence that begins with *Or* tells another one.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, NamedTuple

from cardmaker.model.dressing_acts import Act, Dressing
from cardmaker.model.loom import Heddles, Loom
from cardmaker.model.plan import Plan
from cardmaker.reckoning.on_loom.dressing_steps import dressing_figures
from cardmaker.wording import (
    beam_words,
    heddle_words,
    length_words,
    pickup_words,
    piece_words,
    shed_words,
    time_words,
    trouble_words,
)
from cardmaker.wording.formatters import (
    Number,
    Units,
    decimal,
    newtons,
    piece_length_alone,
    tape_length_alone,
    warp_length,
)
from cardmaker.wording.phrases import NO_BREAK, capitalised, end_count, plural

DRESSING: Final = "Dressing the loom"
KEEPERS: Final = "Keepers are two flat sticks in the cross, banded."
KEEPERS_LEFT_IN: Final = "Or leave the keepers in, tied up before the heddle."
NEIGHBOURS_DIFFER: Final = "Neighbours must differ: hole, slot."
TAIL_IN: Final = "The tail goes into the next shed."
MANY_ENDS: Final = 40  # on the fingers they tire the hand: common practice, no source


def way_round(loom: Loom) -> str:
    """Which way this loom is dressed, beside the heading: the numbers of the steps go that way."""
    return "first the beam, then the heddle" if loom.beam_first else "first the heddle, then the beam"


class StepWords(NamedTuple):
    """What is said of a step: what to do, its numbers with a word of caution, how to do it well, why, and what if it
    goes wrong or is done in another good way."""

    do: str
    numbers: str = ""
    how: str = ""
    why: str = ""
    otherwise: str = ""


class _Told(NamedTuple):
    """What a step is told of."""

    plan: Plan
    figures: Dressing
    units: Units
    is_wound: bool
    brief: bool

    @property
    def loom(self) -> Loom:
        return self.plan.loom

    @property
    def ends(self) -> str:
        return end_count(self.plan.ends)

    def length(self, length: Number) -> str:
        return tape_length_alone(length, self.units)


def words_of_act(act: Act, plan: Plan, units: Units, *, is_wound: bool = False, brief: bool = False) -> StepWords:
    """The words of a step; a weaver's own, from her loom's file, stand instead of ours, beside the numbers. ``brief``,
    the one step of two heddles tells where the warp begins in both."""
    told = _Told(plan, dressing_figures(plan), units, is_wound, brief)
    ours = _both_heddles(told) if brief and act is Act.TWO_HEDDLES else _STEPS[act](told)
    own = dict(plan.loom.own_words).get(act)
    return StepWords(own, ours.numbers) if own else ours


def _joined(*sentences: str) -> str:
    return " ".join(sentence for sentence in sentences if sentence)


def _in_full(number: int) -> str:
    """One of the twelve troubles and its cure, in the sentences that tell it everywhere."""
    row = trouble_words.TROUBLES[number]
    return f"{row.question} {row.cure}"


def _in_brief(number: int) -> str:
    return " ".join(trouble_words.TROUBLES[number].in_brief)


def _keepers(told: _Told) -> StepWords:
    pinch = "Ends slip out? Pinch the X and band it."
    if told.is_wound:
        return StepWords(
            "Find the keepers, and the bright thread beside end 1.",
            _joined(f"{told.ends}.", _bundles(told)),
            "",
            "The keepers hold the cross: every end in its turn.",
            pinch,
        )
    if told.loom.beam_first:
        do, why = "Keepers in, roll from home, cut home after beaming.", "The far loops then come first, for the beam."
    else:
        do, why = "Keepers in, roll from far, cut home last.", "You pull against the home loops; rolling adds no twist."
    wound = "" if told.brief else f"{told.ends}, {warp_length(told.plan.lengths.wound_mm, told.units)}."
    numbers = _joined(wound, "A bright thread beside end 1.", _bundles(told), _slip_loop(told))
    return StepWords(do, numbers, KEEPERS, why, pinch)


def _bundles(told: _Told) -> str:
    winding = told.plan.winding
    return f"Keepers in each of {winding.bundles} bundles." if winding.method == "bundle" else ""


def _slip_loop(told: _Told) -> str:
    """A thread that ends at the far peg has no loop for stick or rod. With balls that wait it need not be the last."""
    plan, loose = told.plan, told.figures.loose_at_far
    if not loose:
        return ""
    if loose == (plan.ends,):
        which = "The last end has no loop at far"
    elif len(loose) == 1 and plan.winding.method == "carry":
        which = f"End {loose[0]}, the last {plan.end_yarns[loose[0] - 1]}, has no loop at far"
    else:
        which = f"{len(loose)} threads end at far without a loop"
    return f"{which}: end {'it' if len(loose) == 1 else 'each'} in a slip loop (a pull undoes it)."


def _cross(told: _Told) -> StepWords:
    far = "beam" if told.loom.beam_first else "stick"
    first = f"End 1, {told.plan.end_yarns[0]}, lies at your fingertips and comes first."
    if told.plan.winding.method == "bundle":
        several = "Each bundle keeps its keepers: take every end from its own."
    elif told.plan.ends > MANY_ENDS:
        several = KEEPERS_LEFT_IN
    else:
        several = ""
    is_left_out = told.brief and several == KEEPERS_LEFT_IN
    return StepWords(
        f"First finger by the cut tips, little finger by the {far}.",
        _joined("" if told.brief else f"{told.ends}.", first, "" if is_left_out else several),
        "Fingers in from the side away from the bright thread, then the keepers out.",
        "The X keeps every end in its turn.",
        KEEPERS_LEFT_IN if is_left_out else _in_full(trouble_words.CROSS_LOST),
    )


def _thread(told: _Told) -> StepWords:
    plan = told.plan
    checks = heddle_words.closing_checks_in_brief(plan, joined=True)
    counts = " · ".join(check for check in checks if not told.brief or not check.startswith("empty"))
    differ = f"{NEIGHBOURS_DIFFER} " if plan.ends > 1 and told.loom.heddles is Heddles.ONE else ""
    return StepWords(
        heddle_words.count_out(told.loom, plan.placement),
        _joined(
            *heddle_words.thick_ends_first(plan, told.units),
            f"{capitalised(heddle_words.first_line(plan))}. When done: {counts}.",
        ),
        f"{differ}Hooks are sharp.",
        "A blunt needle draws an end in.",
        _in_brief(trouble_words.TWO_TOGETHER) if plan.ends > 1 else "",
    )


def _two_heddles(told: _Told) -> StepWords:
    return StepWords(
        heddle_words.through_both(told.loom),
        heddle_words.count_out_behind(told.plan),
        NEIGHBOURS_DIFFER if told.plan.ends > 1 else "",
        "The heddles move against each other.",
        _in_full(trouble_words.NEVER_MOVES),
    )


def _both_heddles(told: _Told) -> StepWords:
    """Where the warp begins is told of both in one."""
    plan = told.plan
    numbers = f"{heddle_words.end_1_counted(plan)} {heddle_words.first_place(plan)}."
    return _two_heddles(told)._replace(numbers=numbers)


def _tie_on(told: _Told) -> StepWords:
    if told.loom.beam_first:
        return StepWords(
            f"The rod through the far loops of all {told.ends}; the rod to the beam.",
            _slip_loop(told),
            "No knot in the warp.",
            "Loops on one rod are level.",
            "A loop left over? Put it on now.",
        )
    tips = told.length(told.figures.tips_mm)
    knots = "two knots" if told.figures.knots > 1 else "one knot"
    return StepWords(
        f"Level all {plural(told.plan.ends, 'tip')}, {knots}, the cord on the heddle’s side of it.",
        f"Tips (the cut ends): {tips} past the knot.",
        "A longer cord saves warp: the knot comes nearer the heddle.",
        "Level tips are equal lengths; the pull jams the cord against the knot.",
        "A tip left over? That end was missed: tie it in now.",
    )


def _wind_on(told: _Told) -> StepWords:
    beam, loom, figures = told.plan.beam, told.loom, told.figures
    turns = f"About {plural(int(decimal(beam.turns, 0)), 'turn')}." if beam else ""
    sticks = beam_words.sticks_in_brief if told.brief else beam_words.when_sticks_go_in
    packing = f"Sticks: {sticks(beam, loom)}" if beam and beam.sticks and loom.packing else ""
    if loom.beam_first:
        stop = "Stop a forearm from the keepers."
    elif figures.left_at_heddle_mm is not None:
        stop = f"Stop with {told.length(figures.left_at_heddle_mm)} left before the heddle."
    else:
        stop = "Stop while enough is left before the heddle to tie and to weave."
    return StepWords(
        f"Pull, turn, comb: always away from the {'beam' if loom.beam_first else 'heddle'}.",
        _joined(turns, packing, stop, _spins_back(loom, brief=told.brief)),
        "",
        "One hand pulls; the other turns, then combs. "
        "Equal pull, equal lengths; an edge off its packing runs on a smaller circle.",
        _in_full(trouble_words.SLACK_EDGE),
    )


def _spins_back(loom: Loom, *, brief: bool) -> str:
    """A loaded beam is a wound spring: what keeps it is never let go of."""
    held = {"stick": "keep the crank till the stick is in", "ratchet": "pawl (the catch) down"}
    keep = held[loom.beam.held_by] if loom.beam else "never let go of it"
    return f"It spins back: {keep}." if brief else f"A loaded beam spins back: {keep}, fingers clear."


def _front_tie(told: _Told) -> StepWords:
    spare = told.length(told.figures.spare_mm)
    numbers = f"{told.ends}, {spare} to spare."
    how = "Stroke them level; pluck left, middle, right: the same note."
    if told.loom.cloth_beam:
        return StepWords(
            "Halves over the bow of the cord, round and up; a square knot.",
            f"{numbers} Or one half over the bow and one under it.",
            how,
            "A half-knot still slides: pull, test, then the second half the other way.",
            "It creeps? Tie it again.",
        )
    cut = "Comb the tips level" if told.loom.beam_first else "Cut the far loops, comb level"
    return StepWords(
        f"{cut}, one knot: hold it.",
        numbers,
        how,
        "Your hand is the front of this loom.",
        "Or a cord round your waist, in a bow; never round the neck; untie it before you stand up.",
    )


def _tie_loom(told: _Told) -> StepWords:
    pull = told.plan.tension
    if pull is None:
        numbers = "More pull when you lean."
    else:
        force, mass = newtons(pull.working.newtons), decimal(pull.kilograms, 1)
        numbers = f"The warp pulls with about {force} ({mass} kg) at rest, more when you lean."
    return StepWords(
        "Before you tighten, tie the loom’s back with a bow to what cannot tip.",
        numbers,
        "",
        "It answers your pull; a door or a chair may give way.",
        "A beam on a stand: tie the stand.",
    )


def _shuttle(told: _Told) -> StepWords:
    fill, figures = told.plan.shuttle, told.figures
    is_netting = told.loom.shuttle_kind == "netting"
    way = (
        "One wrap: up one face, round the tongue (the point in its window), back on it, through the heel (the notch "
        "behind); then turn it over."
        if is_netting
        else "One wrap: up the front, down the back."
    )
    why = "It must slip through the shed, the gap between the two layers."
    slim = "" if is_netting else "A figure of eight along one edge keeps it slim."
    if fill is None or not fill.wraps:
        return StepWords("Fill the shuttle only as full as slips through the shed.", "", way, "", slim)
    tape = f"One fill weaves about {told.length(figures.tape_per_fill_mm)}." if figures.tape_per_fill_mm else ""
    all_wraps = f"{plural(fill.wraps, 'wrap')} in all." if fill.fills > 1 else ""
    return StepWords(time_words.fill_the_shuttle(fill), _joined(all_wraps, tape), way, why, slim)


def _first_pick(told: _Told) -> StepWords:
    plan, figures = told.plan, told.figures
    tail, header = told.length(figures.tail_mm), told.length(figures.header_mm)
    hints = _joined(*shed_words.next_shed_hints(told.loom, brief=told.brief))
    do = f"{capitalised(shed_words.begin_words(plan))}; change, beat, pull snug."
    beat = f"Beat {length_words.closeness_tries(plan, told.units)[0]}."
    left, header = f"Leave a tail of {tail}.", _before_it_counts(told, header)
    if plan.pickup:
        left = f"{pickup_words.SEE_PICKUP_CARD} {left}"
    if told.brief:
        return StepWords(do, _joined(left, beat, hints), f"{header} {TAIL_IN}")
    return StepWords(
        do,
        _joined(left, shed_words.next_sheds(plan), hints, beat),
        header,
        f"{TAIL_IN} Changing the shed locks the weft: pulling draws in both edges.",
        _in_brief(trouble_words.LOOPS),
    )


def _before_it_counts(told: _Told, header: str) -> str:
    """Where the tape, or its first piece, begins: a fringe is left bare after what does not count, not out of it."""
    first = next((piece for piece in told.plan.lengths.pieces if piece.come), None)
    if first is None or not first.fringe_mm:
        return f"The first {header} do not count."
    bare = piece_length_alone(first.fringe_mm, told.units)
    return f"The first {header} do not count; then {bare} bare; then piece 1."


def _move_on(told: _Told) -> StepWords:
    zone, loom = told.loom.weaving_zone_mm, told.loom
    near = f"Last pick {told.length(zone[0])} from the heddle" if zone else "Last pick near the heddle"
    then = f"let{NO_BREAK}warp{NO_BREAK}off, {'wind on in front' if loom.cloth_beam else 'pull it on'}"
    on = "Wind" if loom.cloth_beam else "Pull"
    good = f"{on} on to {told.length(zone[1])}, weave to {told.length(zone[0])}." if zone else ""
    beam = told.plan.beam
    moves = beam_words.moves_in_brief(beam, loom) if beam else ""
    left = beam_words.turns_left_in_brief(beam, told.plan.lengths, told.units) if beam else ""
    return StepWords(
        f"{near}: close the shed, {then}.",
        _joined(good, moves),
        capitalised(left),
        "Too near, the shuttle jams; too far, the shed is flat; a closed shed rubs least.",
    )


def _finish(told: _Told) -> StepWords:
    lengths = told.plan.lengths
    if pieces := piece_words.weave_each(lengths, told.units, None):
        return StepWords(
            "When the shed will not open any more, stop.",
            pieces[-1][0],
            "Needle the weft’s ends back, cut behind the heddle and between the pieces, wash, dry flat.",
        )
    woven, washed = told.length(lengths.woven_mm), told.length(lengths.tape_from_warp_mm)
    return StepWords(
        "When the shed will not open any more, stop.",
        f"About {woven} of tape off the loom, {washed} when washed.",
        "Needle the weft’s end back, cut behind the heddle, wash, dry flat, wind off into a ball or a bundle.",
    )


_STEPS: Final[dict[Act, Callable[[_Told], StepWords]]] = {
    Act.KEEPERS: _keepers,
    Act.CROSS: _cross,
    Act.THREAD: _thread,
    Act.TWO_HEDDLES: _two_heddles,
    Act.TIE_ON: _tie_on,
    Act.WIND_ON: _wind_on,
    Act.FRONT_TIE: _front_tie,
    Act.TIE_LOOM: _tie_loom,
    Act.SHUTTLE: _shuttle,
    Act.FIRST_PICK: _first_pick,
    Act.MOVE_ON: _move_on,
    Act.FINISH: _finish,
}
