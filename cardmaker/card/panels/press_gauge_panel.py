"""The press test: a known weight at mid-span, and a gauge at true scale to cut out and stand beside the warp."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Final

from cardmaker.card.bench_columns import BETWEEN_COLUMNS, LEAST_LEFT, MIDDLE, RIGHT, left_width, middle_edge, right_edge
from cardmaker.card.panels.cross_drawing import DIMENSION, dimension_line
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import aside_fits, columns_part, heading_part, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, HEAVY, OUTLINE, WHITE
from cardmaker.layout.stacking import NO_ROOM, Part, exactly
from cardmaker.layout.type_setting import Span, cap_height, figure
from cardmaker.model.bench import PressGauge, PressMark
from cardmaker.model.marks import Box, Face, Line, Mark, Path, Rectangle, Step, Words
from cardmaker.wording import tension_words

ABOVE: Final = 5.0  # card above the resting line
OVER_REST: Final = 1.9  # from it to the words above
BELOW: Final = 2.2  # and below the deepest mark
BAR: Final = 9.0  # how far the bar of right reaches in from the edge that stands at the warp
SHORT_BAR: Final = 4.5  # and the outlines of too tight and too slack
LEAST_BAR: Final = 0.2  # mm: of her own mark, which has no range, the bar of right is a stroke
LEAST_SCALE: Final = 9  # mm of the blank scale, where no mark is deeper
TICK: Final = 1.6  # of the blank scale, which stands clear of the labels
LONG_TICK: Final = 2.8
FIGURED: Final = ((0, "0"), (5, "5 mm"))  # the figures at the blank scale
TO_LABEL: Final = 3.4  # mm: the leader from the end of the long bar to the labels
BEFORE_LABEL: Final = 0.5
POST_HEIGHT: Final = 4.0  # how far the bars that the warp lies over reach down
BESIDE_EDGE: Final = 1.4  # from the edges to the words on the line at rest
DIP: Final = 3.2
CORD: Final = 3.0  # from the warp to the weight
WEIGHT_HEIGHT: Final = 4.4


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    pull, small = planned(sheet.plan.tension), sheet.sizes.small
    level = tension_words.pull(pull, brief=True)
    below = () if aside_fits(sheet, width, tension_words.PRESS, level) else _level(sheet, width, level)
    return (
        heading_part(sheet, width, tension_words.PRESS, level, strong=True),
        *below,
        *_sketch_and_gauge(sheet, width),
        words_part(sheet, width, [_estimated(sheet)], small, facts=("press basis",), priority=4),
        words_part(
            sheet,
            width,
            [_standard(sheet)],
            small,
            above=1.8,
            facts=("press standard",),
            priority=-1 if sheet.is_crowded else 0,
        ),
    )


def _level(sheet: Sheet, width: float, level: str) -> Sequence[Part]:
    words: Paragraph = [Span(level, Face.SANS_SEMIBOLD)]
    return (words_part(sheet, width, [words], sheet.sizes.body, above=0.0),)


def _how(sheet: Sheet) -> Paragraph:
    """What to hang where, and whether the weight that the loom names suits the warp."""
    pull = planned(sheet.plan.tension)
    sentences = (tension_words.press_to_hang(pull), tension_words.other_weight(pull))
    return [Span(sentence) for sentence in sentences if sentence]


def _estimated(sheet: Sheet) -> Paragraph:
    sentence = tension_words.stiffness(planned(sheet.plan.tension), sheet.units, brief=True)
    return [Span(sentence)] if sentence else []


def _standard(sheet: Sheet) -> Paragraph:
    sentence = tension_words.standard(planned(sheet.plan.tension), brief=True)
    return [Span(sentence)] if sentence else []


def _sketch_and_gauge(sheet: Sheet, width: float) -> Sequence[Part]:
    """Words, sketch and gauge side by side, or the words above; on a narrow panel all of it below each other."""
    gauge = planned(sheet.plan.tension).gauge
    if gauge is None:
        return ()
    if width < RIGHT or not _labels_fit(sheet, gauge):
        return (Part(NO_ROOM, lambda box: (), facts=("press",)),)
    sketch, piece = _sketch_part(sheet, gauge), _gauge_part(sheet, gauge)
    if width < MIDDLE + BETWEEN_COLUMNS + RIGHT:
        return (words_part(sheet, width, [_how(sheet)], sheet.sizes.body), sketch, piece)
    pictures = [(middle_edge(width), MIDDLE, sketch), (right_edge(width), RIGHT, piece)]
    beside = left_width(width)
    if beside < LEAST_LEFT:
        return (words_part(sheet, width, [_how(sheet)], sheet.sizes.body), columns_part(pictures))
    words = words_part(sheet, beside, [_how(sheet)], sheet.sizes.body)
    return (columns_part([(0.0, beside, words), *pictures], above=0.6),)


def _labels_fit(sheet: Sheet, gauge: PressGauge) -> bool:
    """Whether the words of the gauge, which is at true scale, stand clear of each other and of its lines."""
    size, start = sheet.sizes.smallest, BAR + TO_LABEL + BEFORE_LABEL
    labels = [sheet.wide(tension_words.gauge_mark(mark, sheet.units), Face.SANS_BOLD, size) for mark in gauge.marks]
    over = (sheet.wide(words, Face.SANS, size) for words in (tension_words.AT_REST, tension_words.WOVE_WELL))
    return start + max(labels, default=0.0) + LONG_TICK <= RIGHT and sum(over) + 2 * BESIDE_EDGE + 2 <= RIGHT


def _sketch_part(sheet: Sheet, gauge: PressGauge) -> Part:
    """The weight on its cord in the middle of the warp, not to scale."""
    height = DIMENSION + 1.0 + DIP + CORD + WEIGHT_HEIGHT + 0.6
    alt = tension_words.sketch_alt_text(gauge, sheet.units)
    return Part(exactly(height), lambda box: [figure("weight", box, _sketch(sheet, gauge, box), alt)], 1.6)


def _sketch(sheet: Sheet, gauge: PressGauge, box: Box) -> list[Mark]:
    """The clear span above the warp, the warp at rest dashed, the warp as the weight bends it."""
    left, right, middle = box.left + 2.0, box.right - 2.0, box.middle
    warp, size = box.top + DIMENSION + 1.0, sheet.sizes.smallest
    low = warp + DIP
    weight = tension_words.weight_label(gauge)
    half = sheet.wide(weight, Face.SANS_SEMIBOLD, size) / 2 + 1.6
    top = low + CORD
    bottom = top + WEIGHT_HEIGHT
    block: tuple[Step, ...] = (
        ("move", middle - half + 0.9, top), ("line", middle + half - 0.9, top),
        ("line", middle + half, bottom), ("line", middle - half, bottom), ("close",),
    )  # fmt: skip
    posts = [Rectangle(Box(x - 0.9, warp, 1.8, POST_HEIGHT + DIP), WHITE, BLACK, OUTLINE) for x in (left, right)]
    beyond = [Line(left - 2.0, warp, left, warp, HEAVY), Line(right, warp, right + 2.0, warp, HEAVY)]
    return [
        *dimension_line(sheet, tension_words.clear_span(gauge, sheet.units), left, right, box.top + DIMENSION / 2),
        *posts,
        *beyond,
        Line(left, warp, right, warp, HAIRLINE, FAINT, (1.2, 1.0)),
        Path((("move", left, warp), ("line", middle, low), ("line", right, warp)), stroke=BLACK, width=HEAVY),
        Line(middle, low, middle, top, OUTLINE),
        Path(block, WHITE, BLACK, OUTLINE),
        Words(middle, top + (WEIGHT_HEIGHT + cap_height(size)) / 2, weight, Face.SANS_SEMIBOLD, size, align="middle"),
    ]


def _gauge_part(sheet: Sheet, gauge: PressGauge) -> Part:
    height = ABOVE + max(_depth(gauge), _step(sheet) * len(gauge.marks)) + BELOW
    alt = tension_words.gauge_alt_text(gauge, sheet.units)

    def draw(box: Box) -> list[Mark]:
        place = Box(box.left, box.top, RIGHT, height)
        drawing = [*_outline(sheet, place), *_marks(sheet, place, gauge), *_blank_scale(sheet, place, gauge)]
        return [figure("gauge", place, drawing, alt)]

    return Part(exactly(height), draw, 2.0, ("press",))


def _depth(gauge: PressGauge) -> int:
    """Of the blank scale, in whole millimetres: a little deeper than the deepest mark."""
    return max(LEAST_SCALE, *(ceil(mark.most_mm) + 1 for mark in gauge.marks), 0)


def _step(sheet: Sheet) -> float:
    """From one label to the next where the marks stand closer."""
    return cap_height(sheet.sizes.smallest) + 1.5


def _outline(sheet: Sheet, box: Box) -> list[Mark]:
    """The piece to cut out, and the upper line, which is the warp at rest, up to the nought of the blank scale."""
    size, rest = sheet.sizes.smallest, box.top + ABOVE
    right = box.right - BESIDE_EDGE - sheet.wide(tension_words.WOVE_WELL, Face.SANS, size)
    nought = box.right - LONG_TICK - 2 * BEFORE_LABEL - sheet.wide(FIGURED[0][1], Face.SANS, size)
    return [
        Rectangle(box, stroke=BLACK, width=OUTLINE, dash=(2.0, 1.4)),
        Line(box.left, rest, nought, rest, OUTLINE),
        Words(box.left + BESIDE_EDGE, rest - OVER_REST, tension_words.AT_REST, Face.SANS, size),
        Words(right, rest - OVER_REST, tension_words.WOVE_WELL, Face.SANS, size),
    ]


def _marks(sheet: Sheet, box: Box, gauge: PressGauge) -> list[Mark]:
    """At true scale, each from where the stiffest yarn dips to where the softest does: right in solid black, the others
    in outline, so that the heaviest ink is what the weaver looks for, on a grey copy too. Each with its label."""
    size, rest, labels_at = sheet.sizes.smallest, box.top + ABOVE, box.left + BAR + TO_LABEL
    marks: list[Mark] = []
    label = rest - _step(sheet)
    for mark in gauge.marks:
        working = mark.pull.name == "working"
        words = tension_words.gauge_mark(mark, sheet.units)
        middle = rest + (mark.least_mm + mark.most_mm) / 2
        label = max(label + _step(sheet), middle + cap_height(size) / 2, rest + 1.0 + cap_height(size))
        drawn = _right(box, middle, mark.most_mm - mark.least_mm) if working else _wrong(box, middle, mark)
        start, face = (box.left + BAR, Face.SANS_BOLD) if working else (box.left + SHORT_BAR, Face.SANS)
        marks += [
            *drawn,
            Line(start + 0.3, middle, labels_at, label - cap_height(size) / 2, HAIRLINE),
            Words(labels_at + BEFORE_LABEL, label, words, face, size),
        ]
    return marks


def _right(box: Box, middle: float, height: float) -> Sequence[Mark]:
    """A black bar from the least to the most: it is measured with, so it is no thicker than its label says."""
    height = max(LEAST_BAR, height)
    return [Rectangle(Box(box.left, middle - height / 2, BAR, height), fill=BLACK)]


def _wrong(box: Box, middle: float, mark: PressMark) -> list[Mark]:
    """A hairline's outline; of a level without a range a line."""
    height = mark.most_mm - mark.least_mm
    if height < 2 * HAIRLINE:
        return [Line(box.left, middle, box.left + SHORT_BAR, middle, HAIRLINE)]
    return [Rectangle(Box(box.left, middle - height / 2, SHORT_BAR, height), stroke=BLACK, width=HAIRLINE)]


def _blank_scale(sheet: Sheet, box: Box, gauge: PressGauge) -> list[Mark]:
    """Millimetres along the other edge, to draw on where a warp dips that wove well."""
    rest, size, right = box.top + ABOVE, sheet.sizes.smallest, box.right
    ticks = [
        Line(right - (TICK if below % 5 else LONG_TICK), rest + below, right, rest + below, HAIRLINE)
        for below in range(_depth(gauge) + 1)
    ]
    figures = [
        Words(right - LONG_TICK - BEFORE_LABEL, rest + at + cap_height(size) / 2, text, Face.SANS, size, align="right")
        for at, text in FIGURED
    ]
    return [*ticks, *figures]


PRESS: Final = Panel("press", _parts, lambda sheet: sheet.plan.tension is not None)
