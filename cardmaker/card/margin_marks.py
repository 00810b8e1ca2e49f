"""What stands in a card's margins: where holes are punched, where it is folded, and the notch that gauges the tape.

Everything else keeps clear of the margins. What must be seen, the notch and its words, keeps ``NOTCH_REACH`` from its
edge, where all printers print; the marks of a fold reach on to where most still do.
"""

from __future__ import annotations

from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, HEAVY, OUTLINE, RULE
from cardmaker.layout.type_setting import Span, cap_height, figure, tail_depth, text_height
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Words
from cardmaker.model.record_class import record
from cardmaker.wording import ribbon_words

FOLD_REACH: Final = 4.5  # mm: many home printers leave a sixth of an inch white (common practice, no source)
NOTCH_REACH: Final = 6.7  # mm: others leave a quarter (common practice, no source), and a dash has its own width
ARM: Final = 1.5  # mm: of the cross in the middle of a hole
HOLE: Final = 4.0  # mm: the radius of the largest hole that a punch cuts
US_HOLES_APART: Final = 4.25 * 25.4
US_FROM_EDGE: Final = 12.7  # mm: half an inch is the commonest; punches differ
ISO_HOLES_APART: Final = 80.0
ISO_FROM_EDGE: Final = 12.0
DEEP: Final = 9.5  # mm: how far the notch is cut into the card
LEAST_CUT: Final = 6.0  # mm: nobody cuts a narrower notch, and its dashes and marks would be one heap; it is a line
LIMIT: Final = 1.7  # mm: the marks of the narrowest and the widest tape, on the paper beyond the notch
OFF_NOTCH: Final = 1.5  # mm from the notch, or from a mark, to words
FOLD_DASHES: Final = (1.2, 0.9)
CUT_DASHES: Final = (1.5, 0.8)
OFF_TEXT: Final = 3.0  # mm from the edge of the text to the words in its margin


def punch_marks(layout: CardLayout, paper: Paper) -> list[Mark]:
    """A small cross in the middle of every hole of the layout's ``punch``, where the binding side has room for it.

    US three: 4 1/4 in apart, the middle one at half the height (from memory; how far from the edge differs from punch
    to punch). ISO 838: two holes 80 mm apart, 12 mm from the edge, and four where the 80 mm go on both ways (from
    memory). The corner's hole, by which a small card hangs, is ours: in the corner of the margins, where its cross is
    not read as a sign of the line beside it.
    """
    return [line for x, y in _holes(layout, paper) for line in _cross(x, y)]


def _holes(layout: CardLayout, paper: Paper) -> list[tuple[float, float]]:
    if layout.punch == "corner":
        box = layout.printable(paper)
        return [(box.right, box.top)]
    down, aside = _ROWS_OF_HOLES.get(layout.punch, ((), 0.0))
    if layout.binding_side == "none" or layout.binding_mm < aside + HOLE:
        return []
    x = aside if layout.binding_side == "left" else paper.width_mm - aside
    places = [(x, paper.height_mm / 2 + each) for each in down]
    return places if all(HOLE < y < paper.height_mm - HOLE for _, y in places) else []


_ROWS_OF_HOLES: Final = {
    "us three": ((-US_HOLES_APART, 0.0, US_HOLES_APART), US_FROM_EDGE),
    "iso two": ((-ISO_HOLES_APART / 2, ISO_HOLES_APART / 2), ISO_FROM_EDGE),
    "iso four": (tuple(ISO_HOLES_APART * each for each in (-1.5, -0.5, 0.5, 1.5)), ISO_FROM_EDGE),
}


def _cross(x: float, y: float) -> list[Mark]:
    return [Line(x - ARM, y, x + ARM, y, HAIRLINE, FAINT), Line(x, y - ARM, x, y + ARM, HAIRLINE, FAINT)]


def fold_marks(layout: CardLayout, paper: Paper) -> list[Mark]:
    """Short dashes in the upper and the lower margin where a card of two halves is folded."""
    x = paper.width_mm / 2
    if not layout.other_half or layout.margin_mm <= FOLD_REACH:
        return []
    margin, foot = layout.printable(paper).top, paper.height_mm
    return [
        Line(x, top, x, bottom, RULE, FAINT, FOLD_DASHES)
        for top, bottom in ((FOLD_REACH, margin), (foot - margin, foot - FOLD_REACH))
    ]


@record
class NotchPlace:
    """Where the notch is cut: at the left or the right edge, and the box of the column that it takes, if it takes one.

    In a margin that is wide enough it takes nothing; else it stands at the foot of the ribbon's column.
    """

    at_left: bool
    column: Box | None = None


def notch_place(sheet: Sheet, column: Box | None) -> NotchPlace | None:
    """The edge away from the binding where its margin holds the notch; else the foot of the ribbon's column.

    None where there is no room for it, or the layout wants none.
    """
    layout, column_width = sheet.layout, column.width if column else 0.0
    if not layout.notch:
        return None
    at_left = layout.binding_side == "right"
    if layout.margin_mm >= DEEP + LIMIT and _notch_stack(sheet) <= layout.printable(sheet.paper).height:
        return NotchPlace(at_left)
    if column is None or layout.binding_side == "left" or column_width < _label_left(sheet) + _label_wide(sheet):
        return None
    high = max(float(sheet.face_plan.width.high_mm) + RULE, _label_high(sheet))
    if high > column.height / 2:
        return None
    return NotchPlace(True, Box(column.left, column.bottom - high, column.width, high))


def _notch_stack(sheet: Sheet) -> float:
    """The height that notch, marks and words take in a margin."""
    size = sheet.sizes.smallest
    wide = max(sheet.wide(words, Face.SANS, size) for words in _margin_words(sheet))
    return float(sheet.face_plan.width.high_mm) + 2 * (wide + OFF_NOTCH)


def _margin_words(sheet: Sheet) -> tuple[str, str]:
    """What to do with the notch or the line, and how wide the tape may be."""
    width, is_line = sheet.face_plan.width, sheet.face_plan.width.likely_mm < LEAST_CUT
    return (
        ribbon_words.notch_use(width, sheet.units, is_line=is_line),
        ribbon_words.notch_limits(width, sheet.units, is_line=is_line),
    )


def _label_left(sheet: Sheet) -> float:
    """From the column's left edge to the notch's words."""
    return DEEP + LIMIT + OFF_NOTCH - sheet.layout.margin_mm


def _label_lines(sheet: Sheet) -> list[str]:
    """The label in a column: what to do, and under it how wide."""
    is_line = sheet.face_plan.width.likely_mm < LEAST_CUT
    act, _, width = ribbon_words.notch_label(sheet.face_plan.width, sheet.units, is_line=is_line).partition(": ")
    return [f"{act}:", width]


def _label_wide(sheet: Sheet) -> float:
    return max(sheet.wide(line, Face.SANS, sheet.sizes.smallest) for line in _label_lines(sheet))


def _label_high(sheet: Sheet) -> float:
    return text_height(2, sheet.sizes.smallest)


def notch_panel(sheet: Sheet, place: NotchPlace) -> Group:
    """The notch, a panel of its own that may stand in the margin.

    Cut lines from the edge inwards and across, marks for the narrowest and the widest tape, and its words; for a very
    narrow tape a line.
    """
    width, page = sheet.face_plan.width, sheet.paper
    middle = place.column.top + place.column.height / 2 if place.column else page.height_mm / 2
    sign = 1 if place.at_left else -1
    edge = 0.0 if place.at_left else page.width_mm
    inner, likely = edge + sign * DEEP, float(width.likely_mm)
    top, bottom = middle - likely / 2, middle + likely / 2
    marks: list[Mark]
    if likely < LEAST_CUT:
        marks = _line_to_lay_on(inner, top, bottom)
    else:
        marks = [
            Line(inner, top, inner, bottom, OUTLINE, BLACK, CUT_DASHES),
            *(Line(edge + sign * NOTCH_REACH, y, inner, y, OUTLINE, BLACK, CUT_DASHES) for y in (top, bottom)),
            *_limits(width_of_tape=(float(width.low_mm), float(width.high_mm)), inner=inner, sign=sign, middle=middle),
        ]
    marks += _label_in_column(sheet, place.column) if place.column else _label_in_margin(sheet, place, middle)
    box = _box(sheet, place, middle)
    drawn = figure("notch", box, marks, ribbon_words.notch_alt_text(width, sheet.units, is_line=likely < LEAST_CUT))
    return Group("panel", "notch", box, (drawn,))


def _line_to_lay_on(x: float, top: float, bottom: float) -> list[Mark]:
    """As long as the tape is wide, with a bar across either end: a narrow tape is laid on it."""
    ends = [Line(x - LIMIT / 2, y, x + LIMIT / 2, y, RULE) for y in (top, bottom)]
    return [Line(x, top, x, bottom, HEAVY), *ends]


def _limits(width_of_tape: tuple[float, float], inner: float, sign: int, middle: float) -> list[Mark]:
    return [
        Line(inner + sign * 0.3, middle + way * wide / 2, inner + sign * LIMIT, middle + way * wide / 2, RULE)
        for wide in width_of_tape
        for way in (-1, 1)
    ]


def _label_in_column(sheet: Sheet, column: Box) -> list[Mark]:
    size = sheet.sizes.smallest
    top = column.top + (column.height - _label_high(sheet)) / 2
    lines = [(Span(line),) for line in _label_lines(sheet)]
    return [*sheet.set(lines, column.left + _label_left(sheet), top + cap_height(size), size)]


def _label_in_margin(sheet: Sheet, place: NotchPlace, middle: float) -> list[Mark]:
    """Upwards in the margin: what to cut below the notch, what its marks mean above it."""
    width, size = sheet.face_plan.width, sheet.sizes.smallest
    label, limits = _margin_words(sheet)
    reach = float(width.high_mm) / 2 + OFF_NOTCH
    off_text = min(OFF_TEXT, sheet.layout.margin_mm - NOTCH_REACH - cap_height(size) - tail_depth(size))
    text_edge = sheet.layout.margin_mm - off_text
    x = text_edge if place.at_left else sheet.paper.width_mm - text_edge + cap_height(size)
    below = middle + reach + sheet.wide(label, Face.SANS, size)
    return [
        Words(x, below, label, Face.SANS, size, turned=90),
        Words(x, middle - reach, limits, Face.SANS, size, turned=90),
    ]


def _box(sheet: Sheet, place: NotchPlace, middle: float) -> Box:
    if place.column:
        return place.column.inset(left=NOTCH_REACH - place.column.left)
    high = _notch_stack(sheet)
    left = NOTCH_REACH if place.at_left else sheet.paper.width_mm - sheet.layout.margin_mm
    return Box(left, middle - high / 2, sheet.layout.margin_mm - NOTCH_REACH, high)
