"""The ribbon: the tape itself at life size down the whole card, pick by pick, with the scale marks beside it."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.sheet import Drawing, Sheet
from cardmaker.layout.ink import FAINT, HAIRLINE, RULE, SOFT
from cardmaker.layout.type_setting import cap_height, figure, words_group
from cardmaker.layout.woven_face import stamped_face
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Rectangle, Words
from cardmaker.wording import shed_words, title_words

TICKS = 4.2  # the room for the scale's ticks, inward of the tape; figures take more
MM_PER_INCH = 25.4
LABEL_AT = 1.5  # how far beyond a bar its length stands where it has no figures: clear of the shortest ticks
LARGEST_FIGURES = 11.0  # points: where even the smallest type is larger, the bars stand without figures
BAR_MM = 100
SAMPLE_GAP = 1.5  # from the ribbon's end to the window for a sample
GAP, LABELLED_GAP = 14.0, 26.0  # between the bars: the wider where a bar's length stands below its end
BAR_INCHES = 4


def ribbon_width(sheet: Sheet) -> float:
    """The tape's likely width and its scale, in mm."""
    return float(sheet.face_plan.width.likely_mm) + (
        TICKS + _figures(sheet) if _figured(sheet) else LABEL_AT + 1.9 + cap_height(sheet.sizes.smallest)
    )


def _figures(sheet: Sheet) -> float:
    """The width of the scale's widest figure, or of its unit."""
    size = sheet.sizes.smallest
    return max(sheet.wide("100", Face.SANS, size), sheet.wide("mm", Face.SANS, size))


def _gap(sheet: Sheet) -> float:
    return GAP if _figured(sheet) else LABELLED_GAP


def _figured(sheet: Sheet) -> bool:
    return sheet.layout.type_sizes.smallest <= LARGEST_FIGURES


def draw_ribbon(sheet: Sheet, box: Box) -> Drawing:
    """The tape from the top of ``box`` to its foot, millimetres beside its first half and inches beside the second."""
    tape = Box(box.left, box.top, float(sheet.face_plan.width.likely_mm), box.height)
    window = sheet.layout.sample_mm
    tape = tape.inset(bottom=window + SAMPLE_GAP if window else 0.0)
    marks = stamped_face(sheet, tape, 1.0)
    bars = []
    if window:
        marks += _sample_window(sheet, Box(tape.left, tape.bottom + SAMPLE_GAP, tape.width, window))
    below = 6 if _figured(sheet) else 22
    if tape.height >= BAR_MM + below:
        marks += _millimetres(sheet, tape)
        bars.append(shed_words.MM_BAR)
    if tape.height >= BAR_MM + _gap(sheet) + BAR_INCHES * MM_PER_INCH + below:
        marks += _inches(sheet, tape)
        bars.append(shed_words.INCH_BAR)
    alt_text = shed_words.ribbon_alt_text(sheet.face_plan, sheet.units, bars, has_window=bool(window))
    drawn = figure("ribbon", box, marks, alt_text)
    if not marked_beside(sheet, box.height):
        return Drawing((drawn,))
    return Drawing((drawn, _mark_of_sample_data(sheet, tape, box)))


def _mark_of_sample_data(sheet: Sheet, tape: Box, box: Box) -> Group:
    size = sheet.sizes.smallest
    x = tape.right + 2.0 + cap_height(size)
    words = Words(x, box.bottom - 1, sheet.face_plan.pattern.marked_as, Face.SANS, size, SOFT, turned=90)
    return words_group("paragraph", box.inset(left=tape.width), words)


def _sample_window(sheet: Sheet, box: Box) -> list[Mark]:
    """Where a piece of the woven tape is sewn or stapled on: as wide as the tape, with its name where that fits."""
    size = sheet.sizes.smallest
    marks: list[Mark] = [Rectangle(box, stroke=FAINT, width=RULE, dash=(1.6, 1.2))]
    wide = sheet.wide(title_words.SAMPLE, Face.SANS, size)
    if box.width > cap_height(size) + 1 and wide < box.height - 2:
        x, y = box.middle + cap_height(size) / 2, box.top + (box.height + wide) / 2
        marks.append(Words(x, y, title_words.SAMPLE, Face.SANS, size, SOFT, turned=90))
    return marks


def marked_beside(sheet: Sheet, height: float) -> bool:
    """Whether the mark of sample data finds room beside the ribbon, below the bars; else it stands at the foot."""
    text = sheet.face_plan.pattern.marked_as
    free = height - (BAR_MM + _gap(sheet) + BAR_INCHES * MM_PER_INCH) - 8.0
    return bool(text) and sheet.layout.ribbon and sheet.wide(text, Face.SANS, sheet.sizes.smallest) <= free


def _millimetres(sheet: Sheet, tape: Box) -> list[Mark]:
    ticks = [(mm, 0 if mm % 10 == 0 else 1 if mm % 5 == 0 else 2, str(mm)) for mm in range(BAR_MM + 1)]
    return _bar(sheet, tape.right + 1.0, tape.top, ticks, "mm", f"{BAR_MM} mm")


def _inches(sheet: Sheet, tape: Box) -> list[Mark]:
    eighths = range(BAR_INCHES * 8 + 1)
    ticks = [(n * MM_PER_INCH / 8, 0 if n % 8 == 0 else 1 if n % 4 == 0 else 2, str(n // 8)) for n in eighths]
    return _bar(sheet, tape.right + 1.0, tape.top + BAR_MM + _gap(sheet), ticks, "in", f"{BAR_INCHES} in")


def _bar(
    sheet: Sheet, x: float, top: float, ticks: Sequence[tuple[float, int, str]], unit: str, length: str
) -> list[Mark]:
    """A bar with its ticks, each told by where it stands, its rank, and its figure, which those of rank 0 bear."""
    bottom, cap = top + ticks[-1][0], cap_height(sheet.sizes.smallest)
    marks: list[Mark] = [Line(x, top, x, bottom, RULE)]
    for down, rank, figures in ticks:
        y = top + down
        marks.append(Line(x, y, x + (2.6, 1.8, 1.1)[rank], y, HAIRLINE if rank else RULE))
        if rank == 0 and down and _figured(sheet):
            marks.append(_figure(sheet, x, y + cap / 2, figures))
    below = _figure(sheet, x, bottom + cap * 1.9, unit) if _figured(sheet) else _upwards(sheet, x, bottom, length)
    return [*marks, below]


def _figure(sheet: Sheet, x: float, baseline: float, text: str) -> Words:
    return Words(x + 3.0, baseline, text, Face.SANS, sheet.sizes.smallest)


def _upwards(sheet: Sheet, x: float, y: float, text: str) -> Words:
    """The length of a bar that has no figures, written upwards below its end."""
    size = sheet.sizes.smallest
    below = y + 1.4 + sheet.wide(text, Face.SANS, size)
    return Words(x + LABEL_AT + cap_height(size), below, text, Face.SANS, size, turned=90)
