"""The six numbers: ends, warp, first space and empties as figures under their labels, the stripes as cells, and below
them in words how it is wound and what is woven.

The sixth, which shed comes next, has a panel of its own below.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from cardmaker.card.panels.small_card_panels import woven_size_part
from cardmaker.card.panels.stripe_counts_panels import figure_spans
from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.stripe_cells import StripeCells, stripes_in_cells
from cardmaker.card.stripe_drawing import draw_stripe_cells
from cardmaker.layout.ink import ACCENT, BLACK, SOFT
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part
from cardmaker.layout.type_setting import SetLine, Span, cap_height, figure, fitting_size, leading, tail_depth
from cardmaker.model.marks import Box, Colour, Face, Mark, Words
from cardmaker.model.record_class import replace
from cardmaker.wording import (
    heddle_alt_texts,
    length_words,
    shed_words,
    stripe_words,
    student_words,
    walk_words,
    winding_words,
)
from cardmaker.wording.phrases import capitalised
from cardmaker.wording.units_in_words import with_units_in_words

EDGES: Final = (0.0, 0.15, 0.39)  # of the width: where the figures stand, on every card the same
BETWEEN: Final = 3.0  # mm from one figure to the next
BELOW_LABEL: Final = 1.4  # mm
BELOW_FIGURE: Final = 0.5  # mm under its tails
GIVES_WAY: Final = {"cross reminder": -2, "width": -1}  # on the smallest of cards: how it is wound after what is woven
CLOSE, CLOSEST = 0.75, 0.4
ABOVE_CELLS, ABOVE_LEGEND = 2.2, 1.6  # mm
ABOVE_BEGIN: Final = 1.2  # mm, under the legend
MORE_ABOVE: Final = 2.6  # mm, over either of them where there is room


class _Number(NamedTuple):
    """A figure under its label, what stands below it, and what is said for it."""

    left: float
    width: float
    label: str
    label_lines: Sequence[SetLine]
    figures: tuple[str, ...]
    below: str
    colour: Colour
    size: float


def _numbers(sheet: Sheet, width: float) -> list[_Number]:
    """Ends, warp to wind, first space: the last may be two lines, of two heddles."""
    told = student_words.three_figures(sheet.plan, sheet.units)
    lefts = [edge * width for edge in EDGES]
    rights = [*(left - BETWEEN for left in lefts[1:]), width]
    numbers = []
    for (label, figures, below), left, right, colour in zip(told, lefts, rights, (BLACK, BLACK, ACCENT), strict=True):
        lines, size = _sized(sheet, figures, right - left)
        labels = sheet.lines([Span(label, colour=SOFT)], sheet.sizes.small, right - left)
        numbers.append(_Number(left, right - left, label, labels, lines, below, colour, size))
    return numbers


def _sized(sheet: Sheet, figures: str, room: float) -> tuple[tuple[str, ...], float]:
    """On one line where it is no smaller than a sentence; else each heddle on a line of its own."""
    sizes, face = sheet.sizes, Face.SANS_BOLD
    size = fitting_size(figures, face, sizes.count, room, sheet.ruler, sizes.smallest)
    lines = tuple(figures.split("; "))
    if size >= sizes.body or len(lines) == 1:
        return (figures,), size
    return lines, sizes.body


def _fits(sheet: Sheet, number: _Number) -> bool:
    """Whether a figure and the words below it stand within its column."""
    figures = (sheet.wide(line, Face.SANS_BOLD, number.size) for line in number.figures)
    below = sheet.wide(number.below, Face.SANS_SEMIBOLD, sheet.sizes.small)
    return max(below, *figures) <= number.width + 1e-6


def _figures_height(sheet: Sheet, numbers: Sequence[_Number]) -> float:
    small = sheet.sizes.small
    label = _label_drop(sheet, numbers) + BELOW_LABEL
    return label + _tallest(numbers) + _below_figures(sheet, numbers) + tail_depth(small)


def _label_drop(sheet: Sheet, numbers: Sequence[_Number]) -> float:
    """From the top to the last baseline of the labels: the name of a loom may take more than one line."""
    small = sheet.sizes.small
    return cap_height(small) + (max(len(number.label_lines) for number in numbers) - 1) * leading(small)


def _tallest(numbers: Sequence[_Number]) -> float:
    return max(_figure_height(number) for number in numbers)


def _below_figures(sheet: Sheet, numbers: Sequence[_Number]) -> float:
    """From the last baseline of the figures to that of the words below them."""
    tails = max(tail_depth(number.size) for number in numbers)
    return tails + BELOW_FIGURE + cap_height(sheet.sizes.small)


def _figure_height(number: _Number) -> float:
    return cap_height(number.size) + (len(number.figures) - 1) * leading(number.size)


def _draw_figures(sheet: Sheet, box: Box) -> list[Mark]:
    """The three as pictures of words, each told in full."""
    plan, small = sheet.plan, sheet.sizes.small
    numbers = _numbers(sheet, box.width)
    top = box.top + _label_drop(sheet, numbers)
    last = top + BELOW_LABEL + _tallest(numbers)
    below = last + _below_figures(sheet, numbers)
    wind = with_units_in_words(f"{length_words.wind(plan.lengths, sheet.units)}.")
    told = (
        ("ends", f"{numbers[0].figures[0]} {numbers[0].label}."),
        ("warp", f"{wind} {winding_words.winding_alt_text(plan)}"),
        ("heddle", heddle_alt_texts.heddle_alt_text(plan)),
    )
    marks: list[Mark] = []
    for number, (name, alt) in zip(numbers, told, strict=True):
        x = box.left + number.left
        first = last - (len(number.figures) - 1) * leading(number.size)
        words = [
            *sheet.set(number.label_lines, x, top - (len(number.label_lines) - 1) * leading(small), small),
            *(
                Words(x, first + at * leading(number.size), line, Face.SANS_BOLD, number.size, number.colour)
                for at, line in enumerate(number.figures)
            ),
            Words(x, below, number.below, Face.SANS_SEMIBOLD, small),
        ]
        place = Box(x, box.top, number.width, box.height)
        marks.append(figure(name, place, [word for word in words if word.text], alt))
    return marks


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    numbers = _numbers(sheet, width)
    facts = ("ends", "warp", "loom", "first space", "view", "empties", "stripes")
    if not all(_fits(sheet, number) for number in numbers):
        return [Part(NO_ROOM, lambda box: (), facts=facts)]
    figures, cells = _figures_height(sheet, numbers), stripes_in_cells(sheet, width)
    fixed = figures + ABOVE_CELLS * _closeness(sheet)
    height = HeightRange(fixed + cells.heights.least, fixed + cells.heights.most)
    return [
        Part(height, lambda box: _draw_figures_over_stripes(sheet, figures, cells, box), facts=facts),
        *_words_below(sheet, width, cells),
    ]


def _draw_figures_over_stripes(sheet: Sheet, height: float, cells: StripeCells, box: Box) -> list[Mark]:
    """The figures over the stripes; the stripes are told after the number of ends, before winding and threading."""
    ends, *others = _draw_figures(sheet, box._replace(height=height))
    high = box.height - height - ABOVE_CELLS * _closeness(sheet)
    place = box._replace(top=box.bottom - high, height=high)
    alt = stripe_words.order_alt_text(sheet.plan, sheet.segments)
    return [ends, figure("stripes", place, draw_stripe_cells(sheet, cells, place), alt), *others]


def _closeness(sheet: Sheet) -> float:
    """How much of the usual space is left between parts on a crowded card, and on one that would else not hold them."""
    if not sheet.is_crowded:
        return 1.0
    return CLOSEST if sheet.is_terse else CLOSE


def _words_below(sheet: Sheet, width: float, cells: StripeCells) -> Sequence[Part]:
    """What the letters mean; how it is wound, with the cross; what is woven; and, on a line of its own over the frames
    of the sheds, how weaving begins."""
    size, face = sheet.sizes.small, Face.SANS_SEMIBOLD
    begins_at = stripe_words.begins_at(sheet.plan, brief=True)
    words = stripe_words.legend_with_weft(sheet.plan, turns=not cells.tells_turns)
    legend = [*([Span(begins_at, face)] if begins_at else []), Span(words), *figure_spans(sheet)]
    told = ("legend", "weft", *(["pickup card"] if sheet.plan.pickup else []))
    begin = capitalised(shed_words.begin_words(sheet.plan, brief=True))
    lines = (
        (words_part(sheet, width, [legend], size, above=ABOVE_LEGEND, facts=told)),
        (_winding(sheet, width)),
        replace(woven_size_part(sheet, width, size, brief=sheet.is_tersest), above=ABOVE_BEGIN),
        (words_part(sheet, width, [[Span(begin, face)]], size, above=ABOVE_BEGIN, facts=("begin",))),
    )
    return [_kept_apart(sheet, line) for line in lines]


def _winding(sheet: Sheet, width: float) -> Part:
    """The length again, from which post, how often across, where it ends, and which way odd and even ends take at the
    cross: in the fullest words of the fewest lines."""
    size = sheet.sizes.small
    tries = [
        [Span(length, Face.SANS_BOLD), Span(f"{how} {cross}")]
        for length, how in winding_words.winds_in_brief(sheet.plan, sheet.units)[:2]
        for cross in walk_words.CROSS_MADE
    ]
    words = min(tries, key=lambda each: len(sheet.lines(each, size, width)))
    facts = ("trips", "finish", "cross reminder")
    return words_part(sheet, width, [words], size, above=ABOVE_BEGIN, facts=facts)


def _kept_apart(sheet: Sheet, words: Part) -> Part:
    """Words with free space over them, more of it where there is room, so that a crowded card closes up no line that
    need not be."""
    high, above = words.heights.least, words.above * _closeness(sheet)
    heights = HeightRange(high, high + words.above - above + MORE_ABOVE)
    return replace(words, heights=heights, above=above, draw=lambda box: words.draw(box.inset(top=box.height - high)))


def _parts_if_room(sheet: Sheet, width: float) -> Sequence[Part]:
    """The same with how it is wound and what is woven where there is room, before a card is refused."""
    return [replace(part, priority=min(GIVES_WAY.get(fact, 0) for fact in part.facts)) for part in _parts(sheet, width)]


SIX = Panel("six", _parts)
SIX_IF_ROOM = Panel("six-if-room", _parts_if_room)
