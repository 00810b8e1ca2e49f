"""The title: name, code, version, date, and the first line of rescue, the number of ends."""

from __future__ import annotations

from cardmaker.composing import wording
from cardmaker.composing.ink import HEAVY, POINT, SOFT
from cardmaker.composing.measures import small_length
from cardmaker.composing.setting import Line, Span, leading, shortened
from cardmaker.composing.sheet import Drawing, Panel, Room, Sheet, cap_height
from cardmaker.geometry import Box
from cardmaker.nouns.marks import Face, Mark, Words
from cardmaker.nouns.marks import Line as Rule

_FACTS = 4  # columns


def _facts(sheet: Sheet) -> list[tuple[str, str]]:
    """Four things to know before anything else: each a value and what it means."""
    plan, units = sheet.plan, sheet.units
    colours = len({run.yarn for run in plan.runs})
    return [
        (wording.ends(plan.ends), wording.symmetry(plan)),
        (small_length(plan.width.likely_mm, units), wording.width_basis(plan.width, units)),
        (wording.plural(colours, "colour"), wording.changes(plan)),
        (plan.loom.title, wording.spaces(plan.loom)),
    ]


def _head_height(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.title) + 2.6


def _fact_lines(sheet: Sheet, width: float) -> int:
    column = (width - (_FACTS - 1) * 4) / _FACTS
    return max(len(sheet.lines([Span(said)], sheet.sizes.small, column)) for _, said in _facts(sheet))


def _room(sheet: Sheet, width: float) -> Room:
    height = _head_height(sheet) + 3.6 + cap_height(sheet.sizes.count) + 1.6
    height += _fact_lines(sheet, width) * leading(sheet.sizes.small) + _about_height(sheet, width)
    return Room(height, height)


def _about_height(sheet: Sheet, width: float) -> float:
    lines = len(_about_lines(sheet, width))
    return 1.4 + lines * leading(sheet.sizes.small) if lines else 0.0


def _about_lines(sheet: Sheet, width: float) -> list[Line]:
    """What it is for, and what it looks like."""
    pattern = sheet.plan.pattern
    said = [wording.uses(pattern.purposes), pattern.about]
    return sheet.lines([Span(text) for text in said if text], sheet.sizes.small, width)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks = _name_and_number(sheet, box)
    y = box.top + _head_height(sheet)
    first = y + leading(sheet.sizes.small) - 0.4
    marks += sheet.set(_about_lines(sheet, box.width), box.left, first, sheet.sizes.small)
    y += _about_height(sheet, box.width)
    marks.append(Rule(box.left, y + 1.4, box.right, y + 1.4, HEAVY))
    baseline = y + 3.6 + cap_height(sheet.sizes.count)
    marks += _fact_columns(sheet, box, baseline)
    return Drawing(tuple(marks))


def _name_and_number(sheet: Sheet, box: Box) -> list[Mark]:
    pattern, sizes = sheet.plan.pattern, sheet.sizes
    parts = [pattern.code, f"version {pattern.version}" if pattern.version else "", pattern.date]
    number = "  ·  ".join(part for part in parts if part)
    kept = sheet.wide(number, Face.SANS_SEMIBOLD, sizes.body) + 6 if number else 0.0
    size = shortened(pattern.title, Face.SERIF_SEMIBOLD, sizes.title, box.width - kept, sheet.ruler, sizes.heading)
    baseline = box.top + 0.72 * sizes.title * POINT
    title = _cut(sheet, pattern.title, size, box.width - kept)
    marks: list[Mark] = [Words(box.left, baseline, title, Face.SERIF_SEMIBOLD, size)]
    if number:
        marks.append(Words(box.right, baseline, number, Face.SANS_SEMIBOLD, sizes.body, align="right"))
    return marks


def _cut(sheet: Sheet, title: str, size: float, width: float) -> str:
    """A title that is too long even when set small ends in an ellipsis; the full one is in the file's metadata."""
    if sheet.wide(title, Face.SERIF_SEMIBOLD, size) <= width:
        return title
    while title and sheet.wide(title + "…", Face.SERIF_SEMIBOLD, size) > width:
        title = title[:-1]
    return title.rstrip() + "…"


def _fact_columns(sheet: Sheet, box: Box, baseline: float) -> list[Mark]:
    marks: list[Mark] = []
    gap = 4.0
    column = (box.width - (_FACTS - 1) * gap) / _FACTS
    for number, (value, said) in enumerate(_facts(sheet)):
        x = box.left + number * (column + gap)
        size = shortened(value, Face.SANS_BOLD, sheet.sizes.count, column, sheet.ruler, sheet.sizes.body)
        marks.append(Words(x, baseline, value, Face.SANS_BOLD, size))
        lines = sheet.lines([Span(said, colour=SOFT)], sheet.sizes.small, column)
        marks += sheet.set(lines, x, baseline + leading(sheet.sizes.small) + 0.8, sheet.sizes.small)
    return marks


def _name_room(sheet: Sheet, width: float) -> Room:
    height = _head_height(sheet) + 1.4 + cap_height(sheet.sizes.body) + 2.4
    return Room(height, height)


def _draw_name(sheet: Sheet, box: Box) -> Drawing:
    """Name, code, version and date, and the facts in one line: for a card that has another beside it."""
    plan = sheet.plan
    y = box.top + _head_height(sheet)
    facts = f"{wording.ends(plan.ends)}  ·  {plan.loom.title}  ·  {wording.wind(plan.lengths, sheet.units)}"
    marks = [*_name_and_number(sheet, box), Rule(box.left, y, box.right, y, HEAVY)]
    baseline = y + 2.4 + cap_height(sheet.sizes.body)
    marks.append(Words(box.left, baseline, facts, Face.SANS_BOLD, sheet.sizes.body))
    return Drawing(tuple(marks))


TITLE = Panel("title", _room, _draw)
NAME = Panel("name", _name_room, _draw_name)
