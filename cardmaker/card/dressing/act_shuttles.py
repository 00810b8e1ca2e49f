"""Step 9 drawn: how weft is wound on a netting shuttle, and on a flat one."""

from __future__ import annotations

from typing import Final

from cardmaker.card.dressing.act_drawing import (
    DARK,
    OUTLINED,
    WOOD,
    arrow,
    bar,
    number,
    shape,
    shortened,
    straight_arrow,
    stroke,
    thread,
)
from cardmaker.card.dressing.act_figures import ActFigures
from cardmaker.card.dressing.act_loom_parts import WEFT as SMALL_WEFT
from cardmaker.card.dressing.curves import Curve, arc, straight, through
from cardmaker.layout.ink import ACCENT, BLACK, WHITE
from cardmaker.model.marks import Colour, Mark, Path

UPPER, LOWER = 8.2, 27.0  # mm: the middle of what is shown above, and below
HALF: Final = 5.0  # mm: half as wide as a shuttle
HEEL, TIP = 5.8, 38.2  # mm: the ends of a netting shuttle
NOTCH: Final = 3.8  # mm: how deep its heel is forked
WINDOW: Final = (18.7, 32.0)  # mm: its left and its right end
TONGUE: Final = 27.7  # mm: its tip
LEG: Final = 1.9  # mm: of the weft beside the tongue, from the middle
WEFT: Final = 0.9  # mm
OTHER_FACE: Final = "#d3cbbb"


def shuttle_picture(act: ActFigures) -> tuple[Mark, ...]:
    """How this loom's shuttle is filled."""
    return tuple(_netting(act.type_size) if act.shuttle == "netting" else _flat())


# small, on its way out of the shed

SMALL: Final = (6.4, 2.9)  # mm: how long and how wide


def shuttle_from_above(act: ActFigures, x: float, y: float) -> list[Mark]:
    """This loom's shuttle with weft on it, thrown to the left; ``x`` is its middle."""
    long, half = SMALL[0] / 2, SMALL[1] / 2
    tail = straight((x + long - 0.9, y), (x + long + 0.6, y))
    wound = thread(tail, SMALL_WEFT, 0.7, round_ends=False)
    if act.shuttle == "netting":
        return [*wound, *_small_netting(x, y, long, half)]
    body = straight(
        (x - long, y - half), (x + long, y - half), (x + long - 0.9, y), (x + long, y + half), (x - long, y + half),
        (x - long + 0.9, y), (x - long, y - half),
    )  # fmt: skip
    laps = [straight((x - long + 0.9, y + aside), (x + long - 0.9, y + aside)) for aside in (-0.62, 0.0)]
    return [*wound, *shape(body, WOOD, 0.25), *(mark for lap in laps for mark in thread(lap, SMALL_WEFT, 0.42, 0.14))]


def _small_netting(x: float, y: float, long: float, half: float) -> list[Mark]:
    """Pointed in front, forked at its heel; the weft lies round the tongue in its window."""
    back, fork = x + long, x + long - 1.1
    body = through((back, y - half), (x - 1.2, y - half), (x - long, y), (x - 1.2, y + half), (back, y + half))
    body = body.then(straight((back, y + half), (fork, y), (back, y - half)))
    window = straight(
        (x + 0.9, y - 0.95), (x - 1.3, y - 0.95), (x - 2.1, y), (x - 1.3, y + 0.95), (x + 0.9, y + 0.95),
        (x + 0.9, y - 0.95),
    )  # fmt: skip
    lap = straight((fork, y), (x + 1.4, y - 0.5), (x, y - 0.5), (x, y + 0.5), (x + 1.4, y + 0.5), (fork, y))
    tongue = straight((x + 0.9, y), (x - 1.0, y))
    return [
        *shape(body, WOOD, 0.25),
        *shape(window, WHITE, 0.2),
        *thread(lap, SMALL_WEFT, 0.42, 0.14),
        *thread(tongue, WOOD, 0.35, 0.14),
    ]


# with a tongue


def _netting(size: float) -> list[Mark]:
    """On one face along, round the tongue, back and through the heel; then it is turned over, and the same again."""
    return [
        *_face(UPPER, WOOD),
        *_turned_over(),
        *thread(
            through((HEEL + 3.0, LOWER + 0.4), (HEEL + 0.5, LOWER + 1.2), (2.6, LOWER + 4.4), (1.6, 34.2)), DARK, WEFT
        ),
        *_face(LOWER, OTHER_FACE),
        *number(2.75, UPPER - HALF - 0.4, "1", size),
        *number(2.75, LOWER - HALF - 0.4, "2", size),
    ]


def _face(y: float, wood: Colour) -> list[Mark]:
    """The shuttle with the weft on this face: out of the heel, behind the tongue, back into the heel."""
    bend, fork = WINDOW[0] + 1.0, HEEL + NOTCH
    out = through((fork - 0.8, y - 0.2), (fork + 1.0, y - 0.9), (fork + 4.0, y - LEG)).then(
        straight((fork + 4.0, y - LEG), (bend, y - LEG))
    )
    loop = out.then(arc(bend, y, LEG, -90, 90)).then(_across(out.backwards(), y))
    return [*_body(y, wood), *_way_round(y), *thread(loop, DARK, WEFT), *_tongue(y, wood)]


def _across(curve: Curve, y: float) -> Curve:
    """The curve's mirror image about the shuttle's length."""
    pieces = [tuple((px, 2 * y - py) for px, py in piece) for piece in curve.pieces]
    return Curve(tuple(pieces))  # type: ignore[arg-type]


def _body(y: float, wood: Colour) -> list[Mark]:
    """Pointed in front, forked at its heel, with a window."""
    (left, right), inner, neck = WINDOW, HALF * 0.68, TIP - 12
    point = through(
        (neck, y - HALF), (TIP - 5, y - HALF * 0.66), (TIP, y), (TIP - 5, y + HALF * 0.66), (neck, y + HALF)
    )
    lower = straight((neck, y + HALF), (HEEL + 2, y + HALF), (HEEL, y + HALF * 0.9), (HEEL, y + 2.2))
    fork = through((HEEL, y + 2.2), (HEEL + 2.6, y + 1.7), (HEEL + NOTCH, y), (HEEL + 2.6, y - 1.7), (HEEL, y - 2.2))
    upper = straight((HEEL, y - 2.2), (HEEL, y - HALF * 0.9), (HEEL + 2, y - HALF), (neck, y - HALF))
    front = through(
        (right - 5, y - inner), (right - 1.2, y - inner * 0.62), (right, y), (right - 1.2, y + inner * 0.62),
        (right - 5, y + inner),
    )  # fmt: skip
    window = front.then(straight((right - 5, y + inner), (left, y + inner), (left, y - inner), (right - 5, y - inner)))
    return [*shape(point.then(lower).then(fork).then(upper), wood), *shape(window, WHITE)]


def _tongue(y: float, wood: Colour) -> list[Mark]:
    """It grows from the heel's side of the window and points to the tip; it covers the weft that goes behind it."""
    left, _ = WINDOW
    root = left - OUTLINED / 2
    blade = [(root, y - 1.0), (TONGUE - 2, y - 0.75), (TONGUE, y), (TONGUE - 2, y + 0.75), (root, y + 1.0)]
    outline = straight(*blade)
    filled = Path((*outline.steps(), ("close",)), fill=wood)
    return [filled, *stroke(outline, OUTLINED)]


def _way_round(y: float) -> list[Mark]:
    """Beside the weft, as it goes: out of the heel, behind the tongue from one side to the other, back to the heel."""
    bend, aside = WINDOW[0] + 1.6, 3.55
    out = straight((HEEL + 5.5, y - aside), (bend, y - aside))
    back = straight((bend, y + aside), (HEEL + 3.0, y + aside))
    return arrow(out.then(arc(bend, y, aside, -90, 90)).then(back))


def _turned_over() -> list[Mark]:
    """About its length: an arrow round the axis that sticks out of the tip."""
    axis = stroke(straight((TIP + 0.6, UPPER), (44.4, UPPER)), 0.25, BLACK, (1.4, 0.7))
    turn = _flattened(arc(0, 0, 5.0, -120, 130), 0.48, 41.9, UPPER)
    return [*axis, *arrow(turn)]


def _flattened(curve: Curve, share: float, x: float, y: float) -> Curve:
    """The curve about (0, 0) so much narrower, put at (x, y)."""
    pieces = [tuple((x + px * share, y + py) for px, py in piece) for piece in curve.pieces]
    return Curve(tuple(pieces))  # type: ignore[arg-type]


# flat


def _flat() -> list[Mark]:
    """From the face: along it, through the notch, back behind it. Below, on edge: the weft lies round it lengthwise."""
    y, left, right = 8.0, 4.5, 40.5
    stick = straight(
        (left + 1.2, y - HALF), (right - 1.2, y - HALF), (right, y - HALF + 1.2), (right - 3.4, y),
        (right, y + HALF - 1.2), (right - 1.2, y + HALF), (left + 1.2, y + HALF), (left, y + HALF - 1.2),
        (left + 3.4, y), (left, y - HALF + 1.2),
    )  # fmt: skip
    marks = shape(stick, WOOD)
    for aside in (-3.0, -1.5, 0.0):
        lap = [(left + 2.9, y), (left + 6.5, y + aside), (right - 6.5, y + aside), (right - 2.9, y)]
        marks += thread(straight(*lap), DARK, WEFT)
    marks += thread(through((left + 2.9, y), (2.6, y + 2.2), (1.4, y + 8.0)), DARK, WEFT)
    marks += arrow(straight((9.5, y + 1.9), (35.5, y + 1.9)))
    behind = straight((35.0, y + 3.8), (9.5, y + 3.8))
    head = arrow(straight((12.0, y + 3.8), (9.5, y + 3.8)))[1:]
    return [*marks, *stroke(shortened(behind, 1.5), 0.6, ACCENT, (1.4, 0.9)), *head, *_on_edge(left, right)]


def _on_edge(left: float, right: float) -> list[Mark]:
    """The shuttle from its edge: one lap of weft round it from notch to notch, and which way it goes."""
    y, near, far, aside = LOWER - 0.6, left + 4.0, right - 4.0, 2.0
    lap = straight((near, y - aside), (far, y - aside)).then(arc(far, y, aside, -90, 90))
    lap = lap.then(straight((far, y + aside), (near, y + aside))).then(arc(near, y, aside, 90, 270))
    return [
        *bar(left, y - 0.8, right - left, 1.6),
        *thread(lap, DARK, WEFT),
        *straight_arrow(12, y - 4.4, 33, y - 4.4),
        *straight_arrow(33, y + 4.4, 12, y + 4.4),
    ]
