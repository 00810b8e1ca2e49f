"""The plan as a program reads it: lengths and weights as numbers, counts as integers, None where nothing is known."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from cardmaker.model.bench import SessionPlan
from cardmaker.model.plan import BackHeddle, Plan
from cardmaker.reckoning.colour_clash import colour_clash_notes
from cardmaker.reckoning.threading.placement import space_label
from cardmaker.reckoning.winding.walk import walk_of
from cardmaker.wording import note_words
from cardmaker.wording.length_words import learned_figure_names


def bench_keys(plan: Plan) -> dict[str, Any]:
    """The keys ``pegs``, ``beam``, ``tension``, ``shuttle``, ``rescue``, ``pickup``, ``pace`` and ``learned``."""
    return {
        "pegs": _pegs(plan),
        "beam": _beam(plan),
        "tension": _tension(plan),
        "shuttle": _shuttle(plan),
        "rescue": _rescue(plan),
        "pickup": _pickup(plan),
        "pace": _pace(plan),
        "learned": _learned(plan),
    }


def rounded(value: Fraction | float) -> float:
    """A decimal number to the thousandth: enough for a micrometre or a milligram."""
    return round(float(value), 3)


def _or_none(value: Fraction | float | None) -> float | None:
    return None if value is None else rounded(value)


def _pegs(plan: Plan) -> dict[str, Any] | None:
    found = plan.pegs
    if found is None:
        return None
    return {
        "title": found.title,
        "kind": found.kind,
        "route": list(found.route),
        "cross": list(found.cross),
        "skipped": list(found.skipped),
        "length_mm": rounded(found.length_mm),
        "wanted_mm": rounded(found.wanted_mm),
        "spare_mm": rounded(found.spare_mm),
        "distance_mm": _or_none(found.distance_mm),
        "dimensions": [
            {
                "from": each.start.name,
                "to": each.stop.name,
                "centres_mm": rounded(each.centres_mm),
                "clear_mm": rounded(each.clear_mm),
            }
            for each in found.dimensions
        ],
        "guide_string_mm": rounded(found.guide_string_mm),
        "walking_m": rounded(found.walking_mm / 1000),
        "stack_mm": rounded(found.stack_mm),
        "stack_limit_mm": _or_none(found.stack_limit_mm),
        "pile_up_mm": {"least": rounded(found.pile_up_mm[0]), "most": rounded(found.pile_up_mm[1])},
    }


def _beam(plan: Plan) -> dict[str, Any] | None:
    found = plan.beam
    if found is None:
        return None
    off = found.let_off
    return {
        "turns": rounded(found.turns),
        "beam_diameter_mm": rounded(found.beam_diameter_mm),
        "final_diameter_mm": rounded(found.final_diameter_mm),
        "build_up_mm": rounded(found.build_up_mm),
        "sticks": found.sticks,
        "stick_turns": list(found.stick_turns),
        "let_off_mm": {
            "full": rounded(off.full_mm),
            "half": rounded(off.half_mm),
            "empty": rounded(off.nearly_empty_mm),
        },
        "advances": off.advances,
        "tape_left": [{"turns": _turns(row.turns), "tape_mm": rounded(row.tape_mm)} for row in found.tape_left],
    }


def _turns(turns: float) -> float | int:
    return int(turns) if turns == int(turns) else rounded(turns)


def _tension(plan: Plan) -> dict[str, Any] | None:
    """The working tension, and all three levels; a weight too heavy for a level has no sag there."""
    found = plan.tension
    if found is None:
        return None
    dips = {dip.pull.name: dip for dip in found.dips}
    return {
        "per_end_n": rounded(found.working.newtons_per_end),
        "total_n": rounded(found.working.newtons),
        "level_cn_per_tex": rounded(found.working.cn_per_tex),
        "tex": rounded(found.tex),
        "levels": [
            {
                "name": pull.name,
                "cn_per_tex": rounded(pull.cn_per_tex),
                "per_end_n": rounded(pull.newtons_per_end),
                "total_n": rounded(pull.newtons),
                "basis": pull.status,
            }
            for pull in found.pulls
        ],
        "weight_g": _or_none(found.weight_g),
        "weight_n": rounded(found.dips[0].press_newtons) if found.dips else None,
        "span_mm": _or_none(found.span_mm),
        "sag_mm": {pull.name: _or_none(dips[pull.name].dip_mm if pull.name in dips else None) for pull in found.pulls}
        if found.span_mm is not None
        else None,
    }


def _shuttle(plan: Plan) -> dict[str, Any] | None:
    """``holds`` is None when the loom does not say; everything is then one fill."""
    found = plan.shuttle
    if found is None:
        return None
    return {
        "weft_m": rounded(plan.weft.buy_mm / 1000),
        "wraps": found.wraps,
        "fills": found.fills,
        "wraps_per_fill": found.wraps_per_fill,
        "per_wrap_mm": rounded(found.per_wrap_mm),
        "holds": plan.loom.shuttle_holds,
    }


def _rescue(plan: Plan) -> dict[str, Any] | None:
    found = plan.rescue
    if found is None:
        return None
    return {
        "ends": [
            {
                "number": place.end_number,
                "yarn": place.yarn,
                "kind": place.kind,
                "space": place.space,
                "nearer": place.nearer,
                "count": place.count,
                "rethread": {"side": over.side, "ends": over.ends, "moves_warp": over.moves_warp},
            }
            for place, over in zip(found.ends, found.rethreading, strict=True)
        ],
        "replacements": [
            {"woven": rounded(piece.woven), "length_mm": rounded(piece.length_mm)} for piece in found.replacements
        ],
    }


def _pickup(plan: Plan) -> dict[str, Any] | None:
    """Pattern ends by their numbers in the warp; the rows repeat from 1."""
    found, asked = plan.pickup, plan.pattern.pickup
    if found is None or asked is None:
        return None
    return {
        "pattern_yarn": asked.pattern_yarn,
        "pattern_ends": list(found.pattern_ends),
        "rows": [
            {
                "row": row.row,
                "shed": row.shed,
                "lifted": list(row.lifted),
                "dropped": list(row.dropped),
                "raised": list(row.raised),
            }
            for row in found.rows
        ],
        "floats": [
            {"end": each.end_number, "first_row": each.first_row, "rows": each.rows, "side": each.side}
            for each in found.floats
        ],
        "longest_sensible": found.longest_sensible,
        "same_shed_after": list(found.same_shed_after),
    }


def _pace(plan: Plan) -> dict[str, Any] | None:
    found = plan.pace
    if found is None:
        return None
    return {
        "picks": found.pace.picks,
        "picks_per_minute": rounded(found.pace.picks_per_minute),
        "minutes": rounded(found.pace.minutes),
        "session": None if found.session is None else _session(found.session),
    }


def _session(found: SessionPlan) -> dict[str, Any]:
    return {
        "session_minutes": rounded(found.session_minutes),
        "winding_minutes": rounded(found.winding_minutes),
        "threading_minutes": rounded(found.threading_minutes),
        "fixed_minutes": rounded(found.fixed_minutes),
        "weaving_minutes": rounded(found.weaving_minutes),
        "needed_minutes": rounded(found.needed_minutes),
        "spare_minutes": rounded(found.spare_minutes),
        "fits": found.fits,
        "sensible_warp_mm": _or_none(found.sensible_warp_mm),
    }


def _learned(plan: Plan) -> dict[str, Any] | None:
    """Which figures measured records gave, and their dates; None when no record was used."""
    figures = learned_figure_names(plan)
    return {"dates": list(plan.learned_from), "figures": figures} if figures else None


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
            "low_mm": rounded(plan.width.low_mm),
            "likely_mm": rounded(plan.width.likely_mm),
            "high_mm": rounded(plan.width.high_mm),
            "basis": plan.width.basis,
        },
        "yarn": [
            {
                "yarn": amount.yarn,
                "warp_m": rounded(amount.warp_mm / 1000),
                "weft_m": rounded(amount.weft_mm / 1000),
                "total_m": rounded(amount.total_mm / 1000),
                "grams": None if amount.grams is None else rounded(amount.grams),
            }
            for amount in plan.amounts
        ],
        "weft": {
            "yarn": plan.weft.yarn,
            "picks_per_inch": rounded(plan.weft.picks_per_inch),
            "basis": plan.weft.basis,
            "picks": plan.weft.picks,
        },
        **bench_keys(plan),
        "notes": [
            {"kind": note.kind, "about": note.about, "text": note_words.note_sentence(note, "metric")}
            for note in (*colour_clash_notes(plan), *plan.notes)
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
        "finish": walk_of(plan.runs, winding.method).finish,
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
        "finished_mm": rounded(lengths.finished_mm),
        "on_loom_mm": rounded(lengths.on_loom_mm),
        "fringes_mm": rounded(lengths.fringes_mm),
        "warp_mm": rounded(lengths.warp_mm),
        "wind_mm": rounded(lengths.wind_mm),
        "take_up": rounded(lengths.take_up),
        "take_up_basis": lengths.take_up_basis,
        "shrinkage": rounded(lengths.shrinkage),
        "waste_mm": rounded(lengths.waste_mm),
        "tape_from_warp_mm": rounded(lengths.tape_from_warp_mm),
    }
