"""The thread round the pegs on its way out, drawn clear of them: on which side of each it passes is to be seen.

The way back is drawn through the cross alone, where it passes the pegs on their other side; from there on it is the way
out walked the other way, and drawn beside that it would seem to cross it again.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import cos, hypot, pi, sin
from typing import Final, NamedTuple

from cardmaker.card.panels.peg_ground import BESIDE_PEG, Ground
from cardmaker.card.panels.small_cross import BACK_DASH
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, OUTLINE, POINT, WHITE
from cardmaker.layout.type_setting import cap_height, tail_depth
from cardmaker.model.marks import Box, Face, Mark, Path, Step, Words
from cardmaker.model.peg_plan import Arc, Leg, PassedPeg, PegPlan, Point, ThreadPath
from cardmaker.model.record_class import replace
from cardmaker.reckoning.winding.thread_path import contact, path_round_pegs
from cardmaker.wording import peg_words

FINEST_ARC: Final = pi / 12  # an arc is drawn in pieces no longer than this
SHORTEST_ARROWED: Final = 7.0  # mm
ARROW: Final = 1.4  # mm
BACK: Final = 4.5  # mm that the way back is drawn along the leg beyond the cross, or half of it
BESIDE_WAY: Final = 0.9  # mm from its end to what is said there
WAY_OUT: Final = OUTLINE * 1.5  # the width of its line
CLEAR_OF_WAY: Final = 0.25  # mm from these words to the line of the way out, or to an arrow on it
ABOVE_BASELINE: Final = {"lower": 0.5, "tall": 0.715}  # of the size: letters such as m, and such as b (from the font)
TALL: Final = set("bdfhklt")
LOWER: Final = tuple(tenths / 10 for tenths in range(5, -21, -1))  # mm under the middle of the way back: where they fit
ALONG: Final = (0.5, 0.35, 0.65, 0.25, 0.8)  # of a leg, where its arrow is: half-way unless words stand there


class DrawnThread(NamedTuple):
    """A thread as it is drawn: its way, and what is said beyond the end of the way back."""

    path: ThreadPath
    said: tuple[Words, ...]


def thread_on_paper(sheet: Sheet, pegs: PegPlan, ground: Ground) -> DrawnThread:
    """Sought once, for the lines and for the arrows over them."""
    path = path_on_paper(pegs, ground)
    return DrawnThread(path, tuple(_same_way(sheet, pegs, ground, path)))


def draw_threads(pegs: PegPlan, thread: DrawnThread) -> Iterable[Mark]:
    """The way out as a full line, cased in white; under it the way back, dashed, as far as it goes another way, and
    that from there on it is the same."""
    path = thread.path
    out = _steps(path.legs[: pegs.turning], path.arcs[1 : pegs.turning])
    if pegs.cross:
        back = _way_back(path, len(pegs.cross))
        yield Path(_steps(back.legs, back.arcs), stroke=BLACK, width=OUTLINE * 1.2, dash=BACK_DASH)
    yield Path(out, stroke=WHITE, width=OUTLINE * 3.2)
    yield Path(out, stroke=BLACK, width=WAY_OUT)
    yield from thread.said


def draw_arrows(sheet: Sheet, pegs: PegPlan, thread: DrawnThread) -> Iterable[Mark]:
    """The way out: an arrow on every leg that is long enough, clear of what is said of the way back."""
    rooms = [_kept_clear(sheet, words) for words in thread.said]
    return (mark for leg in thread.path.legs[: pegs.turning] for mark in _arrow(leg, rooms))


def _way_back(path: ThreadPath, cross: int) -> ThreadPath:
    """From a little beyond the cross to home, there beside the way out and as straight as that."""
    leg, last = path.legs[cross], path.passed[-cross]
    angle = contact(last, leg.heading + pi)
    along = min(leg.length_mm / 2, BACK)
    x = last.x_mm + last.radius_mm * cos(angle) + along * cos(leg.heading)
    y = last.y_mm + last.radius_mm * sin(angle) + along * sin(leg.heading)
    start = replace(last, name="", x_mm=x, y_mm=y, radius_mm=1e-6)
    return path_round_pegs([start, *path.passed[-cross:], path.passed[0]])


def _same_way(sheet: Sheet, pegs: PegPlan, ground: Ground, path: ThreadPath) -> Iterable[Words]:
    """Beyond the end of the way back, between the legs of the way out, in the fullest words that come near to none of
    them, nor to the edge of a board."""
    if not pegs.cross:
        return
    leg = _way_back(path, len(pegs.cross)).legs[0]
    ways = [_steps(path.legs[: pegs.turning], path.arcs[1 : pegs.turning]), *_upper_edge(pegs, ground)]
    lines = [line for way in ways for line in _lines(way)]
    (x, y), ahead = leg.start, 1 if cos(leg.heading) < 0 else -1
    size, face = sheet.sizes.smallest, Face.SANS
    for told in peg_words.SAME_WAY:
        left = x + BESIDE_WAY if ahead > 0 else x - BESIDE_WAY - sheet.wide(told, face, size)
        places = [Words(left, y + cap_height(size) / 2 + lower, told, face, size) for lower in LOWER]
        rooms = [_kept_clear(sheet, words) for words in places]
        lowest, highest = rooms[0], rooms[-1]
        beside = [line for line in lines if _may_meet(highest._replace(height=lowest.bottom - highest.top), line)]
        for words, room in zip(places, rooms, strict=True):
            if not any(_meets(room, line) for line in beside):
                yield words
                return


def _upper_edge(pegs: PegPlan, ground: Ground) -> list[tuple[Step, ...]]:
    edges = ground.edges
    line: tuple[Step, ...] = (("move", edges.left, edges.top), ("line", edges.right, edges.top))
    return [line] if pegs.surface_mm is not None else []


def _room_of(sheet: Sheet, words: Words) -> Box:
    """What the letters of these words take: as high as the tallest, with their tails if they have any."""
    high = ABOVE_BASELINE["tall" if TALL & {*words.text} else "lower"] * words.size * POINT
    tail = tail_depth(words.size) * ("y" in words.text)
    return Box(words.x, words.y - high, sheet.wide(words.text, words.face, words.size), high + tail)


def _kept_clear(sheet: Sheet, words: Words) -> Box:
    """Where no line may run, so that none touches the letters."""
    near = -(CLEAR_OF_WAY + WAY_OUT / 2)
    return _room_of(sheet, words).inset(near, near, near, near)


def _lines(way: Sequence[Step]) -> Iterable[tuple[Point, Point]]:
    """The way in straight lines."""
    return pairwise([(step[1], step[2]) for step in way if len(step) == 3])


def _may_meet(room: Box, line: tuple[Point, Point]) -> bool:
    """Whether a line reaches over so much of the page that it may lie in the room: most do not."""
    (x1, y1), (x2, y2) = line
    across = max(x1, x2) >= room.left and min(x1, x2) <= room.right
    return across and max(y1, y2) >= room.top and min(y1, y2) <= room.bottom


def _meets(room: Box, line: tuple[Point, Point]) -> bool:
    """Whether a point of the line lies in the room, of points a quarter of a millimetre apart."""
    if not _may_meet(room, line):
        return False
    (x1, y1), (x2, y2) = line
    pieces = int(4 * hypot(x2 - x1, y2 - y1)) + 1
    shares = (piece / pieces for piece in range(pieces + 1))
    return any(
        room.left <= x1 + share * (x2 - x1) <= room.right and room.top <= y1 + share * (y2 - y1) <= room.bottom
        for share in shares
    )


def path_on_paper(pegs: PegPlan, ground: Ground) -> ThreadPath:
    """The thread in millimetres of the paper, with its distance from the pegs as it is drawn.

    In the proportions of the drawing it would lie under the pegs. Where so wide a thread would lie another way round
    a peg than the real one does, it is as close to the pegs as the real one.
    """
    exact = pegs.round_trip
    for nearer in (1.0, 0.6):
        passed = [_on_paper(peg, ground, ground.radius + nearer * BESIDE_PEG) for peg in exact.passed]
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


def _arrow(leg: Leg, said: Sequence[Box]) -> Iterable[Mark]:
    """An arrow head half-way along a leg that is long enough to carry one, or a little off where something is said."""
    long = hypot(leg.stop[0] - leg.start[0], leg.stop[1] - leg.start[1])
    if long < SHORTEST_ARROWED:
        return
    heads = [_arrow_head(leg, long, share) for share in ALONG]
    clear = (head for head in heads if not any(_meets(room, line) for room in said for line in _lines(head)))
    yield Path(next(clear, heads[0]), fill=BLACK)


def _arrow_head(leg: Leg, long: float, share: float) -> tuple[Step, ...]:
    """With its middle at a share of the leg."""
    (x1, y1), (x2, y2) = leg.start, leg.stop
    ux, uy = (x2 - x1) / long, (y2 - y1) / long
    tip_x, tip_y = x1 + (x2 - x1) * share + ux * ARROW, y1 + (y2 - y1) * share + uy * ARROW
    back_x, back_y = tip_x - ux * ARROW * 1.8, tip_y - uy * ARROW * 1.8
    return (
        ("move", tip_x, tip_y), ("line", back_x - uy * ARROW * 0.7, back_y + ux * ARROW * 0.7),
        ("line", back_x + uy * ARROW * 0.7, back_y - ux * ARROW * 0.7), ("close",),
    )  # fmt: skip
