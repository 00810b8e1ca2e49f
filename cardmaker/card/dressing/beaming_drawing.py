"""Winding the warp on to its beam: pull, turn, comb, and two packing sticks beside the knot."""

from __future__ import annotations

from math import cos, radians, sin
from typing import Final

from cardmaker.card.dressing.act_drawing import (
    DARK,
    LIGHT,
    arrow,
    bar,
    end_on,
    knot,
    number,
    shape,
    straight_arrow,
    thread,
)
from cardmaker.card.dressing.act_figures import ActFigures
from cardmaker.card.dressing.act_hands import Spot, combing_hand, fist
from cardmaker.card.dressing.act_loom_parts import STEEL, heddle_on_edge
from cardmaker.card.dressing.curves import Curve, Point, arc, straight, through
from cardmaker.model.marks import Dot, Mark

BEAM: Final = (11.2, 19.6)
ROLL, CORE = 8.6, 1.4  # mm: how thick the warp on the beam is, and the beam
TURN: Final = 3.3  # mm: how much thicker a turn makes it, its packing in it
BELOW: Final = 0.86  # mm: the lower layer below the upper one
LAYER: Final = 0.55  # mm: a thread in this picture
HEDDLE: Final = 23.6
EYE: Final = 12.7  # mm: how far down the warp passes the heddle
COMB: Final = Spot(30.3, 15.2, 0, 0.78)
FIST: Final = Spot(38.2, 17.6, 8, 0.75)
ARM_ENDS: Final = 44.1  # mm
CRANK: Final = -148.0  # degrees: where its handle is
CRANK_LONG: Final = 10.4  # mm
PACKING: Final = "#c9b78f"
STICKS: Final = ((2.3, 38.0), (2.3, 142.0), (4.95, 58.0), (4.95, 122.0))  # how far from the axis, at which angle
STICK: Final = (2.4, 0.9)  # mm: how wide and how thick


def beaming_picture(act: ActFigures) -> tuple[Mark, ...]:
    """Seen from the side, the beam at the left: its top turns away from the heddle, so that the warp runs on to it.

    The fist pulls away from the beam, the crank is turned, the fingers go in between the ends and stroke them away from
    the heddle. Packing sticks lie along the beam: they are seen end-on, two beside the knot and two on the turns over
    it.
    """
    dark, light = crossed_warp() if act.beam_first else warp_to_beam()
    (x, y), angle = BEAM, radians(CRANK)
    handle = (x + CRANK_LONG * cos(angle), y + CRANK_LONG * sin(angle))
    return (
        *bar(3, 31.8, 26, 2.4, radius=0.3),
        *bar(x - 1, y, 2, 12.8, radius=0.2),
        Dot(x, y, ROLL * 0.73, LIGHT),
        *end_on(x, y, CORE),
        *_packing(act),
        *_warp_left(),
        *(() if act.beam_first else heddle_on_edge(HEDDLE, 4.4, 32.0, EYE)),
        *thread(light, LIGHT, LAYER),
        *(() if act.beam_first else thread(dark, DARK, LAYER)),
        *_start(act),
        *combing_hand(COMB, (COMB.y - 0.4) / COMB.size),
        *thread(dark, DARK, LAYER),
        *(_keepers() if act.beam_first else ()),
        *fist(FIST, (ARM_ENDS - FIST.x) / FIST.size),
        *thread(straight(BEAM, handle), STEEL, 1.0),
        *end_on(x, y, 0.9, STEEL),
        *end_on(*handle, 1.2, STEEL),
        *arrow(arc(x, y, CRANK_LONG, CRANK - 9, CRANK - 70), 0.8),
        *straight_arrow(28.4, 21.7, 35.4, 23.0, 0.8),
        *straight_arrow(37.6, 10.8, 44.2, 11.8, 0.8),
        *number(42.2, 6.6, "1", act.type_size),
        *number(3.2, 8.4, "2", act.type_size),
        *number(29.4, 25.8, "3", act.type_size),
    )


def _wound(outermost: float, start: float) -> Curve:
    """A layer on the roll from its beginning to the top, a spiral that grows by one turn's thickness in each turn."""
    steps = round((-90 - start) / 20)
    angles = [start + (-90 - start) * each / steps for each in range(steps + 1)]
    points = [_on_roll(outermost + TURN * (angle + 90) / 360, angle) for angle in angles]
    return through(*points)


def _on_roll(radius: float, angle: float) -> Point:
    return BEAM[0] + radius * cos(radians(angle)), BEAM[1] + radius * sin(radians(angle))


BEGUN: Final = -628.0  # degrees: a turn and a half before the top the warp begins, at the knot


def warp_to_beam() -> tuple[Curve, Curve]:
    """The upper and the lower layer: on the roll, over its top, and through the heddle to the fist."""
    (x, y), stop = BEAM, FIST.x - 2
    upper = through((x, y - ROLL), (HEDDLE, EYE - 0.45), (30.0, 15.0), (stop, FIST.y - 0.4))
    lower = through((x, y - ROLL + BELOW), (HEDDLE, EYE + 0.45), (30.0, 16.4), (stop, FIST.y + 0.4))
    return _wound(ROLL, BEGUN).then(upper), _wound(ROLL - BELOW, BEGUN).then(lower)


KEPT_AT: Final = ((19.0, 13.2), (23.0, 13.8))  # the keepers, end-on: the cross lies between them


def crossed_warp() -> tuple[Curve, Curve]:
    """Before the heddle is threaded: the layers cross between the keepers, the dark one over the first of them."""
    x, y = BEAM
    (x1, y1), (x2, y2) = KEPT_AT
    fist = (FIST.x - 2, FIST.y)
    upper = through((x, y - ROLL), (15.0, 11.5), (x1, y1 - 1.3), (x2, y2 + 1.3), (30.0, 16.3), fist)
    lower = through((x, y - ROLL + BELOW), (15.0, 13.0), (x1, y1 + 1.3), (x2, y2 - 1.3), (30.0, 15.2), fist)
    return _wound(ROLL, BEGUN).then(upper), _wound(ROLL - BELOW, BEGUN).then(lower)


def _keepers() -> list[Mark]:
    """The keepers in the cross."""
    return [mark for x, y in KEPT_AT for mark in end_on(x, y, 0.95)]


def _warp_left() -> list[Mark]:
    """The rest of the warp, from the fist down to the stick that it was rolled on."""
    marks: list[Mark] = [*bar(34.4, 31.2, 10.2, 1.4)]
    for aside, ink in ((0.8, LIGHT), (0.0, DARK)):
        way = through((FIST.x + 1, FIST.y), (39.8 + aside, 22.0), (38.6 + aside, 27.0), (39.0 + aside, 31.0))
        marks += thread(way, ink)
    for number_of_turn in range(4):
        x = 37.3 + number_of_turn * 1.5
        marks += thread(straight((x, 31.0), (x, 32.8)), (DARK, LIGHT)[number_of_turn % 2], 1.0)
    return marks


def _packing(act: ActFigures) -> list[Mark]:
    """The packing sticks: none on a beam without packing."""
    if not act.stick_turns and act.turns:
        return []
    return [mark for radius, angle in STICKS for mark in shape(_stick(radius, angle), PACKING, 0.25)]


def _start(act: ActFigures) -> list[Mark]:
    """The knot on the beam, or the rod in the loops, where the warp begins."""
    x, y = _on_roll(ROLL + TURN * (BEGUN + 90) / 360 - BELOW / 2, BEGUN)
    return end_on(x, y, 0.8) if act.beam_first else knot(x, y, 0.85)


def _stick(radius: float, angle: float) -> Curve:
    """A flat stick end-on, lying on the turns of the warp."""
    x, y = BEAM
    wide, thick = STICK[0] / 2, STICK[1] / 2
    out, along = (cos(radians(angle)), sin(radians(angle))), (-sin(radians(angle)), cos(radians(angle)))
    corners = [(-wide, -thick), (wide, -thick), (wide, thick), (-wide, thick), (-wide, -thick)]
    return straight(
        *((x + out[0] * (radius + b) + along[0] * a, y + out[1] * (radius + b) + along[1] * a) for a, b in corners)
    )
