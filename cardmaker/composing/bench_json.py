"""The bench's part of the plan as a program reads it: each key is None where nothing is known."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from cardmaker.composing.bench_words import learned_figures
from cardmaker.nouns.bench import SessionPlan
from cardmaker.nouns.plan import Plan


def bench_json(plan: Plan) -> dict[str, Any]:
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


def number(value: Fraction | float) -> float:
    """A decimal number to the thousandth: enough for a micrometre or a milligram."""
    return round(float(value), 3)


def _or_none(value: Fraction | float | None) -> float | None:
    return None if value is None else number(value)


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
        "length_mm": number(found.length_mm),
        "wanted_mm": number(found.wanted_mm),
        "spare_mm": number(found.spare_mm),
        "distance_mm": _or_none(found.distance_mm),
        "dimensions": [
            {
                "from": each.start.name,
                "to": each.stop.name,
                "centres_mm": number(each.centres_mm),
                "clear_mm": number(each.clear_mm),
            }
            for each in found.dimensions
        ],
        "guide_string_mm": number(found.guide_string_mm),
        "walking_m": number(found.walking_mm / 1000),
        "stack_mm": number(found.stack_mm),
        "stack_limit_mm": _or_none(found.stack_limit_mm),
        "pile_up_mm": {"least": number(found.pile_up_mm[0]), "most": number(found.pile_up_mm[1])},
    }


def _beam(plan: Plan) -> dict[str, Any] | None:
    found = plan.beam
    if found is None:
        return None
    off = found.let_off
    return {
        "turns": number(found.turns),
        "beam_diameter_mm": number(found.beam_diameter_mm),
        "final_diameter_mm": number(found.final_diameter_mm),
        "build_up_mm": number(found.build_up_mm),
        "sticks": found.sticks,
        "stick_turns": list(found.stick_turns),
        "let_off_mm": {"full": number(off.full_mm), "half": number(off.half_mm), "empty": number(off.nearly_empty_mm)},
        "advances": off.advances,
        "tape_left": [{"turns": _turns(row.turns), "tape_mm": number(row.tape_mm)} for row in found.tape_left],
    }


def _turns(turns: float) -> float | int:
    return int(turns) if turns == int(turns) else number(turns)


def _tension(plan: Plan) -> dict[str, Any] | None:
    """The working tension, and all three levels; a weight too heavy for a level has no sag there."""
    found = plan.tension
    if found is None:
        return None
    dips = {dip.pull.name: dip for dip in found.dips}
    return {
        "per_end_n": number(found.working.newtons_per_end),
        "total_n": number(found.working.newtons),
        "level_cn_per_tex": number(found.working.cn_per_tex),
        "tex": number(found.tex),
        "levels": [
            {
                "name": pull.name,
                "cn_per_tex": number(pull.cn_per_tex),
                "per_end_n": number(pull.newtons_per_end),
                "total_n": number(pull.newtons),
                "basis": pull.status,
            }
            for pull in found.pulls
        ],
        "weight_g": _or_none(found.weight_g),
        "weight_n": number(found.dips[0].press_newtons) if found.dips else None,
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
        "weft_m": number(plan.weft.buy_mm / 1000),
        "wraps": found.wraps,
        "fills": found.fills,
        "wraps_per_fill": found.wraps_per_fill,
        "per_wrap_mm": number(found.per_wrap_mm),
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
            {"woven": number(piece.woven), "length_mm": number(piece.length_mm)} for piece in found.replacements
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
        "picks_per_minute": number(found.pace.picks_per_minute),
        "minutes": number(found.pace.minutes),
        "session": None if found.session is None else _session(found.session),
    }


def _session(found: SessionPlan) -> dict[str, Any]:
    return {
        "session_minutes": number(found.session_minutes),
        "winding_minutes": number(found.winding_minutes),
        "threading_minutes": number(found.threading_minutes),
        "fixed_minutes": number(found.fixed_minutes),
        "weaving_minutes": number(found.weaving_minutes),
        "needed_minutes": number(found.needed_minutes),
        "spare_minutes": number(found.spare_minutes),
        "fits": found.fits,
        "sensible_warp_mm": _or_none(found.sensible_warp_mm),
    }


def _learned(plan: Plan) -> dict[str, Any] | None:
    """Which figures measured records gave, and their dates; None when no record was used."""
    figures = learned_figures(plan)
    return {"dates": list(plan.learned_from), "figures": figures} if figures else None
