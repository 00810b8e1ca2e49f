"""The cross large enough to read: round pegs of its own, or half-way between two posts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, OUTLINE, WHITE
from cardmaker.layout.type_setting import Span, cap_height, figure
from cardmaker.model.marks import Box, Dot, Face, Mark, Path, Step, Words
from cardmaker.model.peg_plan import Bend, PegPlan
from cardmaker.wording import peg_words

CROSS = 15.0  # the height of the drawing
PEG = 1.9  # the radius of a peg in it
CLEAR = PEG + 0.55  # from a peg's middle to the thread that passes it
BACK_DASH = (1.6, 1.1)  # the way back


def _caption(pegs: PegPlan) -> Paragraph:
    return [Span(peg_words.cross_in_words(pegs))]


def cross_height(sheet: Sheet, pegs: PegPlan, width: float) -> float:
    """The height of the drawing and what is said below it."""
    return CROSS + 2.2 + paragraph_height(sheet, _caption(pegs), sheet.sizes.small, width)


def draw_cross(sheet: Sheet, pegs: PegPlan, box: Box) -> list[Mark]:
    """The cross by itself, not to scale, at the top of ``box``, and below it what to see there."""
    picture = Box(box.left, box.top, box.width, CROSS)
    above = [_passes_above(pegs, name) for name in pegs.cross]
    marks = _pegged(sheet, pegs, picture, above) if pegs.cross else _figure_of_eight(sheet, pegs, picture)
    drawn = figure("cross", picture, marks, peg_words.cross_alt_text(pegs, above))
    return [drawn, *paragraph(sheet, _caption(pegs), sheet.sizes.small, box.inset(top=CROSS + 1.4))]


def _pegged(sheet: Sheet, pegs: PegPlan, box: Box, above: Sequence[bool]) -> Iterable[Mark]:
    """Two passes round the cross pegs, out and back, and where they cross."""
    y, right = box.top + CROSS / 2, box.right - 0.6
    names = (pegs.home, *pegs.cross)
    posts = [(name, box.left + box.width * (0.14 + 0.24 * number)) for number, name in enumerate(names)]
    yield from _ways(_pass(posts, above, y, right), _pass(posts, [not side for side in above], y, right))
    for name, x in posts:
        yield from _peg(sheet, pegs, name, x, y)
    yield from _way_names(sheet, box.right, y, above[-1], "right")


def _ways(out: tuple[Step, ...], back: tuple[Step, ...]) -> Iterable[Mark]:
    """The way back dashed, and over it the way out, cased in white."""
    yield Path(back, stroke=BLACK, width=OUTLINE * 1.5, dash=BACK_DASH)
    yield Path(out, stroke=WHITE, width=OUTLINE * 5)
    yield Path(out, stroke=BLACK, width=OUTLINE * 2)


def _peg(sheet: Sheet, pegs: PegPlan, name: str, x: float, y: float) -> Iterable[Mark]:
    """A peg with its name: home full, far and home in the accent."""
    outline = ACCENT if name in (pegs.home, pegs.far) else BLACK
    yield Dot(x, y, PEG, ACCENT if name == pegs.home else WHITE, outline, OUTLINE)
    text, size = peg_words.peg_name(name, pegs), sheet.sizes.small
    yield Words(x, y - PEG - 2.6, text, Face.SANS_SEMIBOLD, size, align="middle")


def _way_names(
    sheet: Sheet, x: float, y: float, out_is_above: bool, align: Literal["middle", "right"]
) -> Iterable[Mark]:
    size = sheet.sizes.small
    for text, is_above in ((peg_words.OUT, out_is_above), (peg_words.BACK, not out_is_above)):
        yield Words(x, y + (-3.8 if is_above else 3.8 + cap_height(size)), text, Face.SANS, size, align=align)


def _passes_above(pegs: PegPlan, name: str) -> bool:
    """Whether the way out, drawn from left to right, passes above a cross peg: the peg then lies on its right.

    The way back passes on the other side and walks the other way, so the peg lies on the same hand (a drawing): it
    does not matter which of the two ways touches it.
    """
    return next((peg.bend is Bend.RIGHT for peg in pegs.round_trip.passed if peg.name == name), False)


def _pass(posts: Sequence[tuple[str, float]], above: Sequence[bool], y: float, right: float) -> tuple[Step, ...]:
    """One pass from home to the right edge: straight past each peg, a slope where it changes sides."""
    heights = [y + (-CLEAR if side else CLEAR) for side in above]
    steps: list[Step] = [("move", posts[0][1], heights[0])]
    for (_, x), height in zip(posts[1:], heights, strict=True):
        steps += [("line", x - 1.2, height), ("line", x + 1.2, height)]
    return (*steps, ("line", right, heights[-1]))


def _figure_of_eight(sheet: Sheet, pegs: PegPlan, box: Box) -> Iterable[Mark]:
    """Two posts with no pegs between: the way out and the way back cross half-way."""
    y = box.top + CROSS / 2
    home, far = box.left + box.width * 0.14, box.left + box.width * 0.86
    slope = -CLEAR if _leaves_above(pegs) else CLEAR
    ways: list[tuple[Step, ...]] = [(("move", home, y + side), ("line", far, y - side)) for side in (slope, -slope)]
    yield from _ways(*ways)
    yield from _peg(sheet, pegs, pegs.home, home, y)
    yield from _peg(sheet, pegs, pegs.far, far, y)
    yield from _way_names(sheet, box.left + box.width * 0.32, y, slope < 0, "middle")


def _leaves_above(pegs: PegPlan) -> bool:
    """Whether the way out leaves home on the side that is drawn above; y grows downwards."""
    return pegs.round_trip.legs[0].start[1] < pegs.round_trip.passed[0].y_mm
