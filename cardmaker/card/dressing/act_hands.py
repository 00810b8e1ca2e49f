"""Hands and scissors for the pictures of dressing: outlines of our own, filled with paper.

Each is drawn in a place of its own (:class:`Spot`): where it stands, how far it is turned, how large.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import NamedTuple

from cardmaker.card.dressing.act_drawing import WOOD, capsule, end_on, shape, stroke, united
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

    def points(self, *points: Point) -> list[Point]:
        """Where they come to lie."""
        return [self.at(*point) for point in points]

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
    return [*marks, *shape(spot.placed(thumb))]


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
