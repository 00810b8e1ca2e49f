"""Rescue: every end counted from its nearer edge, for when one breaks."""

from __future__ import annotations

from math import ceil

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.sheet import Drawing, Sheet, headed, heading_height, planned, whole_panel
from cardmaker.layout.ink import BLACK, OUTLINE, SOFT
from cardmaker.layout.stacking import HeightRange, exactly
from cardmaker.layout.type_setting import Span, cap_height, figure
from cardmaker.model.bench import EndPlace
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Face, Mark, Rectangle, Words
from cardmaker.wording import rescue_words
from cardmaker.wording.view_words import seen_if_behind

CELL, STEP = 3.0, 1.5  # mm: the height of a cell and how much lower a slot end lies
ROW_GAP = 3.0
LABELS = 11.0
WIDEST_CELL = 5.4
ABOVE_WORDS = 2.0


def _most(sheet: Sheet, width: float) -> int:
    return int((width - LABELS) / (sheet.wide("00", Face.SANS, sheet.sizes.smallest) + 0.7))


def _row_height(sheet: Sheet) -> float:
    size = sheet.sizes.smallest
    return cap_height(size) + 1.0 + CELL + STEP + 1.0 + sheet.wide("Wh", Face.SANS, size) + 0.6


def _rows(sheet: Sheet, width: float) -> int:
    return ceil(sheet.plan.ends / _most(sheet, width))


def _words(sheet: Sheet) -> Paragraph:
    rescue = planned(sheet.plan.rescue)
    skipped, new_end = (
        rescue_words.skipped(rescue, brief=True),
        rescue_words.replacement(rescue.replacements, sheet.units),
    )
    seen = seen_if_behind(sheet.plan.loom)
    return [Span(text) for text in (seen, skipped, new_end) if text]


def _ends_height(sheet: Sheet, width: float) -> float:
    rows = _rows(sheet, width)
    return rows * _row_height(sheet) + (rows - 1) * ROW_GAP


def _heights(sheet: Sheet, width: float) -> HeightRange:
    words = ABOVE_WORDS + paragraph_height(sheet, _words(sheet), sheet.sizes.body, width)
    return exactly(heading_height(sheet) + _ends_height(sheet, width) + words)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, rescue_words.RESCUE, rescue_words.NEARER_EDGE)
    rows = _rows(sheet, box.width)
    places = planned(sheet.plan.rescue).ends
    each = ceil(len(places) / rows)
    pitch = min(WIDEST_CELL, (body.width - LABELS) / each)
    drawn: list[Mark] = []
    for number in range(rows):
        top = body.top + number * (_row_height(sheet) + ROW_GAP)
        drawn += _level_names(sheet, body.left, top)
        for index, place in enumerate(places[number * each : (number + 1) * each]):
            drawn += _end(sheet, place, Box(body.left + LABELS + index * pitch, top, pitch, _row_height(sheet)))
    picture = Box(body.left, body.top, body.width, _ends_height(sheet, box.width))
    drawn = list(sheet.as_mirrored(drawn, picture))
    marks.append(figure("ends", picture, drawn, rescue_words.rescue_alt_text(places, sheet.plan.loom)))
    below = body.inset(top=picture.height + ABOVE_WORDS)
    return Drawing((*marks, *paragraph(sheet, _words(sheet), sheet.sizes.body, below)))


def _level_names(sheet: Sheet, left: float, top: float) -> list[Mark]:
    size = sheet.sizes.smallest
    y = top + cap_height(size) + 1.0 + cap_height(size) + 0.2
    return [
        Words(left, y, "hole", Face.SANS, size, SOFT),
        Words(left, y + CELL + 0.4, "slot", Face.SANS, size, SOFT),
    ]


def _end(sheet: Sheet, place: EndPlace, box: Box) -> list[Mark]:
    size = sheet.sizes.smallest
    ink = sheet.inks[place.yarn]
    top = box.top + cap_height(size) + 1.0
    cell = Box(box.left, top + (STEP if place.kind is Space.SLOT else 0.0), box.width, CELL)
    face = Face.SANS_SEMIBOLD if place.count % 5 == 0 else Face.SANS
    letters = sheet.letters(place.yarn)
    x = box.middle + cap_height(size) / 2
    y = top + CELL + STEP + 1.0 + sheet.wide(letters, Face.SANS, size)
    return [
        Words(box.middle, box.top + cap_height(size), str(place.count), face, size, align="middle"),
        Rectangle(cell, fill=ink.fill),
        *sheet.hatched(cell, place.yarn),
        Rectangle(cell, stroke=BLACK, width=OUTLINE),
        Words(x, y, letters, Face.SANS, size, turned=90),
    ]


RESCUE = whole_panel("rescue", _heights, _draw, lambda sheet: sheet.plan.rescue is not None)
