"""Step 10 drawn, from the side: how the first shed is opened, and where the shuttle goes through it.

With one heddle the heddle stands still and the hand moves the warp: ends in holes bend at the hole, those in slots run
straight from beam to hand. On treadles two heddles move, one up as the other goes down. A small picture shows the same
from above: to which side the shuttle is thrown, and the tail of the weft at the other.
"""

from __future__ import annotations

from math import hypot
from typing import Final, NamedTuple

from cardmaker.card.dressing.act_drawing import (
    DARK,
    LIGHT,
    WOOD,
    end_on,
    ink_of_end,
    shape,
    straight_arrow,
    stroke,
    thread,
)
from cardmaker.card.dressing.act_figures import ACT_BOX, ActFigures
from cardmaker.card.dressing.act_hands import Spot, fist
from cardmaker.card.dressing.act_loom_parts import WEFT, heddle_on_edge, warp_roll
from cardmaker.card.dressing.curves import Curve, Point, straight, through
from cardmaker.layout.ink import BLACK, WHITE
from cardmaker.layout.transforms import mirrored
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Mark, Path, Rectangle

ROLL: Final = 4.0  # mm: radius of the warp on its beam
SHUTTLE: Final = 1.4  # mm: half as wide as the shuttle that lies in the shed
HEDDLE: Final = 17.6  # mm: the middle of the one heddle
HOLE_DOWN, HOLE_UP = 12.6, 22.0  # mm: the height of the holes, where the warp is pressed down, and where it is lifted
HAND_DOWN, HAND_UP = 29.6, 5.0  # mm: how low and how high the hand is
HAND, HAND_BEFORE_BEAM = 37.4, 33.6  # mm: where it holds the warp; where a cloth beam holds it beyond the hand
BEAM, CLOTH_BEAM = 4.6, 41.6  # mm
ARM_ENDS: Final = 44.6  # mm
ROLL_OF_TWO: Final = (BEAM, 23.0)
BACK, FRONT = 13.2, 18.4  # mm: two heddles
AT_REST: Final = 19.2  # mm: the height of the holes of two heddles that hang level
LIFT: Final = 3.2  # mm: that one rises and the other sinks
BOARD: Final = 12.0  # mm: how high each of them is
PULLEY: Final = 3.4  # mm
FELL_OF_TWO: Final = (36.0, 20.4)
INSET: Final = (19.4, 13.6)  # mm: how wide and how high the small picture is


class Shed(NamedTuple):
    """The two layers of an open shed, each from the beam to where they meet again, and the shuttle between them."""

    in_holes: Curve  # of the one heddle, or of the front one
    others: Curve
    shuttle: Point


def first_shed_picture(act: ActFigures) -> tuple[Mark, ...]:
    """How it is opened here."""
    return tuple(_by_foot(act) if act.opens_by == "treadle" else _by_hand(act))


# one heddle


def shed_by_hand(*, is_down: bool, hand: Point) -> Shed:
    """Where both layers run while the hand presses the warp down, or lifts it."""
    eye = HOLE_DOWN if is_down else HOLE_UP
    start = _leaves_roll((BEAM, eye + ROLL), hand)
    bent = straight((BEAM, eye), (HEDDLE, eye), hand)
    return Shed(bent, straight(start, hand), _between(((HEDDLE, eye), hand), (start, hand), HEDDLE + 4.2))


def _leaves_roll(middle: Point, to: Point) -> Point:
    """Where a thread that is drawn straight to a point leaves the top of the roll: the tangent."""
    dx, dy = to[0] - middle[0], to[1] - middle[1]
    far = hypot(dx, dy)
    along, across = ROLL / far, (1 - (ROLL / far) ** 2) ** 0.5
    ux, uy = dx / far, dy / far
    return middle[0] + ROLL * (ux * along + uy * across), middle[1] + ROLL * (uy * along - ux * across)


def _between(one: tuple[Point, Point], other: tuple[Point, Point], x: float) -> Point:
    """Half-way between two straight threads."""

    def height(line: tuple[Point, Point]) -> float:
        (ax, ay), (bx, by) = line
        return ay + (by - ay) * (x - ax) / (bx - ax)

    return x, (height(one) + height(other)) / 2


def _by_hand(act: ActFigures) -> list[Mark]:
    is_down = act.first_shed == "down"
    eye, hand_y = (HOLE_DOWN, HAND_DOWN) if is_down else (HOLE_UP, HAND_UP)
    hand = (HAND_BEFORE_BEAM if act.cloth_beam else HAND, hand_y)
    shed = shed_by_hand(is_down=is_down, hand=hand)
    top, bottom = (3.0, 27.6) if is_down else (7.0, 31.6)
    press_x = 34.0 if act.cloth_beam else 40.4
    press = (press_x, 17.0, press_x, 23.4) if is_down else (press_x, 17.6, press_x, 11.2)
    return [
        *warp_roll(BEAM, eye + ROLL, ROLL),
        *heddle_on_edge(HEDDLE, top, bottom, eye),
        *thread(shed.others, LIGHT),
        *thread(shed.in_holes, DARK),
        *end_on(*shed.shuttle, SHUTTLE),
        *(_onto_cloth_beam(hand, 1 if is_down else -1) if act.cloth_beam else ()),
        *fist(Spot(*hand, 0, 0.8), (ARM_ENDS - hand[0]) / 0.8),
        *straight_arrow(*press, 0.9),
        *_from_above(act, _corner(is_top=is_down)),
    ]


def _onto_cloth_beam(hand: Point, way: int) -> list[Mark]:
    """Beyond the hand the warp goes on to the beam in front."""
    x, y = CLOTH_BEAM, hand[1] - way * 10.6
    return [*thread(straight(hand, (x - 2.0, y + way * 0.8)), LIGHT, 1.2), *warp_roll(x, y, 2.7)]


# two heddles


def shed_by_foot(*, front_is_raised: bool) -> Shed:
    """Where both layers run while one heddle is up and the other down: each end bends at its hole and slides in the
    slot of the other board."""
    front, back = _eyes(front_is_raised)
    start, fell = (ROLL_OF_TWO[0], ROLL_OF_TWO[1] - ROLL), FELL_OF_TWO
    shuttle = _between((front, fell), (back, fell), front[0] + 4.4)
    return Shed(straight(start, front, fell), straight(start, back, fell), shuttle)


def _eyes(front_is_raised: bool) -> tuple[Point, Point]:
    """The holes of the front heddle and of the back one."""
    up, down = AT_REST - LIFT, AT_REST + LIFT
    return (FRONT, up if front_is_raised else down), (BACK, down if front_is_raised else up)


def _by_foot(act: ActFigures) -> list[Mark]:
    front_is_raised = act.on_top is Space.HOLE
    shed = shed_by_foot(front_is_raised=front_is_raised)
    (fell_x, fell_y), sunk = FELL_OF_TWO, BACK if front_is_raised else FRONT
    marks = [*warp_roll(*ROLL_OF_TWO, ROLL), *_treadles(sunk, BACK + FRONT - sunk)]
    for x, eye in _eyes(front_is_raised):
        marks += stroke(straight((x, eye - BOARD / 2), (x, PULLEY), ((FRONT + BACK) / 2, PULLEY)), 0.3)
        marks += heddle_on_edge(x, eye - BOARD / 2, eye + BOARD / 2, eye)
    marks += end_on((FRONT + BACK) / 2, PULLEY, 1.4)
    above, below = (shed.in_holes, shed.others) if front_is_raised else (shed.others, shed.in_holes)
    marks += thread(below, LIGHT if front_is_raised else DARK) + thread(above, DARK if front_is_raised else LIGHT)
    marks += end_on(*shed.shuttle, SHUTTLE)
    for x, eye in _eyes(front_is_raised):
        down = eye > AT_REST
        aside = x + (2.2 if x == FRONT else -2.2)
        tip, tail = (eye + 4.6, eye + 1.4) if down else (eye - 4.6, eye - 1.4)
        marks += straight_arrow(aside, tail, aside, tip, 0.7)
    if act.cloth_beam:
        hold = [
            *thread(straight((fell_x, fell_y), (CLOTH_BEAM - 0.4, fell_y)), LIGHT, 1.2),
            *warp_roll(CLOTH_BEAM - 0.4, fell_y + 2.7, 2.7),
        ]
    else:
        hold = fist(Spot(fell_x + 2.4, fell_y, 0, 0.62), (ARM_ENDS - fell_x - 2.4) / 0.62)
    return [*marks, *hold, *_which_foot(act.pressed_at_left), *_from_above(act, _corner(is_top=True))]


def _treadles(sunk: float, risen: float) -> list[Mark]:
    """The one that is pressed with a foot on it, its cord to the heddle that sinks; the other one up."""
    bottom = AT_REST + BOARD / 2
    pressed = straight((8.0, 33.9), (34.0, 32.6))
    free = straight((8.0, 29.0), (34.0, 32.0))
    cords = ((sunk, bottom + LIFT, 33.5), (risen, bottom - LIFT, 30.0))
    hung = [mark for x, top, foot in cords for mark in stroke(straight((x, top), (x, foot)), 0.3)]
    return [*hung, *thread(free, WOOD, 0.9), *thread(pressed, WOOD, 0.9), *_foot(27.0, 32.4)]


def _which_foot(is_left: bool | None) -> list[Mark]:
    """Both treadles as the feet find them, side by side; the one to press black, with a triangle that points down."""
    marks: list[Mark] = []
    for at_left, x in ((True, 36.4), (False, 40.6)):
        is_pressed = is_left is at_left
        marks.append(Rectangle(Box(x, 26.4, 3.4, 7.4), BLACK if is_pressed else WHITE, BLACK, 0.3, 0.9))
        if is_pressed:
            point = straight((x + 0.6, 29.0), (x + 2.8, 29.0), (x + 1.7, 31.2))
            marks.append(Path((*point.steps(), ("close",)), fill=WHITE))
    return marks


def _foot(x: float, y: float) -> list[Mark]:
    """A shoe from the side, its toe at the left, and the leg above it."""
    shoe = through((x - 7.4, y), (x - 8.0, y - 1.6), (x - 5.6, y - 2.8), (x - 2.6, y - 4.0), (x - 1.2, y - 6.4)).then(
        straight((x - 1.2, y - 6.4), (x + 2.6, y - 6.4), (x + 2.8, y))
    )
    return shape(shoe, WHITE)


# from above


def _corner(*, is_top: bool) -> Box:
    wide, high = INSET
    return Box(ACT_BOX.right - 0.9 - wide, 0.9 if is_top else ACT_BOX.bottom - 0.9 - high, wide, high)


def _from_above(act: ActFigures, box: Box) -> list[Mark]:
    """The ends, those on top over the weft; the shuttle on its way out, the tail at the other side."""
    marks = _thrown(act.on_top, box)
    return [Rectangle(box, WHITE, BLACK, 0.2, 1.0), *(marks if act.throw_to_left else mirrored(marks, box))]


def _thrown(on_top: Space, box: Box) -> list[Mark]:
    """To the left."""
    y, top, bottom = box.top + 7.2, box.top + 0.9, box.bottom - 0.9
    ends = [
        (straight((box.left + 9.2 + 1.75 * number, top), (box.left + 9.2 + 1.75 * number, bottom)), number + 1)
        for number in range(4)
    ]
    raised = [end for end in ends if (end[1] % 2 == 1) == (on_top is Space.HOLE)]
    left, right = box.left + 4.4, box.left + 15.8
    weft = straight((left, y), (right, y)).then(through((right, y), (right + 1.6, y + 0.8), (right + 2.2, y + 5.0)))
    marks: list[Mark] = []
    for line, number in ends:
        marks += thread(line, ink_of_end(number), round_ends=False)
    marks += thread(weft, WEFT, 0.7)
    for line, number in raised:
        marks += thread(line, ink_of_end(number), round_ends=False)
    stick = straight(
        (left - 2.4, y - 1.3),
        (left + 2.2, y - 1.3),
        (left + 3.0, y),
        (left + 2.2, y + 1.3),
        (left - 2.4, y + 1.3),
        (left - 3.2, y),
    )
    return [*marks, *shape(stick, WOOD), *straight_arrow(left + 3.4, y - 3.8, left - 3.0, y - 3.8)]
