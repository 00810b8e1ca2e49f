"""The press test: a known weight at mid-span, and a gauge at true scale to cut out and stand beside the warp."""

from __future__ import annotations

from math import ceil

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.sheet import Drawing, Sheet, headed, heading_height, planned, whole_panel
from cardmaker.layout.ink import ACCENT, BLACK, FAINT, HAIRLINE, OUTLINE, RULE, SOFT
from cardmaker.layout.stacking import HeightRange, exactly
from cardmaker.layout.type_setting import Span, cap_height, figure
from cardmaker.model.bench import PressGauge
from cardmaker.model.marks import Box, Face, Line, Mark, Rectangle, Words
from cardmaker.wording import tension_words

GAUGE = 56.0  # the width of the piece to cut out
ABOVE, BELOW = 6.0, 4.0  # card above the resting line and below the deepest mark
GAP = 4.0
BAR = 10.0  # how far the bars of the marks reach in from the edge that stands at the warp
LEAST_SCALE = 9  # mm of the blank scale, where no mark is deeper
TICK, LONG_TICK = 4.0, 6.5  # of the blank scale


def _depth(gauge: PressGauge) -> int:
    """Of the blank scale, in whole millimetres: a little deeper than the deepest mark."""
    return max(LEAST_SCALE, *(ceil(mark.most_mm) + 1 for mark in gauge.marks), 0)


def _gauge_height(sheet: Sheet) -> float:
    gauge = planned(sheet.plan.tension).gauge
    return ABOVE + max(_depth(gauge), _step(sheet) * len(gauge.marks)) + BELOW if gauge else 0.0


def _step(sheet: Sheet) -> float:
    """From one label to the next where the marks stand closer."""
    return cap_height(sheet.sizes.smallest) + 1.5


def _words(sheet: Sheet) -> Paragraph:
    pull = planned(sheet.plan.tension)
    sentences = (
        tension_words.press_to_hang(pull, sheet.units),
        tension_words.other_weight(pull),
        tension_words.stiffness(pull, sheet.units, brief=True),
        tension_words.standard(pull),
        tension_words.standard_line(pull),
    )
    first = Span(tension_words.pull(pull), Face.SANS_SEMIBOLD)
    return [first, *(Span(sentence) for sentence in sentences if sentence)]


def _words_width(sheet: Sheet, width: float) -> float:
    """What the gauge leaves of the width."""
    return width - GAUGE - GAP if planned(sheet.plan.tension).gauge else width


def _heights(sheet: Sheet, width: float) -> HeightRange:
    words = paragraph_height(sheet, _words(sheet), sheet.sizes.small, _words_width(sheet, width))
    return exactly(heading_height(sheet) + max(_gauge_height(sheet), words))


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, tension_words.PRESS)
    marks += paragraph(sheet, _words(sheet), sheet.sizes.small, body._replace(width=_words_width(sheet, body.width)))
    if gauge := planned(sheet.plan.tension).gauge:
        place = Box(body.right - GAUGE, body.top, GAUGE, _gauge_height(sheet))
        drawing = [*_outline(sheet, place), *_marks(sheet, place, gauge), *_blank_scale(place, gauge)]
        marks.append(figure("gauge", place, drawing, tension_words.gauge_alt_text(gauge, sheet.units)))
    return Drawing(tuple(marks))


def _outline(sheet: Sheet, box: Box) -> list[Mark]:
    """The piece to cut out, and the upper line, which is the warp at rest."""
    size, rest = sheet.sizes.smallest, box.top + ABOVE
    right = box.right - 1.4 - sheet.wide(tension_words.WOVE_WELL, Face.SANS, size)
    return [
        Rectangle(box, stroke=BLACK, width=OUTLINE, dash=(2.0, 1.4)),
        Line(box.left, rest, box.right, rest, OUTLINE * 1.4),
        Words(box.left + 1.4, rest - 1.4, tension_words.AT_REST, Face.SANS, size),
        Words(right, rest - 1.4, tension_words.WOVE_WELL, Face.SANS, size),
    ]


def _marks(sheet: Sheet, box: Box, gauge: PressGauge) -> list[Mark]:
    """At true scale, each a bar from where the stiffest yarn dips to where the softest does."""
    size, rest, edge = sheet.sizes.smallest, box.top + ABOVE, box.left + BAR
    marks: list[Mark] = []
    label = rest + 0.6
    for mark in gauge.marks:
        working = mark.pull.name == "working"
        colour = ACCENT if working else FAINT
        words = tension_words.gauge_mark(mark, sheet.units)
        face = Face.SANS_SEMIBOLD if working else Face.SANS
        height = max(RULE, mark.most_mm - mark.least_mm)
        middle = rest + (mark.least_mm + mark.most_mm) / 2
        label = max(label + _step(sheet), middle + cap_height(size) / 2)
        marks += [
            Rectangle(Box(box.left, middle - height / 2, BAR, height), fill=colour),
            Line(edge, middle, edge + 3, label - cap_height(size) / 2, HAIRLINE, FAINT),
            Words(edge + 3.6, label, words, face, size, colour if working else SOFT),
        ]  # fmt: skip
    return marks


def _blank_scale(box: Box, gauge: PressGauge) -> list[Mark]:
    """Millimetres along the other edge, to draw on where a warp dips that wove well."""
    rest = box.top + ABOVE
    return [
        Line(box.right - (TICK if below % 5 else LONG_TICK), rest + below, box.right, rest + below, HAIRLINE)
        for below in range(1, _depth(gauge) + 1)
    ]


PRESS = whole_panel("press", _heights, _draw, lambda sheet: sheet.plan.tension is not None)
