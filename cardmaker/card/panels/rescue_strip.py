"""Every end in its yarn, counted from its nearer edge above, its hole or slot by name below."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from math import ceil
from typing import Final, NamedTuple

from cardmaker.card.sheet import Sheet, planned
from cardmaker.layout.ink import FAINT, HAIRLINE, RULE, SOFT
from cardmaker.layout.lettering import hatched_cell
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.bench import EndPlace
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Face, Line, Mark, Words
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import rescue_words, stripe_words

CELL, CELL_CROWDED = 3.2, 2.6  # mm: the height of a cell
STEP, STEP_CROWDED = 1.4, 1.2  # how much lower a slot end lies
ROW_GAP, ROW_GAP_CROWDED = 2.6, 1.4  # between rows of ends
WIDEST_CELL: Final = 5.6
BESIDE_NUMBER: Final = 0.7  # free between two numbers
AFTER_NAMES: Final = 2.4  # from the names of the rows to the ends
LINE_GAP: Final = 0.9  # between two lines of a row


@record
class EndStrip:
    """How the ends are set: so many in a row, how wide each, and over how many lines the letters spread."""

    each: int
    pitch: float
    names: float  # the width of the names of the rows
    overhang: float  # how far the names of the outer spaces reach beyond their ends
    letter_lines: int
    row_height: float
    rows: int
    cell: float  # the height of an end's cell
    step: float  # and how much lower it lies in a slot
    gap: float

    @property
    def width(self) -> float:
        return self.names + self.each * self.pitch + self.overhang

    @property
    def height(self) -> float:
        return self.rows * self.row_height + (self.rows - 1) * self.gap


def end_strip(sheet: Sheet, width: float) -> EndStrip:
    """The ends in as few rows as find room in ``width``, all about as long."""
    size, ends = sheet.sizes.smallest, planned(sheet.plan.rescue).ends
    names = max(sheet.wide(name, Face.SANS, size) for name in rescue_words.row_names(sheet.plan.loom)) + AFTER_NAMES
    least = _least_pitch(sheet, ends)
    overhang = max(0.0, _widest_space(sheet, ends) - least) / 2
    usable = width - names - overhang
    rows = ceil(len(ends) / max(1, int(usable / least)))
    each = ceil(len(ends) / rows)
    pitch = min(WIDEST_CELL, usable / each)
    lines = max(stripe.line for row in _rows(ends, each) for stripe in _letters(sheet, row, pitch)) + 1
    crowded = sheet.is_crowded
    cell, step = (CELL_CROWDED, STEP_CROWDED) if crowded else (CELL, STEP)
    height = (lines + 3) * _line(sheet) + cell + step + 1.4
    gap = ROW_GAP_CROWDED if crowded else ROW_GAP
    return EndStrip(each, pitch, names, overhang, lines, height, rows, cell, step, gap)


def _least_pitch(sheet: Sheet, ends: Sequence[EndPlace]) -> float:
    """A number over every end; its space's name under every second one, on the line of its kind."""
    size = sheet.sizes.smallest
    numbers = max(sheet.wide(str(place.count), Face.SANS, size) for place in ends)
    return max(numbers + BESIDE_NUMBER, (_widest_space(sheet, ends) + BESIDE_NUMBER) / 2)


def _widest_space(sheet: Sheet, ends: Sequence[EndPlace]) -> float:
    return max(sheet.wide(_space(sheet, place), Face.SANS, sheet.sizes.smallest) for place in ends)


def _space(sheet: Sheet, place: EndPlace) -> str:
    return rescue_words.space_name(place, sheet.plan.loom)


def _rows(ends: Sequence[EndPlace], each: int) -> list[Sequence[EndPlace]]:
    return [ends[at : at + each] for at in range(0, len(ends), each)]


def _line(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.smallest) + LINE_GAP


def draw_strip(sheet: Sheet, strip: EndStrip, box: Box) -> list[Mark]:
    """The rows from the top of ``box`` down, drawn for a right hand."""
    marks: list[Mark] = []
    for number, row in enumerate(_rows(planned(sheet.plan.rescue).ends, strip.each)):
        top = box.top + number * (strip.row_height + strip.gap)
        marks += _row(sheet, strip, row, Box(box.left, top, box.width, strip.row_height))
    return marks


def _row(sheet: Sheet, strip: EndStrip, row: Sequence[EndPlace], box: Box) -> Iterable[Mark]:
    """Letters and brackets, numbers, cells, holes, slots; and a fine line where counting changes to the other edge."""
    size, line, left = sheet.sizes.smallest, _line(sheet), box.left + strip.names
    brackets = box.top + strip.letter_lines * line
    numbers = brackets + 0.5 + line
    cells = numbers + 0.9
    holes = cells + strip.cell + strip.step + line
    slots = holes + line
    for text, y in zip(rescue_words.row_names(sheet.plan.loom), (numbers, holes, slots), strict=True):
        yield _row_name(sheet, text, box.left, left - AFTER_NAMES, y)
    yield from _stripes(sheet, strip, row, left, brackets)
    for index, place in enumerate(row):
        middle = left + (index + 0.5) * strip.pitch
        in_slot = place.kind is Space.SLOT
        yield Words(middle, numbers, str(place.count), Face.SANS, size, align="middle")
        cell = Box(middle - strip.pitch / 2, cells + (strip.step if in_slot else 0.0), strip.pitch, strip.cell)
        yield from hatched_cell(cell, sheet.ink_to_mirror(place.yarn))
        yield Words(middle, slots if in_slot else holes, _space(sheet, place), Face.SANS, size, align="middle")
    for index in range(1, len(row)):
        if row[index].nearer is not row[index - 1].nearer:
            x = left + index * strip.pitch
            yield Line(x, numbers - line + 0.2, x, cells + strip.cell + strip.step, HAIRLINE, FAINT, (0.8, 0.8))


def _row_name(sheet: Sheet, text: str, left: float, right: float, y: float) -> Words:
    """At the text edge; in a picture that is turned for a left hand beside the ends, where it comes to stand."""
    size = sheet.sizes.smallest
    if sheet.plan.view.left_hand:
        return Words(right, y, text, Face.SANS, size, SOFT, "right")
    return Words(left, y, text, Face.SANS, size, SOFT)


def _stripes(sheet: Sheet, strip: EndStrip, row: Sequence[EndPlace], left: float, y: float) -> Iterable[Mark]:
    """The letters of every stripe over it, on the line where they find room; of two ends and more with a bracket."""
    size, line = sheet.sizes.smallest, _line(sheet)
    for stripe in _letters(sheet, row, strip.pitch):
        start, stop = left + stripe.first * strip.pitch, left + (stripe.first + stripe.ends) * strip.pitch
        at = y - 0.6 - stripe.line * line
        yield Words((start + stop) / 2, at, stripe.letters, Face.SANS_SEMIBOLD, size, align="middle")
        if stripe.ends > 1:
            yield Line(start + 0.5, y, stop - 0.5, y, RULE)


class _Lettered(NamedTuple):
    """A stripe of a row, or ends in turn: how many ends come before it, its ends, its letters, on which line from below
    these stand."""

    first: int
    ends: int
    letters: str
    line: int


def _letters(sheet: Sheet, row: Sequence[EndPlace], pitch: float) -> list[_Lettered]:
    """The stripes of a row with their letters; ends in turn under one bracket, as they are wound."""
    stripes: list[_Lettered] = []
    taken: list[float] = []  # how far each line is taken
    at = 0
    for segment, group in groupby(row, key=lambda place: _segment_of(sheet, place)):
        places = sorted(group, key=lambda place: place.end_number)
        ends = len(places)
        letters = stripe_words.letters_of([sheet.letters(yarn) for yarn in dict.fromkeys(at.yarn for at in places)])
        if segment.in_turn:
            letters = _in_turn_that_fits(sheet, letters, ends * pitch)
        half = sheet.wide(letters, Face.SANS_SEMIBOLD, sheet.sizes.smallest) / 2
        middle = (at + ends / 2) * pitch
        line = next((each for each, right in enumerate(taken) if right + BESIDE_NUMBER <= middle - half), len(taken))
        taken[line:] = [middle + half, *taken[line + 1 :]]
        stripes.append(_Lettered(at, ends, letters, line))
        at += ends
    return stripes


def _segment_of(sheet: Sheet, place: EndPlace) -> Segment:
    return next(each for each in sheet.segments if each.first_end <= place.end_number <= each.last_end)


def _in_turn_that_fits(sheet: Sheet, letters: str, width: float) -> str:
    full = stripe_words.in_turn(letters)
    return full if sheet.wide(full, Face.SANS_SEMIBOLD, sheet.sizes.smallest) <= width else letters
