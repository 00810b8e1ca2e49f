"""The plan told in a terminal: as text for a person, as JSON for a program."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from cardmaker.composing import heddle_words, note_words, wording, yarn_words
from cardmaker.composing.bench_json import bench_json, number
from cardmaker.composing.bench_words import bench_sections, learned
from cardmaker.composing.likeness import alike_notes
from cardmaker.composing.measures import Units, grams_up, metres_up, yards_up
from cardmaker.nouns.plan import BackHeddle, Plan
from cardmaker.reckoning.placement import space_label
from cardmaker.reckoning.segments import segments
from cardmaker.reckoning.sheds import raised_runs
from cardmaker.reckoning.walk import walk


def plan_json(plan: Plan) -> dict[str, Any]:
    """The plan with the keys that programs may rely on: lengths and weights as numbers, counts as integers."""
    return {
        "title": plan.pattern.title,
        "code": plan.pattern.code,
        "ends": plan.ends,
        "same_both_ways": plan.same_both_ways,
        "colours": [
            {
                "yarn": colour.yarn,
                "letters": colour.letters,
                "ends": colour.ends,
                "in_holes": colour.in_holes,
                "in_slots": colour.in_slots,
            }
            for colour in plan.colours
        ],
        "stripes": [
            {"yarn": run.yarn, "ends": run.ends, "total": run.total, "stand_at": run.stand_at} for run in plan.runs
        ],
        "placement": _placement(plan),
        "ends_list": list(_ends_list(plan)),
        "sheds": {
            "down": [plan.end_yarns[end_number - 1] for end_number in plan.sheds.down],
            "up": [plan.end_yarns[end_number - 1] for end_number in plan.sheds.up],
        },
        "winding": _winding(plan),
        "lengths": _lengths(plan),
        "width": {
            "low_mm": number(plan.width.low_mm),
            "likely_mm": number(plan.width.likely_mm),
            "high_mm": number(plan.width.high_mm),
            "basis": plan.width.basis,
        },
        "yarn": [
            {
                "yarn": amount.yarn,
                "warp_m": number(amount.warp_mm / 1000),
                "weft_m": number(amount.weft_mm / 1000),
                "total_m": number(amount.total_mm / 1000),
                "grams": None if amount.grams is None else number(amount.grams),
            }
            for amount in plan.amounts
        ],
        "weft": {
            "yarn": plan.weft.yarn,
            "picks_per_inch": number(plan.weft.picks_per_inch),
            "basis": plan.weft.basis,
            "picks": plan.weft.picks,
        },
        **bench_json(plan),
        "notes": [
            {"kind": note.kind, "about": note.about, "text": note_words.note(note, "metric")}
            for note in (*alike_notes(plan), *plan.notes)
        ],
    }


def _placement(plan: Plan) -> dict[str, Any]:
    placement, loom = plan.placement, plan.loom
    return {
        "loom": loom.title,
        "spaces": placement.spaces,
        "first_space": placement.first_space,
        "last_space": placement.last_space,
        "first_label": space_label(placement.first_space, loom),
        "last_label": space_label(placement.last_space, loom),
        "first_kind": placement.first_kind,
        "last_kind": placement.last_kind,
        "empty_left": placement.empty_left,
        "empty_right": placement.empty_right,
        "holes": placement.holes,
        "slots": placement.slots,
        "half_space": placement.half_space,
        "shifted": placement.shifted,
        "count_to": placement.count_to,
        "middle_end": placement.middle_end,
        "back_heddle": _back_heddle(placement.back),
    }


def _back_heddle(back: BackHeddle | None) -> dict[str, Any] | None:
    if back is None:
        return None
    return {"offset": back.offset, "first_space": back.first_space, "last_space": back.last_space}


def _ends_list(plan: Plan) -> Iterator[dict[str, Any]]:
    for end_number, (yarn, kind) in enumerate(zip(plan.end_yarns, plan.placement.kinds, strict=True), start=1):
        space = plan.placement.space_of(end_number)
        end: dict[str, Any] = {"number": end_number, "yarn": yarn, "space": space, "kind": kind}
        if plan.placement.back is not None:
            end |= {"back_space": space + plan.placement.back.offset, "back_kind": kind.other}
        yield end


def _winding(plan: Plan) -> dict[str, Any]:
    winding = plan.winding
    return {
        "trips": winding.trips,
        "round_trips": winding.round_trips,
        "changes": winding.changes,
        "far_changes": winding.far_changes,
        "finish": walk(plan.runs, winding.method).finish,
        "finish_in_order": winding.finish,
        "method": winding.method,
        "methods": {
            "order": {"joins": winding.joins},
            "bundle": {"bundles": winding.bundles},
            "carry": {
                "balls": winding.balls,
                "starts": [
                    {"yarn": carry.yarn, "ends": carry.ends, "from": carry.start, "to": carry.stop}
                    for carry in winding.carries
                ],
            },
        },
    }


def _lengths(plan: Plan) -> dict[str, Any]:
    lengths = plan.lengths
    return {
        "finished_mm": number(lengths.finished_mm),
        "on_loom_mm": number(lengths.on_loom_mm),
        "fringes_mm": number(lengths.fringes_mm),
        "warp_mm": number(lengths.warp_mm),
        "wind_mm": number(lengths.wind_mm),
        "take_up": number(lengths.take_up),
        "take_up_basis": lengths.take_up_basis,
        "shrinkage": number(lengths.shrinkage),
        "waste_mm": number(lengths.waste_mm),
        "tape_from_warp_mm": number(lengths.tape_from_warp_mm),
    }


def plan_text(plan: Plan, units: Units) -> str:
    """The plan as a person reads it, in the order of the work."""
    sections = [_head(plan, units), _order(plan), _heddle(plan), _walk(plan), _sheds(plan), _amounts(plan, units)]
    sections += bench_sections(plan, units)
    said = [note_words.note(note, units) for note in (*alike_notes(plan), *plan.notes)]
    if said:
        sections.append([wording.NOTES, *(f"  {line}" for line in said)])
    return "\n\n".join("\n".join(section) for section in sections) + "\n"


def _head(plan: Plan, units: Units) -> list[str]:
    pattern = plan.pattern
    facts = [
        wording.ends(plan.ends),
        wording.symmetry(plan),
        wording.width_fact(plan.width, units),
        wording.width_basis(plan.width, units),
    ]
    return [wording.page_title(pattern), "  " + "; ".join(facts), *([f"  {pattern.about}"] if pattern.about else [])]


def _order(plan: Plan) -> list[str]:
    rows = [wording.ORDER]
    for segment in segments(plan.runs):
        names = f"{wording.listed(segment.yarns)} in turn" if segment.in_turn else segment.yarns[0]
        post = segment.stand_at if plan.winding.method == "order" else ""  # else every ball has its own
        rows.append(f"  {segment.ends:>4} {names:<28} total {segment.last_end:>4}  {post}".rstrip())
    for colour in plan.colours:
        if colour.ends:
            split = f"{colour.in_holes} in holes, {colour.in_slots} in slots"
            rows.append(f"  {colour.letters} {colour.yarn}: {wording.ends(colour.ends)}, {split}")
    return rows


def _heddle(plan: Plan) -> list[str]:
    placement, loom = plan.placement, plan.loom
    lines = [f"{heddle_words.board(loom)}: {loom.title}, {wording.spaces(loom)}"]
    lines += [f"  {said}" for said in heddle_words.count_out(loom, placement)]
    lines.append(f"  {heddle_words.first_flag(plan)}; {heddle_words.last_flag(plan)}")
    lines.append(f"  {heddle_words.middle_end(plan)}")
    if placement.half_space != "none":
        lines.append(f"  {heddle_words.half_space(placement, loom)}")
    if placement.back is not None:
        lines.append(f"  {heddle_words.back_heddle(plan)}")
    return [*lines, f"  {heddle_words.WHEN_DONE}: {heddle_words.closing_count(plan)}"]


def _walk(plan: Plan) -> list[str]:
    lines = [wording.WALK, f"  {wording.trips(plan)}", f"  {wording.method(plan)}"]
    if plan.winding.method == "carry" and len(plan.winding.carries) <= 60:
        lines += [
            f"    {carry.ends} {carry.yarn}: from {carry.start} to {carry.stop}" for carry in plan.winding.carries
        ]
    return lines


def _sheds(plan: Plan) -> list[str]:
    lines = [wording.FACE]
    for down, raised in ((True, plan.sheds.down), (False, plan.sheds.up)):
        said = wording.shed_colours(raised_runs(raised, plan.end_yarns), plan)
        lines.append(f"  {wording.shed_name(plan.loom, down)}: {said}")
    return [*lines, f"  {wording.next_sheds(plan.loom)}"]


def _amounts(plan: Plan, units: Units) -> list[str]:
    lengths = plan.lengths
    lines = [wording.LENGTHS, f"  {yarn_words.wind(lengths, units)}, which {yarn_words.gives(lengths, units)}."]
    lines += [f"  {line}" for line in yarn_words.length_sum(lengths, units)]
    lines += [f"  {line}" for line in (learned(plan), yarn_words.length_basis(lengths)) if line]
    lines += ["", wording.YARN]
    for amount in plan.amounts:
        grams = f", {grams_up(amount.grams)} g" if amount.grams is not None else ""
        lines.append(f"  {amount.yarn}: {metres_up(amount.total_mm)} m ({yards_up(amount.total_mm)} yd){grams}")
    return [*lines, f"  {yarn_words.weft_line(plan)}. {yarn_words.spare(plan)}"]
