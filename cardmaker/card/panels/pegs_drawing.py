"""A board or a table with its pegs from above, and one thread through all that it goes round.

Names and lengths stand outside.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import hypot, inf
from typing import Final

from cardmaker.card.panels.cross_drawing import DIMENSION, dimension_line
from cardmaker.card.panels.peg_ground import BESIDE_PEG, CLEAR, WAVE, Ground, above, across, ground_of, name_height
from cardmaker.card.panels.peg_threads import draw_arrows, draw_threads, thread_on_paper
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, FAINT, HAIRLINE, HEAVY, OUTLINE, RULE, SOFT, WHITE
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Dot, Face, Mark, Path, Step, Words
from cardmaker.model.peg_plan import Dimension, Peg, PegPlan
from cardmaker.wording import peg_words
from cardmaker.wording.formatters import small_length

EMPTY_PEG: Final = 0.6  # of the radius of a peg that the thread meets
MOST_PUSHES: Final = 20  # rounds in which names at one edge push each other apart


def draw_pegs(sheet: Sheet, pegs: PegPlan, box: Box) -> list[Mark]:
    """The whole board or room, with the lengths to measure along its edges."""
    ground = ground_of(sheet, pegs, box)
    thread = thread_on_paper(sheet, pegs, ground)
    return [
        *_surface(pegs, ground),
        *_empty_pegs(sheet, pegs, ground),
        *draw_threads(pegs, thread),
        *_pegs(sheet, pegs, ground),
        *draw_arrows(sheet, pegs, thread),
        *_distances(sheet, pegs, ground),
    ]


def _surface(pegs: PegPlan, ground: Ground) -> Iterable[Mark]:
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


def _pegs(sheet: Sheet, pegs: PegPlan, ground: Ground) -> Iterable[Mark]:
    """The pegs on the way over the thread, outlined in black; home and far last, so that nothing covers them."""
    for peg in sorted(_drawn(pegs, ground), key=lambda each: each.name in (pegs.home, pegs.far)):
        if peg.name not in pegs.route:
            continue
        x, y = ground.at(float(peg.x_mm), float(peg.y_mm))
        accented = peg.name in (pegs.home, pegs.far)
        fill, colour = ACCENT if peg.name == pegs.home else WHITE, ACCENT if accented else BLACK
        yield Dot(x, y, ground.radius, fill, colour, HEAVY if accented else OUTLINE)
        yield _peg_name(sheet, pegs, ground, peg)


def _empty_pegs(sheet: Sheet, pegs: PegPlan, ground: Ground) -> Iterable[Mark]:
    """Those that the thread passes by: small, by their own names where these touch no other; none that would lie half
    under a peg of the way, or under the thread round it."""
    for peg in _drawn(pegs, ground):
        if peg.name not in pegs.route and not _covered(pegs, ground, peg):
            x, y = ground.at(float(peg.x_mm), float(peg.y_mm))
            yield Dot(x, y, ground.radius * EMPTY_PEG, WHITE, SOFT, HAIRLINE)
            if not _crowded(sheet, pegs, ground, peg):
                yield _peg_name(sheet, pegs, ground, peg)


def _covered(pegs: PegPlan, ground: Ground, peg: Peg) -> bool:
    """Whether a peg that stays empty comes too near to one that the thread goes round."""
    x, y = ground.at(float(peg.x_mm), float(peg.y_mm))
    met = (ground.at(float(each.x_mm), float(each.y_mm)) for each in pegs.pegs if each.name in pegs.route)
    return any(hypot(x - one, y - other) < ground.radius * (1 + EMPTY_PEG) + BESIDE_PEG + OUTLINE for one, other in met)


def _drawn(pegs: PegPlan, ground: Ground) -> list[Peg]:
    """Every peg that lies on what is drawn."""
    return [peg for peg in pegs.pegs if float(peg.y_mm) < ground.extent.bottom]


def _crowded(sheet: Sheet, pegs: PegPlan, ground: Ground, peg: Peg) -> bool:
    """Whether the name of a peg that stays empty would touch that of one above or below it that the thread meets."""
    near = (float(abs(each.y_mm - peg.y_mm)) for each in pegs.pegs if each.x_mm == peg.x_mm and each.name in pegs.route)
    return min(near, default=inf) * ground.scale_down < name_height(sheet) and not _all_named(sheet, ground, peg, pegs)


def _all_named(sheet: Sheet, ground: Ground, peg: Peg, pegs: PegPlan) -> bool:
    """Whether the names of all pegs at the edge of this one find room beside each other, pushed a little apart."""
    at_edge = [each for each in _drawn(pegs, ground) if each.x_mm == peg.x_mm]
    is_outer = peg.x_mm in (min(across(pegs)), max(across(pegs)))
    return is_outer and len(at_edge) * name_height(sheet) <= ground.edges.height + cap_height(sheet.sizes.smallest)


def _peg_name(sheet: Sheet, pegs: PegPlan, ground: Ground, peg: Peg) -> Words:
    """Outside the edge that the peg stands at: left, right, below; else over it, and over the upper edge if near."""
    size, cap, edges = sheet.sizes.smallest, cap_height(sheet.sizes.smallest), ground.edges
    x, y = ground.at(float(peg.x_mm), float(peg.y_mm))
    away = ground.radius + CLEAR + (BESIDE_PEG if peg.name in pegs.route else 0.0)
    accented = peg.name in (pegs.home, pegs.far)
    colour = ACCENT if accented else BLACK if peg.name in pegs.route else SOFT
    face = Face.SANS_BOLD if accented else Face.SANS
    name = peg_words.peg_name(peg.name, pegs)
    if peg.x_mm == min(across(pegs)):
        at = _apart(sheet, pegs, ground, peg) + cap / 2
        return Words(min(x - away, edges.left - CLEAR), at, name, face, size, colour, "right")
    if peg.x_mm == max(across(pegs)):
        at = _apart(sheet, pegs, ground, peg) + cap / 2
        return Words(max(x + away, edges.right + CLEAR), at, name, face, size, colour)
    if peg.y_mm == max(each.y_mm for each in pegs.pegs):
        return Words(x, max(y + away, edges.bottom + CLEAR) + cap, name, face, size, colour, "middle")
    over = y - away
    if over - cap - CLEAR < edges.top:
        over = min(over, edges.top - CLEAR)
    return Words(x, over, name, face, size, colour, "middle")


def _apart(sheet: Sheet, pegs: PegPlan, ground: Ground, peg: Peg) -> float:
    """How far down the name of a peg at an outer edge stands: beside it, or a little off where names would touch."""
    named = [
        each for each in sorted(_drawn(pegs, ground), key=lambda each: each.y_mm)
        if each.x_mm == peg.x_mm
        and (each.name in pegs.route or not (_crowded(sheet, pegs, ground, each) or _covered(pegs, ground, each)))
    ]  # fmt: skip
    places = [ground.at(0.0, float(each.y_mm))[1] for each in named]
    for _ in range(MOST_PUSHES):
        for upper in range(len(places) - 1):
            push = max(0.0, name_height(sheet) - (places[upper + 1] - places[upper])) / 2
            places[upper] -= push
            places[upper + 1] += push
    return places[named.index(peg)]


def _distances(sheet: Sheet, pegs: PegPlan, ground: Ground) -> Iterable[Mark]:
    """In a room the lengths along the upper edge, outside it; the list of pegs has all of them."""
    if pegs.surface_mm is not None:
        return
    upper = min(each.y_mm for each in pegs.pegs)
    y = ground.edges.top - above(sheet, pegs) + DIMENSION / 2
    for each in pegs.dimensions:
        if each.start.y_mm == each.stop.y_mm == upper:
            left, right = sorted(_x(ground, peg) for peg in (each.start, each.stop))
            yield from dimension_line(sheet, _length(sheet, each), left, right, y)


def _x(ground: Ground, peg: Peg) -> float:
    return ground.at(float(peg.x_mm), float(peg.y_mm))[0]


def _length(sheet: Sheet, dimension: Dimension) -> str:
    return small_length(dimension.centres_mm, sheet.units)
