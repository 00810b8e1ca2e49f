"""The thread round the pegs, out and back, drawn clear of them: on which side of each one passes is to be seen.

Where pegs stand too close for both ways, it is the way out alone: the cross, drawn by itself, shows the way back.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations, pairwise
from math import cos, hypot, pi, sin
from typing import Final

from cardmaker.card.panels.peg_ground import BACK_BESIDE, OUT_BESIDE, Ground, apart_for_back
from cardmaker.card.panels.small_cross import BACK_DASH
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
    has_back = shows_way_back(pegs, ground)
    out = _steps(path.legs[:turn], path.arcs[1 : turn + 1 if has_back else turn])
    back = _steps(path.legs[turn:], path.arcs[turn + 1 :])
    if has_back:
        yield Path(back, stroke=BLACK, width=OUTLINE * 1.2, dash=BACK_DASH)
    yield Path(out, stroke=WHITE, width=OUTLINE * 3.2)
    yield Path(out, stroke=BLACK, width=OUTLINE * 1.5)


def draw_arrows(pegs: PegPlan, ground: Ground) -> Iterable[Mark]:
    """The way out: an arrow on every leg that is long enough."""
    return (mark for leg in path_on_paper(pegs, ground).legs[: pegs.turning] for mark in _arrow(leg))


def shows_way_back(pegs: PegPlan, ground: Ground) -> bool:
    """Whether no two pegs of the thread stand so close that their ways back would touch."""
    places = [ground.at(float(peg.x_mm), float(peg.y_mm)) for peg in pegs.pegs if peg.name in pegs.route]
    least = apart_for_back(ground.radius) - 1e-6
    return all(hypot(one[0] - other[0], one[1] - other[1]) >= least for one, other in combinations(places, 2))


def path_on_paper(pegs: PegPlan, ground: Ground) -> ThreadPath:
    """The thread in millimetres of the paper, with its distance from the pegs as it is drawn: out close to them, back
    outside that.

    In the proportions of the drawing both would lie under the pegs. Where so wide a thread would lie another way round
    a peg than the real one does, it is as close to the pegs as the real one.
    """
    exact, turn = pegs.round_trip, pegs.turning
    last_close = turn if shows_way_back(pegs, ground) else len(exact.passed)
    for nearer in (1.0, 0.6):
        beside = [nearer * (OUT_BESIDE if at <= last_close else BACK_BESIDE) for at in range(len(exact.passed))]
        passed = [_on_paper(peg, ground, ground.radius + gap) for peg, gap in zip(exact.passed, beside, strict=True)]
        if any(hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm) <= a.radius_mm + b.radius_mm for a, b in pairwise(passed)):
            continue
        drawn = path_round_pegs(passed, closed=True)
        if all(abs(one.sweep - other.sweep) < pi for one, other in zip(drawn.arcs, exact.arcs, strict=True)):
            return drawn
    real = [_on_paper(peg, ground, peg.radius_mm * ground.scale_down) for peg in exact.passed]
    return path_round_pegs(real, closed=True)


def _on_paper(peg: PassedPeg, ground: Ground, radius: float) -> PassedPeg:
    x, y = ground.at(peg.x_mm, peg.y_mm)
    return replace(peg, x_mm=x, y_mm=y, radius_mm=radius)


def _steps(legs: Sequence[Leg], arcs: Sequence[Arc]) -> tuple[Step, ...]:
    """Leg, arc, leg, arc, ... as one line."""
    steps: list[Step] = []
    for number, leg in enumerate(legs):
        steps += [("move", *leg.start), ("line", *leg.stop)]
        if number < len(arcs):
            steps += _arc(arcs[number])
    return tuple(steps)


def _arc(arc: Arc) -> list[Step]:
    pieces = max(1, int(abs(arc.sweep) / FINEST_ARC) + 1)
    steps: list[Step] = [("move", *arc.start)]
    for piece in range(1, pieces + 1):
        angle = arc.start_angle + arc.sweep * piece / pieces
        x, y = arc.peg.x_mm + arc.peg.radius_mm * cos(angle), arc.peg.y_mm + arc.peg.radius_mm * sin(angle)
        steps.append(("line", x, y))
    return steps


def _arrow(leg: Leg) -> Iterable[Mark]:
    """An arrow head half-way along a leg that is long enough to carry one."""
    (x1, y1), (x2, y2) = leg.start, leg.stop
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
