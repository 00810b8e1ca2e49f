"""The heddle for whoever hears a card: the space of every end, and what is full and empty when all is threaded."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.plan import Plan
from cardmaker.reckoning.stripes.segments import Segment, hand_counted
from cardmaker.reckoning.threading.placement import space_label, spaces_in_words
from cardmaker.wording import heddle_words
from cardmaker.wording.loom_words import heddle_spaces, marked_middle
from cardmaker.wording.phrases import listed
from cardmaker.wording.view_words import seen_from

OPENINGS: Final = "In the picture a round opening is a hole and a tall one a slot."


def heddle_alt_text(plan: Plan) -> str:
    """Where counting starts, the first and the last space, what stays empty, the space of every end, the middle."""
    loom = plan.loom
    threaded = _threaded(plan)
    return " ".join(
        [
            f"{loom.title}: {heddle_spaces(loom)}. {seen_from(loom)} Spaces are counted to the left and right of the "
            f"mark, which is {marked_middle(loom)}.",
            f"End 1 goes into {threaded[0]}; end {plan.ends} into {threaded[-1]}; {heddle_words.empty_spaces(plan)}.",
            *[_stripe_threaded(plan, stripe, threaded) for stripe in hand_counted(plan.runs)],
            heddle_words.middle_end(plan, threaded),
            f"{heddle_words.WHEN_DONE}: {heddle_words.filled_spaces(plan)}.",
        ]
    )


def lens_alt_text(plan: Plan) -> str:
    """Of two places of the heddle drawn again, larger."""
    first = space_label(plan.placement.first_space, plan.loom)
    return f"Enlarged: the first spaces of the warp from {first} on, and the spaces beside the mark."


def _threaded(plan: Plan) -> list[str]:
    """The space of every end, ``left 15 slot``; in two heddles both."""
    placement, loom, back = plan.placement, plan.loom, plan.placement.back
    spaces = range(placement.first_space, placement.last_space + 1)
    front = spaces_in_words(spaces, loom)
    if back is None:
        return [f"{space} {kind}" for space, kind in zip(front, placement.kinds, strict=True)]
    behind = spaces_in_words(range(back.first_space, back.last_space + 1), loom)
    return [
        f"front {first.removeprefix('the ')} {kind} with back {second.removeprefix('the ')} {kind.opposite}"
        for first, second, kind in zip(front, behind, placement.kinds, strict=True)
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
