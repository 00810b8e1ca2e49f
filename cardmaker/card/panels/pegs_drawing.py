"""A board or a table with its pegs from above, to scale, and one thread through all that it goes round.

Names and lengths stand outside. A board is drawn down to a little below the last peg that is used, and torn off there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from itertools import pairwise
from math import cos, hypot, inf, pi, sin
from typing import Final

from cardmaker.card.panels.cross_drawing import BACK_DASH, DIMENSION, dimension_line
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, FAINT, HAIRLINE, HEAVY, OUTLINE, RULE, SOFT, WHITE
from cardmaker.layout.type_setting import cap_height, tail_depth
from cardmaker.model.marks import Box, Dot, Face, Mark, Path, Step, Words
from cardmaker.model.peg_plan import Arc, Dimension, Leg, Peg, PegPlan
from cardmaker.model.record_class import record
from cardmaker.wording import peg_words
from cardmaker.wording.formatters import small_length

FINEST_ARC: Final = pi / 12  # an arc is drawn in pieces no longer than this
LEAST_RADIUS: Final = 0.9  # of a peg, in mm on paper
SHORTEST_ARROWED: Final = 7.0  # mm
ARROW: Final = 1.4  # mm
EMPTY_PEG: Final = 0.6  # of the radius of a peg that the thread meets
BELOW_LAST: Final = 0.6  # of the way to the next peg below is still drawn
WORTH_TEARING: Final = 0.8  # a board is drawn whole unless less than this share of it is needed
WAVE: Final = 1.1  # mm, the height of the torn edge's waves
CLEAR: Final = 1.0  # mm between a name and an edge, a peg, another name
MOST_PUSHES: Final = 20  # rounds in which names at one edge push each other apart


@record
class _Extent:
    """What is drawn, in the room's millimetres; ``torn`` where the surface goes on below."""

    left: float
    top: float
    right: float
    bottom: float
    torn: bool = False

    @property
    def width(self) -> float:
        return max(1.0, self.right - self.left)

    @property
    def height(self) -> float:
        return max(1.0, self.bottom - self.top)


@record
class _Ground:
    """Where the room's millimetres fall on paper."""

    left: float
    top: float
    scale: float
    extent: _Extent

    def at(self, x: float, y: float) -> tuple[float, float]:
        return self.left + (x - self.extent.left) * self.scale, self.top + (y - self.extent.top) * self.scale

    @property
    def edges(self) -> Box:
        """What is drawn, on paper."""
        return Box(self.left, self.top, self.extent.width * self.scale, self.extent.height * self.scale)


def pegs_height(sheet: Sheet, pegs: PegPlan, width: float) -> float:
    """The height at which the drawing fills ``width``."""
    extent = _extent(pegs)
    return _above(sheet, pegs) + _below(sheet, pegs) + extent.height * _inner_width(sheet, pegs, width) / extent.width


def apart_height(sheet: Sheet, pegs: PegPlan) -> float:
    """The height from which the names of pegs that the thread meets stand apart, under and beside each other."""
    size = sheet.sizes.smallest
    on_way = [peg for peg in pegs.pegs if peg.name in pegs.route]
    scale = 0.0
    for upper, lower in _neighbours(on_way, lambda peg: (peg.x_mm, peg.y_mm)):
        scale = max(scale, _name_height(sheet) / float(lower.y_mm - upper.y_mm))
    inner = [peg for peg in on_way if peg.x_mm not in (min(_xs(pegs)), max(_xs(pegs)))]
    for left, right in _neighbours(inner, lambda peg: (peg.y_mm, peg.x_mm)):
        wide = sum(sheet.wide(peg.name, Face.SANS, size) for peg in (left, right)) / 2 + CLEAR
        scale = max(scale, wide / float(right.x_mm - left.x_mm))
    return _above(sheet, pegs) + _below(sheet, pegs) + _extent(pegs).height * scale


def _neighbours(pegs: Sequence[Peg], place: Callable[[Peg], tuple[Fraction, Fraction]]) -> list[tuple[Peg, Peg]]:
    """Pegs that follow each other on a line: those whose ``place`` begins alike."""
    pairs = pairwise(sorted(pegs, key=place))
    return [(one, other) for one, other in pairs if place(one)[0] == place(other)[0]]


def _xs(pegs: PegPlan) -> list[Fraction]:
    return [peg.x_mm for peg in pegs.pegs]


def _name_height(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.smallest) + tail_depth(sheet.sizes.smallest) + 0.3


def draw_pegs(sheet: Sheet, pegs: PegPlan, box: Box) -> list[Mark]:
    """The whole board or room, with the lengths to measure along its edges."""
    ground = _ground(sheet, pegs, box)
    return [
        *_surface(pegs, ground),
        *_empty_pegs(sheet, pegs, ground),
        *_threads(pegs, ground),
        *_pegs(sheet, pegs, ground),
        *(mark for leg in pegs.way_out[0] for mark in _arrow(leg, ground)),
        *_distances(sheet, pegs, ground),
    ]


def _above(sheet: Sheet, pegs: PegPlan) -> float:
    """The room over the upper edge: for names, and in a room, which has no board's edges to go by, for lengths."""
    lengths = DIMENSION if pegs.surface_mm is None else 0.0
    return lengths + cap_height(sheet.sizes.smallest) + 2 * CLEAR


def _below(sheet: Sheet, pegs: PegPlan) -> float:
    """The room for names under the lower edge, where pegs stand between the outer ones."""
    lowest, outer = max(peg.y_mm for peg in pegs.pegs), (min(_xs(pegs)), max(_xs(pegs)))
    if all(peg.x_mm in outer for peg in pegs.pegs if peg.y_mm == lowest):
        return cap_height(sheet.sizes.smallest) / 2
    return cap_height(sheet.sizes.smallest) + 2 * CLEAR + tail_depth(sheet.sizes.smallest)


def _side_room(sheet: Sheet, pegs: PegPlan, x: Fraction) -> float:
    """For the names of the pegs at the outer edge ``x``, outside it."""
    names = (peg_words.peg_name(peg.name, pegs) for peg in pegs.pegs if peg.x_mm == x)
    return max(sheet.wide(name, Face.SANS_BOLD, sheet.sizes.smallest) for name in names) + 2 * CLEAR


def _inner_width(sheet: Sheet, pegs: PegPlan, width: float) -> float:
    return max(1.0, width - sum(_side_room(sheet, pegs, x) for x in (min(_xs(pegs)), max(_xs(pegs)))))


def _extent(pegs: PegPlan) -> _Extent:
    """All there is to see: the surface where there is one, else the pegs; down to the last peg that is used."""
    radius = float(pegs.diameter_mm) / 2
    xs = [float(peg.x_mm) for peg in pegs.pegs]
    ys = [float(peg.y_mm) for peg in pegs.pegs]
    left, top, right, bottom = min(xs) - radius, min(ys) - radius, max(xs) + radius, max(ys) + radius
    if pegs.surface_mm is not None:
        left, top = min(left, 0.0), min(top, 0.0)
        right, bottom = max(right, float(pegs.surface_mm[0])), max(bottom, float(pegs.surface_mm[1]))
    last = max(float(peg.y_mm) for peg in pegs.pegs if peg.name in pegs.route)
    if following := [y for y in ys if y > last + radius]:
        edge = last + radius + BELOW_LAST * (min(following) - last - radius)
        if edge - top < WORTH_TEARING * (bottom - top):
            return _Extent(left, top, right, edge, torn=True)
    return _Extent(left, top, right, bottom)


def _ground(sheet: Sheet, pegs: PegPlan, box: Box) -> _Ground:
    extent = _extent(pegs)
    inner = box.inset(top=_above(sheet, pegs), bottom=_below(sheet, pegs))
    scale = max(0.0, min(_inner_width(sheet, pegs, box.width) / extent.width, inner.height / extent.height))
    return _Ground(box.left + _side_room(sheet, pegs, min(_xs(pegs))), inner.top, scale, extent)


def _surface(pegs: PegPlan, ground: _Ground) -> Iterable[Mark]:
    """The board's own edges, the lower one torn where the board goes on."""
    if pegs.surface_mm is None:
        return
    edges = ground.edges
    corners = (
        (edges.left, edges.bottom),
        (edges.left, edges.top),
        (edges.right, edges.top),
        (edges.right, edges.bottom),
    )
    steps: list[Step] = [("move", *corners[0]), *(("line", *corner) for corner in corners[1:])]
    steps += _torn(edges) if ground.extent.torn else [("close",)]
    yield Path(tuple(steps), stroke=FAINT, width=RULE)


def _torn(edges: Box) -> list[Step]:
    """Waves from the right to the left."""
    waves = max(4, round(edges.width / 6))
    step = edges.width / waves
    steps: list[Step] = []
    for number in range(waves):
        x, sign = edges.right - number * step, 1 if number % 2 else -1
        bend = edges.bottom + sign * WAVE
        steps.append(("curve", x - step / 3, bend, x - 2 * step / 3, bend, x - step, edges.bottom))
    return steps


def _threads(pegs: PegPlan, ground: _Ground) -> Iterable[Mark]:
    """The way out as a full line with arrows, the way back dashed; whichever lies on top is cased in white."""
    out_legs, out_arcs = pegs.way_out
    turn = pegs.round_trip.arcs[pegs.turning]
    out, back = _steps(out_legs, (*out_arcs, turn), ground), _steps(*pegs.way_back, ground)
    yield Path(back, stroke=BLACK, width=OUTLINE * 1.2, dash=BACK_DASH)
    yield Path(out, stroke=WHITE, width=OUTLINE * 3.2)
    yield Path(out, stroke=BLACK, width=OUTLINE * 1.5)


def _steps(legs: Sequence[Leg], arcs: Sequence[Arc], ground: _Ground) -> tuple[Step, ...]:
    """Leg, arc, leg, arc, ... as one line."""
    steps: list[Step] = []
    for number, leg in enumerate(legs):
        steps += [("move", *ground.at(*leg.start)), ("line", *ground.at(*leg.stop))]
        if number < len(arcs):
            steps += _arc(arcs[number], ground)
    return tuple(steps)


def _arc(arc: Arc, ground: _Ground) -> list[Step]:
    pieces = max(1, int(abs(arc.sweep) / FINEST_ARC) + 1)
    steps: list[Step] = [("move", *ground.at(*arc.start))]
    for piece in range(1, pieces + 1):
        angle = arc.start_angle + arc.sweep * piece / pieces
        x, y = arc.peg.x_mm + arc.peg.radius_mm * cos(angle), arc.peg.y_mm + arc.peg.radius_mm * sin(angle)
        steps.append(("line", *ground.at(x, y)))
    return steps


def _arrow(leg: Leg, ground: _Ground) -> Iterable[Mark]:
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


def _pegs(sheet: Sheet, pegs: PegPlan, ground: _Ground) -> Iterable[Mark]:
    """The pegs on the way over the thread, outlined in black; home and far last, so that nothing covers them."""
    radius = _radius(pegs, ground)
    for peg in sorted(_drawn(pegs, ground), key=lambda each: each.name in (pegs.home, pegs.far)):
        if peg.name not in pegs.route:
            continue
        x, y = ground.at(float(peg.x_mm), float(peg.y_mm))
        accented = peg.name in (pegs.home, pegs.far)
        fill, colour = ACCENT if peg.name == pegs.home else WHITE, ACCENT if accented else BLACK
        yield Dot(x, y, radius, fill, colour, HEAVY if accented else OUTLINE)
        yield _peg_name(sheet, pegs, ground, peg)


def _empty_pegs(sheet: Sheet, pegs: PegPlan, ground: _Ground) -> Iterable[Mark]:
    """Those that the thread passes by: small and under it, by their own names where these touch no other."""
    for peg in _drawn(pegs, ground):
        if peg.name not in pegs.route:
            x, y = ground.at(float(peg.x_mm), float(peg.y_mm))
            yield Dot(x, y, _radius(pegs, ground) * EMPTY_PEG, WHITE, SOFT, HAIRLINE)
            if not _crowded(sheet, pegs, ground, peg):
                yield _peg_name(sheet, pegs, ground, peg)


def _drawn(pegs: PegPlan, ground: _Ground) -> list[Peg]:
    """Every peg that lies on what is drawn."""
    return [peg for peg in pegs.pegs if float(peg.y_mm) < ground.extent.bottom]


def _crowded(sheet: Sheet, pegs: PegPlan, ground: _Ground, peg: Peg) -> bool:
    """Whether the name of a peg that stays empty would touch that of one above or below it that the thread meets."""
    near = (float(abs(each.y_mm - peg.y_mm)) for each in pegs.pegs if each.x_mm == peg.x_mm and each.name in pegs.route)
    return min(near, default=inf) * ground.scale < _name_height(sheet)


def _radius(pegs: PegPlan, ground: _Ground) -> float:
    return max(LEAST_RADIUS, float(pegs.diameter_mm) / 2 * ground.scale)


def _peg_name(sheet: Sheet, pegs: PegPlan, ground: _Ground, peg: Peg) -> Words:
    """Outside the edge that the peg stands at: left, right, below; else over it, and over the upper edge if near."""
    size, cap, edges = sheet.sizes.smallest, cap_height(sheet.sizes.smallest), ground.edges
    x, y = ground.at(float(peg.x_mm), float(peg.y_mm))
    away = _radius(pegs, ground) + CLEAR
    accented = peg.name in (pegs.home, pegs.far)
    colour = ACCENT if accented else BLACK if peg.name in pegs.route else SOFT
    face = Face.SANS_BOLD if accented else Face.SANS
    name = peg_words.peg_name(peg.name, pegs)
    if peg.x_mm == min(_xs(pegs)):
        at = _apart(sheet, pegs, ground, peg) + cap / 2
        return Words(min(x - away, edges.left - CLEAR), at, name, face, size, colour, "right")
    if peg.x_mm == max(_xs(pegs)):
        at = _apart(sheet, pegs, ground, peg) + cap / 2
        return Words(max(x + away, edges.right + CLEAR), at, name, face, size, colour)
    if peg.y_mm == max(each.y_mm for each in pegs.pegs):
        return Words(x, max(y + away, edges.bottom + CLEAR) + cap, name, face, size, colour, "middle")
    over = y - away
    return Words(x, edges.top - CLEAR if over - cap - CLEAR < edges.top else over, name, face, size, colour, "middle")


def _apart(sheet: Sheet, pegs: PegPlan, ground: _Ground, peg: Peg) -> float:
    """How far down the name of a peg at an outer edge stands: beside it, or a little off where names would touch."""
    named = [
        each for each in sorted(_drawn(pegs, ground), key=lambda each: each.y_mm)
        if each.x_mm == peg.x_mm and (each.name in pegs.route or not _crowded(sheet, pegs, ground, each))
    ]  # fmt: skip
    places = [ground.at(0.0, float(each.y_mm))[1] for each in named]
    for _ in range(MOST_PUSHES):
        for upper in range(len(places) - 1):
            push = max(0.0, _name_height(sheet) - (places[upper + 1] - places[upper])) / 2
            places[upper] -= push
            places[upper + 1] += push
    return places[named.index(peg)]


def _distances(sheet: Sheet, pegs: PegPlan, ground: _Ground) -> Iterable[Mark]:
    """In a room the lengths along the upper edge, outside it; the list of pegs has all of them."""
    if pegs.surface_mm is not None:
        return
    upper = min(each.y_mm for each in pegs.pegs)
    y = ground.edges.top - _above(sheet, pegs) + DIMENSION / 2
    for each in pegs.dimensions:
        if each.start.y_mm == each.stop.y_mm == upper:
            left, right = sorted(_x(ground, peg) for peg in (each.start, each.stop))
            yield from dimension_line(sheet, _length(sheet, each), left, right, y)


def _x(ground: _Ground, peg: Peg) -> float:
    return ground.at(float(peg.x_mm), float(peg.y_mm))[0]


def _length(sheet: Sheet, dimension: Dimension) -> str:
    return small_length(dimension.centres_mm, sheet.units)
