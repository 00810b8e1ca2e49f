"""Step 11 drawn, from the side: the woven tape drawn on, away from the heddle; and how the warp's end is cut off.

The shed is closed: all ends lie in one line. Where weaving goes well is hatched, to the scale of its own figures.
"""

from __future__ import annotations

from math import cos, pi, sin
from typing import Final

from cardmaker.card.dressing.act_drawing import (
    CORD,
    WOOD,
    arrow,
    end_on,
    knot,
    shape,
    straight_arrow,
    stroke,
    thread,
)
from cardmaker.card.dressing.act_figures import ActFigures
from cardmaker.card.dressing.act_hands import Spot, fist, scissors
from cardmaker.card.dressing.act_loom_parts import (
    HEDDLE_EDGE,
    STEEL,
    TAPE,
    WEFT,
    flat_shed,
    heddle_on_edge,
    needle,
    tape_on_edge,
    warp_roll,
)
from cardmaker.card.dressing.curves import Curve, Point, arc, straight, through
from cardmaker.layout.ink import ACCENT, BLACK, WHITE
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Rectangle, Words

WARP: Final = 10.0  # mm: the height of the warp
ROLL: Final = (7.6, 15.0)
ROLL_RADIUS: Final = 5.0
HEDDLE: Final = 16.4  # mm: its middle
FRONT: Final = 40.6  # mm: where the tape is held in front
FRONT_ROLL: Final = 2.8
FARTHEST: Final = 36.4  # mm: where the weaving zone ends
BOX_RIGHT: Final = 44.6
BEFORE_ZONE: Final = 1 / 3  # where the zone begins, as a share of its end, where the file tells none


def advance_picture(act: ActFigures) -> tuple[Mark, ...]:
    """The fell has come near the heddle: the beam is let off, and the tape drawn on to the zone's far end."""
    near, far = zone_on_paper(act)
    return (
        *_zone(act, near, far),
        *_let_off(act),
        *heddle_on_edge(HEDDLE, 1.6, 17.2),
        *flat_shed(ROLL[0], near, WARP),
        *_drawn_on(act, near),
        *straight_arrow(near + 0.4, WARP - 4.2, far, WARP - 4.2, 0.9),
    )


def _drawn_on(act: ActFigures, fell: float) -> list[Mark]:
    """The tape, and the hand that draws it on, or the beam in front that winds it up."""
    if act.cloth_beam:
        x, y = FRONT - 0.8, WARP + FRONT_ROLL
        turn = arc(x, y, FRONT_ROLL + 1.5, -60, 60)
        return [*tape_on_edge(fell, x, WARP), *warp_roll(x, y, FRONT_ROLL), *arrow(turn, 0.8)]
    hand = fist(Spot(FRONT, WARP, 0, 0.62), (BOX_RIGHT - FRONT) / 0.62)
    return [*tape_on_edge(fell, FRONT - 1.0, WARP), *hand]


def zone_on_paper(act: ActFigures) -> tuple[float, float]:
    """Where the weaving zone begins and ends in the picture, measured from the heddle as the loom's file has it."""
    heddle = HEDDLE + HEDDLE_EDGE / 2
    share = act.zone_mm[0] / act.zone_mm[1] if act.zone_mm else BEFORE_ZONE
    return heddle + (FARTHEST - heddle) * share, FARTHEST


def _zone(act: ActFigures, near: float, far: float) -> list[Mark]:
    """Hatched below the warp, and on a line from the heddle how far away it begins and ends."""
    top, bottom, heddle = WARP + TAPE / 2 + 0.8, WARP + 5.6, HEDDLE + HEDDLE_EDGE / 2
    marks: list[Mark] = [Rectangle(Box(near, top, far - near, bottom - top), stroke=BLACK, width=0.2)]
    x = near - (bottom - top)
    while x < far:
        start, stop = max(x, near), min(x + bottom - top, far)
        marks.append(Line(start, bottom - (start - x), stop, bottom - (stop - x), 0.25, BLACK))
        x += 1.4
    if not act.zone:
        return marks
    y, high, size = bottom + 2.6, cap_height(act.type_size), act.type_size
    widths = [act.ruler.width_mm(text, Face.SANS_SEMIBOLD, size) for text in act.zone]
    beyond = min(far, BOX_RIGHT - widths[1] / 2)
    before = min(near, beyond - sum(widths) / 2 - 1.2)
    for to, middle, text in ((near, before, act.zone[0]), (far, beyond, act.zone[1])):
        marks.append(Line(to, bottom, to, y + 1.0, 0.25))
        marks.append(Words(middle, y + 1.8 + high, text, Face.SANS_SEMIBOLD, size, BLACK, "middle"))
    return [*marks, Line(heddle, y, far, y, 0.25), Line(heddle, y - 1.0, heddle, y + 1.0, 0.25)]


def _let_off(act: ActFigures) -> list[Mark]:
    """The beam turns the way that gives warp: its stick is out, or its pawl up, and a hand holds its crank."""
    x, y = ROLL
    marks = shape(_toothed(x, y, ROLL_RADIUS + 0.9), STEEL, 0.25) if act.held_by == "ratchet" else []
    marks += [*warp_roll(x, y, ROLL_RADIUS), *arrow(arc(x, y, ROLL_RADIUS + 1.7, -175, -80), 0.9)]
    if act.held_by == "stick":
        marks += _stick_out(x, y)
    elif act.held_by == "ratchet":
        marks += _pawl_up(x, y)
    crank = thread(straight((x, y), (x - 1.4, y + 10.8)), STEEL, 1.2)
    return [*marks, *crank, *end_on(x, y, 0.9, STEEL), *fist(Spot(x - 1.4, y + 14.0, 0, 0.7, -1), 8)]


def _stick_out(x: float, y: float) -> list[Mark]:
    """The stick that stood in one of the beam's holes, drawn out of it."""
    holes = [Dot(x + 2.0 * cos(turn), y + 2.0 * sin(turn), 0.5, BLACK) for turn in (-0.75 * pi, -0.25 * pi, 0.25 * pi)]
    way = stroke(straight((x + 1.6, y + 1.6), (x + 6.4, y + 8.2)), 0.35, ACCENT, (1.0, 0.7))
    stick = thread(straight((x + 6.6, y + 8.4), (x + 11.4, y + 15.0)), WOOD, 1.3)
    return [*holes, *way, *stick, *straight_arrow(x + 9.8, y + 8.2, x + 13.2, y + 12.9)]


def _pawl_up(x: float, y: float) -> list[Mark]:
    """The pawl lifted off the teeth."""
    pivot, tip = (x + 11.0, y + 16.4), (x + 6.6, y + 10.6)
    pawl = straight(
        (pivot[0] - 0.9, pivot[1] + 0.6), (tip[0] - 0.7, tip[1] + 0.5), tip, (pivot[0] + 0.9, pivot[1] - 0.6)
    )
    return [*shape(pawl, STEEL), *end_on(*pivot, 1.2, STEEL), *straight_arrow(x + 4.6, y + 6.8, x + 6.9, y + 10.0)]


def _toothed(x: float, y: float, radius: float) -> Curve:
    """The wheel of a ratchet: teeth that let the beam take up warp, and hold it when the warp pulls."""
    teeth = 12
    corners: list[Point] = []
    for tooth in range(teeth):
        for share, r in ((0.0, radius + 1.0), (0.08, radius - 0.6)):
            turn = 2 * pi * (tooth + share) / teeth
            corners.append((x + r * cos(turn), y + r * sin(turn)))
    return straight(*corners, corners[0])


def cut_off_picture(act: ActFigures) -> tuple[Mark, ...]:
    """The shed will not open any more: the warp is cut behind the heddle, and the tape rolled up with its fringe."""
    fell, cut = 27.0, 14.4
    weft = through(
        (fell + 0.5, WARP - 0.6), (fell - 0.6, WARP - 3.6), (fell + 0.6, WARP - 6.4), (fell + 3.2, WARP - 6.6)
    )
    return (
        *end_on(4.0, WARP + 2.6, 3.0),
        *thread(through((3.4, WARP - 0.4), (5.4, WARP - 0.4), (8.6, WARP)), CORD, 0.7),
        *flat_shed(10.4, fell, WARP),
        *(end_on(9.6, WARP, 1.2) if act.beam_first else knot(9.4, WARP, 1.7)),
        *heddle_on_edge(19.4, 1.6, 18.4),
        *flat_shed(19.4 + HEDDLE_EDGE / 2, fell, WARP),
        *tape_on_edge(fell, BOX_RIGHT, WARP),
        *thread(weft, WEFT, 0.6),
        *needle(weft),
        *scissors(Spot(cut, WARP + 5.4, -90, 1.15)),
        *_rolled_up(36.0, 25.2),
        *arrow(through((20.8, 20.4), (21.4, 24.4), (24.2, 27.4)), 0.9),
    )


def _rolled_up(x: float, y: float) -> list[Mark]:
    """The tape in a coil, its beginning with the fringe on the outside."""
    turns = [(1.2 + 5.6 * at / 24, 90 + (at - 24) * 40) for at in range(25)]
    coil = through(*((x + r * cos(a * pi / 180), y + r * sin(a * pi / 180)) for r, a in turns))
    foot, start = y + turns[-1][0], x - 12.0
    fringe = [
        through((start, foot + a), (start - 2.0, foot + a * 1.5), (start - 4.0, foot + a * 2.4))
        for a in (-0.8, 0.0, 0.8)
    ]
    return [
        *thread(coil, WHITE, TAPE - 0.5),
        *(mark for end in fringe for mark in stroke(end, 0.35)),
        *tape_on_edge(start, x, foot),
    ]
