"""The warp on its beam by a rod through the far loops: no knot, the keepers still in the cross."""

from __future__ import annotations

from typing import Final

from cardmaker.card.dressing.act_drawing import (
    CORD,
    DARK,
    LIGHT,
    THICK_CORD,
    again,
    bar,
    straight_arrow,
    thread,
)
from cardmaker.card.dressing.act_figures import ACT_BOX
from cardmaker.card.dressing.curves import Curve, arc, straight
from cardmaker.model.marks import Mark

BEAM_TOP, BEAM_FOOT = 1.3, 5.0  # mm: of the beam, here and where a knot is tied to it
MIDDLE: Final = ACT_BOX.middle
ROD: Final = (14.6, 1.7)  # its top, and how thick it is
KEPT: Final = (26.6, 31.4)  # the tops of the keepers
KEEPER: Final = 1.3
LOOPS: Final = (9.0, 15.0, 21.0, 27.0, 33.0)  # the odd end of each loop; its even end lies to the right
APART: Final = 3.0


def rod_marks() -> tuple[Mark, ...]:
    """The rod behind all odd ends and before all even ones, each loop over its top, two cords to the beam."""
    odd = [_down(x, ROD[0]) for x in LOOPS]
    even = [_down(x + APART, ROD[0]) for x in LOOPS]
    marks: list[Mark] = [*bar(0.2, BEAM_TOP, 44.6, BEAM_FOOT - BEAM_TOP)]
    for curve in even:
        marks += thread(curve, LIGHT, round_ends=False)
    marks += bar(4, ROD[0], 37, ROD[1], radius=0.8)
    for x in LOOPS:
        marks += thread(loop_on_rod(x), LIGHT, round_ends=False)
    for curve in odd:
        marks += thread(curve, DARK, round_ends=False)
    for top, over in ((KEPT[0], odd), (KEPT[1], even)):
        marks += bar(3, top, 39, KEEPER, "#ffffff", 0.5)
        for curve in over:
            ink = DARK if over is odd else LIGHT
            marks += again(curve, curve.where(top - 0.5), curve.where(top + KEEPER + 0.5), ink)
    for x, turn in ((6.4, 5.1), (38.6, 39.9)):
        marks += thread(straight((turn, ROD[0]), (turn, ROD[0] + ROD[1])), CORD, THICK_CORD)
        marks += [*round_beam(x), *thread(straight((x, BEAM_TOP), (x, ROD[0] + ROD[1])), CORD, THICK_CORD)]
    return (*marks, *straight_arrow(22.5, 11.8, 22.5, 6.2))


def round_beam(x: float) -> list[Mark]:
    """A cord that comes up to the beam goes round it: over its upper edge, and once more beside itself."""
    beside = x + (1.4 if x > MIDDLE else -1.4)
    return [
        mark
        for at, foot in ((beside, BEAM_FOOT), (x, BEAM_FOOT - 1.0))
        for mark in thread(straight((at, BEAM_TOP), (at, foot)), CORD, THICK_CORD)
    ]


def loop_on_rod(x: float) -> Curve:
    """The loop above the rod, from the odd end to the even one."""
    return arc(x + APART / 2, ROD[0], APART / 2, 180, 360)


def _down(x: float, top: float) -> Curve:
    return straight((x, top), (x, 35.0))
