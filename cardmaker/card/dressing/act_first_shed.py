"""Step 10 drawn, from the side: how the first shed is opened, and where the shuttle goes through it.

With one heddle the heddle stands still and the hand moves the warp: ends in holes bend at the hole, those in slots run
straight from beam to hand. On treadles two heddles move, one up as the other goes down. A small picture shows the same
from above: to which side the shuttle is thrown, and the tail of the weft at the other.
"""

from __future__ import annotations

from math import atan, atan2, degrees, hypot
from typing import Final, NamedTuple

from cardmaker.card.dressing.act_drawing import (
    DARK,
    EDGE,
    LIGHT,
    OUTLINED,
    WOOD,
    bar,
    capsule,
    end_on,
    ink_of_end,
    shape,
    straight_arrow,
    stroke,
    thread,
)
from cardmaker.card.dressing.act_figures import ACT_BOX, ActFigures
from cardmaker.card.dressing.act_hands import SLEEVE, Spot, fist
from cardmaker.card.dressing.act_loom_parts import STEEL, WEFT, heddle_on_edge, warp_beam, warp_lap, warp_roll
from cardmaker.card.dressing.act_shuttles import shuttle_from_above
from cardmaker.card.dressing.curves import Curve, Point, round_through, straight, through
from cardmaker.layout.ink import ACCENT, BLACK, WHITE
from cardmaker.layout.transforms import mirrored
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Colour, Mark, Path, Rectangle

ROLL: Final = 4.0  # mm: radius of the warp on its beam
SHUTTLE: Final = (4.8, 0.85)  # mm: how wide and how thick the shuttle is that lies in the shed
WOUND: Final = (3.0, 1.9)  # mm: the same of the weft on it
HEDDLE: Final = 17.6  # mm: the middle of the one heddle
HOLE: Final = 17.8  # mm: the height of its holes: heddle and beam stand still, whichever way the hand goes
HEDDLE_TOP, HEDDLE_FOOT = 4.4, 31.2  # mm
HAND_DOWN, HAND_UP = 31.1, 4.4  # mm: how low and how high the hand is
HAND, HAND_BEFORE_BEAM = 37.4, 33.6  # mm: where it holds the warp; where a cloth beam holds it beyond the hand
BEAM, CLOTH_BEAM = 4.8, 41.6  # mm
ARM_ENDS: Final = 44.6  # mm
ROLL_OF_TWO: Final = (BEAM, 20.0)
BACK, FRONT = 13.0, 18.6  # mm: two heddles
AT_REST: Final = 16.0  # mm: the height of the holes of two heddles that hang level
LIFT: Final = 2.9  # mm: that one rises and the other sinks
BOARD: Final = 17.2  # mm: how high each of them is: both layers pass within it
PULLEY: Final = 1.9  # mm
FELL_OF_TWO: Final = (35.4, 18.6)
HINGE: Final = (3.4, 30.6)  # mm: of both treadles
SMALLER: Final = 0.82  # the shuttle in the shed of two heddles
TREADLE: Final = 0.9  # mm: how thick a treadle is, without its outline
SHOE: Final = 28.4  # mm: where the foot is on it
PRESSED, FREE = (33.0, 33.6), (34.2, 26.6)  # mm: their ends, where the foot is and where it is not
INSET: Final = (19.4, 13.6)  # mm: how wide and how high the small picture is


class Shed(NamedTuple):
    """The two layers of an open shed, each from the beam to where they meet again, and the shuttle between them."""

    in_holes: Curve  # of the one heddle, or of the front one
    others: Curve
    shuttle: Point


def first_shed_picture(act: ActFigures) -> tuple[Mark, ...]:
    """How it is opened here."""
    return tuple(_by_foot(act) if act.opens_by == "treadle" else _by_hand(act))


def _inks(act: ActFigures) -> tuple[Colour, Colour]:
    """Of the ends in holes, of the front heddle where there are two, and of the others: end 1 is dark as in every
    picture, and so is every second one after it."""
    return (DARK, LIGHT) if act.front.first_kind is Space.HOLE else (LIGHT, DARK)


# one heddle


def shed_by_hand(hand: Point) -> Shed:
    """Where both layers run while the hand presses the warp down, or lifts it."""
    start = _leaves_roll((BEAM, HOLE + ROLL), hand)
    bent = straight((BEAM, HOLE), (HEDDLE, HOLE), hand)
    return Shed(bent, straight(start, hand), _between(((HEDDLE, HOLE), hand), (start, hand), HEDDLE + 4.2))


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


def _shuttle(shed: Shed, size: float = 1.0) -> list[Mark]:
    """The end of the shuttle: flat, with the weft wound on it, half-way between both layers."""
    (wide, thick), (x, y) = SHUTTLE, shed.shuttle
    ahead = [layer.pieces[-1][3][1] - layer.at(layer.where_x(x))[1] for layer in (shed.in_holes, shed.others)]
    spot = Spot(x, y, degrees(atan2(sum(ahead) / 2, shed.in_holes.pieces[-1][3][0] - x)), size)

    def flat(width: float, thickness: float) -> Curve:
        half = (width - thickness) / 2
        return spot.placed(capsule((-half, 0), (half, 0), thickness))

    return [*shape(flat(*WOUND), WEFT, 0.2), *shape(flat(wide, thick), WOOD, 0.2)]


def _by_hand(act: ActFigures) -> list[Mark]:
    is_down = act.first_shed == "down"
    hand = (HAND_BEFORE_BEAM if act.cloth_beam else HAND, HAND_DOWN if is_down else HAND_UP)
    shed = shed_by_hand(hand)
    in_holes, others = _inks(act)
    press_x = 34.0 if act.cloth_beam else 40.4
    press = (press_x, 18.4, press_x, 24.8) if is_down else (press_x, 17.2, press_x, 10.8)
    return [
        *warp_beam(BEAM, HOLE + ROLL, ROLL),
        *heddle_on_edge(HEDDLE, HEDDLE_TOP, HEDDLE_FOOT, HOLE),
        *thread(shed.others, others),
        *warp_lap(BEAM, HOLE + ROLL, ROLL),
        *thread(shed.in_holes, in_holes),
        warp_lap(BEAM, HOLE + ROLL, ROLL)[-1],
        *_shuttle(shed),
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
    shuttle = _between((front, fell), (back, fell), front[0] + 3.8)
    return Shed(straight(start, front, fell), straight(start, back, fell), shuttle)


def _eyes(front_is_raised: bool) -> tuple[Point, Point]:
    """The holes of the front heddle and of the back one."""
    up, down = AT_REST - LIFT, AT_REST + LIFT
    return (FRONT, up if front_is_raised else down), (BACK, down if front_is_raised else up)


def _by_foot(act: ActFigures) -> list[Mark]:
    front_is_raised = act.on_top is Space.HOLE
    shed = shed_by_foot(front_is_raised=front_is_raised)
    (fell_x, fell_y), sunk = FELL_OF_TWO, BACK if front_is_raised else FRONT
    marks = [*warp_beam(*ROLL_OF_TWO, ROLL), *_treadles(sunk, BACK + FRONT - sunk)]
    middle = (FRONT + BACK) / 2
    for x, eye in _eyes(front_is_raised):
        rim = middle + (1.4 if x > middle else -1.4)
        marks += stroke(straight((x, eye - BOARD / 2), (x, PULLEY + 1.2), (rim, PULLEY)), 0.3)
        marks += heddle_on_edge(x, eye - BOARD / 2, eye + BOARD / 2, eye)
    marks += end_on(middle, PULLEY, 1.4)
    above, below = (shed.in_holes, shed.others) if front_is_raised else (shed.others, shed.in_holes)
    in_holes, others = _inks(act)
    above_ink, below_ink = (in_holes, others) if front_is_raised else (others, in_holes)
    marks += thread(below, below_ink) + thread(above, above_ink)
    marks += [*warp_lap(*ROLL_OF_TWO, ROLL), *_shuttle(shed, SMALLER)]
    for x, eye in _eyes(front_is_raised):
        down = eye > AT_REST
        aside = x + (2.5 if x == FRONT else -2.5)
        tip, tail = (eye + 6.4, eye + 2.6) if down else (eye - 5.8, eye - 2.0)
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
    """Both on one hinge: the one that is pressed with a foot on it, and its cord to the heddle that sinks; the other
    one up."""
    bottom = AT_REST + BOARD / 2
    marks = [*bar(HINGE[0] - 1.6, HINGE[1], 3.2, 4.0)]
    for x, top, end, is_pressed in ((risen, bottom - LIFT, FREE, False), (sunk, bottom + LIFT, PRESSED, True)):
        foot = HINGE[1] + (end[1] - HINGE[1]) * (x - HINGE[0]) / (end[0] - HINGE[0])
        marks += stroke(straight((x, top), (x, foot)), 0.3)
        marks += thread(straight(HINGE, end), WOOD, TREADLE)
        if is_pressed:
            marks += _foot(_on_treadle(end))
    return [*marks, *end_on(*HINGE, 0.8, STEEL), *straight_arrow(22.6, 26.6, 22.6, 31.2, 0.7)]


def _on_treadle(end: Point) -> Spot:
    """Where the sole stands on a treadle, and how the treadle slopes."""
    slope = (end[1] - HINGE[1]) / (end[0] - HINGE[0])
    return Spot(SHOE, HINGE[1] + (SHOE - HINGE[0]) * slope - TREADLE / 2 - EDGE, degrees(atan(slope)))


def _which_foot(is_left: bool | None) -> list[Mark]:
    """The two treadles from the seat, hinged on one bar: the one to press has the print of a sole on it. Neither has
    where only the weaver knows which one it is."""
    top, wide, high, left = 25.6, 3.2, 8.5, 36.6
    marks: list[Mark] = list(thread(straight((left - 0.4, top - 0.2), (left + 2 * wide + 1.2, top - 0.2)), WOOD, 0.8))
    for number, x in enumerate((left, left + wide + 0.8)):
        marks.append(Rectangle(Box(x, top + 0.6, wide, high), WOOD, BLACK, 0.3, 0.6))
        if is_left is not None and (number == 0) == is_left:
            marks += _sole(x + wide / 2, top + 5.2, 1 if is_left else -1)
    return marks


def _sole(x: float, y: float, way: int) -> list[Mark]:
    """The print of a shoe, its toe up: of a left one, or of a right one where ``way`` is -1."""
    ball = [(-1.0, -1.5), (-0.3, -3.2), (0.6, -3.2), (1.0, -1.8), (0.7, -0.2), (0.5, 1.0), (-0.4, 1.0), (-0.8, -0.1)]
    heel = [(-0.5, 1.7), (0.5, 1.7), (0.7, 2.6), (0.1, 3.4), (-0.6, 2.7)]
    prints = [round_through(*((x + way * aside, y + down) for aside, down in each)) for each in (ball, heel)]
    return [Path((*each.steps(), ("close",)), fill=ACCENT) for each in prints]


def _foot(spot: Spot) -> list[Mark]:
    """A shoe from the side, its toe at the left, and the leg above it."""
    shoe = through((-5.0, 0), (-5.4, -1.3), (-3.4, -2.2), (-0.6, -3.2), (0.6, -5.0)).then(
        straight((0.6, -5.0), (4.0, -5.0), (4.2, 0), (-5.0, 0))
    )
    leg = straight((0.9, -5.0), (1.6, -9.0), (4.4, -9.0), (3.8, -5.0))
    sides = [stroke(spot.placed(straight(*(leg.at(at) for at in ends))), OUTLINED) for ends in ((0, 1), (2, 3))]
    cloth = Path((*spot.placed(leg).steps(), ("close",)), fill=SLEEVE)
    return [cloth, *(mark for side in sides for mark in side), *shape(spot.placed(shoe))]


# from above


def _corner(*, is_top: bool) -> Box:
    wide, high = INSET
    return Box(ACT_BOX.right - 0.9 - wide, 0.9 if is_top else ACT_BOX.bottom - 0.9 - high, wide, high)


def _from_above(act: ActFigures, box: Box) -> list[Mark]:
    """The ends, those on top over the weft; the shuttle on its way out, the tail at the other side."""
    marks = _thrown(act, box)
    return [Rectangle(box, WHITE, BLACK, 0.2, 1.0), *(marks if act.throw_to_left else mirrored(marks, box))]


def _thrown(act: ActFigures, box: Box) -> list[Mark]:
    """To the left. What is thrown to the right is this mirrored, but the ends keep their order: it is one tape."""
    order = (1, 2, 3, 4) if act.throw_to_left else (4, 3, 2, 1)
    y, top, bottom = box.top + 7.2, box.top + 0.9, box.bottom - 0.9
    ends = [
        (straight((box.left + 9.2 + 1.75 * place, top), (box.left + 9.2 + 1.75 * place, bottom)), number)
        for place, number in enumerate(order)
    ]
    raised = [end for end in ends if (end[1] % 2 == 1) == (act.on_top is act.front.first_kind)]
    left, right = box.left + 4.4, box.left + 15.8
    weft = straight((left, y), (right, y)).then(through((right, y), (right + 1.6, y + 0.8), (right + 2.2, y + 5.0)))
    marks: list[Mark] = []
    for line, number in ends:
        marks += thread(line, ink_of_end(number), round_ends=False)
    marks += thread(weft, WEFT, 0.7)
    for line, number in raised:
        marks += thread(line, ink_of_end(number), round_ends=False)
    return [*marks, *shuttle_from_above(act, left, y), *straight_arrow(left + 3.4, y - 3.8, left - 3.0, y - 3.8)]
