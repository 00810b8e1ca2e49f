"""Rescue: every end counted from its nearer edge, with its letters and its hole or slot, for when one breaks."""

from __future__ import annotations

from math import ceil

from cardmaker.card.paragraphs import paragraph
from cardmaker.card.sheet import Drawing, HeightRange, Panel, Sheet, headed, heading_height
from cardmaker.layout.ink import HAIRLINE, OUTLINE, SOFT
from cardmaker.layout.lines_of_type import Span, cap_height, text_height
from cardmaker.layout.palette import hatching
from cardmaker.layout.roles import figure
from cardmaker.model.bench import EndPlace, Rescue
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Face, Mark, Rectangle, Words
from cardmaker.wording import rescue_words

CELL, STEP = 3.0, 1.5  # mm: the height of a cell and how much lower a slot end lies
ROW_GAP = 3.0
LABELS = 11.0


def _most(sheet: Sheet, width: float) -> int:
    return int((width - LABELS) / (sheet.wide("00", Face.SANS, sheet.sizes.smallest) + 0.7))


def _row_height(sheet: Sheet) -> float:
    size = sheet.sizes.smallest
    return cap_height(size) + 1.0 + CELL + STEP + 1.0 + sheet.wide("Wh", Face.SANS, size) + 0.6


def _rows(sheet: Sheet, width: float) -> int:
    return ceil(sheet.plan.ends / _most(sheet, width))


def _spans(sheet: Sheet) -> list[Span]:
    rescue = _rescue(sheet)
    return [
        Span(rescue_words.skipped(rescue, brief=True)),
        Span(rescue_words.replacement(rescue.replacements, sheet.units)),
    ]


def _words_height(sheet: Sheet, width: float) -> float:
    return 2.0 + text_height(len(sheet.lines(_spans(sheet), sheet.sizes.body, width)), sheet.sizes.body)


def _room(sheet: Sheet, width: float) -> HeightRange:
    rows = _rows(sheet, width)
    height = heading_height(sheet) + rows * _row_height(sheet) + (rows - 1) * ROW_GAP + _words_height(sheet, width)
    return HeightRange(height, height)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, rescue_words.RESCUE, rescue_words.NEARER_EDGE)
    rows = _rows(sheet, box.width)
    places = _rescue(sheet).ends
    each = ceil(len(places) / rows)
    pitch = min(5.4, (body.width - LABELS) / each)
    drawn: list[Mark] = []
    for number in range(rows):
        top = body.top + number * (_row_height(sheet) + ROW_GAP)
        drawn += _level_names(sheet, body.left, top)
        for index, place in enumerate(places[number * each : (number + 1) * each]):
            drawn += _end(sheet, place, Box(body.left + LABELS + index * pitch, top, pitch, _row_height(sheet)))
    y, size = body.top + rows * _row_height(sheet) + (rows - 1) * ROW_GAP + 2.0, sheet.sizes.body
    room = Box(body.left, body.top, body.width, y - 2.0 - body.top)
    marks.append(figure("ends", room, drawn, rescue_words.rescue_alt_text(places, sheet.plan.loom)))
    lines = sheet.lines(_spans(sheet), size, body.width)
    marks += paragraph(sheet, lines, body.left, y + cap_height(size), size, body.width)
    return Drawing(tuple(marks))


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
        *hatching(cell, ink, HAIRLINE),
        Rectangle(cell, stroke="#000000", width=OUTLINE),
        Words(x, y, letters, Face.SANS, size, turned=90),
    ]


def _rescue(sheet: Sheet) -> Rescue:
    rescue = sheet.plan.rescue
    if rescue is None:
        raise ValueError("no rescue was reckoned")
    return rescue


RESCUE = Panel("rescue", _room, _draw, lambda sheet: sheet.plan.rescue is not None)
