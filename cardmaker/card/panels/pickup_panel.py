"""Pick-up: the rows worked by hand, each with its shed and what the hand does, beside a picture of the floats.

Table and picture grow as the tape does, row 1 at the foot.
"""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import heading_part, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.card.table import (
    GAP,
    CardColumn,
    card_row_height,
    column_widths,
    set_card_table,
    table_height,
    table_rule,
)
from cardmaker.layout.ink import BLACK, HAIRLINE, OUTLINE
from cardmaker.layout.stacking import NO_ROOM, Part, exactly
from cardmaker.layout.type_setting import Span, figure
from cardmaker.layout.woven_face import picks_drawn
from cardmaker.model.bench import PickupPlan
from cardmaker.model.marks import Box, Mark, Rectangle
from cardmaker.wording import pickup_words
from cardmaker.wording.note_words import note_sentence

NARROWEST_FACE = 8.0  # the picture of the floats beside the table
BESIDE_TABLE = 6.0
LARGEST_SCALE = 4.0
ABOVE_WORDS = 2.0


def _columns(sheet: Sheet) -> list[CardColumn]:
    rows, loom = planned(sheet.plan.pattern.pickup).rows, sheet.plan.loom
    number, shed, hand = pickup_words.PICKUP_HEADS
    return [
        CardColumn(number, tuple(str(number) for number in range(1, len(rows) + 1)), "right", True),
        CardColumn(shed, tuple(pickup_words.row_shed(row, loom) for row in rows)),
        CardColumn(hand, tuple(pickup_words.by_hand(row) for row in rows)),
    ]


def _words(sheet: Sheet) -> Paragraph:
    """The pattern ends from the weaver's left, by the end numbers of this card, the longest float, a doubled shed."""
    pickup, plan = planned(sheet.plan.pattern.pickup), planned(sheet.plan.pickup)
    return [
        Span(pickup_words.pickup_ends(pickup.pattern_yarn, plan.pattern_ends)),
        Span(pickup_words.longest_float(plan)),
        *(Span(note_sentence(note, sheet.units)) for note in sheet.plan.notes if note.key == "same_shed"),
    ]


def _table_width(sheet: Sheet) -> float:
    return sum(column_widths(sheet, _columns(sheet))) + 2 * GAP


def _table_height(sheet: Sheet) -> float:
    return table_height(len(planned(sheet.plan.pattern.pickup).rows), sheet)


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    heading = heading_part(sheet, width, pickup_words.PICKUP, pickup_words.FROM_THE_BOTTOM)
    narrow = width - _table_width(sheet) - BESIDE_TABLE < NARROWEST_FACE
    heights = NO_ROOM if narrow else exactly(_table_height(sheet))
    rows = Part(heights, lambda box: _rows(sheet, box), facts=("pickup",))
    words = words_part(sheet, width, [_words(sheet)], sheet.sizes.body, above=ABOVE_WORDS, facts=("pickup",))
    return heading, rows, words


def _rows(sheet: Sheet, box: Box) -> list[Mark]:
    """The table, and beside each of its rows that pick of the tape."""
    rows, plan, wide = planned(sheet.plan.pattern.pickup).rows, planned(sheet.face_plan.pickup), _table_width(sheet)
    table = set_card_table(sheet, _columns(sheet), box.left, box.top, wide, upward=True)
    left, top = box.left + wide + BESIDE_TABLE, table_rule(sheet, box.top) + 0.9
    across = min(box.right - left, float(sheet.plan.width.likely_mm) * LARGEST_SCALE)
    face = Box(left, top, across, card_row_height(sheet.sizes.body) * len(rows))
    alt_text = pickup_words.pickup_alt_text(sheet.face_plan, rows, plan.rows)
    return [*table, figure("floats", face, _face(sheet, face, plan), alt_text)]


def _face(sheet: Sheet, box: Box, plan: PickupPlan) -> list[Mark]:
    """Each row of the table stands beside its own pick."""
    marks = picks_drawn(sheet, [row.raised for row in plan.rows], box)
    return [*marks, Rectangle(box, stroke=BLACK, width=max(HAIRLINE, OUTLINE / 2))]


def _line(sheet: Sheet, width: float) -> Sequence[Part]:
    return [words_part(sheet, width, [[Span(pickup_words.ON_PICKUP_CARD)]], sheet.sizes.body, facts=("pickup card",))]


PICKUP_LINE = Panel("pickup-line", _line, lambda sheet: sheet.plan.pickup is not None)
PICKUP = Panel("pickup", _parts, lambda sheet: sheet.plan.pickup is not None)
