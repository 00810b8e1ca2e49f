"""Threading and weaving on a loom that nobody knows yet: a line for whatever the mark of its heddle stands on."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.panels.shuttle_panel import pieces_parts, size_parts
from cardmaker.card.parts import aside_fits, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.table_parts import card_table, table_part
from cardmaker.card.tick_boxes import TickBox, tick_boxes_part
from cardmaker.layout.stacking import Part
from cardmaker.layout.table_setting import Column, Row, Table
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.model.record_class import replace
from cardmaker.wording import any_loom_words, heddle_words, shed_words, view_words
from cardmaker.wording.step_words import THREAD, WEAVE

TUG, TWO_HEDDLES = 2, 3  # what finds a place only where there is room


def _thread_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """The step, how to count, the line for each heddle, and the boxes to tick when all is threaded."""
    size, plan = sheet.sizes.body, sheet.plan
    view = view_words.view_beside_heading(plan.loom)
    if not aside_fits(sheet, width, THREAD.name, view, step=True):
        view = view_words.seen_from(plan.loom, brief=True)
    heading = replace(step_part(sheet, width, THREAD, view, strong=plan.view.from_behind), facts=("view",))
    counting = [[Span(any_loom_words.LOOK, Face.SANS_SEMIBOLD), Span(any_loom_words.COUNTED)]]
    counting[0].append(Span(any_loom_words.how_wide(plan)))
    boxes = [
        TickBox(any_loom_words.spaces_filled(plan), face=Face.SANS),
        TickBox(any_loom_words.LAST_AS_TOLD, face=Face.SANS),
    ]
    lead = f"{heddle_words.WHEN_DONE}: "
    two = [[Span(any_loom_words.TWO_HEDDLES)]]
    return [
        heading,
        words_part(sheet, width, counting, size, above=0.0),
        table_part(card_table(sheet, _table(sheet), width), facts=("first space",), above=1.8),
        tick_boxes_part(sheet, width, boxes, size, above=1.7, facts=("checks",), lead=lead),
        words_part(sheet, width, two, size, facts=("both heddles",), priority=TWO_HEDDLES),
    ]


def _table(sheet: Sheet) -> Table:
    heads = (any_loom_words.MARK, any_loom_words.FIRST, any_loom_words.LAST, any_loom_words.ON_TOP)
    alts = {any_loom_words.ON_TOP: any_loom_words.ON_TOP_ALT}
    columns = tuple(Column(head, strong=head == any_loom_words.FIRST, head_alt=alts.get(head, "")) for head in heads)
    return Table("any heddle", columns, tuple(Row(line) for line in any_loom_words.lines(sheet.plan)))


def _weave_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """What shows in each shed, by the ends that lie on top."""
    size = sheet.sizes.body
    shown = [[Span(ends, Face.SANS_SEMIBOLD), Span(colours)] for ends, colours in any_loom_words.shown(sheet.plan)]
    tug = [[Span(shed_words.TUG)]]
    return [
        step_part(sheet, width, WEAVE),
        words_part(sheet, width, [[Span(any_loom_words.DOWN_AND_UP)], *shown], size, above=0.0, facts=("sheds",)),
        *pieces_parts(sheet, width, 0),
        *size_parts(sheet, width, 0),
        words_part(sheet, width, tug, size, facts=("last shed",), priority=TUG),
    ]


ANY_HEDDLE = Panel("any-heddle", _thread_parts)
ANY_SHEDS = Panel("any-sheds", _weave_parts)
