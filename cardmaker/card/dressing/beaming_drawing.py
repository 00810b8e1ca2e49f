"""Winding the warp on to its beam: pull, turn, comb, and two packing sticks beside the knot."""

from __future__ import annotations

from math import cos, radians, sin
from typing import Final

from cardmaker.card.dressing.act_drawing import (
    DARK,
    EDGE,
    LIGHT,
    OUTLINED,
    arrow,
    bar,
    capsule,
    end_on,
    knot,
    number,
    shape,
    straight_arrow,
    thread,
)
from cardmaker.card.dressing.act_figures import ActFigures
from cardmaker.card.dressing.act_hands import Spot, combing_hand, fist
from cardmaker.card.dressing.curves import Curve, arc, straight, through
from cardmaker.layout.ink import BLACK, WHITE
from cardmaker.model.marks import Dot, Mark

BEAM: Final = (10.0, 18.0)
ROLL, CORE = 6.6, 2.4  # mm: how thick the warp on the beam is, and the beam
HEDDLE: Final = 22.0
COMB: Final = Spot(28.6, 14.6, 0, 0.8)
FIST: Final = Spot(38.4, 17.2, 8, 0.75)
PACKING: Final = "#c9b78f"
STICKS: Final = ((3.0, 40.0), (3.0, 140.0), (5.0, 42.0), (5.0, 138.0))  # how far from the axis, at which angle


def beaming_picture(act: ActFigures) -> tuple[Mark, ...]:
    """Seen from the side, the beam at the left: its top turns away from the heddle, so that the warp runs on to it.

    The fist pulls away from the beam, the fingers comb away from the heddle. Packing sticks lie along the beam: they
    are seen end-on, two beside the knot and two on the turns over it.
    """
    dark, light = crossed_warp() if act.beam_first else warp_to_beam()
    base = [*bar(3, 31.8, 24, 2.4, radius=0.3), *bar(BEAM[0] - 1, BEAM[1], 2, 14.0, radius=0.2)]
    return (
        *base,
        *_roll(),
        *_warp_left(),
        *thread(light, LIGHT),
        *_in_roll(act),
        *combing_hand(COMB),
        *thread(dark, DARK),
        *(_keepers() if act.beam_first else bar(HEDDLE - 1, 4.0, 2, 28.0, radius=0.3)),
        *fist(FIST, 8.0),
        *arrow(arc(*BEAM, ROLL + 1.6, -48, -142)),
        *straight_arrow(25.6, 22.0, 33.0, 23.2),
        *straight_arrow(37.2, 10.0, 44.4, 11.0),
        *number(41.0, 6.8, "1", act.type_size),
        *number(10.0, 6.2, "2", act.type_size),
        *number(28.2, 26.3, "3", act.type_size),
    )


def warp_to_beam() -> tuple[Curve, Curve]:
    """The upper and the lower layer: a whole turn on the roll, over its top, and through the heddle to the fist."""
    x, y = BEAM
    dark, light = ROLL - 0.5, ROLL - 1.5
    upper = through((x, y - dark), (HEDDLE, 12.8), (30.0, 15.0), (FIST.x - 2, FIST.y - 0.4))
    lower = through((x, y - light), (HEDDLE, 15.0), (30.0, 16.6), (FIST.x - 2, FIST.y + 0.4))
    return arc(x, y, dark, -440, -90).then(upper), arc(x, y, light, -440, -90).then(lower)


KEPT_AT: Final = ((19.6, 13.6), (23.4, 14.2))  # the keepers, end-on: the cross lies between them


def crossed_warp() -> tuple[Curve, Curve]:
    """Before the heddle is threaded: the layers cross between the keepers, the dark one over the first of them."""
    x, y = BEAM
    dark, light = ROLL - 0.5, ROLL - 1.5
    (x1, y1), (x2, y2) = KEPT_AT
    fist = (FIST.x - 2, FIST.y)
    upper = through((x, y - dark), (15.0, 12.2), (x1, y1 - 1.4), (x2, y2 + 1.4), (30.0, 16.4), fist)
    lower = through((x, y - light), (15.0, 13.6), (x1, y1 + 1.4), (x2, y2 - 1.4), (30.0, 15.0), fist)
    return arc(x, y, dark, -440, -90).then(upper), arc(x, y, light, -440, -90).then(lower)


def _keepers() -> list[Mark]:
    """The keepers in the cross."""
    return [mark for x, y in KEPT_AT for mark in end_on(x, y, 0.9, WHITE)]


def _warp_left() -> list[Mark]:
    """The rest of the warp, from the fist down to the stick that it was rolled on."""
    marks: list[Mark] = [*bar(34.4, 30.4, 10.2, 1.4)]
    for aside, ink in ((0.8, LIGHT), (0.0, DARK)):
        way = through((FIST.x + 1, FIST.y), (39.8 + aside, 22.0), (38.6 + aside, 27.0), (39.0 + aside, 30.0))
        marks += thread(way, ink)
    for number_of_end in range(4):
        x = 37.2 + number_of_end * 1.5
        marks += shape(capsule((x, 30.2), (x, 32.0), 1.4), (DARK, LIGHT)[number_of_end % 2], EDGE)
    return marks


def _roll() -> list[Mark]:
    x, y = BEAM
    marks: list[Mark] = [Dot(x, y, ROLL, LIGHT, BLACK, OUTLINED)]
    marks += [Dot(x, y, radius, None, BLACK, 0.18) for radius in (4.5, 3.9, 3.2)]
    return [*marks, *end_on(x, y, CORE)]


def _in_roll(act: ActFigures) -> list[Mark]:
    """The knot on the beam, or the rod in the loops, and the packing sticks: none on a beam without packing."""
    marks: list[Mark] = []
    for radius, angle in STICKS if act.stick_turns or not act.turns else ():
        marks += shape(_stick(radius, angle), PACKING, 0.22)
    x, y = BEAM[0], BEAM[1] + CORE + 0.8
    return [*marks, *(end_on(x, y, 0.8) if act.beam_first else knot(x, y, 1.1))]


def _stick(radius: float, angle: float) -> Curve:
    """A flat stick end-on, lying on the turns of the warp."""
    x, y = BEAM
    out, along = (cos(radians(angle)), sin(radians(angle))), (-sin(radians(angle)), cos(radians(angle)))
    corners = [(-1.3, -0.4), (1.3, -0.4), (1.3, 0.4), (-1.3, 0.4), (-1.3, -0.4)]
    return straight(
        *((x + out[0] * (radius + b) + along[0] * a, y + out[1] * (radius + b) + along[1] * a) for a, b in corners)
    )
