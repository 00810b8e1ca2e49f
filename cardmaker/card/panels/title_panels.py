"""The title: name, code, version, date, and the first line of rescue, the number of ends."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.sheet import Drawing, Sheet, whole_panel
from cardmaker.layout.ink import HEAVY, POINT, SOFT
from cardmaker.layout.stacking import HeightRange, exactly
from cardmaker.layout.type_setting import NO_BREAK, Span, cap_height, cut, fitting_size, leading, words_group
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Words
from cardmaker.wording import length_words, loom_words, phrases, title_words, winding_words
from cardmaker.wording.formatters import small_length

FACTS, FACT_GAP = 4, 4.0  # columns, and mm between them
HOLE_ROOM = 7.5  # what names keep clear of a corner that is punched
NARROW = 112.0  # on narrower cards code, version and date always stand below the name
ASCENT = 0.72  # of the size: from the top of the box to the name's baseline
ABOVE_FACTS = 3.6
ABOVE_NAME_FACTS = 2.4


def _facts(sheet: Sheet) -> list[tuple[str, str]]:
    """Four things to know before anything else: each a value and what it means."""
    plan, units = sheet.plan, sheet.units
    colours = len({run.yarn for run in plan.runs})
    tape = length_words.from_tape(plan, "width")
    return [
        (phrases.end_count(plan.ends), title_words.symmetry(plan)),
        (small_length(plan.width.likely_mm, units), title_words.width_basis(plan.width, units, tape)),
        (phrases.plural(colours, "colour"), winding_words.colour_changes(plan)),
        (plan.loom.title, loom_words.heddle_spaces(plan.loom, brief=True)),
    ]


def _number(sheet: Sheet, width: float) -> str:
    """Code, version and date, the version shortened and then the date left off where the line is too short for them."""
    pattern = sheet.plan.pattern
    choices = [
        [pattern.code, title_words.version(pattern.version), pattern.date],
        [pattern.code, title_words.version(pattern.version, brief=True), pattern.date],
        [pattern.code, title_words.version(pattern.version, brief=True)],
    ]
    lines = ["  ·  ".join(part for part in parts if part) for parts in choices]
    fitting = [line for line in lines if sheet.wide(line, Face.SANS_SEMIBOLD, sheet.sizes.body) <= width]
    return fitting[0] if fitting else lines[-1]


def _stacked(sheet: Sheet, width: float) -> bool:
    """Whether code, version and date stand below the name, because they find no room beside it."""
    if width < NARROW:
        return True
    title = sheet.wide(sheet.plan.pattern.title, Face.SERIF_SEMIBOLD, sheet.sizes.title)
    number = sheet.wide(_number(sheet, width), Face.SANS_SEMIBOLD, sheet.sizes.body)
    return title + 6 + number > width


def _head_height(sheet: Sheet, width: float) -> float:
    number = leading(sheet.sizes.body) if _stacked(sheet, width) and _number(sheet, width) else 0.0
    return cap_height(sheet.sizes.title) + 2.6 + number


def _fact_width(width: float) -> float:
    return (width - (FACTS - 1) * FACT_GAP) / FACTS


def _heights(sheet: Sheet, width: float) -> HeightRange:
    small, column = sheet.sizes.small, _fact_width(width)
    lines = max(len(sheet.lines([Span(meaning)], small, column)) for _, meaning in _facts(sheet))
    height = _head_height(sheet, width) + ABOVE_FACTS + cap_height(sheet.sizes.count) + 1.6
    return exactly(height + lines * leading(small) + _about_height(sheet, width))


def _about_height(sheet: Sheet, width: float) -> float:
    lines = len(sheet.lines(_about(sheet), sheet.sizes.small, width))
    return 1.4 + lines * leading(sheet.sizes.small) if lines else 0.0


def _about(sheet: Sheet) -> Paragraph:
    """What it is for, and what it looks like."""
    pattern = sheet.plan.pattern
    return [Span(text) for text in (title_words.uses(pattern.purposes), pattern.about) if text]


def _draw(sheet: Sheet, box: Box) -> Drawing:
    small = sheet.sizes.small
    marks = _name_and_number(sheet, box)
    y = box.top + _head_height(sheet, box.width)
    first = y + leading(small) - 0.4
    marks += paragraph(sheet, _about(sheet), small, box.inset(top=first - cap_height(small) - box.top))
    y += _about_height(sheet, box.width)
    marks.append(Line(box.left, y + 1.4, box.right, y + 1.4, HEAVY))
    return Drawing((*marks, *_fact_columns(sheet, box, y + ABOVE_FACTS + cap_height(sheet.sizes.count))))


def _name_and_number(sheet: Sheet, box: Box) -> list[Mark]:
    """The name in the largest type that its line holds; code, version and date beside it or below."""
    if sheet.layout.punch == "corner":  # a hole to hang the card by, 3 mm within the margins
        box = box.inset(right=HOLE_ROOM)
    sizes, number = sheet.sizes, _number(sheet, box.width)
    name = title_group(sheet, box)
    if not number:
        return [name]
    baseline = box.top + ASCENT * sizes.title * POINT
    small = fitting_size(number, Face.SANS_SEMIBOLD, sizes.body, box.width, sheet.ruler, sizes.smallest)
    if _stacked(sheet, box.width):
        words = Words(box.left, baseline + leading(sizes.body), number, Face.SANS_SEMIBOLD, small)
    else:
        words = Words(box.right, baseline, number, Face.SANS_SEMIBOLD, small, align="right")
    return [name, words_group("paragraph", box, words)]


def title_group(sheet: Sheet, box: Box) -> Group:
    """The pattern's name in the largest type that its line holds; where it is cut short it is told whole."""
    whole, sizes, face = sheet.plan.pattern.title, sheet.sizes, Face.SERIF_SEMIBOLD
    size = fitting_size(whole, face, sizes.title, box.width, sheet.ruler, sizes.heading)
    title = cut(whole, face, size, box.width, sheet.ruler)
    words = Words(box.left, box.top + ASCENT * sizes.title * POINT, title, face, size)
    return words_group("title", box, words, alt=whole if title != whole else "")


def _fact_columns(sheet: Sheet, box: Box, baseline: float) -> list[Mark]:
    marks: list[Mark] = []
    small, column = sheet.sizes.small, _fact_width(box.width)
    for number, (value, meaning) in enumerate(_facts(sheet)):
        x = box.left + number * (column + FACT_GAP)
        size = fitting_size(value, Face.SANS_BOLD, sheet.sizes.count, column, sheet.ruler, sheet.sizes.body)
        lines = sheet.lines([Span(meaning, colour=SOFT)], small, column)
        below = sheet.set(lines, x, baseline + leading(small) + 0.8, small)
        place = Box(x, baseline - cap_height(size), column, box.bottom - baseline + cap_height(size))
        marks.append(words_group("paragraph", place, Words(x, baseline, value, Face.SANS_BOLD, size), *below))
    return marks


def _name_facts(sheet: Sheet) -> Paragraph:
    plan = sheet.plan
    wind = length_words.wind(plan.lengths, sheet.units)
    facts = [phrases.end_count(plan.ends), plan.loom.title, f"{wind}{_on_pegs(sheet)}"]
    return [
        Span(NO_BREAK.join(fact.split(" ")) + ("  ·" if fact is not facts[-1] else ""), Face.SANS_BOLD)
        for fact in facts
    ]


def _on_pegs(sheet: Sheet) -> str:
    """Where to wind, on a layout that shows the room: its figures are those of one place."""
    pegs = sheet.plan.pegs
    shown = any(place.panel == "room" for row in sheet.layout.rows for place in row)
    return f" on {pegs.title}" if pegs is not None and shown else ""


def _name_heights(sheet: Sheet, width: float) -> HeightRange:
    facts = paragraph_height(sheet, _name_facts(sheet), sheet.sizes.body, width)
    return exactly(_head_height(sheet, width) + ABOVE_NAME_FACTS + facts)


def _draw_name(sheet: Sheet, box: Box) -> Drawing:
    """Name, code, version and date, and the facts in a line: for a card that is small, or has another beside it."""
    y = box.top + _head_height(sheet, box.width)
    facts = paragraph(sheet, _name_facts(sheet), sheet.sizes.body, box.inset(top=y + ABOVE_NAME_FACTS - box.top))
    return Drawing((*_name_and_number(sheet, box), Line(box.left, y, box.right, y, HEAVY), *facts))


def _draw_plain_name(sheet: Sheet, box: Box) -> Drawing:
    y = box.bottom - 0.4
    return Drawing((*_name_and_number(sheet, box), Line(box.left, y, box.right, y, HEAVY)))


TITLE = whole_panel("title", _heights, _draw)
NAME = whole_panel("name", _name_heights, _draw_name)
PLAIN_NAME = whole_panel("plain-name", lambda sheet, width: exactly(_head_height(sheet, width)), _draw_plain_name)
