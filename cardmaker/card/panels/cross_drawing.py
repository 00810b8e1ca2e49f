"""The cross large enough to read: round pegs of its own, or half-way between two posts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cardmaker.card.paragraphs import paragraph
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, OUTLINE, WHITE
from cardmaker.layout.lines_of_type import Span, cap_height, text_height
from cardmaker.layout.roles import figure
from cardmaker.model.marks import Box, Dot, Face, Mark, Path, Step, Words
from cardmaker.model.peg_plan import Bend, PegPlan
from cardmaker.wording import peg_words

CROSS = 15.0  # the height of the drawing
PEG = 1.9  # the radius of a peg in it


def cross_height(sheet: Sheet, pegs: PegPlan, width: float) -> float:
    """The height of the drawing and what is said below it."""
    caption = sheet.lines([Span(peg_words.cross_in_words(pegs))], sheet.sizes.small, width)
    return CROSS + 2.2 + text_height(len(caption), sheet.sizes.small)


def draw_cross(sheet: Sheet, pegs: PegPlan, box: Box) -> list[Mark]:
    """The cross by itself, not to scale, at the top of ``box``, and below it what to see there."""
    size, room = sheet.sizes.small, Box(box.left, box.top, box.width, CROSS)
    above = [_passes_above(pegs, name) for name in pegs.cross]
    marks = _pegged(sheet, pegs, room, above) if pegs.cross else _figure_of_eight(sheet, pegs, room)
    drawn = figure("cross", room, marks, peg_words.cross_alt_text(pegs, above))
    caption = sheet.lines([Span(peg_words.cross_in_words(pegs))], size, box.width)
    return [drawn, *paragraph(sheet, caption, box.left, room.bottom + 1.4 + cap_height(size), size, box.width)]


def _pegged(sheet: Sheet, pegs: PegPlan, box: Box, above: Sequence[bool]) -> Iterable[Mark]:
    """Two passes round the cross pegs, out and back, and where they cross."""
    size = sheet.sizes.small
    y = box.top + CROSS / 2
    posts = [
        (name, box.left + box.width * (0.14 + 0.24 * number)) for number, name in enumerate((pegs.home, *pegs.cross))
    ]
    out = _pass(posts, above, y, box.right - 0.6)
    back = _pass(posts, [not side for side in above], y, box.right - 0.6)
    yield Path(back, stroke=BLACK, width=OUTLINE * 1.5, dash=(1.6, 1.1))
    yield Path(out, stroke=WHITE, width=OUTLINE * 5)
    yield Path(out, stroke=BLACK, width=OUTLINE * 2)
    for name, x in posts:
        is_home = name == pegs.home
        yield Dot(x, y, PEG, ACCENT if is_home else WHITE, ACCENT if is_home else BLACK, OUTLINE)
        yield Words(x, y - PEG - 2.6, peg_words.peg_name(name, pegs), Face.SANS_SEMIBOLD, size, align="middle")
    for text, side in ((peg_words.OUT, above[-1]), (peg_words.BACK, not above[-1])):
        yield Words(box.right, y + (-3.8 if side else 3.8 + cap_height(size)), text, Face.SANS, size, align="right")


def _passes_above(pegs: PegPlan, name: str) -> bool:
    """Whether the way out, drawn from left to right, passes above a cross peg: the peg then lies on its right.

    The way back passes on the other side and walks the other way, so the peg lies on the same hand (a drawing): it
    does not matter which of the two ways touches it.
    """
    return next((peg.bend is Bend.RIGHT for peg in pegs.round_trip.passed if peg.name == name), False)


def _pass(posts: Sequence[tuple[str, float]], above: Sequence[bool], y: float, right: float) -> tuple[Step, ...]:
    """One pass from home to the right edge: straight past each peg, a slope where it changes sides."""
    clear = PEG + 0.55
    heights = [y + (-clear if side else clear) for side in above]
    steps: list[Step] = [("move", posts[0][1], heights[0])]
    for (_, x), height in zip(posts[1:], heights, strict=True):
        steps += [("line", x - 1.2, height), ("line", x + 1.2, height)]
    return (*steps, ("line", right, heights[-1]))


def _figure_of_eight(sheet: Sheet, pegs: PegPlan, box: Box) -> Iterable[Mark]:
    """Two posts with no pegs between: the way out and the way back cross half-way."""
    size, y, clear = sheet.sizes.small, box.top + CROSS / 2, PEG + 0.55
    home, far = box.left + box.width * 0.14, box.left + box.width * 0.86
    slope = -clear if _leaves_above(pegs) else clear
    ways: list[tuple[Step, ...]] = [(("move", home, y + side), ("line", far, y - side)) for side in (slope, -slope)]
    yield Path(ways[1], stroke=BLACK, width=OUTLINE * 1.5, dash=(1.6, 1.1))
    yield Path(ways[0], stroke=WHITE, width=OUTLINE * 5)
    yield Path(ways[0], stroke=BLACK, width=OUTLINE * 2)
    for name, x in ((pegs.home, home), (pegs.far, far)):
        yield Dot(x, y, PEG, ACCENT if name == pegs.home else WHITE, ACCENT, OUTLINE)
        yield Words(x, y - PEG - 2.6, peg_words.peg_name(name, pegs), Face.SANS_SEMIBOLD, size, align="middle")
    for text, above in ((peg_words.OUT, slope < 0), (peg_words.BACK, slope > 0)):
        yield Words(
            box.left + box.width * 0.32, y + (-3.8 if above else 3.8 + cap_height(size)), text, Face.SANS, size,
            align="middle",
        )  # fmt: skip


def _leaves_above(pegs: PegPlan) -> bool:
    """Whether the way out leaves home on the side that is drawn above; y grows downwards."""
    return pegs.round_trip.legs[0].start[1] < pegs.round_trip.passed[0].y_mm
