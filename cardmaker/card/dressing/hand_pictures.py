"""The cross on the hand: which finger goes under which ends, and which end slides off first."""

from __future__ import annotations

from typing import Final

from cardmaker.card.dressing.act_drawing import (
    OUTLINED,
    again,
    arrow,
    bar,
    capsule,
    cut_thread,
    end_on,
    finger_tip,
    ink_of_end,
    label,
    open_end,
    stroke,
    thread,
    united,
)
from cardmaker.card.dressing.act_figures import ActFigures
from cardmaker.card.dressing.curves import Curve, Point, arc, straight, through
from cardmaker.layout.ink import BLACK, SOFT, WHITE
from cardmaker.model.marks import Face, Mark, Path, Words
from cardmaker.wording.picture_words import FINGERTIPS, ON_FINGERTIPS

Finger = tuple[Point, Point, float]  # where its root is, where its tip is, how thick it is

FIRST: Final[Finger] = ((10.5, 13.4), (28.2, 12.0), 4.7)
MIDDLE: Final[Finger] = ((10.5, 18.5), (30.4, 18.2), 4.8)
RING: Final[Finger] = ((10.5, 23.4), (28.9, 24.3), 4.6)
LITTLE: Final[Finger] = ((9.5, 27.9), (25.6, 29.7), 4.1)
FREE: Final = 14.4  # mm from the left: from here on the fingers stand clear of the palm, and ends can go behind them
THUMB: Final = ((7.0, 15.5), (6.0, 11.5), (7.2, 7.0), (9.3, 4.0), (12.2, 4.2), (12.9, 7.0), (11.4, 11.4), (13.2, 16.0))
ENDS: Final = (26.0, 23.6, 21.2, 18.8, 16.4)  # where ends 1, 2, 3 … lie on the first finger: end 1 by the tips
TIPS: Final = (1.2, 2.4, 1.4, 2.6, 1.8)  # how high they reach
LABEL_FOOT: Final = 33.6  # where the label beside the fingertips begins
ROLL: Final = (11.4, 32.4, 17.0, 2.1)  # the stick that the warp is rolled on: left, top, length, thickness
TURNS: Final = (15.9, 17.1, 18.3, 19.5, 20.7, 21.9, 23.1)  # where the ends lie round it
ARM: Final = ((0.6, 17.6), (0.6, 33.4))  # where the picture cuts it


def cross_on_hand_picture(act: ActFigures) -> tuple[Mark, ...]:
    """The palm towards you, the fingers to the right: end 1 lies at their tips and slides off first.

    Back to front: the hand, the ends, the first finger over the even ones, the odd ones over it, the little finger over
    these, the even ones over it. The X is seen only along the fingers: beside the hand, end-on.
    """
    numbers = range(1, len(ENDS) + 1)
    odd, even = numbers[::2], numbers[1::2]
    ends = [mark for number in (*even, *odd) for mark in cut_thread(end_on_hand(number), ink_of_end(number))]
    return (
        *_hand(),
        *ends,
        *_finger_over(FIRST, odd),
        *_finger_over(LITTLE, even),
        *_rolled_below(),
        *_sliding_off(act),
        *_fingertips(act),
    )


def _rolled_below() -> list[Mark]:
    """Below the little finger the rest of the warp, rolled on its stick: that end is not cut."""
    left, top, long, thick = ROLL
    marks = bar(left, top, long, thick)
    for number, x in enumerate(TURNS, start=1):
        marks += thread(straight((x, top + 0.25), (x, top + thick - 0.25)), ink_of_end(number))
    return marks


def end_on_hand(end_number: int) -> Curve:
    """One end from its cut tip over the four fingers, drawing together on the way to the stick."""
    x = ENDS[end_number - 1]
    low = 20.0 + (x - 21.2) * 0.8
    return through(
        (x + 0.5, TIPS[end_number - 1]),
        (x, 12.0),
        ((x + low) / 2 - 0.1, 20.0),
        (low + 0.2, 28.5),
        (19.6 + (low - 20.0) * 0.66, 33.0),
        (19.5 + (low - 20.0) * 0.58, 34.85),
    )


def _hand() -> list[Mark]:
    thumb = through(*THUMB)
    top, bottom = ARM
    above = through(top, (3.2, 16.5), (5.6, 14.2), (7.0, 11.0))
    below = through((14.0, 29.6), (9.6, 30.6), (5.2, 31.0), bottom)
    palm = above.then(straight((7.0, 11.0), (14.0, 13.4), (14.0, 29.6))).then(below)
    fingers = [capsule(*finger) for finger in (FIRST, MIDDLE, RING, LITTLE)]
    crease = through((7.8, 16.6), (10.4, 18.6), (10.6, 22.6), (8.4, 26.8))
    return [
        *united([palm, thumb, *fingers]),
        *open_end((top[0], top[1] - 0.4), (bottom[0], bottom[1] + 0.4)),
        *stroke(crease, 0.25, SOFT),
    ]


def _finger_over(finger: Finger, over: range) -> list[Mark]:
    """A finger drawn again over all ends, and over it the ends that lie on top of it."""
    start, stop, thick = finger
    share = (FREE - start[0]) / (stop[0] - start[0])
    tip = finger_tip(start, stop, thick, share).steps()
    marks: list[Mark] = [
        Path(tip, stroke=BLACK, width=2 * OUTLINED),
        Path(tip, fill=WHITE),
    ]
    for number in over:
        curve = end_on_hand(number)
        middle = start[1] + (stop[1] - start[1]) * 0.5
        reach = thick / 2 + 1.0
        marks += again(curve, curve.where(middle - reach), curve.where(middle + reach), ink_of_end(number))
    return marks


def _sliding_off(act: ActFigures) -> list[Mark]:
    way = arc(30.4, 6.6, 3.9, 220, 370)
    return [*arrow(way), label(30.5, 8.2, "1", act.type_size * 1.25, bold=True)]


def _fingertips(act: ActFigures) -> list[Mark]:
    """The same from the tips of the fingers: the X between the first and the little one, on the side of the palm."""
    x = 41.3
    marks: list[Mark] = []
    for y, aside, radius in ((12.0, 0.0, 2.0), (17.5, 1.7, 1.7), (22.7, 1.6, 1.65), (28.2, 0.0, 1.8)):
        nail = arc(x + aside - 0.1, y, radius * 0.62, -48, 48)
        marks += [*end_on(x + aside, y, radius, WHITE), *stroke(nail, 0.2, SOFT)]
    for side, number in ((1, 2), (-1, 1)):
        way = through(
            (x + side * 0.35, 3.5), (x + side * 2.5, 12.0), (x, 20.2), (x - side * 2.3, 28.2), (x - side * 0.35, 34.3)
        )
        marks += thread(way, ink_of_end(number))
    fits = act.ruler.width_mm(ON_FINGERTIPS, Face.SANS, act.type_size) <= LABEL_FOOT - 9.2
    words = ON_FINGERTIPS if fits else FINGERTIPS
    return [Words(36.8, LABEL_FOOT, words, Face.SANS, act.type_size, SOFT, turned=90), *marks]
