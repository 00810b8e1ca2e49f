"""Step 11 drawn, from the side: the woven tape drawn on, away from the heddle; and how the warp's end is cut off.

The shed is closed: all ends lie in one line. Where weaving goes well is measured out below the tape, to the scale of
its own figures.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import cos, pi, sin
from typing import Final

from cardmaker.card.dressing.act_drawing import (
    CORD,
    DARK,
    WOOD,
    arrow,
    beside,
    end_on,
    knot,
    number,
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
    warp_beam,
    warp_lap,
    warp_roll,
)
from cardmaker.card.dressing.curves import Curve, Point, arc, straight, through
from cardmaker.layout.ink import BLACK, WHITE
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Dot, Face, Line, Mark, Path, Words
from cardmaker.wording import picture_words

WARP: Final = 10.0  # mm: the height of the warp
ROLL: Final = (8.8, 14.6)
ROLL_RADIUS: Final = 5.0
HEDDLE: Final = 18.2  # mm: its middle
FRONT: Final = 40.6  # mm: where the tape is held in front
FRONT_ROLL: Final = 2.8
FARTHEST: Final = 36.2  # mm: where the weaving zone ends
BOX_RIGHT: Final = 44.6
MEASURE: Final = WARP + 3.9  # mm: how far down the zone is measured out, below the tape
TICK: Final = 1.2  # mm: to either side of that
POINT: Final = (1.5, 0.55)  # mm: how long and how wide the measure's points are
NAMES: Final = 3.6  # mm: how far down the parts are named
BEAM_NAMED, HEDDLE_NAMED = 0.9, HEDDLE - HEDDLE_EDGE  # mm: where their names begin
NAMES_APART: Final = 0.3  # mm: from one to the next, and to a number of order
HELD_AT, TAKEN_OUT_AT, DRAWN_ON_AT = (2.7, 24.2), (25.4, 25.2), (31.6, 2.9)  # the numbers of order
BEFORE_ZONE: Final = 1 / 3  # where the zone begins, as a share of its end, where the file tells none


def advance_picture(act: ActFigures) -> tuple[Mark, ...]:
    """The fell has come near the heddle: the beam is let off, and the tape drawn on to the zone's far end."""
    near, far = zone_on_paper(act)
    return (
        *heddle_on_edge(HEDDLE, NAMES + 1.2, 16.2, WARP),
        *_beam(act, near),
        *_let_off(act),
        *_drawn_on(act, near),
        *_zone(act, near, far),
        *straight_arrow(near + 0.4, WARP - 3.0, far - 2.8, WARP - 3.0, 0.9),
        *_in_order(act),
        *_named(act),
    )


def _in_order(act: ActFigures) -> list[Mark]:
    """First the crank is held, then what holds the beam is taken out, then the tape is drawn on."""
    places = [HELD_AT, *([TAKEN_OUT_AT] if act.held_by else []), DRAWN_ON_AT]
    return [mark for at, (x, y) in enumerate(places, start=1) for mark in number(x, y, str(at), act.type_size)]


def _named(act: ActFigures) -> list[Mark]:
    """Beam and heddle over their places, and the beam in front, as the words beside the pictures call them; none of
    them in type that is too large for the picture, as in large print, where they would stand over each other."""
    size = act.type_size
    disc = cap_height(size)  # a little more than the radius of a number of order
    names = [(BEAM_NAMED, _wide(act, picture_words.BEAM)), (HEDDLE_NAMED, _wide(act, picture_words.HEDDLE))]
    if cap_height(size) > NAMES - 0.3 or not _are_apart([*names, (DRAWN_ON_AT[0] - disc, 2 * disc)]):
        return []
    marks: list[Mark] = [
        Words(BEAM_NAMED, NAMES, picture_words.BEAM, Face.SANS, size),
        Words(HEDDLE_NAMED, NAMES, picture_words.HEDDLE, Face.SANS, size),
    ]
    lines, right = picture_words.CLOTH_BEAM.split(), BOX_RIGHT - 0.5
    widest = max(_wide(act, line) for line in lines)
    if act.cloth_beam and _are_apart([(DRAWN_ON_AT[0] - disc, 2 * disc), (right - widest, widest)]):
        below = (NAMES + at * (cap_height(size) + 1.1) for at in range(len(lines)))
        marks += [Words(right, y, text, Face.SANS, size, align="right") for y, text in zip(below, lines, strict=True)]
    return marks


def _wide(act: ActFigures, text: str) -> float:
    return act.ruler.width_mm(text, Face.SANS, act.type_size)


def _are_apart(row: Sequence[tuple[float, float]]) -> bool:
    """Whether what begins at these places and is so wide stands apart from the next."""
    return all(left - start - wide >= NAMES_APART for (start, wide), (left, _) in pairwise(row))


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
    """A measure below the tape: a tick where the zone begins and where it ends, a double arrow between them, and how
    far from the heddle both are, which is a thin line from its face."""
    heddle, y = HEDDLE + HEDDLE_EDGE / 2, MEASURE
    marks: list[Mark] = [Line(x, y - TICK, x, y + TICK, 0.35) for x in (near, far)]
    marks += measure(near, far, y)
    if not act.zone:
        return marks
    high, size = cap_height(act.type_size), act.type_size
    widths = [act.ruler.width_mm(text, Face.SANS_SEMIBOLD, size) for text in act.zone]
    beyond = min(far, BOX_RIGHT - widths[1] / 2)
    before = min(near, beyond - sum(widths) / 2 - 1.2)
    for middle, text in ((before, act.zone[0]), (beyond, act.zone[1])):
        marks.append(Words(middle, y + TICK + 1.5 + high, text, Face.SANS_SEMIBOLD, size, BLACK, "middle"))
    return [*marks, Line(heddle, y, near, y, 0.2), Dot(heddle, y, 0.5, BLACK)]


def measure(left: float, right: float, y: float) -> list[Mark]:
    """A line with a point at either end: how far it is from one to the other, nothing that moves."""
    long, half = POINT
    marks: list[Mark] = [Line(left + long / 2, y, right - long / 2, y, 0.3)]
    for tip, way in ((left, 1), (right, -1)):
        corners = straight((tip, y), (tip + way * long, y - half), (tip + way * long, y + half))
        marks.append(Path((*corners.steps(), ("close",)), fill=BLACK))
    return marks


def _beam(act: ActFigures, fell: float) -> list[Mark]:
    """The beam with its wheel, and both layers from its top to the fell, the lower one from under the upper one."""
    (lower, _), (_, upper) = (flat_shed(ROLL[0] + later, fell, WARP) for later in (2.0, 0.0))
    lap = warp_lap(*ROLL, ROLL_RADIUS)
    wheel = shape(toothed_wheel(), STEEL, 0.25) if act.held_by == "ratchet" else []
    return [*wheel, *warp_beam(*ROLL, ROLL_RADIUS), *lower, *lap, *upper, lap[-1]]


def _let_off(act: ActFigures) -> list[Mark]:
    """The beam turns the way that gives warp: its stick is out, or its pawl is lifted, and a hand holds its crank."""
    x, y = ROLL
    marks = arrow(arc(x, y, ROLL_RADIUS + 3.0, -176, -84), 0.9)
    if act.held_by == "stick":
        marks += _stick_out(x, y)
    elif act.held_by == "ratchet":
        marks += _pawl()
    crank = thread(straight((x, y), (x - 1.4, y + 12.4)), STEEL, 1.2)
    return [*marks, *crank, *end_on(x, y, 0.9, STEEL), *fist(Spot(x - 1.4, y + 15.6, 0, 0.7, -1), 9.5)]


def _stick_out(x: float, y: float) -> list[Mark]:
    """The stick that stood in one of the beam's holes, drawn out of it."""
    holes = [Dot(x + 1.7 * cos(turn), y + 1.7 * sin(turn), 0.5, BLACK) for turn in (-0.75 * pi, -0.25 * pi, 0.25 * pi)]
    way = stroke(straight((x + 1.4, y + 1.4), (x + 6.4, y + 8.2)), 0.3, BLACK, (1.0, 0.7))
    stick = thread(straight((x + 6.6, y + 8.4), (x + 11.4, y + 15.0)), WOOD, 1.3)
    return [*holes, *way, *stick, *straight_arrow(x + 9.8, y + 8.2, x + 13.2, y + 12.9)]


TEETH: Final = 12
OUTER, INNER = ROLL_RADIUS + 2.2, ROLL_RADIUS + 0.9  # mm: where the teeth end, and where they begin
STEEP: Final = 0.03  # of a tooth: how much the steep face leans
PAWL_TOOTH: Final = 1  # at the end of that tooth, clockwise from the right, stands the pawl


def toothed_wheel() -> Curve:
    """The wheel of a ratchet. Clockwise each tooth rises slowly and ends in a steep face: the warp, which pulls the top
    over to the heddle, presses that face against the pawl; the other way about the teeth slip past it."""
    corners: list[Point] = []
    for tooth in range(TEETH):
        corners += [_on_wheel(tooth + STEEP, INNER), _on_wheel(tooth + 1, OUTER)]
    return straight(*corners, corners[0])


def _on_wheel(tooth: float, radius: float) -> Point:
    turn = 2 * pi * tooth / TEETH
    return ROLL[0] + radius * cos(turn), ROLL[1] + radius * sin(turn)


def pawl_tip() -> Point:
    """Where the pawl stands in the wheel: at the steep face of a tooth, on the side to which the warp turns it."""
    return _on_wheel(PAWL_TOOTH + 0.12, INNER + 0.5)


def _pawl() -> list[Mark]:
    """The pawl in its tooth, on its pivot, and the arrow that lifts it out."""
    tip, pivot = pawl_tip(), (ROLL[0] + 7.4, ROLL[1] + 15.6)
    pawl = straight(
        tip, (tip[0] + 1.5, tip[1] + 0.3), (pivot[0] + 1.0, pivot[1] - 0.6), (pivot[0] - 1.0, pivot[1] + 0.6), tip
    )
    lifted = through((tip[0] + 2.4, tip[1] + 3.4), (tip[0] + 4.8, tip[1] + 4.0), (tip[0] + 7.0, tip[1] + 5.6))
    return [*shape(pawl, STEEL), *end_on(*pivot, 1.2, STEEL), *arrow(lifted, 0.9)]


def cut_off_picture(act: ActFigures) -> tuple[Mark, ...]:
    """The shed will not open any more: the warp is cut behind the heddle, and the tape rolled up with its fringe."""
    fell, cut = 27.0, 14.4
    weft = through((fell + 0.5, WARP), (fell + 0.1, 5.6), (fell + 1.4, 2.6), (fell + 3.6, 1.6), (fell + 5.2, 3.6))
    return (
        *end_on(4.0, WARP + 2.6, 3.0),
        *thread(
            arc(4.0, WARP + 2.6, 3.35, -90, 270).then(through((4.0, WARP - 0.75), (6.2, WARP - 0.6), (8.6, WARP))),
            CORD,
            0.6,
        ),
        *heddle_on_edge(19.6, 2.0, 18.0, WARP),
        *(mark for layer in flat_shed(10.4, fell, WARP) for mark in layer),
        *(_rod_in_loops(9.4) if act.beam_first else knot(9.0, WARP, 1.7, is_level=True)),
        *thread(weft, WEFT, 0.6),
        *needle(weft),
        *tape_on_edge(fell, BOX_RIGHT, WARP),
        *scissors(Spot(cut, WARP + 5.4, -90, 1.15)),
        *_rolled_up(36.0, 25.2),
        *arrow(through((26.4, WARP + 3.2), (26.8, WARP + 7.4), (28.8, WARP + 11.4)), 0.9),
        *number(38.6, 4.4, "1", act.type_size),
        *number(7.2, 19.2, "2", act.type_size),
        *number(23.4, 21.4, "3", act.type_size),
    )


def _rod_in_loops(x: float) -> list[Mark]:
    """The rod that the warp's loops lie round, from its end."""
    return [*thread(arc(x, WARP, 1.35, 30, 330), DARK, 0.5), *end_on(x, WARP, 1.1)]


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
        *_picks_across(coil),
        *(mark for end in fringe for mark in stroke(end, 0.35)),
        *tape_on_edge(start, x, foot),
    ]


def _picks_across(coil: Curve) -> list[Mark]:
    """A stroke across the coiled tape for every pick or so, as the tape has them that is not coiled."""
    inner, outer = (beside(coil, way * (TAPE - 0.5) / 2) for way in (-1, 1))
    places = [4 + each * 0.42 for each in range(int((len(coil.pieces) - 4) / 0.42) + 1)]
    return [Line(*inner.at(place * 4), *outer.at(place * 4), 0.25) for place in places]
