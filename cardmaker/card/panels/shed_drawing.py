"""The shed cells: where the weft hangs, and which shed comes next. One pictogram of one shape on every card.

Its measures are units of the pictogram, which is drawn larger or smaller as a whole: the tape woven up to the fell, the
ends open above it in two layers, the weft running out of the edge to the loom's shuttle, over this a triangle, or
what else opens the shed, and an arrow through the opening, the way that the shuttle is then thrown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final, Literal

from cardmaker.layout.ink import BLACK, OUTLINE, WHITE
from cardmaker.layout.transforms import mirrored
from cardmaker.model.loom import Side
from cardmaker.model.marks import Box, Line, Mark, Path, Rectangle, Step
from cardmaker.model.record_class import record, replace
from cardmaker.wording.shed_words import Opens

WIDE, HIGH = 32.0, 15.6  # the whole pictogram; all that follows is in its units, with the weft at the right
EDGES: Final = (3.6, 12.8)  # of the tape
FELL: Final = 7.4
PICKS: Final = 4
FLOATS: Final = 5  # of one pick across the tape
ENDS: Final = 9
MOUTH: Final = 2.6  # how far up the opening bends
RAISED, LOWERED = 0.2, 1.4  # where the two layers of the open shed end
RAISED_END: Final = 0.9
THREAD: Final = 0.34
WEFT: Final = 0.62
SHUTTLE: Final = (16.4, 31.8, 10.5, 15.2)  # left, right, top, bottom
SIGN: Final = (20.6, 30.6, 0.2, 8.8)  # the triangle, or what else opens the shed: left, right, top, bottom
THROW: Final = (19.4, 0.2, 5.5)  # the arrow through the shed: where it starts, where its point is, how far down
THROW_SHAFT: Final = 0.9
THROW_HEAD: Final = (3.0, 1.5, 0.8)  # long, to either side, and how deep it is notched


@record
class _Grid:
    """The pictogram's units in millimetres on the page."""

    left: float
    top: float
    scale: float

    def x(self, x: float) -> float:
        return self.left + x * self.scale

    def y(self, y: float) -> float:
        return self.top + y * self.scale

    def box(self, left: float, right: float, top: float, bottom: float) -> Box:
        return Box(self.x(left), self.y(top), (right - left) * self.scale, (bottom - top) * self.scale)

    def line(self, x1: float, y1: float, x2: float, y2: float, width: float) -> Line:
        return Line(self.x(x1), self.y(y1), self.x(x2), self.y(y2), width * self.scale, BLACK, round_ends=True)

    def outline(self, *points: tuple[float, float]) -> tuple[Step, ...]:
        """A figure with straight sides."""
        (x, y), *others = points
        lines: list[Step] = [("line", self.x(x), self.y(y)) for x, y in others]
        return (("move", self.x(x), self.y(y)), *lines, ("close",))


def pictogram(box: Box, side: Side, opens: Opens, shuttle_kind: ShuttleKind = "flat") -> list[Mark]:
    """The pictogram in the middle of ``box`` as large as it holds it, the weft hanging at ``side`` of the tape."""
    scale = min(box.width / WIDE, box.height / HIGH)
    wide, high = WIDE * scale, HIGH * scale
    place = Box(box.middle - wide / 2, box.top + (box.height - high) / 2, wide, high)
    grid = _Grid(place.left, place.top, scale)
    shed = [*_lower_layer(grid, opens), *_throw(grid), *_upper_layer(grid, opens)]
    tape = [*shed, *_cloth(grid), *_weft(grid), *_SHUTTLES[shuttle_kind](grid)]
    sign = list(_SIGNS[opens](_sign_grid(grid, side)))
    return [*(tape if side is Side.RIGHT else mirrored(tape, place)), *sign]


def _sign_grid(grid: _Grid, side: Side) -> _Grid:
    """The sign keeps its own left and right: with the weft at the left it only moves over."""
    left, right, *_ = SIGN
    return grid if side is Side.RIGHT else replace(grid, left=grid.x(WIDE - left - right))


def _layers(opens: Opens) -> tuple[list[float], list[float]]:
    """Where the ends stand that are up, and those that are down: every second one, from the left edge."""
    left, right = EDGES
    step = (right - left) / ENDS
    places = [left + (number + 0.5) * step for number in range(ENDS)]
    first_is_up = opens in (Opens.DOWN, Opens.LEFT_FOOT, Opens.FRONT)
    return (places[::2], places[1::2]) if first_is_up else (places[1::2], places[::2])


def _lower_layer(grid: _Grid, opens: Opens) -> Iterator[Mark]:
    """The ends that are down, short and behind; dark before them, the opening."""
    left, right = EDGES
    for x in _layers(opens)[1]:
        yield grid.line(x, LOWERED, x, FELL, THREAD)
    mouth: tuple[Step, ...] = (
        ("move", grid.x(left), grid.y(FELL)),
        ("curve", grid.x(left + 1), grid.y(MOUTH), grid.x(right - 1), grid.y(MOUTH), grid.x(right), grid.y(FELL)),
        ("close",),
    )
    yield Path(mouth, fill=BLACK)


def _upper_layer(grid: _Grid, opens: Opens) -> Iterator[Mark]:
    """The ends that are up, long and in front."""
    for x in _layers(opens)[0]:
        end = grid.box(x - RAISED_END / 2, x + RAISED_END / 2, RAISED, FELL)
        yield Rectangle(end, WHITE, BLACK, THREAD * 0.8 * grid.scale)


def _throw(grid: _Grid) -> Iterator[Mark]:
    """From the shuttle's side between the two layers to the other side."""
    start, point, y = THROW
    long, aside, notch = THROW_HEAD
    yield Line(grid.x(start), grid.y(y), grid.x(point + long - notch), grid.y(y), THROW_SHAFT * grid.scale, BLACK)
    head = grid.outline((point, y), (point + long, y - aside), (point + long - notch, y), (point + long, y + aside))
    yield Path(head, fill=BLACK)


def _cloth(grid: _Grid) -> Iterator[Mark]:
    """Pillows of warp like bricks, from the fell down; the tape goes on below."""
    left, right = EDGES
    wide, high = (right - left) / FLOATS, (HIGH - FELL) / PICKS
    for pick in range(PICKS):
        top = FELL + pick * high
        for start in [left + (number - pick % 2 / 2) * wide for number in range(FLOATS + pick % 2)]:
            first, last = max(left, start), min(right, start + wide)
            yield Rectangle(grid.box(first, last, top, top + high), WHITE, BLACK, 0.3 * grid.scale, 0.8 * grid.scale)


def _weft(grid: _Grid) -> Iterator[Mark]:
    """Out of the edge at the last pick, down to the notch of the shuttle."""
    _, right = EDGES
    left, _, top, bottom = SHUTTLE
    start, stop = (right, FELL + 0.6), (left + 2.4, (top + bottom) / 2)
    steps: tuple[Step, ...] = (
        ("move", grid.x(start[0]), grid.y(start[1])),
        ("curve", grid.x(14.6), grid.y(6.6), grid.x(13.2), grid.y(stop[1]), grid.x(stop[0]), grid.y(stop[1])),
    )
    yield Path(steps, stroke=BLACK, width=WEFT * grid.scale, round_ends=True)


def _flat_shuttle(grid: _Grid) -> Iterator[Mark]:
    """A flat stick with a notch at each end, and the weft wound from notch to notch."""
    left, right, top, bottom = SHUTTLE
    middle = (top + bottom) / 2
    stick = grid.outline(
        (left, top + 0.5), (left + 0.6, top), (right - 0.6, top), (right, top + 0.5), (right - 2.4, middle),
        (right, bottom - 0.5), (right - 0.6, bottom), (left + 0.6, bottom), (left, bottom - 0.5), (left + 2.4, middle),
    )  # fmt: skip
    yield Path(stick, fill=WHITE, stroke=BLACK, width=max(OUTLINE, 0.34 * grid.scale))
    for aside in (-1.5, -0.75, 0.0, 0.75, 1.5):
        at = grid.y(middle + aside)
        steps: tuple[Step, ...] = (
            ("move", grid.x(left + 2.2), grid.y(middle)),
            ("curve", grid.x(left + 3.2), grid.y(middle), grid.x(left + 3.2), at, grid.x(left + 4.6), at),
            ("line", grid.x(right - 4.6), at),
            (
                "curve",
                grid.x(right - 3.2),
                at,
                grid.x(right - 3.2),
                grid.y(middle),
                grid.x(right - 2.2),
                grid.y(middle),
            ),
        )
        yield Path(steps, stroke=BLACK, width=0.4 * grid.scale, round_ends=True)


def _netting_shuttle(grid: _Grid) -> Iterator[Mark]:
    """One with a forked heel and a point, and the weft wound round the tongue in its window."""
    left, right, top, bottom = SHUTTLE
    middle, thin = (top + bottom) / 2, max(OUTLINE, 0.34 * grid.scale)
    body = grid.outline(
        (left, top + 0.3), (left + 9.4, top), (left + 12.6, top + 0.9), (right, middle), (left + 12.6, bottom - 0.9),
        (left + 9.4, bottom), (left, bottom - 0.3), (left + 1.6, middle + 0.8), (left + 2.4, middle),
        (left + 1.6, middle - 0.8),
    )  # fmt: skip
    window = grid.outline(
        (left + 6.0, top + 0.9), (left + 10.4, top + 0.9), (left + 12.6, middle), (left + 10.4, bottom - 0.9),
        (left + 6.0, bottom - 0.9),
    )  # fmt: skip
    yield Path(body, fill=WHITE, stroke=BLACK, width=thin)
    yield Path(window, fill=WHITE, stroke=BLACK, width=thin)
    for aside in (1.1, 0.7):
        around: tuple[Step, ...] = (
            ("move", grid.x(left + 2.2), grid.y(middle)),
            ("curve", grid.x(left + 4.0), grid.y(middle - aside), grid.x(left + 5.0), grid.y(middle - aside),
             grid.x(left + 6.6), grid.y(middle - aside)),
            ("curve", grid.x(left + 7.8), grid.y(middle - aside), grid.x(left + 7.8), grid.y(middle + aside),
             grid.x(left + 6.6), grid.y(middle + aside)),
            ("curve", grid.x(left + 5.0), grid.y(middle + aside), grid.x(left + 4.0), grid.y(middle + aside),
             grid.x(left + 2.2), grid.y(middle)),
        )  # fmt: skip
        yield Path(around, stroke=BLACK, width=0.4 * grid.scale, round_ends=True)
    yield grid.line(left + 6.0, middle, left + 10.6, middle, 0.7)


ShuttleKind = Literal["flat", "netting"]
_SHUTTLES: Final[dict[ShuttleKind, Callable[[_Grid], Iterator[Mark]]]] = {
    "flat": _flat_shuttle,
    "netting": _netting_shuttle,
}


def _triangle(grid: _Grid, *, down: bool) -> Iterator[Mark]:
    left, right, top, bottom = SIGN
    flat, point = (top, bottom) if down else (bottom, top)
    yield Path(grid.outline((left, flat), (right, flat), ((left + right) / 2, point)), fill=BLACK)


def _treadles(grid: _Grid, *, pressed: Side) -> Iterator[Mark]:
    """Two treadles side by side as the feet find them; the one to press is black, with a triangle that points down."""
    left, right, top, bottom = SIGN
    wide = 4.5
    for side, start in ((Side.LEFT, left), (Side.RIGHT, right - wide)):
        fill = BLACK if side is pressed else WHITE
        box = grid.box(start, start + wide, top, bottom)
        yield Rectangle(box, fill, BLACK, max(OUTLINE, 0.34 * grid.scale), 1.2 * grid.scale)
        if side is pressed:
            middle = start + wide / 2
            points = ((middle - 1.5, 3.2), (middle + 1.5, 3.2), (middle, 6.0))
            yield Path(grid.outline(*points), fill=WHITE)


def _boards(grid: _Grid, *, raised: str) -> Iterator[Mark]:
    """Two heddles, the front one below as it lies nearer; the one that goes up is black, with a triangle up."""
    left, right, top, bottom = SIGN
    high = 4.0
    for name, start in (("back", top), ("front", bottom - high)):
        fill = BLACK if name == raised else WHITE
        box = grid.box(left, right, start, start + high)
        yield Rectangle(box, fill, BLACK, max(OUTLINE, 0.34 * grid.scale), 0.8 * grid.scale)
        if name == raised:
            middle = (left + right) / 2
            points = ((middle - 1.6, start + 3.2), (middle + 1.6, start + 3.2), (middle, start + 0.7))
            yield Path(grid.outline(*points), fill=WHITE)


_SIGNS: Final[dict[Opens, Callable[[_Grid], Iterator[Mark]]]] = {
    Opens.DOWN: lambda grid: _triangle(grid, down=True),
    Opens.UP: lambda grid: _triangle(grid, down=False),
    Opens.LEFT_FOOT: lambda grid: _treadles(grid, pressed=Side.LEFT),
    Opens.RIGHT_FOOT: lambda grid: _treadles(grid, pressed=Side.RIGHT),
    Opens.FRONT: lambda grid: _boards(grid, raised="front"),
    Opens.BACK: lambda grid: _boards(grid, raised="back"),
}
