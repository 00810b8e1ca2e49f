"""What a picture of dressing is drawn from, asked of the plan; and the picture in its place on the page."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from cardmaker.card.dressing.act_advance import advance_picture, cut_off_picture
from cardmaker.card.dressing.act_figures import ACT_BOX, ActFigures, Board
from cardmaker.card.dressing.act_first_shed import first_shed_picture
from cardmaker.card.dressing.act_first_space import first_space_picture
from cardmaker.card.dressing.act_shuttles import shuttle_picture
from cardmaker.card.dressing.act_tied_back import tied_back_picture
from cardmaker.card.dressing.act_two_heddles import two_heddles_picture
from cardmaker.card.dressing.beaming_drawing import beaming_picture
from cardmaker.card.dressing.hand_pictures import cross_on_hand_picture
from cardmaker.card.dressing.knot_pictures import beam_knot_picture, fist_tie_picture, front_tie_picture
from cardmaker.card.dressing.winding_off_picture import off_the_pegs_picture
from cardmaker.card.sheet import Sheet
from cardmaker.layout.transforms import scaled, shifted
from cardmaker.model.dressing_acts import Act
from cardmaker.model.loom import Heddles, Loom, Side, Space
from cardmaker.model.marks import Box, Mark
from cardmaker.model.plan import Plan
from cardmaker.wording import heddle_words, shed_words
from cardmaker.wording.formatters import decimal, tape_length_alone

_Picture = Callable[[ActFigures], tuple[Mark, ...]]

_PICTURES: Final[dict[Act, _Picture]] = {
    Act.KEEPERS: off_the_pegs_picture,
    Act.CROSS: cross_on_hand_picture,
    Act.THREAD: first_space_picture,
    Act.TWO_HEDDLES: two_heddles_picture,
    Act.TIE_ON: beam_knot_picture,
    Act.WIND_ON: beaming_picture,
    Act.TIE_LOOM: tied_back_picture,
    Act.SHUTTLE: shuttle_picture,
    Act.FIRST_PICK: first_shed_picture,
    Act.MOVE_ON: advance_picture,
    Act.FINISH: cut_off_picture,
}


def act_marks(act: Act, sheet: Sheet, box: Box) -> tuple[Mark, ...]:
    """The picture of a step, as wide as ``box``, mirrored for a left hand."""
    scale = box.width / ACT_BOX.width
    draw = _picture_of(act, sheet.plan.loom)
    marks = draw(figures_of_plan(sheet, sheet.sizes.smallest / scale))
    return shifted(scaled(sheet.as_mirrored(marks, ACT_BOX), scale), box.left, box.top)


def _picture_of(act: Act, loom: Loom) -> _Picture:
    if act is Act.FRONT_TIE:
        return front_tie_picture if loom.cloth_beam else fist_tie_picture
    return _PICTURES[act]


def figures_of_plan(sheet: Sheet, type_size: float) -> ActFigures:
    """Everything that a picture may ask, of the plan as this weaver sees it."""
    plan, loom = sheet.plan, sheet.plan.loom
    placement, zone, beam = plan.placement, loom.weaving_zone_mm, plan.beam
    first = shed_words.sheds_in_turn(plan)[0]

    def length(millimetres: float) -> str:
        return tape_length_alone(millimetres, sheet.units)

    return ActFigures(
        ruler=sheet.ruler,
        type_size=type_size,
        ends=plan.ends,
        beam_first=loom.beam_first,
        from_behind=plan.view.from_behind,
        needle_comes_near=loom.beam_first != plan.view.from_behind,
        is_wound=sheet.is_wound,
        front=_board(plan, placement.first_space),
        back=_back_board(plan),
        count=str(heddle_words.counted_number(placement.first_space, loom)),
        mark_says=heddle_words.number_on_board(_mark(loom), loom),
        counts_from_mark=placement.first_space != loom.middle_space,
        held_by=loom.beam.held_by if loom.beam else None,
        cloth_beam=loom.cloth_beam,
        stick_turns=beam.stick_turns if beam else (),
        turns=decimal(beam.turns, 0) if beam else "",
        shuttle=loom.shuttle_kind,
        opens_by="hand" if loom.heddles is Heddles.ONE else "treadle",
        first_shed="up" if _starts_up(plan) else "down",
        on_top=Space.SLOT if _starts_up(plan) else Space.HOLE,
        pressed_at_left=_pressed_at_left(first.opens, loom),
        throw_to_left=first.hangs is Side.RIGHT,
        zone=(length(float(zone[0])), length(float(zone[1]))) if zone else None,
        zone_mm=(float(zone[0]), float(zone[1])) if zone else None,
    )


def _starts_up(plan: Plan) -> bool:
    return plan.pickup is not None and plan.pickup.rows[0].shed == "up"


def _pressed_at_left(opens: shed_words.Opens, loom: Loom) -> bool | None:
    """Feet do the same for a left hand, so what is drawn is swapped before it is mirrored. Where only the shuttle's
    sides are told by foot, nobody knows which heddle a foot raises, and the drawing must not say so."""
    if loom.shuttle_by_foot or opens not in (shed_words.Opens.LEFT_FOOT, shed_words.Opens.RIGHT_FOOT):
        return None
    return (opens is shed_words.Opens.LEFT_FOOT) != loom.sides_swapped


def _mark(loom: Loom) -> float:
    return loom.middle_space or loom.spaces / 2 + 0.5


def _board(plan: Plan, first: int) -> Board:
    loom = plan.loom
    kinds = tuple(loom.kind_of(space) for space in range(1, loom.spaces + 1))
    return Board(kinds, first, first + plan.ends - 1, _mark(loom))


def _back_board(plan: Plan) -> Board | None:
    """The second heddle: its holes stand where the front one has them, or where that has slots."""
    back, front = plan.placement.back, _board(plan, plan.placement.first_space)
    if back is None:
        return None
    kinds = front.kinds if plan.loom.back_heddle == "same" else tuple(kind.opposite for kind in front.kinds)
    return Board(kinds, back.first_space, back.last_space, front.mark)
