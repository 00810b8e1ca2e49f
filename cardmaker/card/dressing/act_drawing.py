"""What the pictures of dressing are drawn with: threads, wood, cords, arrows and labels, in one look.

Threads are a black stroke with a lighter one on top. Dark and light threads are every second end, never a yarn. What
lies in front is drawn later; a thread that dives and comes up again is drawn again in part (:meth:`Curve.part`, then
:func:`thread` with flat ends). The accent shows where to act and which way things move.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import Final

from cardmaker.card.dressing.act_figures import ACT_BOX
from cardmaker.card.dressing.curves import Curve, Point, straight, through
from cardmaker.layout.ink import ACCENT, BLACK, WHITE
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Colour, Dot, Face, Line, Mark, Path, Rectangle, Words

DARK: Final = "#3a3a3a"  # every second end
LIGHT: Final = WHITE  # the others
WOOD: Final = "#ece5d6"
CORD: Final = "#b9a06c"  # a grey copy keeps it between dark and light threads
SKIN: Final = WHITE
EDGE: Final = 0.23  # mm: of the black that shows on either side of a thread
OUTLINED: Final = 0.3  # mm: outlines of hands and wood
THREAD: Final = 0.8  # mm: the lighter stroke of a thread
THICK_CORD: Final = 1.0
ARROW: Final = 0.6
SEAM: Final = 0.02  # of the way between two points of a curve: covers the hair between a thread and its upper part
HEAD: Final = 1.9  # mm: how long the head of an arrow is
BRIGHT: Final = "#f4c542"  # a thread that is tied in as a mark: neither an end of the warp nor an arrow
KNOT: Final = "#dcdcdc"  # a whole bundle of ends
STRAND: Final = 0.48  # of the radius of a knot: how thick its bundle is
OVERHAND: Final = (  # in radii from the middle of the knot, from its foot to its top
    (0.0, 1.6), (-0.1, 1.0), (-0.66, 0.1), (-0.35, -0.78), (0.45, -0.8), (0.95, 0.0), (0.55, 0.72), (-0.35, 0.84),
    (-1.0, 0.5), (-0.85, -0.1), (-0.2, -0.2), (0.1, -0.75), (0.0, -1.6),
)  # fmt: skip
OVER_ITSELF: Final = (6.6, 10.9)  # the places where it lies over its own foot and over its own bow


def ink_of_end(end_number: int) -> Colour:
    """Dark for every odd end, light for every even one."""
    return DARK if end_number % 2 else LIGHT


def thread(
    curve: Curve, ink: Colour = DARK, width: float = THREAD, edge: float = EDGE, *, round_ends: bool = True
) -> list[Path]:
    """A thread or a cord along a curve. Flat ends are for a part that is drawn again on top of another thread."""
    steps = curve.steps()
    return [
        Path(steps, stroke=BLACK, width=width + 2 * edge, round_ends=round_ends),
        Path(steps, stroke=ink, width=width, round_ends=round_ends),
    ]


def cut_thread(curve: Curve, ink: Colour = DARK, width: float = THREAD, edge: float = EDGE) -> list[Mark]:
    """A thread with a round tip where it starts, and cut flat where it ends: it goes on outside the picture."""
    (x, y), (black, inked) = curve.at(0), thread(curve, ink, width, edge, round_ends=False)
    return [Dot(x, y, width / 2 + edge, BLACK), black, Dot(x, y, width / 2, ink), inked]


def again(curve: Curve, start: float, stop: float, ink: Colour = DARK, width: float = THREAD) -> list[Mark]:
    """The part of a thread that lies on top of what has been drawn since; its ink runs on a trace into the thread."""
    black, inked = thread(curve.part(start, stop), ink, width, round_ends=False)
    first, last = max(0.0, start - SEAM), min(float(len(curve.pieces)), stop + SEAM)
    return [black, inked._replace(steps=curve.part(first, last).steps())]


def shape(outline: Curve, fill: Colour = SKIN, width: float = OUTLINED) -> list[Mark]:
    """A closed outline, filled."""
    return [Path((*outline.steps(), ("close",)), fill=fill, stroke=BLACK, width=width, round_ends=True)]


def stroke(curve: Curve, width: float = 0.25, colour: Colour = BLACK, dash: tuple[float, ...] = ()) -> list[Mark]:
    """A plain line: a crease, an edge, a leader."""
    return [Path(curve.steps(), stroke=colour, width=width, dash=dash, round_ends=not dash)]


def bar(x: float, y: float, width: float, height: float, fill: Colour = WOOD, radius: float = 0.6) -> list[Mark]:
    """A piece of wood seen from the side: a peg, a stick, a beam, a table, a heddle on edge."""
    return [Rectangle(Box(x, y, width, height), fill, BLACK, OUTLINED, radius)]


def end_on(x: float, y: float, radius: float, fill: Colour = WOOD) -> list[Mark]:
    """A round thing seen along its length: a stick, a finger, a shuttle in the shed."""
    return [Dot(x, y, radius, fill, BLACK, OUTLINED)]


def board(x: float, y: float, width: float, height: float) -> list[Mark]:
    """A heddle seen from the seat, before its spaces are cut into it."""
    return bar(x, y, width, height, WOOD, 0.9)


def hole(x: float, y: float, radius: float = 1.0) -> list[Mark]:
    """A hole in a board."""
    return [Dot(x, y, radius, WHITE, BLACK, 0.28)]


def slot(x: float, top: float, bottom: float, width: float = 1.6) -> list[Mark]:
    """A slot in a board."""
    return [Rectangle(Box(x - width / 2, top, width, bottom - top), WHITE, BLACK, 0.28, width / 2)]


def heddle_strip(x: float, y: float, height: float, pitch: float, spaces: int) -> list[Mark]:
    """A small heddle seen from the seat: slots and holes in turn, a slot first; ``x`` is the middle of the first."""
    marks = board(x - pitch * 0.75, y, pitch * (spaces + 0.5), height)
    for number_of_space in range(spaces):
        at = x + pitch * number_of_space
        if number_of_space % 2:
            marks += hole(at, y + height / 2, height * 0.13)
        else:
            marks += slot(at, y + height * 0.16, y + height * 0.84, height * 0.24)
    return marks


def knot(x: float, y: float, radius: float, *, is_level: bool = False) -> list[Mark]:
    """An overhand knot in a whole bundle of ends, drawn as one thick strand that comes from below and leaves above, or
    from the right and leaves at the left."""
    strand, width = knotted_strand(x, y, radius, is_level=is_level), radius * STRAND
    marks = bundle(strand, KNOT, width)
    for place in OVER_ITSELF:
        marks += bundle(strand.part(place - 0.55, place + 0.55), KNOT, width)
    return marks


def bundle(curve: Curve, ink: Colour, width: float) -> list[Mark]:
    """Many ends side by side, as one thick strand: where there is room for it, fine lines along it tell that."""
    marks: list[Mark] = list(thread(curve, ink, width, round_ends=False))
    if width < 1.0:
        return marks
    return [*marks, *(mark for way in (-1, 1) for mark in stroke(beside(curve, way * width * 0.2), 0.12))]


def beside(curve: Curve, aside: float) -> Curve:
    """A curve that keeps its distance from another one: to its left where ``aside`` is less than nothing."""
    places = [each / 4 for each in range(4 * len(curve.pieces) + 1)]
    points = []
    for place in places:
        (x, y), (x1, y1), (x2, y2) = curve.at(place), curve.at(max(place - 0.02, 0)), curve.at(place + 0.02)
        far = hypot(x2 - x1, y2 - y1)
        points.append((x - (y2 - y1) / far * aside, y + (x2 - x1) / far * aside))
    return through(*points)


def knotted_strand(x: float, y: float, radius: float, *, is_level: bool = False) -> Curve:
    """The way of an overhand knot: up, round over its own foot, behind its own side, and out over its own bow."""
    places = [(along, across) if is_level else (across, along) for across, along in OVERHAND]
    return through(*((x + radius * aside, y + radius * down) for aside, down in places))


def arrow(curve: Curve, width: float = ARROW, head: float = HEAD, colour: Colour = ACCENT) -> list[Mark]:
    """An arrow along a curve, its point at the end."""
    tip, neck = curve.pieces[-1][3], shortened(curve, head).pieces[-1][3]
    far = hypot(tip[0] - neck[0], tip[1] - neck[1])
    dx, dy = (tip[0] - neck[0]) / far * head, (tip[1] - neck[1]) / far * head
    back, aside = (tip[0] - dx, tip[1] - dy), 0.55
    corners = (tip, (back[0] - dy * aside, back[1] + dx * aside), (back[0] + dy * aside, back[1] - dx * aside))
    return [
        Path(shortened(curve, head * 0.8).steps(), stroke=colour, width=width),
        Path((*straight(*corners).steps(), ("close",)), fill=colour),
    ]


def straight_arrow(x1: float, y1: float, x2: float, y2: float, width: float = ARROW) -> list[Mark]:
    """An arrow without a bend."""
    return arrow(straight((x1, y1), (x2, y2)), width)


def shortened(curve: Curve, by: float) -> Curve:
    """The curve without its last ``by`` mm."""
    tip, stop = curve.pieces[-1][3], float(len(curve.pieces))
    while stop > 0.03 and hypot(tip[0] - curve.at(stop)[0], tip[1] - curve.at(stop)[1]) < by:
        stop -= 0.02
    return curve.part(0, stop)


def number(x: float, y: float, text: str, size: float) -> list[Mark]:
    """A number of order, in the middle of its place: white on a disc of the accent, which keeps within the picture
    however large the type is."""
    radius = cap_height(size) * 0.95
    x = min(max(x, ACT_BOX.left + radius), ACT_BOX.right - radius)
    y = min(max(y, ACT_BOX.top + radius), ACT_BOX.bottom - radius)
    return [
        Dot(x, y, radius, ACCENT),
        Words(x, y + cap_height(size) / 2, text, Face.SANS_BOLD, size, WHITE, "middle"),
    ]


def label(x: float, y: float, text: str, size: float, colour: Colour = BLACK, *, bold: bool = False) -> Words:
    """A label, its middle at ``x`` and its baseline at ``y``."""
    return Words(x, y, text, Face.SANS_BOLD if bold else Face.SANS, size, colour, "middle")


def capsule(start: Point, stop: Point, width: float) -> Curve:
    """The outline of a bar with round ends, from the middle of one end to that of the other: a finger."""
    return finger_tip(start, stop, width).then(_cap(start, stop, start, width, -1))


def finger_tip(start: Point, stop: Point, width: float, share: float = 0.0) -> Curve:
    """The open outline of a finger from a share of its way to its tip and back: what lies on top of threads."""
    root = (start[0] + (stop[0] - start[0]) * share, start[1] + (stop[1] - start[1]) * share)
    cap = _cap(start, stop, stop, width, 1)
    first, last = (_beside(start, stop, root, width, (0, way)) for way in (-1, 1))
    return straight(first, cap.at(0)).then(cap).then(straight(cap.at(2), last))


def _cap(start: Point, stop: Point, end: Point, width: float, way: int) -> Curve:
    """The round end of a bar about one of its ends, from one side to the other."""
    bow = 0.5523 * way
    around = [(0, -way), (bow, -way), (way, -bow), (way, 0), (way, bow), (bow, way), (0, way)]
    points = [_beside(start, stop, end, width, place) for place in around]
    return Curve(((points[0], points[1], points[2], points[3]), (points[3], points[4], points[5], points[6])))


def _beside(start: Point, stop: Point, end: Point, width: float, place: Point) -> Point:
    """A point ahead and aside of ``end``, in halves of the width of a bar that runs from ``start`` to ``stop``."""
    far = hypot(stop[0] - start[0], stop[1] - start[1])
    x, y = (stop[0] - start[0]) / far * width / 2, (stop[1] - start[1]) / far * width / 2
    return (end[0] + x * place[0] - y * place[1], end[1] + y * place[0] + x * place[1])


def open_end(start: Point, stop: Point, width: float = OUTLINED) -> list[Mark]:
    """Paper over the outline of an arm from one point to the other, where the picture ends and the arm goes on."""
    return [Line(*start, *stop, 2 * width + 0.1, SKIN)]


def united(outlines: Sequence[Curve], fill: Colour = SKIN, width: float = OUTLINED) -> list[Mark]:
    """Outlines that overlap, drawn as one: a hand from its fingers and its palm."""
    steps = tuple(step for outline in outlines for step in (*outline.steps(), ("close",)))
    return [
        Path(steps, stroke=BLACK, width=2 * width, round_ends=True),
        *(Path((*outline.steps(), ("close",)), fill=fill) for outline in outlines),
    ]
