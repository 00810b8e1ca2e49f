"""The woven face in marks: each raised end shows two ends wide for one pick, so the picks lie like bricks.

It is drawn as it grows before the weaver: the first pick at the foot, each later one above it, the left edge at the
left. Drawn the other way down it would be the tape's mirror image, which no turning makes the tape.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from itertools import accumulate, pairwise
from math import floor
from typing import Protocol

from cardmaker.layout.ink import BLACK, FINEST, HAIRLINE, WHITE, Ink, hatching
from cardmaker.model.marks import Box, Dot, Mark, Path, Stamp, Step
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import record
from cardmaker.reckoning.amounts.width import end_edges
from cardmaker.reckoning.stripes.colour_clash import lightness

LEAST_HATCHED = 1.2  # mm: narrower ends bear a stroke of their hatching
LEAST_OUTLINED = 0.3  # mm: round narrower ends a printed line would drown their colour
LEAST_MARKED = 0.6  # mm: on narrower floats nobody sees a stroke
MARK_WIDTH = 0.15  # mm
THICKER = 1.1  # times as thick as its neighbour: from here on an end at an edge is drawn as a cord
GIVE_WAY = 5  # floats that share the room at such an edge
CURVE = 0.5523  # a quarter circle as a Bézier curve


def pick_height(plan: Plan) -> float:
    """The height of one pick at life size, in mm."""
    return float(254 / (10 * plan.weft.picks_per_inch))


class Woven(Protocol):
    """What a face is drawn from: the plan as the tape lies, and the inks of its yarns."""

    @property
    def face_plan(self) -> Plan: ...

    @property
    def inks(self) -> Mapping[str, Ink]: ...


@record
class Cloth:
    """A plan and its inks, without a card round them."""

    face_plan: Plan
    inks: Mapping[str, Ink]


@record
class PickFace:
    """One pick as it shows: its shed, and the ends that are on top."""

    is_down: bool
    raised: tuple[int, ...]


def repeat_of(plan: Plan) -> list[PickFace]:
    """The picks until the face repeats: the two sheds, or the rows of a pick-up figure."""
    if plan.pickup is not None:
        return [PickFace(row.shed == "down", row.raised) for row in plan.pickup.rows]
    return [PickFace(True, plan.sheds.down), PickFace(False, plan.sheds.up)]


def in_whole_picks(plan: Plan, box: Box, scale: float) -> Box:
    """As much of a box, from its top, as whole picks fill, ``scale`` times life size; where not one does, no height."""
    pick = pick_height(plan) * scale
    return box._replace(height=max(0, floor(box.height / pick + 1e-6)) * pick)


def stamped_face(sheet: Woven, box: Box, scale: float) -> list[Mark]:
    """The face ``scale`` times life size, the first pick at the foot of ``box``: one repeat drawn once and stamped; of
    a repeat that is longer than the box, as many picks as show.

    Where the box is not a whole number of picks high, its foot stays white: half a pick would seem to be a narrow one.
    """
    plan = sheet.face_plan
    pick = pick_height(plan) * scale
    box = in_whole_picks(plan, box, scale)
    shown = round(box.height / pick)
    if shown < 1:  # a sample of the tape may take the whole height
        return []
    repeat = repeat_of(plan)[:shown]
    high = pick * len(repeat)
    start = shown % len(repeat)  # the stamps begin at the top: the first pick is to end up last
    unit_box = Box(box.left, box.top, box.width, high)
    unit = picks_drawn(sheet, [each.raised for each in (*repeat[start:], *repeat[:start])], unit_box)
    return [Stamp(tuple(unit), int(box.height / high) + 2, 0.0, high, box)]


def picks_drawn(sheet: Woven, raised: Sequence[tuple[int, ...]], box: Box) -> list[Mark]:
    """The picks from the foot of ``box`` to its top, one for each set of raised ends."""
    pick = box.height / len(raised)
    edges = edges_across(sheet.face_plan, box)
    marks: list[Mark] = []
    for number, ends in enumerate(raised, start=1):
        marks += _pick(sheet, ends, Box(box.left, box.bottom - number * pick, box.width, pick), edges)
    return marks


def edges_across(plan: Plan, box: Box) -> list[float]:
    """Where each end begins across a box that is as wide as the tape, and where the last one ends: a thick yarn's are
    drawn wider."""
    return [box.left + share * box.width for share in end_edges(plan.pattern, plan.end_yarns)]


def _pick(sheet: Woven, raised: Sequence[int], box: Box, edges: Sequence[float]) -> list[Mark]:
    """One pick: the raised ends by yarn, and the weft where it turns at an edge whose end is down."""
    plan = sheet.face_plan
    end_width = box.width / plan.ends
    over = plan.pickup.pattern_ends if plan.pickup else ()
    cells = _cells(sorted(raised), edges, box, over)
    steps: dict[str, list[Step]] = {}
    for end_number, cell in cells.items():
        steps.setdefault(plan.end_yarns[end_number - 1], []).extend(_float(cell))
    marks = _turns(sheet, raised, box, edges) + _painted(sheet, steps, end_width)
    return marks + (_hatched(sheet, cells) if end_width > LEAST_HATCHED else _marked(sheet, cells))


def _cells(raised: Sequence[int], edges: Sequence[float], box: Box, over: Collection[int] = ()) -> dict[int, Box]:
    """How far each raised end spreads: half its own width to either side, within the tape, and half-way between two
    where both would spread over one place. So a thick end is drawn wider than a thin one. One of those that may lie
    ``over`` others, lifted between two that are up, is as wide as where it rises without them."""
    bounds = _bounds(raised, edges)
    for at, (end_number, after) in enumerate(pairwise(raised), start=1):
        if after == end_number + 1 and (end_number in over) != (after in over):
            bounds[at] = _side(edges, end_number, 1) if end_number in over else _side(edges, after, -1)
    return {
        end_number: Box(left, box.top, right - left, box.height)
        for end_number, left, right in zip(raised, bounds, bounds[1:], strict=False)
    }


def _bounds(raised: Sequence[int], edges: Sequence[float]) -> list[float]:
    """Where the first raised end begins to spread, where each gives way to the next, and where the last one stops."""
    reaches = [_reach(edges, end_number) for end_number in raised]
    if not reaches:
        return []
    between = [(one[1] + other[0]) / 2 for one, other in pairwise(reaches)]
    bounds = [reaches[0][0], *between, reaches[-1][1]]
    wide = [edges[end_number] - edges[end_number - 1] for end_number in raised]
    if raised[0] == 1 and _is_cord(edges, 1, 2):
        bounds[: GIVE_WAY + 1] = _shared_out(bounds[: GIVE_WAY + 1], wide[:GIVE_WAY])
    if raised[-1] == len(edges) - 1 and _is_cord(edges, raised[-1], raised[-1] - 1):
        bounds[-GIVE_WAY - 1 :] = _shared_out(bounds[-GIVE_WAY - 1 :], wide[-GIVE_WAY:])
    return bounds


def _side(edges: Sequence[float], end_number: int, towards: int) -> float:
    """Where an end stops to the left (-1) or right (1) in a shed in which its neighbours are down."""
    own, beyond = _reach(edges, end_number), end_number + 2 * towards
    outer = own[1] if towards > 0 else own[0]
    if not 0 < beyond < len(edges):
        return outer
    other = _reach(edges, beyond)
    return (outer + (other[0] if towards > 0 else other[1])) / 2


def _reach(edges: Sequence[float], end_number: int) -> tuple[float, float]:
    """From where to where an end would float by itself: twice as wide as it is thick."""
    first, last = edges[end_number - 1], edges[end_number]
    half = (last - first) / 2
    return max(first - half, edges[0]), min(last + half, edges[-1])


def _is_cord(edges: Sequence[float], end_number: int, neighbour: int) -> bool:
    """Whether an end at an edge is thicker than the one beside it: beyond the edge there is nothing to spread over, so
    it would look thinner than it is."""
    if not 0 < neighbour < len(edges):
        return False
    wide, beside = (edges[each] - edges[each - 1] for each in (end_number, neighbour))
    return wide > beside * THICKER


def _shared_out(bounds: Sequence[float], wide: Sequence[float]) -> list[float]:
    """The same stretch of a pick, its floats as wide as their ends are thick."""
    sums = [0.0, *accumulate(wide)]
    return [bounds[0] + (bounds[-1] - bounds[0]) * each / sums[-1] for each in sums]


def _turns(sheet: Woven, raised: Sequence[int], box: Box, edges: Sequence[float]) -> list[Mark]:
    """A dot of weft at each edge whose outermost end is down in this pick."""
    plan = sheet.face_plan
    fill = sheet.inks[plan.weft.yarn].fill
    y = box.top + box.height / 2
    first, last = edges[1] - edges[0], edges[-1] - edges[-2]
    places = [(1, edges[0] + first / 4, first), (plan.ends, edges[-1] - last / 4, last)]
    return [
        Dot(x, y, min(wide / 2, box.height / 2) * 0.4, fill, BLACK, FINEST)
        for end_number, x, wide in places
        if end_number not in raised
    ]


def _painted(sheet: Woven, steps: Mapping[str, list[Step]], end_width: float) -> list[Mark]:
    width = max(FINEST, min(HAIRLINE, end_width * 0.22))
    return [
        Path(tuple(figure), fill=fill, stroke=outline_for(fill) if end_width >= LEAST_OUTLINED else None, width=width)
        for yarn, figure in steps.items()
        for fill in [sheet.inks[yarn].fill]
    ]


def _hatched(sheet: Woven, cells: Mapping[int, Box]) -> list[Mark]:
    """Hatching inside the floats, where they are drawn large enough to carry it."""
    marks: list[Mark] = []
    for end_number, cell in cells.items():
        aside, down = cell.width * 0.16, cell.height * 0.14
        ink = sheet.inks[sheet.face_plan.end_yarns[end_number - 1]]
        lines: list[Mark] = list(hatching(cell.inset(aside, down, aside, down), ink, HAIRLINE))
        if not lines and ink.slopes:  # they all fall beside it
            lines = [Path(tuple(_strokes(cell, ink)), stroke=ink.on, width=HAIRLINE)]
        marks += lines
    return marks


def _marked(sheet: Woven, cells: Mapping[int, Box]) -> list[Mark]:
    """Of ends too narrow for hatching a stroke or two of it in the middle of each float: so a yarn that has a hatching
    bears it at every size, and a grey copy tells it from the next."""
    steps: dict[str, list[Step]] = {}
    for end_number, cell in cells.items():
        yarn = sheet.face_plan.end_yarns[end_number - 1]
        if sheet.inks[yarn].slopes and cell.width > LEAST_MARKED:
            steps.setdefault(yarn, []).extend(_strokes(cell, sheet.inks[yarn]))
    return [Path(tuple(figure), stroke=sheet.inks[yarn].on, width=MARK_WIDTH) for yarn, figure in steps.items()]


def _strokes(cell: Box, ink: Ink) -> list[Step]:
    """One stroke for every direction of the hatching, level or slanted; two level ones for a close hatching."""
    aside, middle = cell.width * 0.24, cell.top + cell.height / 2
    left, right = cell.left + aside, cell.right - aside
    steep = min(cell.height * 0.2, (right - left) * 0.7)
    steps: list[Step] = []
    for slope in ink.slopes:
        apart = cell.height * 0.12 if slope == 0 and ink.spacing < 1 else 0.0
        for y in {middle - apart: None, middle + apart: None}:
            steps += [("move", left, y + slope * steep), ("line", right, y - slope * steep)]
    return steps


def outline_for(fill: str) -> str:
    """The line round a float: dark on light yarn, white on dark, so that single ends stay apart in grey."""
    return BLACK if lightness(fill) > 22 else WHITE


def _float(cell: Box) -> list[Step]:
    """One end floating over one pick: a pillow, rounder at top and bottom where it dives under its neighbours."""
    left, right, top, bottom = cell.left, cell.right, cell.top, cell.bottom
    middle = cell.middle
    bend = min(cell.height * 0.42, cell.width * 0.5)
    half = cell.width / 2 * CURVE
    return [
        ("move", left, top + bend),
        ("curve", left, top + bend * (1 - CURVE), middle - half, top, middle, top),
        ("curve", middle + half, top, right, top + bend * (1 - CURVE), right, top + bend),
        ("line", right, bottom - bend),
        ("curve", right, bottom - bend * (1 - CURVE), middle + half, bottom, middle, bottom),
        ("curve", middle - half, bottom, left, bottom - bend * (1 - CURVE), left, bottom - bend),
        ("close",),
    ]
