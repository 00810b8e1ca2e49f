"""The day's own pages: what the hours hold, what visitors ask, what to pack, and what to look after."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.events import event_words
from cardmaker.events.visitor_answers import ASK_THEM, answers_to_visitors
from cardmaker.layout.pages.blocks import Block, Gap, Heading, KeepTogether, Paragraph
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running, flow, settled_leaf
from cardmaker.layout.table_setting import Column, Row, Table
from cardmaker.model.event import Event, EventPlan
from cardmaker.model.marks import Page, Ruler
from cardmaker.model.plan import Plan
from cardmaker.school import class_words
from cardmaker.school.handout_sheets import WHOLE, Size
from cardmaker.school.teacher_sheet import small_paragraph
from cardmaker.wording import phrases, student_words, title_words
from cardmaker.wording.formatters import Units

_LEFT: Final = frozenset({"tape"})
MOST_TOGETHER: Final = 8  # paragraphs under one tape or heading


def compose_day(
    plan: EventPlan, size: Size, ruler: Ruler, units: Units, *, sheets: int, cards: int, labels: int
) -> tuple[Page, ...]:
    """All that she wants to have at hand behind the table, on as many pages as it takes."""
    leaf, running = Leaf(WHOLE[size], ruler), running_of_event(plan.event, event_words.DAY)
    things = event_words.things_to_pack(plan, units, sheets=sheets, cards=cards, labels=labels)
    pack = [small_paragraph(words, strong=strong, tick=True) for strong, words in things]
    cautions = event_words.cautions_for_ground(plan.event, plan.on_loom.plan, units)
    blocks: list[Block] = [
        *_hours(plan, units),
        *_together(event_words.PACK, pack),
        *_together(event_words.CARE, [small_paragraph(each, mark=True) for each in cautions]),
        *_notes(plan.event),
        *_asked(plan.plans),
    ]
    return flow(blocks, settled_leaf(blocks, leaf, running), running)


def running_of_event(event: Event, kind: str) -> Running:
    """What stands above and below every page."""
    return Running(event.title, event_words.line_below_title(event, kind), event_words.foot_of_event(event))


def _together(heading: str, paragraphs: Sequence[Paragraph]) -> list[Block]:
    return [KeepTogether((Heading(heading), *paragraphs[:MOST_TOGETHER])), *paragraphs[MOST_TOGETHER:]]


def _hours(plan: EventPlan, units: Units) -> list[Block]:
    """What becomes of the tape on the loom; then all tapes in a table, each as if it alone were on it."""
    event, woven = plan.event, plan.on_loom
    said = event_words.hours_sentence(event, woven, units)
    known = [held.plan for held in plan.tapes if held.time is not None]
    pace = f"{event_words.EACH_ALONE} {class_words.whose_pace(known)} {event_words.AT_MOST}"
    columns = tuple(
        Column(head, "left" if head in _LEFT else "right", strong=head in _LEFT, grows=head in _LEFT)
        for head in event_words.HELD_HEADS
    )
    table = Table(
        "what the hours hold", columns, tuple(Row(event_words.cells_of_hours(held, units)) for held in plan.tapes)
    )
    strong = f"{woven.plan.pattern.title} on {woven.plan.loom.title}:"
    told: list[Block] = [table, small_paragraph(pace, small=True)] if known else []
    return [
        Heading(event_words.hours_heading(event), event_words.shown_there(event)),
        small_paragraph(said, strong=strong),
        *told,
    ]


def _asked(plans: Sequence[Plan]) -> list[Block]:
    """Under every tape what visitors ask of it, and what one may ask them."""
    blocks: list[Block] = [Heading(event_words.ASKED), small_paragraph(event_words.ONLY_RECORDED, small=True)]
    for plan in plans:
        lines = [small_paragraph(answer, strong=question, mark=True) for question, answer in answers_to_visitors(plan)]
        lines.append(small_paragraph(student_words.visitor_question(plan), strong=ASK_THEM, mark=True))
        name = small_paragraph("", strong=title_words.card_title(plan.pattern))
        blocks += [Gap(1.5), KeepTogether((name, *lines[:MOST_TOGETHER])), *lines[MOST_TOGETHER:]]
    return [KeepTogether(tuple(blocks[:4])), *blocks[4:]]


def _notes(event: Event) -> list[Block]:
    texts = [each for text in event.notes for each in phrases.text_paragraphs(text)]
    notes = [small_paragraph(each, mark=True) for each in texts]
    return _together(event_words.OWN_NOTES, notes) if notes else []
