"""The plan as a program reads it, from tables: to add a key, add a row.

A row is a key and its source: an attribute, a function, or a table of its own, of the thing that the table tells of.
Where the key is the attribute's own name, the attribute alone is the row: ``"pattern.title"`` is the key ``title``.
Programs rely on the keys: lengths and weights are numbers, counts are integers, and what is not known is None.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from operator import attrgetter
from typing import Any, Final

from cardmaker.model.bench import Rescue, TapeLeft, WarpPull
from cardmaker.model.plan import Plan
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes
from cardmaker.reckoning.threading.placement import space_label
from cardmaker.reckoning.winding.walk import walk_of
from cardmaker.wording.formatters import Units
from cardmaker.wording.heddle_words import counted_number, stop_at
from cardmaker.wording.length_words import learned_date, learned_figure_names, tapes_of_others
from cardmaker.wording.note_words import note_sentence
from cardmaker.wording.phrases import weavers_side
from cardmaker.wording.shed_words import next_shed_rules

Getter = Callable[[Any], Any]
Source = str | Getter | tuple["Row", ...]
Row = str | tuple[str, Source]
Fields = tuple[Row, ...]


def plan_as_json(plan: Plan, units: Units = "metric") -> dict[str, Any]:
    """The plan, ready for :mod:`json`. Keys wear their unit; ``units`` is what the sentences put first."""
    note: Fields = (*NOTE, ("text", lambda note: note_sentence(note, units, of_file=True)))
    notes = _each(lambda plan: (*colour_clash_notes(plan), *plan.notes), note)
    return _filled((*PLAN, ("notes", notes)), plan)


def _filled(fields: Fields, thing: Any) -> dict[str, Any]:
    """The keys of a table, with the values that this thing gives them."""
    rows = [(row.rpartition(".")[2], row) if isinstance(row, str) else row for row in fields]
    return {key: _json_value(_value(source, thing)) for key, source in rows}


def _value(source: Source, thing: Any) -> Any:
    if isinstance(source, tuple):
        return _filled(source, thing)
    return attrgetter(source)(thing) if isinstance(source, str) else source(thing)


def _json_value(value: Any) -> Any:
    """A decimal number to the thousandth: enough for a micrometre or a milligram."""
    if isinstance(value, tuple):
        return [_json_value(item) for item in value]
    return round(float(value), 3) if isinstance(value, Fraction | float) else value


def _part(source: str, fields: Fields) -> Getter:
    """A table of a part of the thing; None where it has no such part."""
    return lambda thing: None if (part := _value(source, thing)) is None else _filled(fields, part)


def _each(source: Source, fields: Fields) -> Getter:
    """A list with a table for each of several things."""
    return lambda thing: [_filled(fields, item) for item in _value(source, thing)]


def _if_any(source: Source, fields: Fields) -> Getter:
    """A table of the thing itself; None where it lacks what the table is about."""
    return lambda thing: _filled(fields, thing) if _value(source, thing) else None


def _metres(source: str) -> Getter:
    return lambda thing: _value(source, thing) / 1000


# Values that no attribute has


def _yarns_of(shed: str) -> Getter:
    """The yarns that a shed raises, left to right."""
    return lambda plan: [plan.end_yarns[end_number - 1] for end_number in _value(f"sheds.{shed}", plan)]


def _stripes(plan: Plan) -> list[dict[str, Any]]:
    """Each stripe, with where the winder stands after it: by the recommended method, and winding in order. Bundles are
    not wound by stripes, so nobody stands anywhere."""
    walk, is_wound = walk_of(plan.runs, plan.winding.method), plan.winding.method != "bundle"
    return [
        _filled(STRIPE, run)
        | {"stand_at": walk.stop_of(run.total) if is_wound else None, "stand_at_in_order": run.stand_at}
        for run in plan.runs
    ]


def _foot_for(shed: str) -> Getter:
    return lambda plan: plan.loom.foot_of(is_down=shed == "down")


def _next_sheds(plan: Plan) -> list[dict[str, str]]:
    """For either side on which the weft may hang, the shed or the foot that is next."""
    rules = next_shed_rules(plan.loom)
    return [{"weft_hangs": weavers_side(rule.hangs, plan.loom), "next": str(rule.opens)} for rule in rules]


def _ends_list(plan: Plan) -> list[dict[str, Any]]:
    """Each end with its space, and with the one in the back heddle where there are two heddles."""
    back, kinds = plan.placement.back, plan.placement.kinds
    ends = []
    for number, (yarn, kind) in enumerate(zip(plan.end_yarns, kinds, strict=True), start=1):
        space = plan.placement.space_of(number)
        behind = {} if back is None else {"back_space": space + back.offset, "back_kind": kind.opposite}
        ends.append({"number": number, "yarn": yarn, "space": space, "kind": kind} | behind)
    return ends


def _dates_by_figure(plan: Plan) -> dict[str, str]:
    return {figure: learned_date(plan, figure) for figure in learned_figure_names(plan)}


def _tapes_by_figure(plan: Plan) -> dict[str, list[str]]:
    """Of the figures that came from a yarn's or a loom's file, the tapes that they were measured on."""
    told = {figure: tapes_of_others(plan, figure) for figure in learned_figure_names(plan)}
    return {figure: tapes for figure, tapes in told.items() if tapes}


def _turns(row: TapeLeft) -> float | int:
    return int(row.turns) if row.turns == int(row.turns) else row.turns


def _sags(pull: WarpPull, *, as_range: bool = False) -> dict[str, Any] | None:
    """By the level's name, how far the weight dips as is likely, or from the stiffest yarn to the softest; None where
    these ranges run into each other, so that a dip tells nothing."""
    if pull.gauge is None:
        return None
    sags: dict[str, Any] = dict.fromkeys(level.name for level in pull.pulls)
    for mark in pull.gauge.marks:
        sags[mark.pull.name] = (
            [_json_value(mark.least_mm), _json_value(mark.most_mm)] if as_range else _json_value(mark.likely_mm)
        )
    return sags


def _of_gauge(name: str) -> Getter:
    return lambda pull: None if pull.gauge is None else getattr(pull.gauge, name)


def _lost_ends(rescue: Rescue) -> list[dict[str, Any]]:
    """Each with what to thread over again when a space was skipped before it; before the first none can be."""
    pairs = zip(rescue.ends, rescue.rethreading, strict=True)
    return [
        _filled(LOST_END, place) | {"rethread": _filled(RETHREADING, over) if over.ends else None}
        for place, over in pairs
    ]


STRIPE: Final[Fields] = ("yarn", "ends", "total")
PLACEMENT: Final[Fields] = (
    ("loom", "loom.title"),
    "placement.spaces", "placement.first_space", "placement.last_space",
    ("first_label", lambda plan: space_label(plan.placement.first_space, plan.loom)),
    ("last_label", lambda plan: space_label(plan.placement.last_space, plan.loom)),
    "placement.first_kind", "placement.last_kind",
    ("empty_left", lambda plan: plan.placement.empty_right if plan.view.left_hand else plan.placement.empty_left),
    ("empty_right", lambda plan: plan.placement.empty_left if plan.view.left_hand else plan.placement.empty_right),
    "placement.holes", "placement.slots",
    ("half_space", lambda plan: weavers_side(plan.placement.half_space, plan.loom)),
    "placement.shifted",
    ("count_to", lambda plan: stop_at(plan.placement, plan.loom)),  # where half of the ends lead, before any move
    ("first_count", lambda plan: counted_number(plan.placement.first_space, plan.loom)),
    "placement.middle_end",
    ("back_heddle", _part("placement.back", ("offset", "first_space", "last_space"))),
)  # fmt: skip
CARRY: Final[Fields] = ("yarn", "ends", ("from", "start"), ("to", "stop"))
CARRYING: Final[Fields] = ("winding.balls", ("starts", _each("winding.carries", CARRY)))
WINDING: Final[Fields] = (
    "winding.trips", "winding.round_trips", "winding.changes",
    ("far_changes", lambda plan: plan.winding.far_changes if plan.winding.method == "order" else None),
    ("far_changes_in_order", "winding.far_changes"),
    ("empty_walks", lambda plan: walk_of(plan.runs, plan.winding.method).empty_walks),
    ("finish", lambda plan: walk_of(plan.runs, plan.winding.method).finish),
    ("finish_in_order", "winding.finish"),
    "winding.method",
    ("methods", (("order", ("winding.joins",)), ("bundle", ("winding.bundles",)), ("carry", CARRYING))),
)  # fmt: skip
TREADLES: Final[Fields] = (("down", _foot_for("down")), ("up", _foot_for("up")))
LENGTHS: Final[Fields] = (
    "finished_mm", "on_loom_mm", "fringes_mm", "warp_mm", "wind_mm", "wound_mm",
    "take_up", "take_up_range", "take_up_basis", "shrinkage", "shrinkage_range",
    "waste_mm", "waste_front_mm", "waste_back_mm", "tape_at_least_mm", "tape_from_warp_mm",
)  # fmt: skip
PIECE: Final[Fields] = (("for", "purpose"), "wanted", "come", "length_mm", "on_loom_mm", "fringe_mm")
YARN: Final[Fields] = (
    "yarn", ("warp_m", _metres("warp_mm")), ("weft_m", _metres("weft_mm")), ("total_m", _metres("total_mm")), "grams",
)  # fmt: skip
DIMENSION: Final[Fields] = (("from", "start.name"), ("to", "stop.name"), "centres_mm", "clear_mm")
WEFT: Final[Fields] = ("yarn", "picks_per_inch", "basis", "picks", "per_pick_mm", ("used_m", _metres("used_mm")))
PEGS: Final[Fields] = (
    "title", "kind", "route", "cross", "skipped", "length_mm", "wanted_mm", "spare_mm", "distance_mm", "centres_mm",
    ("dimensions", _each("dimensions", DIMENSION)),
    "guide_string_mm",
    ("walking_m", _metres("walking_mm")),
    "stack_mm", "stack_limit_mm",
    ("pile_up_mm", (("least", lambda pegs: pegs.pile_up_mm[0]), ("most", lambda pegs: pegs.pile_up_mm[1]))),
)  # fmt: skip
LET_OFF: Final[Fields] = (("full", "full_mm"), ("half", "half_mm"), ("empty", "nearly_empty_mm"))
BEAM: Final[Fields] = (
    "turns", "beam_diameter_mm", "final_diameter_mm", "build_up_mm", "sticks", "stick_turns",
    ("let_off_mm", _part("let_off", LET_OFF)),
    "let_off.advances", "let_off.stops_a_move", "let_off.longer_than_zone",
    ("tape_left", _each("tape_left", (("turns", _turns), "tape_mm", "pieces"))),
)  # fmt: skip
LEVEL: Final[Fields] = (
    "name", "cn_per_tex", ("per_end_n", "newtons_per_end"), ("total_n", "newtons"), ("basis", "status"),
)  # fmt: skip
STIFF: Final[Fields] = (("from", "low"), "likely", ("to", "high"), ("basis", lambda stiffness: "from memory"))
STANDARD: Final[Fields] = ("weight_g", "span_mm", "dip_mm", "ends", "tex", "fibre")
TENSION: Final[Fields] = (
    ("per_end_n", "working.newtons_per_end"),
    ("total_n", "working.newtons"),
    ("level_cn_per_tex", "working.cn_per_tex"),
    ("level_range_cn_per_tex", "level_range"),
    "tex", "fibre",
    ("levels", _each("pulls", LEVEL)),
    ("standard", _part("standard", STANDARD)),  # the warp that wove well, from the loom's file
    ("stiffness_cn_per_tex", _part("stiffness", STIFF)),
    ("weight_g", _of_gauge("weight_g")),
    ("weight_n", _of_gauge("weight_n")),
    ("loom_weight_g", _of_gauge("loom_weight_g")),
    ("loom_weight_is", _of_gauge("loom_weight_is")),
    ("fitting_weight_g", _of_gauge("fitting_weight_g")),
    ("span_mm", _of_gauge("span_mm")),
    ("free_mm", _if_any("gauge", (("from", "gauge.shortest_free_mm"), ("to", "gauge.longest_free_mm")))),
    ("sag_mm", _sags),
    ("sag_range_mm", lambda pull: _sags(pull, as_range=True)),
)  # fmt: skip
SHUTTLE: Final[Fields] = (
    ("weft_m", _metres("weft.buy_mm")),
    "shuttle.wraps", "shuttle.fills", "shuttle.wraps_per_fill", "shuttle.per_wrap_mm",
    ("holds", "loom.shuttle_holds"),  # None when the loom does not say; everything is then one fill
)  # fmt: skip
LOST_END: Final[Fields] = (("number", "end_number"), "yarn", "kind", "space", "nearer", "count")
RETHREADING: Final[Fields] = ("side", "ends")
RESCUE: Final[Fields] = (("ends", _lost_ends), ("replacements", _each("replacements", ("woven", "length_mm"))))
FLOAT: Final[Fields] = (("end", "end_number"), "first_row", "rows", "side")
PICKUP: Final[Fields] = (
    "pattern.pickup.pattern_yarn", "pickup.pattern_ends",
    ("rows", _each("pickup.rows", ("row", "shed", "lifted", "dropped", "raised"))),
    ("floats", _each("pickup.floats", FLOAT)),
    "pickup.longest_sensible", "pickup.same_shed_after", "pickup.same_both_ways",
)  # fmt: skip
IN_SECOND_YARN: Final[Fields] = (
    ("lengths", _part("lengths", LENGTHS)),
    ("width", _part("width", ("low_mm", "likely_mm", "high_mm", "basis"))),
    ("yarn", _each("amounts", YARN)),
    ("weft", _part("weft", WEFT)),
    ("placement", PLACEMENT),
)  # fmt: skip
SECOND_YARN: Final[Fields] = ("title", "why_not", ("plan", _part("plan", IN_SECOND_YARN)))  # no plan: why not
SESSION: Final[Fields] = (
    "session_minutes", "work.winding_minutes", "work.threading_minutes", "work.fixed_minutes", "work.weaving_minutes",
    "needed_minutes", "spare_minutes", "fits", "sensible_warp_mm",
)  # fmt: skip
PACE: Final[Fields] = (
    "pace.picks", "pace.picks_per_minute", "pace.picked_rows", "pace.picked_rows_per_minute", "pace.picked_is_guess",
    "pace.minutes", "work.needed_minutes", ("session", _part("session", SESSION)),
)  # fmt: skip
LEARNED: Final[Fields] = (
    ("dates", "learned_from"),
    ("figures", learned_figure_names),
    ("date_of", _dates_by_figure),
    ("measured_on", _tapes_by_figure),
)
NOTE: Final[Fields] = ("kind", "about")
PLAN: Final[Fields] = (
    "pattern.title", "pattern.code", "ends", "same_both_ways",
    ("colours", _each("colours", ("yarn", "letters", "ends", "in_holes", "in_slots"))),
    ("view", (("from", "view.side"), "view.hand")),
    ("stripes", _stripes),
    ("placement", PLACEMENT),
    ("ends_list", _ends_list),
    ("sheds", (("down", _yarns_of("down")), ("up", _yarns_of("up")))),
    ("treadles", _if_any("loom.front_raised_by", TREADLES)),  # None on one heddle, or without a tie-up
    ("next_shed", _next_sheds),
    ("next_shed_is_guess", lambda plan: not plan.loom.shuttle_stated),
    ("winding", WINDING),
    ("lengths", _part("lengths", LENGTHS)),
    ("pieces", _each("lengths.pieces", PIECE)),
    "lengths.pieces_spare_mm",
    ("width", _part("width", ("low_mm", "likely_mm", "high_mm", "basis"))),
    ("yarn", _each("amounts", YARN)),
    ("weft", _part("weft", WEFT)),
    ("second_yarns", _each("second", SECOND_YARN)),
    ("pegs", _part("pegs", PEGS)),
    ("beam", _part("beam", BEAM)),
    ("tension", _part("tension", TENSION)),
    ("shuttle", _if_any("shuttle", SHUTTLE)),
    ("rescue", _part("rescue", RESCUE)),
    ("pickup", _if_any("pickup", PICKUP)),
    ("pace", _part("pace", PACE)),
    ("learned", _if_any(learned_figure_names, LEARNED)),
)  # fmt: skip
