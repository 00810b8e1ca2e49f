"""The slips of a handout in stages: what a student asks at each of them, and which slip comes next.

All of it is common practice, no source, but for what skipping a hole and a slot does to the places after it: that is
parity.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from cardmaker.model.dressing_acts import Act
from cardmaker.model.loom import Heddles
from cardmaker.model.plan import Plan
from cardmaker.model.units import MM_PER_INCH, MM_PER_YARD
from cardmaker.reckoning.stripes.segments import Segment, hand_counted
from cardmaker.wording import dressing_words, heddle_words, shed_words, trouble_words
from cardmaker.wording.formatters import Units, tape_length_alone

Line = tuple[str, str]  # what is asked, and the answer

STUCK: Final = "When you are stuck"
NEXT_AFTER_WINDING: Final = "On its stick, the cross banded? Next slip: 2, thread and dress."
NEXT_AFTER_DRESSING: Final = "Level in front, the loom tied? Next slip: 3, weave."
NO_NEXT: Final = "Washed, dry and wound off? That was the last slip."

LEAST_IN_TURN: Final = 6  # ends: for fewer nobody takes two balls: common practice, no source
OVERLAP_MM: Final[dict[Units, Fraction]] = {"us": MM_PER_INCH, "metric": Fraction(30)}
MARK_EVERY_MM: Final[dict[Units, Fraction]] = {"us": MM_PER_YARD / 2, "metric": Fraction(500)}
FRINGE_MM: Final = 2 * MM_PER_INCH

SPRINGY: Final = "linen"


def wind_lines(plan: Plan) -> list[Line]:
    """What is asked at the posts, the commonest first."""
    last = f" on end 1 and on end {plan.ends}" if plan.ends > 1 else ""
    lines = [
        ("A knot, or the yarn ends?", "Undo to the last post, cut, knot on there."),
        ("How tight?", f"The same even pull{last}; no post may lean."),
        ("The count is wrong?", "Undo to the last total that was right."),
    ]
    if any(yarn.fibre == SPRINGY for yarn in plan.pattern.yarns):
        lines.append(("The linen springs?", "Let the cone roll; mist the wound warp and let it dry on the posts."))
    if any(_is_bar(segment) for segment in hand_counted(plan.runs)) and plan.winding.method != "bundle":
        lines.append(("One and one in turn?", TWO_BALLS))
    lines.append(("Called away?", "Wind to the next box and tick it first."))
    return lines


# Two threads at once halve the trips, so the posts at which a total is reached are others (parity).
TWO_BALLS: Final = (
    "Or two balls at once, a finger between them: each trip is then two ends, so home and far are not as drawn."
)


def _is_bar(segment: Segment) -> bool:
    return len(segment.yarns) == 2 and segment.ends >= LEAST_IN_TURN


def dress_lines(plan: Plan, *, is_wound: bool) -> list[Line]:
    """What is asked from the cross to the front knot."""
    numbers = [trouble_words.ONE_OVER, trouble_words.CROSS_LOST, trouble_words.SLACK_EDGE]
    if plan.ends > 1:
        numbers[:0] = [trouble_words.TWO_TOGETHER, trouble_words.NARROW]
    if plan.loom.heddles is Heddles.TWO:
        numbers.append(trouble_words.NEVER_MOVES)
    troubles = [trouble_words.line_of(number, plan, is_wound=is_wound) for number in numbers]
    return [
        *([WHERE_IS_END_1] if is_wound else []),
        ("Lose your place?", mark_first(plan)),
        *troubles[:2],
        ("All threaded?", LOOK_THROUGH),
        *troubles[2:],
        ("Hard to see?", SEE_THE_ENDS),
        *damaged_space(plan),
    ]


WHERE_IS_END_1: Final = ("Where is end 1?", "Beside the bright thread; the keepers hold the cross.")
LOOK_THROUGH: Final = "Tug each end, and look through both sheds, before you tie."
SEE_THE_ENDS: Final = (
    "Paper behind the heddle: white behind dark ends, dark behind white. A blunt needle pulls them; hooks are sharp."
)


def mark_first(plan: Plan) -> str:
    """Both ends of the warp are found on the board before the first end is threaded."""
    first, last = heddle_words.outer_names(plan)
    places = first if first == last else f"{first} and {last}"
    return f"Mark {places} first: thread or tape."


def damaged_space(plan: Plan) -> list[Line]:
    """A space that is split is left empty together with its neighbour, so that the next end goes into a space of the
    other kind; all that follow lie two spaces farther, which needs two empty ones at an edge."""
    before, after = _to_spare(plan)
    both = " in both heddles" if plan.placement.back else ""
    if after >= 2:
        cure = f"Leave it and the next one empty{both}; all that follow lie two spaces farther."
    elif before >= 2:
        cure = f"Leave it and the next one empty{both}, and begin two spaces sooner."
    else:
        cure = "This warp has no two spaces to spare: ask for another heddle."
    return [("A damaged space?", cure)]


def _to_spare(plan: Plan) -> tuple[int, int]:
    """Empty spaces before the first and after the last end, of two heddles those that both have."""
    placement, back = plan.placement, plan.placement.back
    if back is None:
        return placement.empty_left, placement.empty_right
    return (
        min(placement.empty_left, back.first_space - 1),
        min(placement.empty_right, placement.spaces - back.last_space),
    )


def weave_lines(plan: Plan, units: Units, *, is_threaded: bool = False) -> list[Line]:
    """What is asked at the loom; where the pictures are those of the front tie, when to move on as well."""
    line = trouble_words.line_of
    move_on = ("When to move on?", dressing_words.words_of_act(Act.MOVE_ON, plan, units).do)
    return [
        *([move_on] if is_threaded else []),
        line(trouble_words.LOOPS, plan),
        (shed_words.NOT_SURE, shed_words.TUG_IT),
        ("Weft runs out?", join_weft(units)),
        line(trouble_words.BREAKS, plan),
        line(trouble_words.STICKS, plan),
        ("How much is woven?", mark_the_edge(units)),
        ("At the end of the tape?", finish_ends(units)),
        line(trouble_words.WEFT_SHOWS, plan),
        ("A mistake farther back?", "Open the shed the weft came through, pull it out; and so on, pick by pick."),
        line(trouble_words.SLACK_END, plan),
        *bars_slant(plan),
        ("An end frays?", "Put in a new one before it breaks."),
        line(trouble_words.THICK_LINE, plan),
    ]


def join_weft(units: Units) -> str:
    """How a new weft begins: never by a knot."""
    overlap = tape_length_alone(OVERLAP_MM[units], units)
    return f"Overlap old and new about {overlap} in one shed, away from the edge; tails to the back."


def mark_the_edge(units: Units) -> str:
    """A measure that winds up with the tape, for under tension none is right."""
    every = tape_length_alone(MARK_EVERY_MM[units], units)
    return f"Tie a bright thread to the edge every {every}."


def finish_ends(units: Units) -> str:
    """Three ways to keep the weft from coming out."""
    return f"Leave a fringe of {tape_length_alone(FRINGE_MM, units)}, turn it over and whip it, or knot it."


def bars_slant(plan: Plan) -> list[Line]:
    """Only a tape with bars shows it."""
    if any(_is_bar(segment) for segment in hand_counted(plan.runs)):
        return [("The bars slant?", "One side is looser: level the front knot.")]
    return []
