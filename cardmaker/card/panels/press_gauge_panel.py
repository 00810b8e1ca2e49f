"""The press test: a known weight at mid-span, and a gauge at true scale to cut out and stand beside the warp."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.sheet import Drawing, HeightRange, Panel, Sheet, exactly, headed, heading_height, planned
from cardmaker.layout.ink import ACCENT, BLACK, FAINT, HAIRLINE, OUTLINE, RULE, SOFT
from cardmaker.layout.type_setting import Span, cap_height, figure
from cardmaker.model.marks import Box, Face, Line, Mark, Rectangle, Words
from cardmaker.wording import tension_words

GAUGE = 56.0  # the width of the piece to cut out
ABOVE, BELOW = 7.0, 5.0  # card above the resting line and below the deepest mark
GAP = 6.0


def _gauge_height(sheet: Sheet) -> float:
    dips = [dip.dip_mm for dip in planned(sheet.plan.tension).dips]
    return ABOVE + max(*dips, _step(sheet) * len(dips)) + BELOW if dips else 0.0


def _step(sheet: Sheet) -> float:
    """From one label to the next where the marks stand closer: fractions reach above and below their line."""
    return cap_height(sheet.sizes.smallest) + 1.5


def _words(sheet: Sheet) -> Paragraph:
    pull = planned(sheet.plan.tension)
    return [
        Span(tension_words.pull(pull, brief=True), Face.SANS_SEMIBOLD),
        Span(tension_words.press_to_hang(pull, sheet.units)),
        Span(tension_words.PRESS_IS_ESTIMATE),
    ]


def _words_width(sheet: Sheet, width: float) -> float:
    """What the gauge leaves of the width."""
    return width - GAUGE - GAP if planned(sheet.plan.tension).dips else width


def _heights(sheet: Sheet, width: float) -> HeightRange:
    words = paragraph_height(sheet, _words(sheet), sheet.sizes.body, _words_width(sheet, width))
    return exactly(heading_height(sheet) + max(_gauge_height(sheet), words))


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, tension_words.PRESS)
    pull = planned(sheet.plan.tension)
    marks += paragraph(sheet, _words(sheet), sheet.sizes.body, body._replace(width=_words_width(sheet, body.width)))
    if pull.dips:
        gauge = Box(body.right - GAUGE, body.top, GAUGE, _gauge_height(sheet))
        marks.append(figure("gauge", gauge, _gauge(sheet, gauge), tension_words.gauge_alt_text(pull, sheet.units)))
    return Drawing(tuple(marks))


def _gauge(sheet: Sheet, box: Box) -> list[Mark]:
    """At true scale: the warp at rest is the upper line; pressed, it comes down to one of the marks."""
    size = sheet.sizes.smallest
    rest = box.top + ABOVE
    marks: list[Mark] = [
        Rectangle(box, stroke=BLACK, width=OUTLINE, dash=(2.0, 1.4)),
        Line(box.left, rest, box.right, rest, OUTLINE * 1.4),
        Words(box.left + 1.4, rest - 1.4, tension_words.AT_REST, Face.SANS, size),
    ]
    edge = box.left + 12
    step = _step(sheet)
    label = rest + 0.6
    for dip in sorted(planned(sheet.plan.tension).dips, key=lambda dip: dip.dip_mm):
        y = rest + dip.dip_mm
        label = max(label + step, y + cap_height(size) / 2)
        working = dip.pull.name == "working"
        colour = ACCENT if working else BLACK
        marks += [
            Line(box.left, y, edge, y, OUTLINE if working else RULE, colour),
            Line(edge, y, edge + 3, label - cap_height(size) / 2, HAIRLINE, FAINT),
            Words(
                edge + 3.6, label, tension_words.gauge_mark(dip, sheet.units),
                Face.SANS_SEMIBOLD if working else Face.SANS, size, colour if working else SOFT,
            ),
        ]  # fmt: skip
    deepest = max(dip.dip_mm for dip in planned(sheet.plan.tension).dips)
    marks.append(Line(box.left + 4, rest, box.left + 4, rest + deepest, HAIRLINE))
    return marks


PRESS = Panel("press", _heights, _draw, lambda sheet: sheet.plan.tension is not None)
