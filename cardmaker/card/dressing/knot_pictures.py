"""The knots of dressing: the warp tied to its beam, held in a fist, and tied to the cloth beam."""

from __future__ import annotations

from typing import Final

from cardmaker.card.dressing.act_drawing import (
    CORD,
    LIGHT,
    THICK_CORD,
    again,
    bar,
    bundle,
    cut_thread,
    heddle_strip,
    ink_of_end,
    knot,
    straight_arrow,
    thread,
)
from cardmaker.card.dressing.act_figures import ActFigures
from cardmaker.card.dressing.act_hands import Spot, fist
from cardmaker.card.dressing.curves import Curve, straight, through
from cardmaker.card.dressing.rod_picture import BEAM_FOOT, BEAM_TOP, rod_marks, round_beam
from cardmaker.model.marks import Colour, Mark

MIDDLE: Final = 22.5

# The warp on its beam: the knot, and the cord choked below it, on the side of the heddle
KNOT_ON_CORD: Final = (MIDDLE, 11.2)
KNOT_RADIUS: Final = 2.4
UPPER, LOWER = 16.6, 23.0  # how far down the two turns of the cord lie
CHOKED: Final = tuple(MIDDLE + 0.8 * number for number in range(-3, 4))  # the ends where the cord holds them
AT_HEDDLE: Final = tuple(MIDDLE + 4.6 * number for number in range(-3, 4))
HEDDLE_TOP: Final = 30.6


def beam_knot_picture(act: ActFigures) -> tuple[Mark, ...]:
    """All tips level, one knot, and a cord's lark's head on the heddle side of the knot, so that it jams against it.

    The cord passes behind the warp twice; its bow comes back across the front, and its two strands leave through the
    bow, over its upper leg, past the knot, to the beam. Where the beam comes first, there is no knot: a rod lies in the
    far loops.
    """
    if act.beam_first:
        return rod_marks()
    strands = cord_strands()
    behind = [mark for turn in cord_behind() for mark in thread(turn, CORD, THICK_CORD)]
    under = [mark for strand in strands for mark in again(strand, 0.05, 6, CORD, THICK_CORD)]
    over = [mark for strand in strands for mark in again(strand, 2, 4.5, CORD, THICK_CORD)]
    return (
        *bar(0.2, BEAM_TOP, 44.6, BEAM_FOOT - BEAM_TOP),
        *(mark for strand in strands for mark in round_beam(strand.pieces[-1][3][0])),
        *behind,
        *_fan(),
        *_tips(),
        *knot(*KNOT_ON_CORD, KNOT_RADIUS),
        *heddle_strip(AT_HEDDLE[0], HEDDLE_TOP, 3.4, 4.6, len(AT_HEDDLE)),
        *_towards_you(),
        *under,
        *again(cord_bow(), 0.05, 5.95, CORD, THICK_CORD),
        *over,
        *straight_arrow(32, 16.5, 32, 7.5),
    )


def cord_strands() -> tuple[Curve, Curve]:
    """From the left of the warp under the end of the bow, up through it, past the knot to the beam."""
    upper, lower = (side.at(6) for side in cord_behind())
    middle = (UPPER + LOWER) / 2
    return (
        through(
            upper,
            (21.6, middle - 0.8),
            (23.0, UPPER + 1.5),
            (22.6, UPPER - 0.6),
            (18.9, 12.4),
            (18.0, 8.0),
            (18.0, BEAM_TOP),
        ),
        through(
            lower,
            (23.0, middle + 0.7),
            (24.7, UPPER + 1.6),
            (25.3, UPPER - 0.6),
            (26.4, 12.4),
            (27.0, 8.0),
            (27.0, BEAM_TOP),
        ),
    )


def cord_behind() -> tuple[Curve, Curve]:
    """The two turns behind the warp, from the bow at its right round to its left: the upper one and the lower one."""
    middle = (UPPER + LOWER) / 2
    upper = through(
        (25.0, UPPER), (26.4, UPPER + 0.2), (26.4, UPPER + 1.5), (22.5, UPPER + 1.5),
        (18.7, UPPER + 1.3), (18.6, UPPER + 2.3), (19.4, middle - 0.75),
    )  # fmt: skip
    return upper, upper.mirrored_over(middle)


def cord_bow() -> Curve:
    """The bow: across the front from the right, round its end, and back."""
    middle, end = (UPPER + LOWER) / 2, 20.9
    return through(
        (25.4, UPPER), (22.9, UPPER), (end + 0.7, UPPER + 0.8), (end, middle),
        (end + 0.7, LOWER - 0.8), (22.9, LOWER), (25.4, LOWER),
    )  # fmt: skip


def _fan() -> list[Mark]:
    """The ends from the heddle, drawn together by the cord, and up into the knot."""
    x, y = KNOT_ON_CORD
    marks: list[Mark] = []
    for number, (foot, held) in enumerate(zip(AT_HEDDLE, CHOKED, strict=True), start=1):
        way = through(
            (x + (held - x) * 0.3, y + KNOT_RADIUS), (held, UPPER), (held, LOWER + 0.6), (foot, HEDDLE_TOP + 1)
        )
        marks += thread(way, ink_of_end(number), 0.55, 0.18)
    return marks


def _towards_you() -> list[Mark]:
    """The ends on this side of the heddle, on their way to the stick."""
    middle = HEDDLE_TOP + 1.7
    return [
        mark
        for number, x in enumerate(AT_HEDDLE, start=1)
        for mark in cut_thread(straight((x, middle), (x, 35.0)), ink_of_end(number), 0.55, 0.18)
    ]


def _tips() -> list[Mark]:
    """The cut tips, level, beyond the knot: as many as come into it."""
    x, y = KNOT_ON_CORD
    marks: list[Mark] = []
    for number in range(1, len(CHOKED) + 1):
        aside = number - 4
        tip = (x + aside * 0.72, 5.9 + 0.06 * aside * aside)
        marks += cut_thread(through(tip, (x + aside * 0.2, y - KNOT_RADIUS)), ink_of_end(number), 0.45, 0.17)
    return marks


# No cloth beam: the warp held in a fist


FIST: Final = Spot(MIDDLE, 27.0, 90, 0.95)
HELD_KNOT: Final = (MIDDLE, 15.4, 2.5)  # where the knot before the fist is, and its radius


def fist_tie_picture(_: ActFigures) -> tuple[Mark, ...]:
    """The far ends combed level, one knot, and the hand behind it that is the front of this loom.

    As many ends leave the knot as come into it; they go through the fist and out of it below.
    """
    x, y, radius = HELD_KNOT
    places = [6.5 + 4.0 * number for number in range(9)]
    marks = heddle_strip(places[0], 0.8, 8.4, 4.0, 9)
    held: list[Mark] = []
    for number, place in enumerate(places, start=1):
        into = (x + (place - x) * 0.035, y - radius * 1.2)
        marks += thread(through((place, 5.0), (place + (into[0] - place) * 0.4, 8.8), into), ink_of_end(number), 0.7)
        aside = number - 5
        below = (x + aside * 0.14, y + radius * 1.2)
        tips = (x + aside * 0.3, 32.0), (x + aside * 0.62, 34.4 - 0.04 * aside * aside)
        way = through(below, (x + aside * 0.22, 21.6), (x + aside * 0.2, 30.4), *tips)
        held += cut_thread(way.backwards(), ink_of_end(number), 0.45, 0.17)
    marks += [*fist(FIST, 8.2, held), *knot(x, y, radius)]
    return (*marks, *straight_arrow(34, 20, 34, 31))


# A cloth beam: the front tie

HALF: Final[Colour] = "#b4b4b4"  # the left half of the warp, the right one is light; a copier keeps its edges apart
TIED: Final = 1.4  # mm: how thick a half is
FLAT_END: Final = (0.56, 0.17)  # mm: how thick an end of a half is that lies flat, and its edge
TURNS_AT: Final = 25.4  # how far down the ends come over the bow
BOW: Final = 24.2  # how far down the bow of the cord lies
TIE: Final = (
    Curve(  # the left half from its tip through the knot and down to the bow, behind it; the right one mirrors it
        (
            ((9.4, 6.4), (12, 7.6), (13.2, 11.4), (16.9, 11.4)),
            ((16.9, 11.4), (21.6, 11.4), (22.4, 8.8), (26.6, 8.8)),
            ((26.6, 8.8), (30.6, 8.8), (30.6, 16.0), (26.6, 16.0)),
            ((26.6, 16.0), (22.4, 16.0), (21.6, 13.4), (16.9, 13.4)),
            ((16.9, 13.4), (13.4, 13.4), (14.6, 19), (15.7, BOW)),
        )
    )
)
SPACES: Final = tuple(MIDDLE + 3.4 * (number - 3.5) for number in range(8))
IN_KNOT: Final = (19.2, 25.8)  # between these the left half lies on top


def front_tie_picture(_: ActFigures) -> tuple[Mark, ...]:
    """Two halves lie over the bow of the cord, turn below it and come up outside; a square knot joins them on top.

    Back to front: the halves where they turn, the bow, the halves as they lie flat over it, the knot on the warp; the
    roller over the cord.
    """
    left, right = TIE, TIE.mirrored_about(MIDDLE)
    cord = Curve(
        (
            ((18.6, 32), (17.6, 31), (12.6, 28.6), (12.2, 26.2)),
            ((12.2, 26.2), (11.9, BOW), (13.6, BOW), (22.5, BOW)),
            ((22.5, BOW), (31.4, BOW), (33.1, BOW), (32.8, 26.2)),
            ((32.8, 26.2), (32.4, 28.6), (27.4, 31), (26.4, 32)),
        )
    )
    above = 4 + TIE.part(4, 5).where(BOW - 0.75)
    first, last = IN_KNOT
    return (
        *bundle(left, HALF, TIED),
        *bundle(right, LIGHT, TIED),
        *_turned_ends(),
        *thread(cord, CORD, 0.9, round_ends=False),
        *heddle_strip(SPACES[0], 0.4, 4.2, SPACES[1] - SPACES[0], len(SPACES)),
        *_flat_halves(),
        *bundle(left.part(0.02, above), HALF, TIED),
        *bundle(right.part(0.02, above), LIGHT, TIED),
        *bundle(left.part(left.where_x(first), left.where_x(last)), HALF, TIED),
        *bundle(left.part(left.where_x(last, 3), left.where_x(first, 3)), HALF, TIED),
        *bar(0.2, 30.2, 44.6, 3.6, radius=1.0),
        *straight_arrow(7.8, 5.9, 2.4, 4.3),
        *straight_arrow(37.2, 5.9, 42.6, 4.3),
    )


def turned_end(number: int) -> Curve:
    """Of the left half, an end that has come down over the bow: below it round, and up behind it into the bundle."""
    x = MIDDLE - 1.0 - number
    low, up = 27.0 + 0.4 * (3 - number), 15.75 - 0.4 * (1.5 - number)
    return through(
        (x, TURNS_AT - 0.6),
        (x, TURNS_AT + 0.2),
        (x - 0.15, 26.4),
        ((x + up) / 2, low + 0.9),
        (up - 0.1, 26.4),
        (up, BOW),
    )


def _turned_ends() -> list[Mark]:
    """All ends of both halves below the bow."""
    marks: list[Mark] = []
    for number in (3, 2, 1, 0):
        way = turned_end(number)
        marks += thread(way, HALF, *FLAT_END) + thread(way.mirrored_about(MIDDLE), LIGHT, *FLAT_END)
    return marks


def _flat_halves() -> list[Mark]:
    """The halves of the warp from the heddle down, flat over the bow, to where they turn below it."""
    marks: list[Mark] = []
    for side, ink in ((-1, HALF), (1, LIGHT)):
        for number in range(4):
            x, space = MIDDLE + side * (1.0 + number), SPACES[3 - number] if side < 0 else SPACES[4 + number]
            fan = through((space, 2.5), (x + (space - x) * 0.3, 7.4), (x, 10.6))
            marks += thread(fan.then(straight((x, 10.6), (x, TURNS_AT))), ink, *FLAT_END, round_ends=False)
    return marks
