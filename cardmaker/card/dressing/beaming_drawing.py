"""Winding the warp on to its beam: one hand pulls, the other turns, then combs; two packing sticks beside the knot."""

from __future__ import annotations

from collections.abc import Sequence
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
from cardmaker.layout.ink import BLACK, WHITE
from cardmaker.model.marks import Box, Dot, Mark, Rectangle

BEAM: Final = (11.4, 16.4)
ROLL, CORE = 8.2, 1.4  # mm: how thick the warp on the beam is, and the beam
TURN: Final = 3.1  # mm: how much thicker a turn makes it, its packing in it
BELOW: Final = 0.86  # mm: the lower layer below the upper one
LAYER: Final = 0.55  # mm: a thread in this picture
HEDDLE: Final = 23.0
EYE: Final = 9.0  # mm: how far down the warp passes the heddle
FIST: Final = Spot(37.0, 10.0, 4, 0.75)
ARM_ENDS: Final = 44.6  # mm
CRANK: Final = 74.0  # degrees: where its handle is
CRANK_LONG: Final = 10.6  # mm
TURNS: Final = (-72.0, -222.0)  # degrees: the arrow of the way that the beam turns, from its top over the far side
TURNING: Final = Spot(0, 0, 90, 0.68)  # the hand about the crank's handle
BOTTOM: Final = 34.8  # mm: where its arm ends
PACKING: Final = "#c9b78f"
STICKS: Final = ((2.3, 38.0), (2.3, 142.0), (4.75, 58.0), (4.75, 122.0))  # how far from the axis, at which angle
STICK: Final = (2.4, 0.9)  # mm: how wide and how thick
COMBED: Final = Box(25.6, 19.0, 19.0, 15.6)  # the small picture: what the turning hand does then
COMB: Final = Spot(35.6, 27.6, 0, 0.62)
COMBED_HEDDLE: Final = 28.6  # mm
COMBED_KEEPERS: Final = (27.6, 30.4)  # mm: before the heddle is threaded


def beaming_picture(act: ActFigures) -> tuple[Mark, ...]:
    """Seen from the side, the beam at the left: its top turns away from the heddle, so that the warp runs on to it.

    One fist pulls away from the beam, the other turns the crank. In the small picture its fingers go in between the
    ends and stroke them away from the heddle: it cannot do both at once. Packing sticks lie along the beam: they are
    seen end-on, two beside the knot and two on the turns over it.
    """
    dark, light = crossed_warp() if act.beam_first else warp_to_beam()
    x, y = BEAM
    return (
        *bar(3, 31.8, 21.6, 2.0, radius=0.3),
        *bar(x - 1, y, 2, 15.8, radius=0.2),
        Dot(x, y, ROLL * 0.73, LIGHT),
        *end_on(x, y, CORE),
        *_packing(act),
        *_warp_left(),
        *(() if act.beam_first else heddle_on_edge(HEDDLE, 2.2, 31.8, EYE)),
        *thread(light, LIGHT, LAYER),
        *thread(dark, DARK, LAYER),
        *_start(act),
        *(_keepers(KEPT_AT) if act.beam_first else ()),
        *fist(FIST, (ARM_ENDS - FIST.x) / FIST.size),
        *_turned(),
        *straight_arrow(33.6, 3.6, 43.6, 4.2, 0.9),
        *number(30.2, 3.6, "1", act.type_size),
        *number(2.8, 3.6, "2", act.type_size),
        *_combed(act),
    )


def _turned() -> list[Mark]:
    """The crank with a hand on its handle, and round the roll the way that it turns."""
    (x, y), handle = BEAM, crank_handle()
    reach = (BOTTOM - handle[1]) / TURNING.size
    return [
        *arrow(arc(x, y, ROLL + 1.9, *TURNS), 1.0, 2.4),
        *thread(straight(BEAM, handle), STEEL, 1.0),
        *end_on(x, y, 0.9, STEEL),
        *fist(TURNING._replace(x=handle[0], y=handle[1]), reach),
    ]


def crank_handle() -> Point:
    """Where the turning hand holds the crank."""
    return BEAM[0] + CRANK_LONG * cos(radians(CRANK)), BEAM[1] + CRANK_LONG * sin(radians(CRANK))


def combed_warp(*, is_threaded: bool) -> tuple[Curve, Curve]:
    """The upper and the lower layer in the small picture: from the heddle, or from the cross, under the fingers."""
    y, right = COMB.y, COMBED.right
    if is_threaded:
        left = COMBED.left
        return straight((left, y - 0.45), (right, y - 0.45)), straight((left, y + 0.45), (right, y + 0.45))
    first, second = COMBED_KEEPERS
    return (
        through((COMBED.left, y - 0.6), (first, y - 1.25), (second, y + 1.25), (right - 8, y - 0.4), (right, y - 0.4)),
        through((COMBED.left, y + 0.6), (first, y + 1.25), (second, y - 1.25), (right - 8, y + 0.4), (right, y + 0.4)),
    )


def _combed(act: ActFigures) -> list[Mark]:
    """The hand that has turned combs: its fingers go in between the ends, and out towards the weaver."""
    dark, light = combed_warp(is_threaded=not act.beam_first)
    before, y = COMBED, COMB.y
    keepers = _keepers(tuple((x, y) for x in COMBED_KEEPERS)) if act.beam_first else []
    board = [] if act.beam_first else heddle_on_edge(COMBED_HEDDLE, y - 7.4, y + 4.0, y)
    return [
        Rectangle(before, WHITE, BLACK, 0.2, 1.0),
        *board,
        *thread(light, LIGHT, LAYER, round_ends=False),
        *combing_hand(COMB, (COMB.y - before.top - 0.1) / COMB.size),
        *thread(dark, DARK, LAYER, round_ends=False),
        *keepers,
        *straight_arrow(COMB.x - 5.2, y + 5.2, COMB.x + 2.8, y + 5.2, 0.9),
        *number(before.right - 2.9, before.bottom - 2.9, "3", act.type_size),
    ]


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
    upper = through((x, y - ROLL), (HEDDLE, EYE - 0.45), (stop, FIST.y - 0.4))
    lower = through((x, y - ROLL + BELOW), (HEDDLE, EYE + 0.45), (stop, FIST.y + 0.4))
    return _wound(ROLL, BEGUN).then(upper), _wound(ROLL - BELOW, BEGUN).then(lower)


KEPT_AT: Final = ((20.4, 10.2), (24.6, 10.6))  # the keepers, end-on: the cross lies between them


def crossed_warp() -> tuple[Curve, Curve]:
    """Before the heddle is threaded: the layers cross between the keepers, the dark one over the first of them."""
    x, y = BEAM
    (x1, y1), (x2, y2) = KEPT_AT
    fist = (FIST.x - 2, FIST.y)
    upper = through((x, y - ROLL), (15.6, 8.3), (x1, y1 - 1.3), (x2, y2 + 1.3), (30.0, 10.5), fist)
    lower = through((x, y - ROLL + BELOW), (15.6, 9.8), (x1, y1 + 1.3), (x2, y2 - 1.3), (30.0, 9.6), fist)
    return _wound(ROLL, BEGUN).then(upper), _wound(ROLL - BELOW, BEGUN).then(lower)


def _keepers(places: Sequence[Point]) -> list[Mark]:
    """The keepers in the cross."""
    return [mark for x, y in places for mark in end_on(x, y, 0.95)]


def _warp_left() -> list[Mark]:
    """The rest of the warp, from the fist down to the stick that it was rolled on."""
    y = COMBED.top - 1.6
    marks: list[Mark] = [*bar(33.6, y - 0.7, 10.6, 1.4)]
    for aside, ink in ((0.8, LIGHT), (0.0, DARK)):
        way = through((FIST.x + 1, FIST.y), (38.9 + aside, FIST.y + 3.6), (38.4 + aside, y))
        marks += thread(way, ink)
    for number_of_turn in range(4):
        x = 36.7 + number_of_turn * 1.5
        marks += thread(straight((x, y - 0.9), (x, y + 0.9)), (DARK, LIGHT)[number_of_turn % 2], 1.0)
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
