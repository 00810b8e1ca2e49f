"""Parts of looms and tools that several pictures of dressing show: boards, the warp on its beam, a needle, the tape."""

from __future__ import annotations

from math import hypot
from typing import Final

from cardmaker.card.dressing.act_drawing import DARK, LIGHT, OUTLINED, WOOD, bar, end_on, shape, stroke, thread
from cardmaker.card.dressing.curves import Curve, Point, arc, straight, through
from cardmaker.layout.ink import BLACK, WHITE
from cardmaker.model.marks import Box, Dot, Line, Mark, Path, Rectangle

STEEL: Final = "#d9d9d9"
WEFT: Final = "#8f8f8f"  # beside dark and light ends
HEDDLE_EDGE: Final = 2.6  # mm: how thick a heddle is that is seen on its edge
TAPE: Final = 2.2  # mm: how thick woven tape is drawn
PICK: Final = 1.1  # mm of tape for each


def plank(wood: Box, *, ends_left: bool, ends_right: bool) -> list[Mark]:
    """A piece of a heddle: its corner cut off where it ends, torn off where it goes on."""
    left, right, top, bottom = wood.left, wood.right, wood.top, wood.bottom
    before = [(left + 1.0, bottom), (left, bottom - 1.0), (left, top + 1.0), (left + 1.0, top)]
    after = [(right - 1.0, top), (right, top + 1.0), (right, bottom - 1.0), (right - 1.0, bottom)]
    corners = [
        *(before if ends_left else _torn(left, top, bottom)[::-1]),
        *(after if ends_right else _torn(right, top, bottom)),
    ]
    return shape(straight(*corners), WOOD, OUTLINED + 0.05)


def _torn(x: float, top: float, bottom: float) -> list[Point]:
    """A torn edge, downwards."""
    swing = (0.0, 0.55, -0.45, 0.5, -0.4, 0.0)
    step = (bottom - top) / (len(swing) - 1)
    return [(x + aside, top + number * step) for number, aside in enumerate(swing)]


def needle(end: Curve) -> list[Mark]:
    """A blunt needle that leads an end of the warp: its eye where the end stops, and pointing the same way."""
    (ax, ay), (bx, by) = end.at(len(end.pieces) - 0.2), end.pieces[-1][3]
    far = hypot(bx - ax, by - ay)
    dx, dy = (bx - ax) / far, (by - ay) / far

    def at(along: float, aside: float) -> Point:
        return bx + dx * along - dy * aside, by + dy * along + dx * aside

    side = [(-0.6, 0.62), (0.8, 0.68), (3.0, 0.5), (5.8, 0.36)]
    outline = [(-1.2, 0.0), *side, (6.4, 0.0), *((along, -aside) for along, aside in reversed(side)), (-1.2, 0.0)]
    eye = straight(at(-0.4, 0), at(1.0, 0))
    return [*shape(through(*(at(*point) for point in outline)), STEEL, 0.25), *stroke(eye, 0.5)]


def warp_roll(x: float, y: float, radius: float) -> list[Mark]:
    """Tape on the beam in front, seen from the beam's end."""
    laps = [Dot(x, y, radius * share, stroke=BLACK, width=0.2) for share in (0.86, 0.72)]
    return [*end_on(x, y, radius, WHITE), *laps, *end_on(x, y, radius * 0.55)]


def warp_beam(x: float, y: float, radius: float) -> list[Mark]:
    """The warp on its beam, seen from the beam's end: threads leave it over its top."""
    inner = [Dot(x, y, radius * share, stroke=BLACK, width=0.2) for share in (0.8, 0.66)]
    return [*end_on(x, y, radius, WHITE), *inner, *end_on(x, y, radius * 0.5), *warp_lap(x, y, radius)]


def warp_lap(x: float, y: float, radius: float) -> list[Mark]:
    """The outermost turn on the beam, of the upper layer; the lower one leaves from under it, so it is drawn after
    that."""
    return list(thread(arc(x, y, radius, -90, 270), DARK))


def heddle_on_edge(x: float, top: float, bottom: float, eye: float) -> list[Mark]:
    """A heddle from the side, its middle at ``x``, cut open: a slot, and a hole at the height of its ``eye``. Threads
    that pass are drawn over it, within the slot: they go through the board."""
    inner = Rectangle(Box(x - 0.7, top + 1.8, 1.4, bottom - top - 3.6), WHITE, BLACK, 0.2, 0.6)
    return [*bar(x - HEDDLE_EDGE / 2, top, HEDDLE_EDGE, bottom - top), inner, Dot(x, eye, 1.0, WHITE, BLACK, 0.28)]


def flat_shed(left: float, right: float, y: float) -> tuple[list[Path], list[Path]]:
    """Both layers in one line, from the side: the lower one, and the upper one."""
    return (
        thread(straight((left, y + 0.4), (right, y + 0.4)), LIGHT, 0.6, round_ends=False),
        thread(straight((left, y - 0.4), (right, y - 0.4)), DARK, 0.6, round_ends=False),
    )


def tape_on_edge(left: float, right: float, y: float) -> list[Mark]:
    """Woven tape from the side, a stroke for every pick."""
    top, bottom = y - TAPE / 2, y + TAPE / 2
    picks = [left + PICK * (number + 0.5) for number in range(int((right - left) / PICK))]
    outline = Rectangle(Box(left, top, right - left, TAPE), WHITE, BLACK, OUTLINED, 0.3)
    return [outline, *(Line(x, top, x, bottom, 0.3) for x in picks)]
