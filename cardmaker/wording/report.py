"""The plan as a person reads it in a terminal: headings with a few plain lines each, in the order of the work."""

from __future__ import annotations

from cardmaker.model.plan import Plan
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.reckoning.weaving.sheds import raised_runs
from cardmaker.wording import (
    heddle_words,
    length_words,
    loom_words,
    note_words,
    phrases,
    shed_words,
    stripe_words,
    title_words,
    winding_words,
    yarn_words,
)
from cardmaker.wording.beam_words import BEAM, beam_lines
from cardmaker.wording.measures import Units, grams_up, metres_up, yards_up
from cardmaker.wording.peg_words import PEGS, peg_lines
from cardmaker.wording.pickup_words import PICKUP_IN_TERMINAL, pickup_lines
from cardmaker.wording.rescue_words import RESCUE_IN_TERMINAL, rescue_lines
from cardmaker.wording.result_words import learned_from_tapes
from cardmaker.wording.tension_words import TENSION, tension_lines
from cardmaker.wording.time_words import PACE, SHUTTLE, pace_lines, shuttle_lines


def bench_sections(plan: Plan, units: Units) -> list[list[str]]:
    """Every heading that has something under it, with its lines."""
    sections = (
        (PEGS, peg_lines(plan, units)),
        (BEAM, beam_lines(plan, units)),
        (TENSION, tension_lines(plan, units)),
        (SHUTTLE, shuttle_lines(plan, units)),
        (PACE, pace_lines(plan)),
        (RESCUE_IN_TERMINAL, rescue_lines(plan, units)),
        (PICKUP_IN_TERMINAL, pickup_lines(plan)),
    )
    return [[heading, *(f"  {line}" for line in lines)] for heading, lines in sections if lines]


def plan_text(plan: Plan, units: Units) -> str:
    """The plan as a person reads it, in the order of the work."""
    sections = [
        _head(plan, units),
        _order_lines(plan),
        _heddle_lines(plan),
        _winding_lines(plan),
        _shed_lines(plan),
        _amounts(plan, units),
    ]
    sections += bench_sections(plan, units)
    said = [note_words.note_sentence(note, units) for note in (*colour_clash_notes(plan), *plan.notes)]
    if said:
        sections.append([note_words.NOTES, *(f"  {line}" for line in said)])
    return "\n\n".join("\n".join(section) for section in sections) + "\n"


def _head(plan: Plan, units: Units) -> list[str]:
    pattern = plan.pattern
    facts = [
        phrases.end_count(plan.ends),
        title_words.symmetry(plan),
        title_words.width_fact(plan.width, units),
        title_words.width_basis(plan.width, units),
    ]
    return [
        title_words.card_title(pattern),
        "  " + "; ".join(facts),
        *([f"  {pattern.about}"] if pattern.about else []),
    ]


def _order_lines(plan: Plan) -> list[str]:
    rows = [stripe_words.ORDER]
    for segment in hand_counted(plan.runs):
        names = f"{phrases.listed(segment.yarns)} in turn" if segment.in_turn else segment.yarns[0]
        post = segment.stand_at if plan.winding.method == "order" else ""  # else every ball has its own
        rows.append(f"  {segment.ends:>4} {names:<28} total {segment.last_end:>4}  {post}".rstrip())
    for colour in plan.colours:
        if colour.ends:
            split = f"{colour.in_holes} in holes, {colour.in_slots} in slots"
            rows.append(f"  {colour.letters} {colour.yarn}: {phrases.end_count(colour.ends)}, {split}")
    return rows


def _heddle_lines(plan: Plan) -> list[str]:
    placement, loom = plan.placement, plan.loom
    lines = [f"{heddle_words.heddle_title(loom)}: {loom.title}, {loom_words.heddle_spaces(loom)}"]
    lines += [f"  {said}" for said in heddle_words.count_out(loom, placement)]
    lines.append(f"  {heddle_words.first_flag(plan)}; {heddle_words.last_flag(plan)}")
    lines.append(f"  {heddle_words.middle_end(plan)}")
    if placement.half_space != "none":
        lines.append(f"  {heddle_words.half_space(placement, loom)}")
    if placement.back is not None:
        lines.append(f"  {heddle_words.back_heddle(plan)}")
    return [*lines, f"  {heddle_words.WHEN_DONE}: {heddle_words.closing_count(plan)}"]


def _winding_lines(plan: Plan) -> list[str]:
    lines = [winding_words.WALK, f"  {winding_words.trips(plan)}", f"  {winding_words.method(plan)}"]
    if plan.winding.method == "carry" and len(plan.winding.carries) <= 60:
        lines += [
            f"    {carry.ends} {carry.yarn}: from {carry.start} to {carry.stop}" for carry in plan.winding.carries
        ]
    return lines


def _shed_lines(plan: Plan) -> list[str]:
    lines = [shed_words.FACE]
    for down, raised in ((True, plan.sheds.down), (False, plan.sheds.up)):
        said = shed_words.shed_colours(raised_runs(raised, plan.end_yarns), plan)
        lines.append(f"  {shed_words.shed_name(plan.loom, down)}: {said}")
    return [*lines, f"  {shed_words.next_sheds(plan.loom)}"]


def _amounts(plan: Plan, units: Units) -> list[str]:
    lengths = plan.lengths
    lines = [
        length_words.LENGTHS,
        f"  {length_words.wind(lengths, units)}, which {length_words.gives(lengths, units)}.",
    ]
    lines += [f"  {line}" for line in length_words.length_sum(lengths, units)]
    lines += [f"  {line}" for line in (learned_from_tapes(plan), length_words.length_basis(lengths)) if line]
    lines += ["", yarn_words.YARN]
    for amount in plan.amounts:
        grams = f", {grams_up(amount.grams)} g" if amount.grams is not None else ""
        lines.append(f"  {amount.yarn}: {metres_up(amount.total_mm)} m ({yards_up(amount.total_mm)} yd){grams}")
    return [*lines, f"  {yarn_words.weft_line(plan)}. {yarn_words.spare(plan)}"]
