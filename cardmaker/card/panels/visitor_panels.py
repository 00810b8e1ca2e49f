"""The visitor's side: the name as a sign, the tape in plain words, how much is known of it, and one question."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.name_head import title_part
from cardmaker.card.parts import picture_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span, cap_height, tail_depth
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.wording import student_words
from cardmaker.wording.phrases import capitalised

BETWEEN_ROWS: Final = 2.6  # mm
BESIDE_NUMBER: Final = 3.0  # mm
FROM_FARTHER: Final = 1.35  # the name, in sizes of a title: a visitor stands farther off than a weaver sits
THREADS: Final = 1.6  # their number, in sizes of a count
NOTES, NEWS, SURE = 3, 4, 5  # what finds a place only where there is room, the first to the last


def _name(sheet: Sheet, width: float) -> Sequence[Part]:
    """The name alone, as a sign."""
    return (title_part(sheet, width, FROM_FARTHER),)


def _plain_words(sheet: Sheet, width: float) -> Sequence[Part]:
    """What it is for, how wide; the number of threads very large; what the file tells a visitor."""
    size = sheet.sizes.body
    words = [Span(part) for part in student_words.in_plain_words(sheet.plan, sheet.units)]
    notes = [
        words_part(sheet, width, [[Span(note)]], size, above=0.6, facts=("visitor notes",), priority=NOTES)
        for note in student_words.visitor_notes(sheet.plan)
    ]
    return [words_part(sheet, width, [words], size, facts=("visitor", "use", "width")), _threads(sheet), *notes]


def _threads(sheet: Sheet) -> Part:
    number, noun = student_words.threads(sheet.plan)
    size = sheet.sizes.count * THREADS

    def draw(box: Box) -> list[Mark]:
        baseline = box.top + cap_height(size)
        beside = box.left + sheet.wide(number, Face.SANS_BOLD, size) + BESIDE_NUMBER
        return [
            Words(box.left, baseline, number, Face.SANS_BOLD, size),
            Words(beside, baseline, noun, Face.SANS, sheet.sizes.heading),
        ]

    height = exactly(cap_height(size) + tail_depth(size))
    return picture_part("threads", height, draw, f"{number} {noun}.", above=4.0, facts=("ends",))


def _known(sheet: Sheet, width: float) -> Sequence[Part]:
    """Each under its label. What is new and how sure the count is give way before what is known and guessed."""
    rows = [row for rows in student_words.known(sheet.plan.pattern.source) for row in rows]
    facts = {student_words.SURE: ("how sure", SURE), student_words.NEW_HERE: ("new", NEWS)}
    parts: list[Part] = []
    for label, text in rows:
        fact, priority = facts.get(label, ("known", 0))
        if sheet.plan.pattern.source is not None and sheet.plan.pattern.source.grade == "F":
            fact, priority = "known", 0
        words = [[Span(label, Face.SANS_SEMIBOLD)], [Span(capitalised(text))]]
        parts.append(
            words_part(sheet, width, words, sheet.sizes.body, above=BETWEEN_ROWS, facts=(fact,), priority=priority)
        )
    return parts


def _question(sheet: Sheet, width: float) -> Sequence[Part]:
    words = [Span(student_words.visitor_question(sheet.plan), Face.SERIF_SEMIBOLD)]
    return (words_part(sheet, width, [words], sheet.sizes.heading, facts=("question",)),)


VISITOR_NAME = Panel("visitor-name", _name)
VISITOR = Panel("visitor", _plain_words)
KNOWN = Panel("known", _known)
QUESTION = Panel("question", _question, sinks=True)
