"""The same tape in another yarn of its file, beside the first: what it takes, how wide it comes out, what to watch."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from cardmaker.model.plan import Plan, SecondPlan, YarnAmount
from cardmaker.wording.formatters import Units, warp_length
from cardmaker.wording.heddle_words import first_line
from cardmaker.wording.length_words import from_tape, wind_and_get
from cardmaker.wording.note_words import note_sentence
from cardmaker.wording.phrases import capitalised, sentence
from cardmaker.wording.title_words import likely_width, width_basis
from cardmaker.wording.yarn_words import amount_at_hand, picks_to_the_inch, yarn_kinds

SECOND_YARNS: Final = "In another yarn"
SAME_STRIPES: Final = "the same stripes, as many ends"
AS_IN_FRONT: Final = "as in front"
WHAT: Final = "what is compared"


class Comparison(NamedTuple):
    """One thing that is told of each yarn, the pattern's own first."""

    label: str
    of_each: tuple[str, ...]


def comparisons(plan: Plan, others: Sequence[SecondPlan], units: Units) -> list[Comparison]:
    """What changes with the yarn, one thing after the other: of the plan, then of each of the ``others``."""
    plans = [plan, *(other.plan for other in others if other.plan is not None)]

    def of_each(label: str, *cells: str) -> Comparison:
        return Comparison(label, cells)

    return [
        of_each("yarn", *(yarn_kinds([each.pattern.yarn(name.yarn) for name in each.amounts]) for each in plans)),
        of_each("width", *(_width(each, units) for each in plans)),
        of_each("wind", *(_to_wind(each, units) for each in plans)),
        of_each(
            "weft", *(f"{capitalised(picks_to_the_inch(each))}; in all {each.weft.picks} picks." for each in plans)
        ),
        *(
            of_each(amount.yarn, *(_amount(each, each.amounts[at], units) for each in plans))
            for at, amount in enumerate(plan.amounts)
        ),
    ]


def _width(plan: Plan, units: Units) -> str:
    return f"{likely_width(plan.width, units)}; {width_basis(plan.width, units, from_tape(plan, 'width'))}."


def _to_wind(plan: Plan, units: Units) -> str:
    wind = warp_length(plan.lengths.wind_mm, units)
    return f"{wind} {wind_and_get(plan.lengths, units)}."


def _amount(plan: Plan, amount: YarnAmount, units: Units) -> str:
    shade = plan.pattern.yarn(amount.yarn).shade
    return f"{f'{shade}: ' if shade else ''}{amount_at_hand(amount, units)}"


def what_else(plan: Plan, others: Sequence[SecondPlan], units: Units) -> list[str]:
    """Of each other yarn by its title: why the loom does not take it, where end 1 goes if elsewhere, and warnings that
    the pattern's own yarn does not give."""
    return [f"{other.title}: {' '.join(told)}" for other in others if (told := _of_other(plan, other, units))]


def _of_other(plan: Plan, other: SecondPlan, units: Units) -> list[str]:
    if other.plan is None:
        return [other.why_not]
    elsewhere = other.plan.placement != plan.placement
    known = {(note.key, *note.values.items()) for note in plan.notes}
    warnings = [
        note_sentence(note, units)
        for note in other.plan.notes
        if note.kind == "warning" and (note.key, *note.values.items()) not in known
    ]
    return [*([sentence(first_line(other.plan))] if elsewhere else []), *warnings]
