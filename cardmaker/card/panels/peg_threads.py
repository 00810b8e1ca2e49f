"""The thread round the pegs, out and back, drawn clear of them: on which side of each one passes is to be seen."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import cos, hypot, pi, sin
from typing import Final

from cardmaker.card.panels.cross_drawing import BACK_DASH
from cardmaker.card.panels.peg_ground import BACK_BESIDE, OUT_BESIDE, Ground
from cardmaker.layout.ink import BLACK, OUTLINE, WHITE
from cardmaker.model.marks import Mark, Path, Step
from cardmaker.model.peg_plan import Arc, Leg, PassedPeg, PegPlan, ThreadPath
from cardmaker.model.record_class import replace
from cardmaker.reckoning.winding.thread_path import path_round_pegs

FINEST_ARC: Final = pi / 12  # an arc is drawn in pieces no longer than this
SHORTEST_ARROWED: Final = 7.0  # mm
ARROW: Final = 1.4  # mm


def draw_threads(pegs: PegPlan, ground: Ground) -> Iterable[Mark]:
    """The way out as a full line with arrows, the way back dashed; whichever lies on top is cased in white."""
    path = path_on_paper(pegs, ground)
    turn = pegs.turning
    out = _steps(path.legs[:turn], path.arcs[1 : turn + 1], ground)
    back = _steps(path.legs[turn:], path.arcs[turn + 1 :], ground)
    yield Path(back, stroke=BLACK, width=OUTLINE * 1.2, dash=BACK_DASH)
    yield Path(out, stroke=WHITE, width=OUTLINE * 3.2)
    yield Path(out, stroke=BLACK, width=OUTLINE * 1.5)


def draw_arrows(pegs: PegPlan, ground: Ground) -> Iterable[Mark]:
    """The way out: an arrow on every leg that is long enough."""
    return (mark for leg in path_on_paper(pegs, ground).legs[: pegs.turning] for mark in _arrow(leg, ground))


def path_on_paper(pegs: PegPlan, ground: Ground) -> ThreadPath:
    """The thread with its distance from the pegs as it is drawn: out close to them, back outside that.

    At the scale of the drawing both would lie under the pegs. Where so wide a thread would lie another way round a peg
    than the real one does, it is the real one.
    """
    exact, turn = pegs.round_trip, pegs.turning
    for nearer in (1.0, 0.6):
        beside = [nearer * (OUT_BESIDE if at <= turn else BACK_BESIDE) for at in range(len(exact.passed))]
        passed = [_widened(peg, ground, gap) for peg, gap in zip(exact.passed, beside, strict=True)]
        if any(hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm) <= a.radius_mm + b.radius_mm for a, b in pairwise(passed)):
            continue
        drawn = path_round_pegs(passed, closed=True)
        if all(abs(one.sweep - other.sweep) < pi for one, other in zip(drawn.arcs, exact.arcs, strict=True)):
            return drawn
    return exact


def _widened(peg: PassedPeg, ground: Ground, beside: float) -> PassedPeg:
    return replace(peg, radius_mm=max(peg.radius_mm, (ground.radius + beside) / ground.scale))


def _steps(legs: Sequence[Leg], arcs: Sequence[Arc], ground: Ground) -> tuple[Step, ...]:
    """Leg, arc, leg, arc, ... as one line."""
    steps: list[Step] = []
    for number, leg in enumerate(legs):
        steps += [("move", *ground.at(*leg.start)), ("line", *ground.at(*leg.stop))]
        if number < len(arcs):
            steps += _arc(arcs[number], ground)
    return tuple(steps)


def _arc(arc: Arc, ground: Ground) -> list[Step]:
    pieces = max(1, int(abs(arc.sweep) / FINEST_ARC) + 1)
    steps: list[Step] = [("move", *ground.at(*arc.start))]
    for piece in range(1, pieces + 1):
        angle = arc.start_angle + arc.sweep * piece / pieces
        x, y = arc.peg.x_mm + arc.peg.radius_mm * cos(angle), arc.peg.y_mm + arc.peg.radius_mm * sin(angle)
        steps.append(("line", *ground.at(x, y)))
    return steps


def _arrow(leg: Leg, ground: Ground) -> Iterable[Mark]:
    """An arrow head half-way along a leg that is long enough to carry one."""
    (x1, y1), (x2, y2) = ground.at(*leg.start), ground.at(*leg.stop)
    long = hypot(x2 - x1, y2 - y1)
    if long < SHORTEST_ARROWED:
        return
    ux, uy = (x2 - x1) / long, (y2 - y1) / long
    tip_x, tip_y = (x1 + x2) / 2 + ux * ARROW, (y1 + y2) / 2 + uy * ARROW
    size = ARROW
    back_x, back_y = tip_x - ux * size * 1.8, tip_y - uy * size * 1.8
    yield Path(
        (
            ("move", tip_x, tip_y), ("line", back_x - uy * size * 0.7, back_y + ux * size * 0.7),
            ("line", back_x + uy * size * 0.7, back_y - ux * size * 0.7), ("close",),
        ),
        fill=BLACK,
    )  # fmt: skip
