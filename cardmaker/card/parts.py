"""The usual parts of a panel: a heading, a numbered step, words, a picture. Tables are in ``table_parts``."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from cardmaker.card.fitting import GUTTER
from cardmaker.card.paragraphs import Paragraph, paragraphs_height, set_paragraphs
from cardmaker.card.sheet import Sheet
from cardmaker.layout.headings import SetHeading, aside_words, fits_beside, heading_words, set_heading
from cardmaker.layout.ink import BLACK, SOFT, WHITE
from cardmaker.layout.lettering import words_box
from cardmaker.layout.stacking import HeightRange, Part, draw_stack, exactly, stack_heights
from cardmaker.layout.type_setting import (
    SetLine,
    cap_height,
    figure,
    leading,
    tail_depth,
    text_height,
    unparted,
    words_group,
)
from cardmaker.model.marks import Box, Dot, Face, Mark, Words
from cardmaker.model.record_class import replace
from cardmaker.wording.step_words import WIND, BenchStep

BELOW_HEADING: Final = 2.8  # mm from a heading's baseline to what it heads
OVER_PICTURE, OVER_WORDS = 1.2, 1.8  # mm likewise under a step on a crowded card: its disc stands clear of words
OVER_TERSE_WORDS: Final = 1.62  # mm where it would else lack something: still clear of them
DISC: Final = 0.95  # the radius of a step's disc, in capitals of its heading
BESIDE_DISC: Final = 2.0  # mm
AFTER_HEADING: Final = 4.2  # mm from a heading to what begins on its line
LINE_DISC: Final = 0.8  # the same of a step that is a line of a sentence, in its capitals
BESIDE_LINE_DISC: Final = 1.8  # mm
COLUMN_GAP: Final = 4.0  # mm between columns that have what they want
LEAST_AIR, MOST_AIR = 0.4, 4.0  # mm over a step of a small card, besides the space between panels
LATER_STEPS: Final = frozenset({"board", "threading", "threaded", "weave", "shuttle", "weaving"})  # headed 2 and 3


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

    def draw(box: Box) -> list[Mark]:
        return set_paragraphs(sheet, paragraphs, size, box)

    return Part(exactly(height), draw, above, facts, priority, tuple(paragraphs))


def picture_part(
    name: str,
    heights: HeightRange,
    draw: Callable[[Box], Iterable[Mark]],
    alt: str | Callable[[], str],
    *,
    above: float = 1.6,
    facts: tuple[str, ...] = (),
    priority: int = 0,
) -> Part:
    """A drawing with the words that stand for it when it is read aloud; those that take some finding are a function,
    which is asked when the picture is drawn, and not at each measuring."""

    def drawn(box: Box) -> list[Mark]:
        return [figure(name, box, draw(box), alt if isinstance(alt, str) else alt())]

    return Part(heights, drawn, above, facts, priority)


def in_small_type(sheet: Sheet) -> Sheet:
    """For a table that is looked up rather than read: the size of small words throughout."""
    return replace(sheet, sizes=replace(sheet.sizes, body=sheet.sizes.small))


def heading_part(
    sheet: Sheet, width: float, text: str, aside: str = "", *, strong: bool = False, instructs: bool = False
) -> Part:
    """A heading, and a few words at the other end of its line where they find room: a label in grey, what ``instructs``
    in black, and what is ``strong`` in black and semibold."""
    heading = set_heading(sheet, text, width, aside, strong=strong, ink=BLACK if instructs else SOFT)

    def draw(box: Box) -> list[Mark]:
        baseline = box.top + cap_height(sheet.sizes.heading)
        words = heading_words(heading, box.left, baseline)
        place = box._replace(height=heading.height_mm)
        return [words_group("heading", place, *words), *_aside(heading, box, baseline)]

    return Part(exactly(heading.height_mm + BELOW_HEADING), draw)


def run_in_part(sheet: Sheet, width: float, text: str, spans: Paragraph, *, facts: tuple[str, ...] = ()) -> list[Part]:
    """A heading with its one paragraph beginning on the same line, where a word of it finds room there; else below."""
    size, heading = sheet.sizes.small, sheet.sizes.heading
    indent = sheet.wide(text, Face.SERIF_SEMIBOLD, heading) + AFTER_HEADING
    first = next((word for span in spans for word in unparted(span.text)), "")
    if indent + sheet.wide(first, Face.SANS_SEMIBOLD, size) > width:
        return [heading_part(sheet, width, text), words_part(sheet, width, [spans], size, above=0.0, facts=facts)]
    lines = sheet.lines(spans, size, width, indent)
    height = cap_height(heading) + (len(lines) - 1) * leading(size) + tail_depth(size)

    def draw(box: Box) -> list[Mark]:
        baseline = box.top + cap_height(heading)
        name = Words(box.left, baseline, text, Face.SERIF_SEMIBOLD, heading)
        first = sheet.set(lines[:1], box.left + indent, baseline, size)
        rest = sheet.set(lines[1:], box.left, baseline + leading(size), size)
        place = box._replace(height=cap_height(heading), width=indent - AFTER_HEADING)
        return [words_group("heading", place, name), words_group("paragraph", box, *first, *rest)]

    return [Part(exactly(height), draw, facts=facts, words=(spans,))]


def aside_fits(sheet: Sheet, width: float, heading: str, aside: str, *, step: bool = False) -> bool:
    """Whether an aside finds room at the other end of a heading's line."""
    return fits_beside(sheet, heading, aside, width - (_indent(sheet) if step else 0.0))


def step_part(sheet: Sheet, width: float, step: BenchStep, aside: str = "", *, strong: bool = False) -> Part:
    """The heading of a step: its number in a black disc, its name, and an aside where it finds room, in black, for it
    says what to do."""
    indent, radius = _indent(sheet), _radius(sheet)
    heading = set_heading(sheet, step.name, width - indent, aside, strong=strong, ink=BLACK)
    number_size = max(sheet.sizes.smallest, sheet.sizes.heading * 0.85)

    def draw(box: Box) -> list[Mark]:
        x, middle = box.left + radius, box.top + radius
        baseline = box.top + step_baseline(sheet)
        y = middle + cap_height(number_size) / 2
        number = Words(x, y, str(step.number), Face.SANS_BOLD, number_size, WHITE, "middle")
        name = heading_words(heading, box.left + indent, baseline)
        place = box._replace(height=2 * radius)
        words = words_group("heading", place, number, *name, alt=step.in_words)
        return [Dot(x, middle, radius, BLACK), words, *_aside(heading, box.inset(left=indent), baseline)]

    return Part(exactly(max(heading.height_mm, 2 * radius) + BELOW_HEADING - 0.6), draw)


def step_baseline(sheet: Sheet) -> float:
    """From the top of a step's heading to its baseline, in mm."""
    return _radius(sheet) + cap_height(sheet.sizes.heading) / 2


def step_heading_width(sheet: Sheet, step: BenchStep) -> float:
    """How wide the number and the name of a step are, in mm."""
    return _indent(sheet) + sheet.wide(step.name, Face.SERIF_SEMIBOLD, sheet.sizes.heading)


def step_indent(sheet: Sheet) -> float:
    """From the left edge to the words beside a step's disc, in mm."""
    return 2 * _line_radius(sheet) + BESIDE_LINE_DISC


def _line_radius(sheet: Sheet) -> float:
    return LINE_DISC * cap_height(sheet.sizes.body)


def step_line_part(
    sheet: Sheet, width: float, step: BenchStep, words: Paragraph, *, facts: tuple[str, ...] = ()
) -> Part:
    """A step of a small card, which has no line for a heading: its number in the black disc before a sentence.

    Above it is air, more where there is room, so that steps stand farther apart than the lines within them. The part
    ends at the last baseline and its tails.
    """
    lines = sheet.lines(words, sheet.sizes.body, width - step_indent(sheet))
    return step_lines_part(sheet, step, lines, len(lines), facts=facts)


def step_lines_part(
    sheet: Sheet, step: BenchStep, lines: Sequence[SetLine], high_lines: int, *, facts: tuple[str, ...] = ()
) -> Part:
    """The same of lines that are set; ``high_lines`` is in how many lines' height."""
    size, indent, radius = sheet.sizes.body, step_indent(sheet), _line_radius(sheet)
    over = radius - cap_height(size) / 2  # how far the disc stands above the capitals
    high = text_height(high_lines, size) + (0.0 if sheet.is_crowded else over)  # there it takes of the space above
    least = 0.0 if sheet.is_crowded else LEAST_AIR

    def draw(box: Box) -> list[Mark]:
        top = box.bottom - text_height(high_lines, size) - over
        baseline = top + over + cap_height(size)
        number = Words(box.left + radius, baseline, str(step.number), Face.SANS_BOLD, size, WHITE, "middle")
        place = Box(box.left, top, 2 * radius, 2 * radius)
        spoken = words_group("heading", place, number, alt=step.in_words)
        said = sheet.set(lines, box.left + indent, baseline, size)
        beside = Box(box.left + indent, top + over, box.width - indent, text_height(high_lines, size))
        return [Dot(place.middle, top + radius, radius, BLACK), spoken, words_group("paragraph", beside, *said)]

    return Part(HeightRange(high + least, high + max(least, MOST_AIR)), draw, facts=facts)


def heading_alone(sheet: Sheet, heading: Part, facts: tuple[str, ...]) -> Part:
    """A step that is told in the line of its heading: on a crowded card nothing is kept free below it."""
    less = BELOW_HEADING - 0.6 if sheet.is_crowded else 0.0
    return replace(heading, heights=exactly(heading.heights.least - less), facts=facts)


def close_heading(sheet: Sheet, heading: Part, below: float = OVER_WORDS) -> Part:
    """A step whose first line tells less than its heading's: on a crowded card they stand closer together, the more so
    on one that would else lack something."""
    less = BELOW_HEADING - (min(below, OVER_TERSE_WORDS) if sheet.is_terse else below) if sheet.is_crowded else 0.0
    return replace(heading, heights=exactly(heading.heights.least - less)) if less else heading


def wind_heading(sheet: Sheet, width: float, aside: str) -> Part:
    """The heading of winding: with its number only where another step follows, or a reader looks for a 2 in vain."""
    if LATER_STEPS & sheet.layout.panels:
        return step_part(sheet, width, WIND, aside)
    return heading_part(sheet, width, WIND.name, aside, instructs=True)


def _radius(sheet: Sheet) -> float:
    return DISC * cap_height(sheet.sizes.heading)


def _indent(sheet: Sheet) -> float:
    return 2 * _radius(sheet) + BESIDE_DISC


def _aside(heading: SetHeading, box: Box, baseline: float) -> list[Mark]:
    return [
        words_group("paragraph", words_box(words, heading.space.ruler), words)
        for words in aside_words(heading, box, baseline)
    ]


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


def quarters(width: float) -> tuple[list[float], float]:
    """The left edges of four columns as rows of panels have them, and how wide each is: text stands at these edges."""
    wide = (width - 3 * GUTTER) / 4
    return [number * (wide + GUTTER) for number in range(4)], wide
