"""The steps of winding as a list tells them: the stripes, or the bundles, and the parts of long ones."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cardmaker.card.sheet import Sheet
from cardmaker.model.plan import Method, Post
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.reckoning.winding.walk import Walk, part_wound, ticked_totals, ticked_within, walk_of
from cardmaker.wording import phrases, stripe_words, winding_words


@record
class WindingStep:
    """One line of the list: a stripe, or the part of a long one to where its total is ticked on the way. Balls in turn
    start each from where it waits: then ``way`` says from where."""

    ends: int  # that this step winds
    yarns: tuple[str, ...]  # in the order of its own ends, the first one first
    name: str  # as it is read aloud
    start: Post | None
    stop: Post | None
    total: int
    then: str
    way: str = ""
    note: str = ""  # on a line of its own: where several balls wait
    way_alt: str = ""
    then_alt: str = ""
    of_stripe: int = 0  # all ends of the stripe, where it takes several steps

    @property
    def of(self) -> str:
        return winding_words.of_stripe(self.of_stripe) if self.of_stripe else ""

    @property
    def way_below(self) -> str:
        """From where balls in turn start, on a line of its own."""
        return winding_words.way_of_balls_below(self.way) if self.way else ""


def winding_steps(sheet: Sheet) -> list[WindingStep]:
    """The stripes, or the bundles, as they are wound by the recommended method; a long one in several steps."""
    walk = walk_of(sheet.plan.runs, sheet.plan.winding.method)
    return [step for stretch in walk.stretches for step in _steps(sheet, walk, stretch)]


def _steps(sheet: Sheet, walk: Walk, stretch: Segment) -> list[WindingStep]:
    stops = [*_ticked_within(walk, sheet.plan.winding.method, stretch), stretch.last_end]
    firsts = [stretch.first_end, *(stop + 1 for stop in stops[:-1])]
    return [_step(sheet, walk, stretch, first, stop) for first, stop in zip(firsts, stops, strict=True)]


def _step(sheet: Sheet, walk: Walk, stretch: Segment, first: int, last: int) -> WindingStep:
    """The part of a stretch from one end to another: all of it, where nothing is ticked on the way."""
    plan, is_last = sheet.plan, last == stretch.last_end
    part = part_wound(walk, first, last)
    name = stripe_words.turn_named(part.ends, part.yarns, phrases.listed(part.yarns))
    ends = part.ends
    of_stripe = stretch.ends if ends < stretch.ends else 0
    if stretch.in_turn and plan.winding.method == "carry":
        is_partial = len(part.yarns) < len(stretch.yarns)
        return WindingStep(
            ends, part.yarns, name, None, None, walk.totals[last],
            winding_words.then_of_balls(walk, stretch, sheet.letters) if is_last else winding_words.GO_ON,
            winding_words.way_of_balls(walk, part, sheet.letters, by_name=is_partial),
            winding_words.note_of_balls(walk, stretch, part, sheet.letters) if is_last else "",
            winding_words.way(plan, walk, part),
            winding_words.balls_waiting(winding_words.balls_of(walk, stretch)) if is_last else "",
            of_stripe,
        )  # fmt: skip
    then = winding_words.step_then(walk, last, plan.winding.method) if is_last else winding_words.GO_ON
    start, stop = walk.strokes[first - 1].start, walk.stop_of(last)
    return WindingStep(ends, part.yarns, name, start, stop, walk.totals[last], then, of_stripe=of_stripe)


def _ticked_within(walk: Walk, method: Method, stretch: Segment) -> Iterable[int]:
    """The positions that are ticked on the way to the last end, as on every card of the tape. Where those tick only
    tens, each stripe is one step here."""
    ticked = ticked_totals(walk, method)
    tells_stripes = all(each.last_end in ticked for each in walk.stretches)  # one may end at a ten by chance
    return ticked_within(walk, method, stretch) if tells_stripes else ()


def thens_of_stripes(steps: Sequence[WindingStep]) -> list[str]:
    """What is done after every stripe; within one there is nothing but to go on."""
    return [step.then for step in steps if step.then != winding_words.GO_ON]
