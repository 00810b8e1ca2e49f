"""Step 8 drawn, from the side: the loom's back tied with a bow to what cannot tip, against the pull of the warp.

A loom that is worked by hand stands on a table and is tied to its leg; one with treadles stands on the floor and is
tied to a post.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from cardmaker.card.dressing.act_drawing import (
    CORD,
    DARK,
    THICK_CORD,
    WOOD,
    bar,
    end_on,
    straight_arrow,
    stroke,
    thread,
)
from cardmaker.card.dressing.act_figures import ActFigures
from cardmaker.card.dressing.act_hands import Spot, fist
from cardmaker.card.dressing.act_loom_parts import STEEL, heddle_on_edge, warp_beam, warp_lap
from cardmaker.card.dressing.curves import Curve, Point, straight, through
from cardmaker.layout.ink import BLACK
from cardmaker.model.marks import Dot, Mark

FLOOR: Final = 34.6  # mm
TABLE: Final = 20.6  # mm: the top of the table
HAND: Final = (37.4, 10.0)
HAND_SIZE: Final = 0.8
ARM_ENDS: Final = 44.6  # mm
ROLL: Final = 3.4  # mm: radius of the warp on its beam
PULL: Final = 10.0  # mm: how long the arrow of the pull is
BOARD: Final = 5.0  # mm: from the warp to either end of a heddle's slot


class _Bench(NamedTuple):
    """What stands where: the wood behind the warp, the beam, the heddles by their middles, the cord's way from the
    loom, and its bow."""

    wood: tuple[Mark, ...]
    beam: Point
    heddles: tuple[float, ...]
    cord: Curve
    tied: Point
    post: float  # how thick what it is tied to is


def tied_back_picture(act: ActFigures) -> tuple[Mark, ...]:
    """The warp is pulled, and a taut cord holds the loom. Only the pull has an arrow: nobody is to push."""
    bench = _on_floor() if act.opens_by == "treadle" else _on_table()
    (x, y), (hand_x, hand_y) = bench.beam, HAND
    start = (x, y - ROLL)
    heights = [start[1] + (hand_y - start[1]) * (board - x) / (hand_x - x) for board in bench.heddles]
    boards = [
        mark
        for board, eye in zip(bench.heddles, heights, strict=True)
        for mark in heddle_on_edge(board, eye - BOARD, eye + (9.4 if len(heights) == 1 else BOARD), eye)
    ]
    fixed = bench.cord.pieces[0][0]
    return (
        *bench.wood,
        *boards,
        *warp_beam(x, y, ROLL),
        *thread(straight(start, HAND), DARK),
        warp_lap(x, y, ROLL)[-1],
        *fist(Spot(*HAND, 0, HAND_SIZE), (ARM_ENDS - hand_x) / HAND_SIZE),
        *thread(bench.cord, CORD, THICK_CORD),
        *_ring(*fixed),
        *_bow(*bench.tied, bench.post),
        *straight_arrow(hand_x - 4.6, 2.6, hand_x - 4.6 + PULL, 2.6, 0.9),
    )


def _on_table() -> _Bench:
    """A box with its heddle, on a table; the cord goes over the table's edge down to its leg."""
    back, top = 13.0, TABLE - 2.2
    legs = [*bar(9.6, TABLE, 2.8, FLOOR - TABLE, radius=0.2), *bar(38.0, TABLE, 2.8, FLOOR - TABLE, radius=0.2)]
    table = [*legs, *bar(6.4, TABLE, 37.6, 2.0, radius=0.3)]
    bearing = bar(back + 3.6, top - 8.0, 2.2, 8.4)
    base = bar(back, top, 18.4, 2.2)
    edge = (5.7, TABLE - 0.1), (5.7, TABLE + 2.1)
    cord = straight((back + 1.4, top + 1.1), *edge, (9.4, 28.2))
    return _Bench((*table, *bearing, *base), (back + 4.7, top - 7.0), (29.4,), cord, (11.0, 28.2), 2.8)


def _on_floor() -> _Bench:
    """A frame with treadles; the cord goes straight to a post."""
    back, rail = 16.4, 17.2
    floor = stroke(straight((0.5, FLOOR - 0.2), (44.5, FLOOR - 0.2)), 0.4)
    post = bar(4.2, 0.3, 3.4, FLOOR - 0.5, radius=0.1)
    uprights = [*bar(back, 11.0, 2.0, 23.2, radius=0.3), *bar(32.2, rail, 2.0, 17.0, radius=0.3)]
    rails = [*bar(back, rail, 17.8, 1.8, radius=0.3), *bar(back, 31.0, 17.8, 1.8, radius=0.3)]
    hinge, boards = (back + 1.0, 29.0), (25.0, 29.4)
    treadles: list[Mark] = []
    for x, end in zip(boards, ((40.6, 27.4), (40.6, 24.6)), strict=True):
        foot = hinge[1] + (end[1] - hinge[1]) * (x - hinge[0]) / (end[0] - hinge[0])
        treadles += stroke(straight((x, 13.0), (x, foot)), 0.3)
        treadles += thread(straight(hinge, end), WOOD, 1.0)
    treadles += end_on(*hinge, 0.7, STEEL)
    pulley = (27.2, 1.5)
    hung = [
        mark
        for x in boards
        for mark in stroke(straight((x, 5.0), (x, 2.6), (pulley[0] + (1.0 if x > pulley[0] else -1.0), 1.4)), 0.3)
    ]
    wood = (*floor, *post, *uprights, *rails, *treadles, *hung, *end_on(*pulley, 1.1))
    cord = straight((back + 1.0, 22.4), (7.6, 22.4))
    return _Bench(wood, (back + 1.0, 11.6), boards, cord, (5.9, 22.4), 3.4)


def _ring(x: float, y: float) -> list[Mark]:
    """The ring in the loom's wood that the cord is fixed to."""
    return [Dot(x, y, 0.9, None, BLACK, 1.0), Dot(x, y, 0.9, None, STEEL, 0.5)]


def _bow(x: float, y: float, post: float) -> list[Mark]:
    """The cord round the post, and before it a bow: two loops, two ends."""
    marks: list[Mark] = []
    for down in (-0.5, 0.7):
        marks += thread(straight((x - post / 2 - 0.1, y + down), (x + post / 2 + 0.1, y + down)), CORD, 0.8)
    y += 2.0
    for way in (-1, 1):
        marks += thread(through((x, y), (x + way * 0.7, y + 1.8), (x + way * 1.5, y + 3.9)), CORD, 0.7)
    for way in (-1, 1):
        round_it = [(1.8, -1.9), (3.3, -1.5), (3.2, 0.0), (1.7, 0.5)]
        loop = through((x, y), *((x + way * aside, y + down) for aside, down in round_it), (x, y))
        marks += thread(loop, CORD, 0.7)
    return [*marks, *end_on(x, y, 0.9, CORD)]
