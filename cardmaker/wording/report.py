"""The plan as a person reads it in a terminal: headings with a few plain lines each, in the order of the work."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap
from typing import Final

from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import FROM_SEAT
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.reckoning.weaving.sheds import raised_runs
from cardmaker.wording import (
    beam_words,
    heddle_words,
    length_words,
    loom_words,
    note_words,
    peg_words,
    phrases,
    pickup_words,
    piece_words,
    rescue_words,
    second_yarn_words,
    shed_words,
    stripe_words,
    tension_words,
    time_words,
    title_words,
    trouble_words,
    walk_words,
    winding_words,
    yarn_words,
)
from cardmaker.wording.formatters import Units
from cardmaker.wording.view_words import seen_from, seen_if_behind

WIDEST: Final = 116  # of a line, in letters, before its indent


def plan_text(plan: Plan, units: Units) -> str:
    """The plan as a person reads it, in the order of the work."""
    notes = [note_words.note_sentence(note, units, of_file=True) for note in (*colour_clash_notes(plan), *plan.notes)]
    sections = [
        _head(plan, units),
        text_section(stripe_words.ORDER, _order(plan)),
        text_section(f"{heddle_words.heddle_title(plan.loom)}: {plan.loom.title}", _heddle(plan)),
        text_section(winding_words.WALK, _winding(plan)),
        text_section(shed_words.face_heading(plan.view), _sheds(plan)),
        text_section(length_words.LENGTHS, _lengths(plan, units)),
        text_section(piece_words.PIECES, piece_words.piece_lines(plan.lengths, units)),
        text_section(yarn_words.YARN, _yarn(plan, units)),
        text_section(second_yarn_words.SECOND_YARNS, _second_yarns(plan, units)),
        *bench_sections(plan, units),
        text_section(note_words.NOTES, notes),
    ]
    return "\n\n".join("\n".join(section) for section in sections if section) + "\n"


def bench_sections(plan: Plan, units: Units) -> list[list[str]]:
    """Every heading of the bench that has something under it, with its lines."""
    sections = (
        text_section(peg_words.ROOM, _pegs(plan, units)),
        text_section(beam_words.TURNS, _beam(plan, units)),
        text_section(tension_words.PRESS, _tension(plan, units)),
        text_section(time_words.WEAVING, _shuttle_and_pace(plan, units)),
        text_section(rescue_words.RESCUE, _rescue(plan, units)),
        text_section(pickup_words.PICKUP, _pickup(plan)),
    )
    return [section for section in sections if section]


def text_section(heading: str, lines: Iterable[str]) -> list[str]:
    """The heading with its lines, long ones broken; nothing without lines."""
    broken = [part for text in lines for line in text.splitlines() for part in _broken(line)]
    return [heading, *broken] if broken else []


def _broken(line: str) -> list[str]:
    indent = " " * (len(line) - len(line.lstrip()) + 2)
    if len(line) <= WIDEST:
        return [f"  {line}"]
    return wrap(line.strip(), WIDEST, initial_indent=indent, subsequent_indent=f"{indent}  ", break_on_hyphens=False)


def _head(plan: Plan, units: Units) -> list[str]:
    facts = (
        phrases.end_count(plan.ends),
        title_words.symmetry(plan),
        title_words.width_fact(plan.width, units),
        title_words.width_basis(plan.width, units, length_words.from_tape(plan, "width")),
    )
    return text_section(title_words.card_title(plan.pattern), ["; ".join(facts), plan.pattern.about])


def _order(plan: Plan) -> list[str]:
    begins = stripe_words.begins_at(plan)
    rows = [begins] if begins else []
    for segment in hand_counted(plan.runs):
        names = stripe_words.in_turn(phrases.listed(segment.yarns)) if segment.in_turn else segment.yarns[0]
        post = segment.stand_at if plan.winding.method == "order" else ""  # else every ball has its own
        rows.append(f"{segment.ends:>4} {names:<28} total {segment.last_end:>4}  {post}".rstrip())
    return rows + [
        f"{colour.letters} {colour.yarn}: {phrases.end_count(colour.ends)}, "
        f"{colour.in_holes} in holes, {colour.in_slots} in slots"
        for colour in plan.colours
        if colour.ends
    ]


def _heddle(plan: Plan) -> list[str]:
    placement, loom = plan.placement, plan.loom
    return [
        f"{phrases.capitalised(loom_words.heddle_spaces(loom))}. {seen_from(loom)}",
        heddle_words.count_out(loom, placement),
        heddle_words.miscounted(placement),
        f"{heddle_words.first_flag(plan)}; {heddle_words.last_flag(plan)}",
        heddle_words.middle_end(plan),
        heddle_words.half_space(placement, loom) if placement.half_space != "none" else "",
        heddle_words.back_heddle(plan),
        f"{heddle_words.WHEN_DONE}: {heddle_words.closing_count(plan)}",
    ]


def _winding(plan: Plan) -> list[str]:
    steps = winding_words.stretches(plan) if plan.winding.method == "carry" else []
    told = [walk_words.trips(plan), walk_words.method(plan), walk_words.turns_told(plan)]
    return [*told, *(f"  {step}" for step in steps)]


def _sheds(plan: Plan) -> list[str]:
    tape = plan_as_seen(plan, FROM_SEAT)
    sheds = [
        f"{shed_words.on_top(shed_words.shed_name(plan.loom, down))} "
        f"{shed_words.shed_colours(raised_runs(raised, tape.end_yarns), tape)}"
        for down, raised in ((True, tape.sheds.down), (False, tape.sheds.up))
    ]
    hints = dict.fromkeys((*shed_words.shed_hints(plan.loom), *shed_words.next_shed_hints(plan.loom)))
    begin = f"{phrases.capitalised(shed_words.begin_words(plan))}."
    return [*sheds, begin, f"{shed_words.hangs_from(plan.view)} {shed_words.next_sheds(plan)}".strip(), *hints]


def _lengths(plan: Plan, units: Units) -> list[str]:
    lengths = plan.lengths
    return [
        *length_words.length_sum(plan, units),
        f"{length_words.wind_on_pegs(lengths, units)}, which {length_words.gives(lengths, units)}.",
        length_words.length_basis(lengths),
    ]


def _yarn(plan: Plan, units: Units) -> list[str]:
    amounts = [
        f"{yarn_words.name_and_shade(plan.pattern.yarn(amount.yarn))}: {yarn_words.amount_at_hand(amount, units)}"
        for amount in plan.amounts
    ]
    return [*amounts, f"{yarn_words.weft_line(plan)}. {yarn_words.spare(plan)}"]


def _second_yarns(plan: Plan, units: Units) -> list[str]:
    """Each with its title, and what changes with it below; the pattern's own yarn is told above."""
    lines = []
    for other in plan.second:
        lines.append(f"{other.title}: {second_yarn_words.SAME_STRIPES}")
        for comparison in second_yarn_words.comparisons(plan, [other], units) if other.plan is not None else ():
            lines.append(f"  {comparison.label}: {comparison.of_each[-1]}")
    return [*lines, *second_yarn_words.what_else(plan, plan.second, units)]


def _pegs(plan: Plan, units: Units) -> list[str]:
    pegs = plan.pegs
    if pegs is None:
        return []
    return [
        f"{pegs.title}. {peg_words.route_in_words(pegs)} {peg_words.left_empty(pegs)}".rstrip(),
        peg_words.thread_length(pegs, units),
        peg_words.walking_length(pegs, plan.ends, units),
    ]


def _beam(plan: Plan, units: Units) -> list[str]:
    beam = plan.beam
    if beam is None:
        return []
    rows = [
        f"{turns:>{len(beam_words.TURNS_LEFT)}}  {tape}"
        for turns, tape in (
            (beam_words.TURNS_LEFT, beam_words.still_to_come(plan.lengths)),
            *(
                (beam_words.ELLIPSIS if turns is None else turns, comes)
                for turns, comes in beam_words.turns_table(beam, plan.lengths, units)
            ),
        )
    ]
    return [
        beam_words.beam_turns(beam, units),
        beam_words.sticks(beam, plan.loom, units),
        beam_words.let_off(beam, plan.loom, units),
        beam_words.slipped_edge(beam, units),
        *rows,
    ]


def _tension(plan: Plan, units: Units) -> list[str]:
    pull = plan.tension
    if pull is None:
        return []
    return [
        tension_words.pull(pull),
        tension_words.pull_basis(pull),
        tension_words.press_to_measure(pull, units),
        tension_words.other_weight(pull),
        tension_words.stiffness(pull, units),
        tension_words.standard(pull),
        tension_words.standard_line(pull),
    ]


def _shuttle_and_pace(plan: Plan, units: Units) -> list[str]:
    return [
        time_words.wraps(plan.shuttle, plan.weft.buy_mm, units) if plan.shuttle else "",
        time_words.picks_and_hours(plan.pace, units) if plan.pace else "",
        time_words.weft_on_pegs(plan, units),
    ]


def _rescue(plan: Plan, units: Units) -> list[str]:
    rescue = plan.rescue
    if rescue is None:
        return []
    return [
        seen_if_behind(plan.loom),
        trouble_words.skipped(rescue),
        rescue_words.replacement(rescue.replacements, units),
    ]


def _pickup(plan: Plan) -> list[str]:
    """Every row of the figure, plain ones too, with what the hand does."""
    figure, pickup = plan.pattern.pickup, plan.pickup
    if figure is None or pickup is None:
        return []
    rows = [
        f"{number:>2} {pickup_words.row_shed(row, plan.loom)}: {pickup_words.by_hand(row)}"
        for number, row in enumerate(figure.rows, start=1)
    ]
    ends = pickup_words.pickup_ends(figure.pattern_yarn, pickup.pattern_ends)
    again = f"{phrases.capitalised(pickup_words.then_again(len(rows)))}."
    return [*rows, f"{again} {ends}", pickup_words.longest_float(pickup)]
