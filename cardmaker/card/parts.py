"""The usual parts of a panel: a heading, a numbered step, words, a picture."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from cardmaker.card.paragraphs import Paragraph, paragraphs_height, set_paragraphs
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, OUTLINE, SOFT, WHITE, hatching
from cardmaker.layout.lettering import hatch_width
from cardmaker.layout.stacking import HeightRange, Part, draw_stack, exactly, stack_heights
from cardmaker.layout.type_setting import cap_height, figure, words_group
from cardmaker.model.marks import Box, Dot, Face, Mark, Rectangle, Words
from cardmaker.wording.step_words import WIND, BenchStep

BELOW_HEADING: Final = 2.8  # mm from a heading's baseline to what it heads
DISC: Final = 0.95  # the radius of a step's disc, in capitals of its heading
BESIDE_DISC: Final = 2.0  # mm
BEFORE_ASIDE: Final = 3.0  # mm
LATER_STEPS: Final = frozenset({"board", "threaded", "weave", "shuttle"})  # the panels headed 2 and 3


def words_part(
    sheet: Sheet,
    width: float,
    paragraphs: Sequence[Paragraph],
    size: float,
    *,
    above: float = 1.6,
    facts: tuple[str, ...] = (),
    priority: int = 0,
) -> Part:
    """Paragraphs set at ``size`` points."""
    height = paragraphs_height(sheet, paragraphs, size, width)
    return Part(exactly(height), lambda box: set_paragraphs(sheet, paragraphs, size, box), above, facts, priority)


def picture_part(
    name: str,
    heights: HeightRange,
    draw: Callable[[Box], Iterable[Mark]],
    alt: str,
    *,
    above: float = 1.6,
    facts: tuple[str, ...] = (),
    priority: int = 0,
) -> Part:
    """A drawing with the words that stand for it when it is read aloud."""
    return Part(heights, lambda box: [figure(name, box, draw(box), alt)], above, facts, priority)


def heading_part(sheet: Sheet, width: float, text: str, aside: str = "", *, strong: bool = False) -> Part:
    """A heading, and a few words at the other end of its line where they find room; ``strong`` sets these in black."""
    return Part(
        exactly(cap_height(sheet.sizes.heading) + BELOW_HEADING), lambda box: _heading(sheet, box, text, aside, strong)
    )


def aside_fits(sheet: Sheet, width: float, heading: str, aside: str, *, step: bool = False) -> bool:
    """Whether an aside finds room at the other end of a heading's line."""
    indent = _indent(sheet) if step else 0.0
    return _heading_width(sheet, heading) + indent + BEFORE_ASIDE + _aside_width(sheet, aside) <= width


def step_part(sheet: Sheet, width: float, step: BenchStep, aside: str = "", *, strong: bool = False) -> Part:
    """The heading of a step: its number in a black disc, its name, and an aside where it finds room."""
    height = max(cap_height(sheet.sizes.heading), 2 * _radius(sheet)) + BELOW_HEADING - 0.6
    return Part(exactly(height), lambda box: _step(sheet, box, step, aside, strong))


def wind_heading(sheet: Sheet, width: float, aside: str) -> Part:
    """The heading of winding: with its number only where another step follows, or a reader looks for a 2 in vain."""
    if LATER_STEPS & sheet.layout.panels:
        return step_part(sheet, width, WIND, aside)
    return heading_part(sheet, width, WIND.name, aside)


def _radius(sheet: Sheet) -> float:
    return DISC * cap_height(sheet.sizes.heading)


def _indent(sheet: Sheet) -> float:
    return 2 * _radius(sheet) + BESIDE_DISC


def _step(sheet: Sheet, box: Box, step: BenchStep, aside: str, strong: bool) -> list[Mark]:
    size, radius = sheet.sizes.heading, _radius(sheet)
    cap = cap_height(size)
    number_size = max(sheet.sizes.smallest, size * 0.85)
    middle = box.top + radius
    baseline = middle + cap / 2
    x, y = box.left + radius, middle + cap_height(number_size) / 2
    number = Words(x, y, str(step.number), Face.SANS_BOLD, number_size, WHITE, "middle")
    name = Words(box.left + _indent(sheet), baseline, step.name, Face.SERIF_SEMIBOLD, size)
    heading = words_group("heading", Box(box.left, box.top, box.width, 2 * radius), number, name, alt=step.in_words)
    marks: list[Mark] = [Dot(x, middle, radius, BLACK), heading]
    if aside and aside_fits(sheet, box.width, step.name, aside, step=True):
        marks.append(_aside(sheet, box, baseline, aside, strong))
    return marks


def _heading(sheet: Sheet, box: Box, text: str, aside: str, strong: bool) -> list[Mark]:
    size, cap = sheet.sizes.heading, cap_height(sheet.sizes.heading)
    words = Words(box.left, box.top + cap, text, Face.SERIF_SEMIBOLD, size)
    marks: list[Mark] = [words_group("heading", Box(box.left, box.top, box.width, cap), words)]
    if aside and aside_fits(sheet, box.width, text, aside):
        marks.append(_aside(sheet, box, box.top + cap, aside, strong))
    return marks


def _aside(sheet: Sheet, box: Box, baseline: float, aside: str, strong: bool) -> Mark:
    size = sheet.sizes.small
    face, colour = (Face.SANS_SEMIBOLD, BLACK) if strong else (Face.SANS, SOFT)
    wide = sheet.wide(aside, face, size)
    place = Box(box.right - wide, baseline - cap_height(size), wide, cap_height(size))
    return words_group("paragraph", place, Words(box.right, baseline, aside, face, size, colour, "right"))


def _heading_width(sheet: Sheet, text: str) -> float:
    return sheet.wide(text, Face.SERIF_SEMIBOLD, sheet.sizes.heading)


def _aside_width(sheet: Sheet, aside: str) -> float:
    return sheet.wide(aside, Face.SANS_SEMIBOLD, sheet.sizes.small)


def columns_part(columns: Sequence[tuple[float, float, Part]], *, above: float = 1.6) -> Part:
    """Parts beside each other, each with its left edge in the panel and its width: as high as the highest needs."""
    least = max(part.heights.least for *_, part in columns)
    most = max(least, *(part.heights.most for *_, part in columns))

    def draw(box: Box) -> list[Mark]:
        boxes = (
            Box(box.left + left, box.top, width, min(box.height, part.heights.most)) for left, width, part in columns
        )
        return [mark for place, (*_, part) in zip(boxes, columns, strict=True) for mark in part.draw(place)]

    return Part(HeightRange(least, most), draw, above, tuple(fact for *_, part in columns for fact in part.facts))


def stack_part(parts: Sequence[Part], *, above: float = 1.6) -> Part:
    """Parts below each other that stand beside another part."""
    facts = tuple(fact for part in parts for fact in part.facts)
    return Part(stack_heights(parts), lambda box: draw_stack(parts, box), above, facts)


def swatch(sheet: Sheet, yarn: str, box: Box) -> list[Mark]:
    """The yarn's colour and hatching, outlined."""
    ink = sheet.inks[yarn]
    return [
        Rectangle(box, fill=ink.fill),
        *hatching(box, ink, hatch_width(ink)),
        Rectangle(box, stroke=BLACK, width=OUTLINE),
    ]
