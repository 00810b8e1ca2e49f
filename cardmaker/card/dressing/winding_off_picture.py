"""Off the pegs: keepers at the cross first, the warp rolled on a stick from the far end, the home loops cut last."""

from __future__ import annotations

from typing import Final

from cardmaker.card.dressing.act_drawing import (
    BRIGHT,
    CORD,
    DARK,
    LIGHT,
    arrow,
    bar,
    cut_thread,
    end_on,
    ink_of_end,
    number,
    straight_arrow,
    stroke,
    thread,
)
from cardmaker.card.dressing.act_figures import ActFigures
from cardmaker.card.dressing.act_hands import Spot, grip, scissors
from cardmaker.card.dressing.curves import straight, through
from cardmaker.layout.ink import ACCENT, BLACK
from cardmaker.model.marks import Dot, Mark

TABLE: Final = 30.4
LEFT_PEG, A, B = 9.6, 15.8, 24.6  # the middles of the pegs
PEG: Final = (2.0, 7.6)  # how thick, and how far down the top is
KEEPERS: Final = (18.8, 21.6)
ROLLED: Final = 36.0  # the stick that the warp is rolled on
STICK: Final = 2.2  # mm: how thick it is
ARM_ENDS: Final = 44.6  # mm
LOOP_ENDS: Final = LEFT_PEG - PEG[0] / 2 - 0.4  # where the loops round the peg begin
BRIGHT_KNOT: Final = (22.0, 26.5)
SEEN_FROM_ABOVE: Final = 3.4  # mm: how far down the same cross is drawn from above, over its pegs
ROUND_PEGS: Final = 1.8  # mm: how far from their middle the two layers pass them there
CUT_ABOVE: Final = 29.6  # mm: where that drawing ends
KEEPER_TOP: Final = 7.4
ODD, EVEN = (1, 3, 5), (2, 4)
HEIGHTS: Final = (24.6, 21.7, 18.8, 15.9, 13.0)  # of ends 1, 2, 3 …: each lies on the one before


def off_the_pegs_picture(act: ActFigures) -> tuple[Mark, ...]:
    """Seen from the side: odd ends behind peg A and before peg B, even ones the reverse, and the keepers with them.

    The warp is rolled from the far end towards the cross, and home is cut last. Where the beam comes first it is rolled
    from home, keepers and all, and cut when it is on the beam: the peg that is left is then the far one. A warp that
    comes wound is off its pegs: the keepers are to be found in it, and the bright thread beside end 1.
    """
    before_a, before_b = (ODD, EVEN) if act.beam_first else (EVEN, ODD)
    marks: list[Mark] = _from_above(act, odd_before_a=act.beam_first)
    if act.is_wound:
        marks += _off_pegs(act)
    else:
        marks += [*bar(0.2, TABLE, 28.8, 2.4, radius=0.2), *_ends(ODD + EVEN, LEFT_PEG, ROLLED)]
        marks += [*_loops(act, LEFT_PEG - 0.9, -1), *_peg(LEFT_PEG, ODD if act.beam_first else EVEN), *_tied(act)]
        marks += [*_peg(A, before_a), *_peg(B, before_b)]
    marks += [*_keeper(KEEPERS[0], before_a), *_keeper(KEEPERS[1], before_b), *_bands(), *_rolled_on(act, before_b)]
    if act.is_wound:
        return (*marks, *_look_here())
    marks += _rolling(act)
    if not act.beam_first:
        marks += [*scissors(Spot(4.4, 20.2, 0, 0.66)), *number(3.4, 26.2, "3", act.type_size)]
    return tuple(marks)


def _from_above(act: ActFigures, *, odd_before_a: bool) -> list[Mark]:
    """The same cross from above, each peg and keeper over itself: only so its X between the two keepers is seen."""
    middle, y = (KEEPERS[0] + KEEPERS[1]) / 2, SEEN_FROM_ABOVE
    marks: list[Mark] = []
    for x, top in ((A, PEG[1]), (B, PEG[1])) if not act.is_wound else ():
        marks += [*stroke(straight((x, y), (x, top)), 0.2, BLACK, (0.6, 0.5)), *end_on(x, y, 1.1)]
    if not act.is_wound:
        marks += end_on(LEFT_PEG, y, 1.0)
    for ink, side in ((LIGHT, -1), (DARK, 1)):
        aside = side * (1 if odd_before_a else -1) * ROUND_PEGS
        way = through(
            (LEFT_PEG, y + aside * 0.7), (A, y + aside), (KEEPERS[0] - 0.3, y + aside * 0.85), (middle, y),
            (KEEPERS[1] + 0.3, y - aside * 0.85), (B, y - aside), (CUT_ABOVE, y - aside * 0.6),
        )  # fmt: skip
        marks += thread(way, ink, 0.55, 0.18, round_ends=False)
    return [*marks, *(mark for x in KEEPERS for mark in end_on(x, y, 0.65))]


def _look_here() -> list[Mark]:
    """What is to be found in a warp that comes wound: a ring round the knot of the bright thread."""
    x, y = BRIGHT_KNOT[0] + 0.6, BRIGHT_KNOT[1] + 0.4
    return [Dot(x, y, 2.5, None, ACCENT, 0.5), *straight_arrow(x + 7.6, y + 5.0, x + 2.4, y + 1.6)]


def _off_pegs(act: ActFigures) -> list[Mark]:
    """A warp that comes wound: cut tips, or the far loops where the beam comes first."""
    if act.beam_first:
        return [*_loops(act, LOOP_ENDS, -1), *_ends(ODD + EVEN, LOOP_ENDS - 0.15, ROLLED), *_tied(act)]
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
    return [*bar(x - 0.65, KEEPER_TOP, 1.3, TABLE - 0.6 - KEEPER_TOP, radius=0.5), *_ends(before, x - 1.1, x + 1.1)]


def joined(act: ActFigures, way: int) -> tuple[tuple[int, int], ...]:
    """The ends that a loop joins, at the left (-1) or at the right: home joins an even end to the next odd one, the
    far end an odd one to the next even one."""
    is_far = (way < 0) == act.beam_first
    return tuple((each, each + 1) for each in (ODD[:2] if is_far else EVEN))


def _loops(act: ActFigures, x: float, way: int) -> list[Mark]:
    """Loops round what stands in them: each half in the ink of its own end."""
    marks: list[Mark] = []
    out = 1.6 if x in (LOOP_ENDS, ROLLED + STICK / 2) else 2.2
    for lower, upper in joined(act, way):
        y1, y2 = HEIGHTS[lower - 1], HEIGHTS[upper - 1]
        bend = (
            (x, y1),
            (x + way * (out - 0.7), y1 - 0.2),
            (x + way * out, (y1 + y2) / 2),
            (x + way * (out - 0.7), y2 + 0.2),
            (x, y2),
        )
        for part, end_number in ((through(*bend).part(0, 2.02), lower), (through(*bend).part(1.98, 4), upper)):
            marks += thread(part, ink_of_end(end_number), round_ends=False)
    return marks


def _tied(act: ActFigures) -> list[Mark]:
    """The end that is left over, tied round the peg; off its peg it keeps a slip loop."""
    thick = PEG[0]
    end_number = ODD[-1] if act.beam_first else ODD[0]
    y = HEIGHTS[end_number - 1]
    if act.is_wound:
        x = LOOP_ENDS
        out = [(x - 1.0, y - 0.9), (x - 2.2, y - 0.7), (x - 2.6, y), (x - 2.2, y + 0.7), (x - 1.0, y + 0.9)]
        return [*thread(through((x, y), *out, (x, y)), DARK, 0.5), *end_on(x, y, 0.95, DARK)]
    return _hitch(LEFT_PEG, thick, y, 1)


def _hitch(x: float, thick: float, y: float, way: int) -> list[Mark]:
    """An end tied round an upright: twice across its front, a knot beside it and a tail."""
    left, right = x - thick / 2 - 0.2, x + thick / 2 + 0.2
    knotted = x + way * (thick / 2 + 1.0)
    marks: list[Mark] = []
    for down in (-0.55, 0.55):
        marks += thread(straight((left, y + down), (right, y + down)), DARK, 0.6)
    tail = through((knotted, y), (knotted + way * 0.5, y + 1.2), (knotted + way * 0.3, y + 2.3))
    return [*marks, *thread(tail, DARK, 0.5), *end_on(knotted, y, 0.95, DARK)]


def _bands() -> list[Mark]:
    """Bands that tie the keepers to each other above and below, and the bright thread tied in beside end 1."""
    left, right = KEEPERS[0] - 1.1, KEEPERS[1] + 1.1
    marks: list[Mark] = []
    for y in (KEEPER_TOP + 1.5, 28.4):
        marks += thread(straight((left, y), (right, y)), CORD, 0.8)
    x, y = BRIGHT_KNOT
    marks += thread(straight((KEEPERS[0] - 0.7, y), (KEEPERS[1] + 0.7, y)), BRIGHT, 0.7)
    for tip in ((x + 2.1, y - 0.1), (x + 1.8, y + 1.2)):
        marks += thread(through((x, y), (x + 1.0, (y * 2 + tip[1]) / 3), tip), BRIGHT, 0.5)
    return [*marks, *end_on(x, y, 0.8, BRIGHT)]


def _rolled_on(act: ActFigures, before: tuple[int, ...]) -> list[Mark]:
    """The stick that stands in the loops as the peg did, the hand that turns it, and the end that has no loop."""
    half = STICK / 2
    stick = bar(ROLLED - half, 3.6, STICK, 31.0)
    marks = [*_loops(act, ROLLED + half, 1), *_ends(tuple({*ODD, *EVEN}), ROLLED - half - 0.6, ROLLED + half)]
    marks += [*grip(Spot(ROLLED, 30.4, 0, 0.72), stick, (ARM_ENDS - ROLLED) / 0.72)]
    marks += _ends(tuple(each for each in before if each != _loose(act)), ROLLED - half - 0.5, ROLLED + half + 0.1)
    return [*marks, *_hitch(ROLLED, STICK, HEIGHTS[_loose(act) - 1], -1)]


def _loose(act: ActFigures) -> int:
    """The end at the right that no loop joins to another."""
    return ODD[0] if act.beam_first else ODD[-1]


def _rolling(act: ActFigures) -> list[Mark]:
    """Which way the stick turns and goes, and what comes first."""
    turn = through((32.6, 6.6), (33.6, 8.6), (36.0, 9.4), (38.6, 8.4), (39.5, 6.2), (37.8, 4.4))
    return [
        *arrow(turn),
        *straight_arrow(33.2, 10.4, 27.2, 10.4),
        *number(4.3, SEEN_FROM_ABOVE, "1", act.type_size),
        *number(42.25, 11.0, "2", act.type_size),
    ]
