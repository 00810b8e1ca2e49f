"""The student's own: the line for her name, the notes to her, and what was wound or threaded for her."""

from __future__ import annotations

from typing import Final

from cardmaker.card.parts import heading_part, picture_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import TickBox, tick_boxes_part
from cardmaker.layout.ink import HAIRLINE, RULE, SOFT
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span, cap_height, fitted_lines, leading, words_group
from cardmaker.model.marks import Box, Face, Line, Mark, Words
from cardmaker.wording import heddle_words, student_words
from cardmaker.wording.step_words import THREAD, WIND

WRITING, WRITING_CLOSE = 6.2, 4.4  # mm: the height of a line to write on; on a crowded card it takes of the gap above
WRITING_CLOSEST: Final = 3.8  # mm, where it would else take the room of what to do
DATE_AT: Final = 0.66  # of the width
AFTER_LABEL: Final = 1.2  # mm
BELOW_LINE: Final = 0.9  # mm from the foot of the panel to the line
BEFORE_ASIDE: Final = 3.0  # mm
OVER_NAME: Final = 1.0  # mm from the top of the panel to the capitals of a name
UNDER_NAME: Final = 1.8  # mm from a name to the rule under it
MOST_NAME_LINES: Final = 2
BETWEEN_NOTES: Final = 1.0  # mm
FURTHER_NOTES: Final = 20  # the priority of the notes that stand where there is room


def _named_parts(sheet: Sheet, width: float) -> list[Part]:
    """The student's name, kit and hand where they are known; else a line for the name and one for the date."""
    if sheet.owner.name:
        return [_owner_part(sheet, width)]
    alt = student_words.NAMED_ALT_TEXT
    high = WRITING_CLOSEST if sheet.is_tersest else WRITING_CLOSE if sheet.is_crowded else WRITING
    high = max(high, cap_height(sheet.sizes.small) + BELOW_LINE)
    return [picture_part("blanks", exactly(high), lambda box: _blanks(sheet, box), alt, facts=("name line",))]


def _blanks(sheet: Sheet, box: Box) -> list[Mark]:
    size, y, aside = sheet.sizes.small, box.bottom - BELOW_LINE, sheet.owner.aside
    stop = box.right - (sheet.wide(aside, Face.SANS, size) + BEFORE_ASIDE if aside else 0.0)
    date = box.left + (stop - box.left) * DATE_AT
    marks: list[Mark] = [Words(box.right, y, aside, Face.SANS, size, align="right")] if aside else []
    for x, right, label in ((box.left, date - 4, student_words.NAME_LINE), (date, stop, student_words.DATE_LINE)):
        start = x + sheet.wide(label, Face.SANS, size) + AFTER_LABEL
        marks += [Words(x, y, label, Face.SANS, size, SOFT), Line(start, y, right, y, RULE)]
    return marks


def _owner_part(sheet: Sheet, width: float) -> Part:
    """The name as large as it fits beside kit and hand, on two lines if it must."""
    small, aside = sheet.sizes.small, sheet.owner.aside
    left = sheet.wide(student_words.NAME_LINE, Face.SANS, small) + AFTER_LABEL
    room = width - left - (sheet.wide(aside, Face.SANS, small) + BEFORE_ASIDE if aside else 0.0)
    name = fitted_lines(
        sheet.owner.name, Face.SANS_BOLD, sheet.sizes.heading, sheet.sizes.smallest, room, MOST_NAME_LINES, sheet.ruler
    )
    lines = (len(name.lines) - 1) * leading(name.size)
    first = OVER_NAME + cap_height(sheet.sizes.heading)

    def draw(box: Box) -> list[Mark]:
        y, rule = box.top + first, box.top + first + lines + UNDER_NAME
        words = [
            Words(box.left, y, student_words.NAME_LINE, Face.SANS, small, SOFT),
            *sheet.set(name.lines, box.left + left, y, name.size),
            *([Words(box.right, y, aside, Face.SANS, small, align="right")] if aside else []),
        ]
        return [words_group("paragraph", box, *words), Line(box.left, rule, box.right, rule, HAIRLINE)]

    return Part(exactly(first + lines + UNDER_NAME + HAIRLINE), draw, facts=("name line",))


def _wound_parts(sheet: Sheet, width: float) -> list[Part]:
    """The first step where the teacher has done it: what to tick, and how the ends come from the cross."""
    is_threaded = sheet.is_threaded
    box = TickBox(student_words.wound(sheet.plan, is_threaded=is_threaded), face=Face.SANS)
    parts = [
        step_part(sheet, width, WIND, student_words.DONE),
        tick_boxes_part(sheet, width, [box], sheet.sizes.body, above=0.0, facts=("walk", "finish")),
    ]
    if (taken := student_words.from_the_crosses(sheet.plan)) and not is_threaded:
        parts.append(words_part(sheet, width, [[Span(taken)]], sheet.sizes.small, above=BETWEEN_NOTES, facts=("walk",)))
    return parts


def _threaded_parts(sheet: Sheet, width: float) -> list[Part]:
    """The second step where somebody has threaded the loom beforehand: one line to tick."""
    facts = ("board", "first space", "view", "checks")
    box = TickBox(heddle_words.threaded_beforehand(sheet.plan), face=Face.SANS)
    return [
        step_part(sheet, width, THREAD, student_words.DONE),
        tick_boxes_part(sheet, width, [box], sheet.sizes.body, above=0.0, facts=facts),
    ]


def _notes(sheet: Sheet) -> list[str]:
    return student_words.student_notes(sheet.plan, is_wound=sheet.is_wound)


def _student_parts(sheet: Sheet, width: float) -> list[Part]:
    """The first note, and the others as they find room."""
    parts = [heading_part(sheet, width, student_words.FOR_STUDENT)]
    for number, note in enumerate(_notes(sheet)):
        above, priority = (BETWEEN_NOTES, FURTHER_NOTES + number) if number else (0.0, 0)
        size = sheet.sizes.small
        parts.append(words_part(sheet, width, [[Span(note)]], size, above=above, facts=("student",), priority=priority))
    return parts


NAMED: Final = Panel("named", _named_parts)
WOUND: Final = Panel("wound", _wound_parts)
THREADED: Final = Panel("threaded", _threaded_parts)
STUDENT: Final = Panel("student", _student_parts, lambda sheet: bool(_notes(sheet)))
