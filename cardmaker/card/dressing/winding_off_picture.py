"""Off the pegs: keepers at the cross first, the warp rolled on a stick from the far end, the home loops cut last."""

from __future__ import annotations

from typing import Final

from cardmaker.card.dressing.act_drawing import (
    CORD,
    DARK,
    EDGE,
    LIGHT,
    arrow,
    bar,
    capsule,
    cut_thread,
    ink_of_end,
    number,
    shape,
    straight_arrow,
    stroke,
    thread,
)
from cardmaker.card.dressing.act_figures import ActFigures
from cardmaker.card.dressing.act_hands import Spot, grip, scissors
from cardmaker.card.dressing.curves import arc, straight, through
from cardmaker.layout.ink import ACCENT
from cardmaker.model.marks import Mark

TABLE: Final = 30.4
LEFT_PEG, A, B = 9.6, 15.8, 24.6  # the middles of the pegs
PEG: Final = (2.0, 7.6)  # how thick, and how far down the top is
KEEPERS: Final = (18.8, 21.6)
ROLLED: Final = 36.0  # the stick that the warp is rolled on
LOOP_ENDS: Final = LEFT_PEG - PEG[0] / 2 - 0.4  # where the loops round the peg begin
ODD, EVEN = (1, 3, 5), (2, 4)
HEIGHTS: Final = (26.4, 23.4, 20.4, 17.4, 14.4)  # of ends 1, 2, 3 …: each lies on the one before


def off_the_pegs_picture(act: ActFigures) -> tuple[Mark, ...]:
    """Seen from the side: odd ends behind peg A and before peg B, even ones the reverse, and the keepers with them.

    The warp is rolled from the far end towards the cross, and home is cut last. Where the beam comes first it is rolled
    from home, keepers and all, and cut when it is on the beam: the peg that is left is then the far one. A warp that
    comes wound is off its pegs: the keepers are to be found in it, and the bright thread beside end 1.
    """
    before_a, before_b = (ODD, EVEN) if act.beam_first else (EVEN, ODD)
    marks: list[Mark] = bar(ROLLED - 1.2, 4.4, 2.4, 30.0)
    if act.is_wound:
        marks += _off_pegs(act)
    else:
        marks += [*bar(0.2, TABLE, 28.8, 2.4, radius=0.2), *_ends(ODD + EVEN, LEFT_PEG, ROLLED), *_loops(act)]
        marks += [*_peg(LEFT_PEG, ODD if act.beam_first else EVEN), *_tied(act)]
        marks += [*_peg(A, before_a), *_peg(B, before_b)]
    marks += [*_keeper(KEEPERS[0], before_a), *_keeper(KEEPERS[1], before_b), *_bands(), *_roll()]
    if act.is_wound:
        return (*marks, *straight_arrow(30.0, 32.8, 24.9, 30.4))
    marks += _rolling(act)
    if not act.beam_first:
        marks += [*scissors(Spot(4.0, 21.9, 0, 0.62)), *number(3.4, 27.3, "3", act.type_size)]
    return tuple(marks)


def _off_pegs(act: ActFigures) -> list[Mark]:
    """A warp that comes wound: cut tips, or the far loops where the beam comes first."""
    if act.beam_first:
        return [*_loops(act), *_ends(ODD + EVEN, LOOP_ENDS, ROLLED), *_tied(act)]
    ways = [straight((LOOP_ENDS, height), (ROLLED, height)) for height in HEIGHTS]
    return [mark for end_number, way in enumerate(ways, start=1) for mark in cut_thread(way, ink_of_end(end_number))]


def _ends(which: tuple[int, ...], left: float, right: float) -> list[Mark]:
    return [
        mark
        for each in which
        for mark in thread(
            straight((left, HEIGHTS[each - 1]), (right, HEIGHTS[each - 1])), ink_of_end(each), round_ends=False
        )
    ]


def _peg(x: float, before: tuple[int, ...]) -> list[Mark]:
    """A peg, and the ends that pass before it."""
    thick, top = PEG
    return [*bar(x - thick / 2, top, thick, TABLE - top), *_ends(before, x - thick / 2 - 0.5, x + thick / 2 + 0.5)]


def _keeper(x: float, before: tuple[int, ...]) -> list[Mark]:
    """A stick that keeps the cross, with the ends that pass before it."""
    return [*bar(x - 0.65, 6.0, 1.3, TABLE - 6.6, "#ffffff", 0.5), *_ends(before, x - 1.1, x + 1.1)]


def _loops(act: ActFigures) -> list[Mark]:
    """Round the peg at the left: at home from an even end to the next odd one, at the far peg the other way about."""
    x, left = LEFT_PEG, LOOP_ENDS
    marks: list[Mark] = []
    for lower in ODD[:2] if act.beam_first else EVEN:
        y1, y2 = HEIGHTS[lower - 1], HEIGHTS[lower]
        bend = ((left + 0.3, y1), (left - 1.2, y1 - 0.7), (left - 1.2, y2 + 0.7), (left + 0.3, y2))
        marks += thread(through((x, y1), *bend, (x, y2)), LIGHT, round_ends=False)
    return marks


def _tied(act: ActFigures) -> list[Mark]:
    """The end that is left over, tied to the peg; off its peg it keeps a slip loop."""
    x, thick = LEFT_PEG, PEG[0]
    y = HEIGHTS[(ODD[-1] if act.beam_first else ODD[0]) - 1]
    if act.is_wound:
        return list(thread(arc(LOOP_ENDS - 0.9, y, 0.9, 0, 360), DARK, 0.6))
    return cut_thread(straight((x - thick / 2 - 0.3, y), (x + thick / 2 + 0.3, y)), DARK)


def _bands() -> list[Mark]:
    """Bands that tie the keepers to each other above and below, and the bright thread beside end 1."""
    left, right = KEEPERS[0] - 1.1, KEEPERS[1] + 1.1
    marks: list[Mark] = []
    for y in (7.6, 28.5):
        marks += thread(straight((left, y), (right, y)), CORD, 0.8)
    tail = through((right - 0.6, 27.9), (right + 0.9, 28.4), (right + 1.3, 29.8))
    return [*marks, *stroke(tail, 0.7, ACCENT)]


def _roll() -> list[Mark]:
    """The warp on its stick: wound on from the front, so that the front of the stick moves away from the pegs."""
    marks: list[Mark] = []
    for each in ODD + EVEN:
        y = HEIGHTS[each - 1]
        marks += shape(capsule((ROLLED - 2.2, y), (ROLLED + 2.2, y), 2.5), ink_of_end(each), EDGE)
    marks += _ends(ODD + EVEN, B + 2, ROLLED - 2.0)
    return [*marks, *grip(Spot(ROLLED, 31.0, 0, 0.68), 12.6)]


def _rolling(act: ActFigures) -> list[Mark]:
    """Which way the stick turns and goes, and what comes first."""
    turn = through((32.6, 7.6), (33.6, 9.6), (36.0, 10.4), (38.6, 9.4), (39.5, 7.2), (37.8, 5.4))
    middle = (KEEPERS[0] + KEEPERS[1]) / 2
    return [
        *arrow(turn),
        *straight_arrow(33.2, 11.2, 27.2, 11.2),
        *number(middle, 2.9, "1", act.type_size),
        *number(42.25, 12.0, "2", act.type_size),
    ]
