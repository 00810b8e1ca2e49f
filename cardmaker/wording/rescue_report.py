"""What ``rescue`` tells: one end as text and as JSON; without an end the list of troubles, with this warp's numbers."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Final

from cardmaker.model.plan import Plan
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.reckoning.threading.placement import space_label
from cardmaker.wording import (
    beam_words,
    heddle_words,
    lost_end_words,
    phrases,
    rescue_words,
    shed_words,
    stripe_words,
    title_words,
    trouble_words,
    view_words,
)
from cardmaker.wording.formatters import Units
from cardmaker.wording.report import text_section

if TYPE_CHECKING:
    from cardmaker.model.bench import EndPlace, LostEnd
    from cardmaker.reckoning.weaving.lost_ends import PlaceInStripe


def lost_end_text(plan: Plan, lost: LostEnd, in_stripe: PlaceInStripe, units: Units) -> str:
    """All about one end, as a person reads it in a terminal."""
    which = [
        f"{lost_end_words.from_both_edges(lost)}. {view_words.seen_from(plan.loom)}",
        f"{lost_end_words.in_its_stripe(in_stripe)}.",
        lost_end_words.its_figure(lost, plan),
    ]
    where = [f"{phrases.capitalised(lost_end_words.its_space(lost, plan))}.", *lost_end_words.counted_to_it(lost, plan)]
    steps = lost_end_words.new_end_steps(lost, plan, units)
    told = [f"{number}. {act} {how}" for number, (act, how) in enumerate(steps, start=1)]
    title = f"{title_words.card_title(plan.pattern)}, {plan.loom.title}"
    return _joined(
        text_section(f"{title}: {lost_end_words.lost_end_title(lost, plan)}", filter(None, which)),
        text_section(heddle_words.heddle_title(plan.loom), where),
        text_section(lost_end_words.BESIDE_IT, lost_end_words.beside_it(lost, plan)),
        text_section(lost_end_words.NEW_END, [*told, lost_end_words.CAREFUL]),
    )


def troubles_text(plan: Plan, units: Units) -> str:
    """The troubles that this warp can have, with its numbers, as a person reads them in a terminal."""
    lines = [f"{row.number:>2} {_told(row, plan, units)}" for row in trouble_words.troubles_of(plan)]
    title = f"{title_words.card_title(plan.pattern)}, {plan.loom.title}: {phrases.end_count(plan.ends)}"
    return _joined(text_section(f"{trouble_words.TROUBLE}: {title}", [*lines, lost_end_words.CAREFUL]))


def _told(row: trouble_words.Trouble, plan: Plan, units: Units) -> str:
    return f"{row.question} {trouble_words.cure_of(row, plan)} {_numbers(row, plan, units)}".rstrip()


def _numbers(row: trouble_words.Trouble, plan: Plan, units: Units) -> str:
    """What this warp's numbers say of a trouble; nothing of most."""
    numbers = _NUMBERS.get(row.number)
    return numbers(plan, units) if numbers else ""


def _rethreaded(plan: Plan, units: Units) -> str:
    return f"{trouble_words.at_most(plan.rescue)}." if plan.rescue else ""


def _sticks(plan: Plan, units: Units) -> str:
    return beam_words.sticks(plan.beam, plan.loom, units, brief=True) if plan.beam else ""


def _lengths(plan: Plan, units: Units) -> str:
    return rescue_words.new_end_lengths(plan.rescue.replacements, units) if plan.rescue else ""


def _stripes(plan: Plan, units: Units) -> str:
    stripes = ", ".join(map(stripe_words.stripe_in_words, hand_counted(plan.runs)))
    return f"From {view_words.edge_of_end_1(plan.view)}: {stripes}."


_NUMBERS: Final[dict[int, Callable[[Plan, Units], str]]] = {
    trouble_words.TWO_TOGETHER: _rethreaded,
    trouble_words.ONE_OVER: lambda plan, _: f"{heddle_words.WHEN_DONE}: {heddle_words.closing_count(plan)}.",
    trouble_words.SLACK_EDGE: _sticks,
    trouble_words.WEFT_SHOWS: lambda plan, units: f"The tape is {title_words.width_fact(plan.width, units)} wide.",
    trouble_words.THICK_LINE: lambda plan, _: shed_words.next_sheds(plan),
    trouble_words.BREAKS: _lengths,
    trouble_words.NEVER_MOVES: lambda plan, _: f"End 1: {heddle_words.first_place(plan)}.",
    trouble_words.CROSS_LOST: _stripes,
}


def _joined(*sections: list[str]) -> str:
    return "\n\n".join("\n".join(section).replace(phrases.NO_BREAK, " ") for section in sections if section) + "\n"


def lost_end_json(plan: Plan, lost: LostEnd, in_stripe: PlaceInStripe, units: Units) -> dict[str, Any]:
    """One end for a program: keys wear their unit; sides are those of ``view``."""
    edge, stripe, count, segment = in_stripe
    steps = lost_end_words.new_end_steps(lost, plan, units)
    return _head(plan) | {
        "end": _place(lost.place, plan) | {"letters": plan.letters(lost.place.yarn)},
        "from_left": lost.from_left,
        "from_right": lost.from_right,
        "nearer": lost_end_words.nearer_edge(lost),
        "stripe": {"from": edge, "stripe": stripe, "in_stripe": count, "ends": segment.ends},
        "left": _place(lost.left, plan) if lost.left else None,
        "right": _place(lost.right, plan) if lost.right else None,
        "new_end": {
            "length_mm": round(float(lost.length_mm), 3),
            "woven": _decimal(lost.woven),
            "turns_left": _decimal(lost.turns_left),
        },
        "steps": [f"{act} {how}" for act, how in steps],
    }


def troubles_json(plan: Plan, units: Units) -> dict[str, Any]:
    """The troubles for a program, by their numbers."""
    rows = [
        {"number": row.number, "seen": row.seen, "text": _told(row, plan, units)}
        for row in trouble_words.troubles_of(plan)
    ]
    return _head(plan) | {"troubles": rows}


def _head(plan: Plan) -> dict[str, Any]:
    view = {"from": plan.view.side, "hand": plan.view.hand}
    return {"title": plan.pattern.title, "loom": plan.loom.title, "ends": plan.ends, "view": view}


def _place(end: EndPlace, plan: Plan) -> dict[str, Any]:
    """An end with its number, yarn and spaces, as in ``ends_list`` of the plan, and what the spaces are called."""
    told = {
        "number": end.end_number,
        "yarn": end.yarn,
        "space": end.space,
        "kind": end.kind,
        "label": space_label(end.space, plan.loom),
    }
    back = plan.placement.back
    if back is None:
        return told
    behind = end.space + back.offset
    return told | {
        "back_space": behind,
        "back_kind": end.kind.opposite,
        "back_label": space_label(behind, plan.loom),
    }


def _decimal(value: Fraction | None) -> float | None:
    return None if value is None else round(float(value), 6)
