"""Hands and scissors for the pictures of dressing: outlines of our own, filled with paper.

Each is drawn in a place of its own (:class:`Spot`): where it stands, how far it is turned, how large.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, hypot, radians, sin
from typing import Final, NamedTuple

from cardmaker.card.dressing.act_drawing import OUTLINED, WOOD, capsule, end_on, shape, stroke, united
from cardmaker.card.dressing.curves import Curve, Point, arc, round_through, straight, through
from cardmaker.model.marks import Mark, Path


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


SLEEVE: Final = "#c6c9cc"  # arms in it are no threads and no sticks
CUFF: Final = 0.9  # mm: how wide its hem is


def fist(spot: Spot, arm: float = 12.0, held: Sequence[Mark] = ()) -> list[Mark]:
    """A fist that holds a bundle lying along x, pulled to the right: four bent fingers, the thumb before them, the arm.

    The bundle goes in at (-4.5, 0) and comes out at (4.5, 0) before the heel of the hand: what is ``held`` is drawn
    over the palm, under the fingers and the sleeve. ``arm`` is how far to the right of the middle the sleeve is drawn;
    it ends open, where the picture ends.
    """
    fingers = [capsule((x, -3.0 + 0.25 * abs(x)), (x, 2.6 - 0.2 * abs(x)), 2.35) for x in (-3.3, -1.1, 1.1, 3.2)]
    wrist = min(6.6, arm)
    back = through((-4.2, -2.4), (-3.4, -4.3), (0.0, -4.9), (3.6, -4.2), (5.4, -2.8), (wrist, -2.5))
    under = through((wrist, 2.5), (6.0, 2.8), (4.4, 3.4), (0.0, 3.6), (-3.6, 3.0), (-4.2, -2.4))
    marks = united([spot.placed(back.then(straight((wrist, -2.5), (wrist, 2.5))).then(under))])
    marks += held
    marks += _sleeve(spot, (wrist, -2.9), (wrist, 2.9), (arm, -2.9), (arm, 2.9))
    for finger in fingers:
        marks += shape(spot.placed(finger))
    return [*marks, *shape(spot.placed(capsule((1.8, 3.5), (-2.6, 2.9), 2.3)))]


def _sleeve(spot: Spot, cuff: Point, other_cuff: Point, end: Point, other_end: Point) -> list[Mark]:
    """The sleeve from its hem at the wrist to where the picture ends: both its edges, open at the end."""
    far = hypot(end[0] - cuff[0], end[1] - cuff[1])
    if far <= 0:
        return []
    edge, other_edge = spot.placed(straight(cuff, end)), spot.placed(straight(end, other_end, other_cuff, cuff))
    along = min(1.0, CUFF / far)
    dx, dy = (end[0] - cuff[0]) * along, (end[1] - cuff[1]) * along
    hem = straight(cuff, (cuff[0] + dx, cuff[1] + dy), (other_cuff[0] + dx, other_cuff[1] + dy), other_cuff, cuff)
    return [
        Path((*edge.then(other_edge).steps(), ("close",)), fill=SLEEVE),
        *stroke(edge, OUTLINED),
        *stroke(spot.placed(straight(other_cuff, other_end)), OUTLINED),
        *shape(spot.placed(hem)),
    ]


def grip(spot: Spot, stick: Sequence[Mark], arm: float = 12.0) -> list[Mark]:
    """A hand round an upright stick at (0, 0): its palm behind the stick, four fingers round it from the left with
    their nails, the thumb across them, the sleeve to the right, which ends open ``arm`` mm from the stick."""
    above = through((-2.2, -3.6), (0.6, -5.0), (3.6, -4.9), (6.2, -3.2), (7.4, -2.6))
    under = through((7.4, 2.6), (6.0, 3.4), (3.4, 4.9), (0.4, 4.8), (-2.2, 4.0))
    palm = above.then(straight((7.4, -2.6), (7.4, 2.6))).then(under).then(straight((-2.2, 4.0), (-2.2, -3.6)))
    marks = [*united([spot.placed(palm)]), *_sleeve(spot, (7.4, -3.0), (7.4, 3.0), (arm, -3.0), (arm, 3.0)), *stick]
    for y, tip in FINGERS_ROUND:
        marks += shape(spot.placed(capsule((-2.3, y), (tip, y + 0.35), 2.2)))
        marks += stroke(spot.placed(arc(tip + 0.2, y + 0.35, 0.62, 100, 260)), 0.2)
    thumb = through(
        (6.0, -2.2), (4.4, -4.6), (1.6, -5.2), (-1.4, -4.4), (-1.9, -3.3), (-0.6, -2.7), (2.0, -3.0), (3.8, -1.6)
    )
    marks += shape(spot.placed(thumb.then(straight((3.8, -1.6), (6.0, -2.2)))))
    nail = through((-0.2, -4.1), (-1.2, -3.9), (-1.3, -3.4), (-0.3, -3.3))
    return [*marks, *stroke(spot.placed(nail), 0.2)]


FINGERS_ROUND: Final = ((-1.7, 2.4), (0.4, 2.7), (2.5, 2.4), (4.4, 1.7))  # how far down each lies, where its tip is


def combing_fingers(spot: Spot) -> list[Curve]:
    """Four fingers that point down through the warp at y = 0, for whoever draws threads between them."""
    return [spot.placed(capsule((x, -5.0), (x * 1.12 - 0.3, y), 1.9)) for x, y in COMBING]


COMBING: Final = ((-3.6, 4.6), (-1.2, 5.6), (1.2, 5.4), (3.6, 4.2))  # how far aside its root, how deep its tip


def combing_hand(spot: Spot, reach: float = 17.4) -> list[Mark]:
    """The back of a hand that combs, its fingers pointing down; the sleeve goes up to the right and ends open."""
    cuff, other_cuff = (3.4, -12.6), (8.6, -10.8)
    left = through((-4.6, -4.6), (-4.5, -7.4), (-2.2, -9.6), (1.2, -11.2), cuff)
    right = through(other_cuff, (6.2, -9.0), (4.9, -7.2), (4.6, -4.6))
    hand = left.then(straight(cuff, other_cuff)).then(right).then(straight((4.6, -4.6), (-4.6, -4.6)))
    thumb = capsule((-2.8, -7.0), (-6.4, -3.0), 2.1)
    marks = [*shape(spot.placed(thumb)), *united([spot.placed(hand), *combing_fingers(spot)])]
    for x in (-2.4, 0.0, 2.4):
        marks += stroke(spot.placed(straight((x, -5.4), (x - 0.1, -3.0))), 0.25)
    lean = (reach - 12.6) * 0.36
    return [*marks, *_sleeve(spot, (2.9, -12.8), (9.1, -10.6), (2.9 + lean, -reach), (9.1 + lean + 0.8, -reach))]


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
