"""Step 8 drawn, from the side: the loom's back tied with a bow to what cannot tip, against the pull of the warp.

A loom that is worked by hand stands on a table and is tied to its leg; one with treadles stands on the floor and is
tied to a post.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from cardmaker.card.dressing.act_drawing import (
    CORD,
    LIGHT,
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
from cardmaker.card.dressing.act_loom_parts import heddle_on_edge, warp_roll
from cardmaker.card.dressing.curves import Curve, Point, straight, through
from cardmaker.model.marks import Mark

FLOOR: Final = 34.6  # mm
TABLE: Final = 20.6  # mm: the top of the table
HAND: Final = (37.4, 10.0)
HAND_SIZE: Final = 0.8
ARM_ENDS: Final = 44.6  # mm
ROLL: Final = 3.4  # mm: radius of the warp on its beam
PULL: Final = 10.0  # mm: how long the arrows of pull and answer are


class _Bench(NamedTuple):
    """What stands where: the wood behind the warp and the wood before it, the beam, the cord's way from the loom."""

    behind: tuple[Mark, ...]
    before: tuple[Mark, ...]
    beam: Point
    heddle: float  # the right edge of the wood that the warp comes out of
    cord: Curve
    bow: Point


def tied_back_picture(act: ActFigures) -> tuple[Mark, ...]:
    """The warp is pulled one way, and the cord answers the other way."""
    bench = _on_floor() if act.opens_by == "treadle" else _on_table()
    (x, y), (cord_x, cord_y), (hand_x, hand_y) = bench.beam, bench.cord.pieces[0][0], HAND
    start = (x, y - ROLL)
    through_heddle = (bench.heddle, start[1] + (hand_y - start[1]) * (bench.heddle - x) / (hand_x - x))
    return (
        *bench.behind,
        *warp_roll(x, y, ROLL),
        *thread(straight(start, through_heddle), LIGHT, 0.9, round_ends=False),
        *bench.before,
        *thread(straight(through_heddle, HAND), LIGHT, 0.9, round_ends=False),
        *fist(Spot(*HAND, 0, HAND_SIZE), (ARM_ENDS - hand_x) / HAND_SIZE),
        *thread(bench.cord, CORD, THICK_CORD),
        *_bow(*bench.bow),
        *straight_arrow(hand_x - 4.6, 3.0, hand_x - 4.6 + PULL, 3.0, 0.9),
        *straight_arrow(cord_x + 0.8, cord_y - 3.4, cord_x + 0.8 - PULL, cord_y - 3.4, 0.9),
    )


def _on_table() -> _Bench:
    """A box with its heddle, on a table; the cord goes over the table's edge down to its leg."""
    back, top = 15.0, TABLE - 2.2
    leg = bar(9.6, TABLE, 2.8, FLOOR - TABLE, radius=0.2)
    table = [*leg, *bar(6.4, TABLE, 38.3, 2.0, radius=0.3)]
    bearing = bar(back + 2.4, top - 8.0, 2.2, 8.4)
    base = bar(back, top, 18.0, 2.2)
    heddle = heddle_on_edge(31.1, top - 13.6, top + 0.4)
    cord = through((back + 1.6, top + 0.9), (7.6, TABLE - 1.0), (5.6, TABLE + 1.0), (6.4, TABLE + 3.2), (9.6, 27.4))
    return _Bench((*table, *bearing), (*base, *heddle), (back + 3.5, top - 7.0), 32.1, cord, (11.0, 27.8))


def _on_floor() -> _Bench:
    """A frame with treadles; the cord goes straight to a post."""
    back, rail = 16.4, 17.2
    floor = stroke(straight((0.5, FLOOR - 0.2), (44.5, FLOOR - 0.2)), 0.4)
    post = bar(4.2, 0.3, 3.4, FLOOR - 0.5, radius=0.1)
    uprights = [*bar(back, 11.0, 2.0, 23.2, radius=0.3), *bar(32.2, rail, 2.0, 17.0, radius=0.3)]
    rails = [*bar(back, rail, 17.8, 1.8, radius=0.3), *bar(back, 30.6, 17.8, 1.8, radius=0.3)]
    lines = [(25.4, 28.2), (29.0, 26.6)]  # of the heddles, and how far down their cords go
    worked = [mark for x, foot in lines for mark in stroke(straight((x, 16.0), (x, foot)), 0.3)]
    worked += stroke(straight((25.4, 6.6), (27.2, 1.4), (29.0, 6.6)), 0.3)
    treadles = [
        *thread(straight((20.4, 28.8), (41.0, 27.4)), WOOD, 1.0),
        *thread(straight((20.4, 26.4), (41.0, 26.0)), WOOD, 1.0),
    ]
    heddles = [mark for x, _ in lines for mark in heddle_on_edge(x, 5.6, 16.0)]
    behind = (*floor, *post, *uprights, *rails, *worked, *treadles, *end_on(27.2, 1.6, 0.9))
    cord = straight((back + 0.8, 24.4), (7.6, 24.4))
    return _Bench(behind, tuple(heddles), (back + 1.0, 11.6), 30.0, cord, (5.9, 24.8))


def _bow(x: float, y: float) -> list[Mark]:
    """A bow: two loops, two ends."""
    marks: list[Mark] = []
    for way in (-1, 1):
        marks += thread(through((x, y), (x + way * 1.2, y + 2.0), (x + way * 2.6, y + 5.0)), CORD, THICK_CORD * 0.8)
    for way in (-1, 1):
        round_it = [(2.4, -2.0), (4.4, -1.2), (4.3, 0.9), (2.2, 1.0)]
        loop = through((x, y), *((x + way * aside, y + down) for aside, down in round_it), (x, y))
        marks += thread(loop, CORD, THICK_CORD * 0.8)
    return [*marks, *end_on(x, y, 1.1, CORD)]
