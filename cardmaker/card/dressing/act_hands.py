"""Hands and scissors for the pictures of dressing: outlines of our own, filled with paper.

Each is drawn in a place of its own (:class:`Spot`): where it stands, how far it is turned, how large.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import NamedTuple

from cardmaker.card.dressing.act_drawing import WOOD, capsule, end_on, open_end, shape, stroke, united
from cardmaker.card.dressing.curves import Curve, Point, round_through, straight, through
from cardmaker.model.marks import Mark


class Spot(NamedTuple):
    """A place: points of a drawing about (0, 0) are turned (degrees, clockwise on paper), enlarged, and put here.

    ``flip`` is -1 for the drawing's mirror image about its own x axis.
    """

    x: float
    y: float
    turn: float = 0.0
    size: float = 1.0
    flip: int = 1

    def at(self, x: float, y: float) -> Point:
        """Where a point comes to lie."""
        angle, y = radians(self.turn), y * self.flip
        return (
            self.x + (x * cos(angle) - y * sin(angle)) * self.size,
            self.y + (x * sin(angle) + y * cos(angle)) * self.size,
        )

    def placed(self, curve: Curve) -> Curve:
        """A curve in this place."""
        return Curve(tuple(tuple(self.at(*point) for point in piece) for piece in curve.pieces))  # type: ignore[misc]


def fist(spot: Spot, arm: float = 12.0) -> list[Mark]:
    """A fist that holds a bundle lying along x, pulled to the right: four bent fingers, the thumb before them, the arm.

    The bundle goes in at (-4.5, 0) and comes out at (4.5, 0) behind the heel of the hand. ``arm`` is how far to the
    right of the middle the arm is drawn; it ends open, where the picture ends.
    """
    fingers = [capsule((x, -3.0 + 0.25 * abs(x)), (x, 2.6 - 0.2 * abs(x)), 2.35) for x in (-3.3, -1.1, 1.1, 3.2)]
    back = through((-4.2, -2.4), (-3.4, -4.3), (0.0, -4.9), (3.6, -4.2), (5.6, -2.8), (arm, -2.6))
    under = through((arm, 2.6), (6.4, 3.0), (4.4, 3.4), (0.0, 3.6), (-3.6, 3.0), (-4.2, -2.4))
    hand = [spot.placed(back.then(straight((arm, -2.6), (arm, 2.6))).then(under))]
    thumb = capsule((1.8, 3.5), (-2.6, 2.9), 2.3)
    marks = united(hand)
    for finger in fingers:
        marks += shape(spot.placed(finger))
    return [*marks, *shape(spot.placed(thumb)), *open_end(spot.at(arm, -3.0), spot.at(arm, 3.0))]


def grip(spot: Spot, arm: float = 12.0) -> list[Mark]:
    """A hand round an upright stick at (0, 0), which is drawn before it: four fingers, the thumb above, the arm.

    The arm comes from the right, and ends open ``arm`` mm from the stick.
    """
    fingers = [capsule((-2.0 + 0.15 * abs(y), y), (2.6, y), 2.25) for y in (-3.3, -1.1, 1.1, 3.2)]
    above = through((-1.0, -4.6), (2.4, -5.2), (5.6, -3.6), (arm, -2.8))
    under = through((arm, 2.6), (6.4, 3.2), (3.4, 4.4), (-1.0, 4.2))
    marks = united([spot.placed(above.then(straight((arm, -2.8), (arm, 2.6))).then(under))])
    for finger in fingers:
        marks += shape(spot.placed(finger))
    thumb = capsule((3.0, -4.6), (-1.4, -5.2), 2.1)
    return [*marks, *shape(spot.placed(thumb)), *open_end(spot.at(arm, -3.2), spot.at(arm, 3.0))]


def combing_fingers(spot: Spot) -> list[Curve]:
    """Four fingers that point down through the warp at y = 0, for whoever draws threads between them."""
    return [spot.placed(capsule((x, -5.0), (x - 0.6, y), 2.0)) for x, y in COMBING]


COMBING = ((-3.3, 2.6), (-1.1, 3.4), (1.1, 3.2), (3.3, 2.2))  # of each finger: how far aside its root, how deep its tip


def combing_hand(spot: Spot, reach: float = 17.4) -> list[Mark]:
    """The back of a hand that combs, its fingers pointing down; the arm goes up to the right and ends open."""
    left = through((-4.4, -5.0), (-4.3, -7.4), (-2.2, -9.4), (1.0, -10.8), (6.0, -reach))
    right = through((11.6, -reach), (6.8, -9.4), (4.7, -7.2), (4.4, -5.0))
    hand = left.then(straight((6.0, -reach), (11.6, -reach))).then(right).then(straight((4.4, -5.0), (-4.4, -5.0)))
    thumb = capsule((-2.6, -6.6), (-5.6, -3.0), 2.1)
    marks = [*shape(spot.placed(thumb)), *united([spot.placed(hand), *combing_fingers(spot)])]
    for x in (-2.2, 0.0, 2.2):
        marks += stroke(spot.placed(straight((x, -5.2), (x - 0.1, -3.4))), 0.25)
    return [*marks, *open_end(spot.at(5.4, -reach), spot.at(12.2, -reach))]


def scissors(spot: Spot) -> list[Mark]:
    """Scissors, half open, their points to the right at (6.5, 0), their rings at the left."""
    marks: list[Mark] = []
    for side in (1, -1):
        blade = straight(
            (-0.6, -0.5 * side), (0.4, -0.75 * side), (6.6, 1.1 * side), (0.2, 0.55 * side), (-0.6, -0.5 * side)
        )
        arm = through((0.2, -0.1 * side), (-1.6, -1.0 * side), (-3.0, -1.7 * side))
        marks += stroke(spot.placed(arm), 1.0 * spot.size)
        marks += shape(spot.placed(blade), "#d9d9d9", 0.22)
        ring = round_through(
            *((-4.4 + 1.6 * cos(radians(a)), (-2.3 + 1.1 * sin(radians(a))) * side) for a in range(0, 360, 60))
        )
        marks += stroke(Curve(tuple(spot.placed(ring).pieces)), 0.75 * spot.size)
    x, y = spot.at(0.1, 0)
    return [*marks, *end_on(x, y, 0.4 * spot.size, WOOD)]
