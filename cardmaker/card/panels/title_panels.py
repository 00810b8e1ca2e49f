"""The title: name, code, version, date, and the first line of rescue, the number of ends."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.sheet import Drawing, Sheet, whole_panel
from cardmaker.layout.ink import HEAVY, POINT
from cardmaker.layout.stacking import HeightRange, exactly
from cardmaker.layout.type_setting import NO_BREAK, Span, cap_height, cut, fitting_size, leading, words_group
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Words
from cardmaker.wording import length_words, phrases, title_words

FACTS, FACT_GAP = 4, 4.0  # columns, and mm between them
HOLE_ROOM = 7.5  # what names keep clear of a corner that is punched
NARROW = 112.0  # on narrower cards code, version and date always stand below the name
ASCENT = 0.72  # of the size: from the top of the box to the name's baseline
ABOVE_FACTS = 3.6
ABOVE_NAME_FACTS = 2.4


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


NAME = whole_panel("name", _name_heights, _draw_name)
PLAIN_NAME = whole_panel("plain-name", lambda sheet, width: exactly(_head_height(sheet, width)), _draw_plain_name)
