"""Pick-up: the rows worked by hand, each with its shed and what the hand does, beside a picture of the floats."""

from __future__ import annotations

from cardmaker.card.paragraphs import paragraph
from cardmaker.card.sheet import NO_ROOM, Drawing, HeightRange, Panel, Sheet, headed, heading_height
from cardmaker.card.table import CardColumn, card_row_height, column_widths, set_card_table, table_height
from cardmaker.layout.ink import BLACK, HAIRLINE, OUTLINE
from cardmaker.layout.lines_of_type import Span, cap_height, text_height
from cardmaker.layout.roles import figure
from cardmaker.layout.weave import picks_drawn
from cardmaker.model.bench import PickupPlan
from cardmaker.model.marks import Box, Mark, Rectangle
from cardmaker.model.pattern import Pickup
from cardmaker.wording import pickup_words

NARROWEST_FACE = 8.0  # the picture of the floats beside the table


def _pickup(sheet: Sheet) -> tuple[Pickup, PickupPlan]:
    pickup, plan = sheet.plan.pattern.pickup, sheet.face_plan.pickup
    if pickup is None or plan is None:
        raise ValueError("no pick-up was planned")
    return pickup, plan


def _columns(sheet: Sheet) -> list[CardColumn]:
    pickup, _ = _pickup(sheet)
    loom = sheet.plan.loom
    return [
        CardColumn(
            pickup_words.PICKUP_HEADS[0], tuple(str(number) for number in range(1, len(pickup.rows) + 1)), "right", True
        ),
        CardColumn(pickup_words.PICKUP_HEADS[1], tuple(pickup_words.row_shed(row, loom) for row in pickup.rows)),
        CardColumn(pickup_words.PICKUP_HEADS[2], tuple(pickup_words.by_hand(row) for row in pickup.rows)),
    ]


def _numbers(sheet: Sheet, plan: PickupPlan) -> list[int]:
    """The pattern ends from the weaver's left, by the end numbers of this card."""
    ends = sheet.plan.ends
    return [ends + 1 - number if sheet.turned else number for number in plan.pattern_ends]


def _spans(sheet: Sheet) -> list[Span]:
    pickup, plan = _pickup(sheet)
    return [
        Span(pickup_words.pickup_ends(pickup.pattern_yarn, _numbers(sheet, plan))),
        Span(pickup_words.longest_float(plan)),
    ]


def _words_height(sheet: Sheet, width: float) -> float:
    return 2.0 + text_height(len(sheet.lines(_spans(sheet), sheet.sizes.body, width)), sheet.sizes.body)


def _table_width(sheet: Sheet) -> float:
    return sum(column_widths(sheet, _columns(sheet))) + 2 * 4.0


def _room(sheet: Sheet, width: float) -> HeightRange:
    if width - _table_width(sheet) - 6 < NARROWEST_FACE:
        return NO_ROOM
    rows = len(_pickup(sheet)[0].rows)
    height = heading_height(sheet) + table_height(rows, sheet) + _words_height(sheet, width)
    return HeightRange(height, height)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, pickup_words.PICKUP)
    pickup, plan = _pickup(sheet)
    columns = _columns(sheet)
    wide = _table_width(sheet)
    marks += set_card_table(sheet, columns, body.left, body.top, wide)
    rule = body.top + card_row_height(sheet.sizes.small) - 0.8
    step = card_row_height(sheet.sizes.body)
    face = Box(body.left + wide + 6, rule + 0.9, 0, 0)
    room = body.right - face.left
    across = min(room, float(sheet.plan.width.likely_mm) * 4)
    drawn = Box(face.left, face.top, across, step * len(pickup.rows))
    told = pickup_words.pickup_alt_text(sheet.face_plan, pickup.rows, plan.rows)
    marks.append(figure("floats", drawn, _face(sheet, drawn, plan), told))
    y, size = body.top + table_height(len(pickup.rows), sheet) + 2.0, sheet.sizes.body
    lines = sheet.lines(_spans(sheet), size, body.width)
    marks += paragraph(sheet, lines, body.left, y + cap_height(size), size, body.width)
    return Drawing(tuple(marks))


def _face(sheet: Sheet, box: Box, plan: PickupPlan) -> list[Mark]:
    """Each row of the table stands beside its own pick; first row at the top."""
    marks = picks_drawn(sheet, [row.raised for row in plan.rows], box)
    return [*marks, Rectangle(box, stroke=BLACK, width=max(HAIRLINE, OUTLINE / 2))]


PICKUP = Panel("pickup", _room, _draw, lambda sheet: sheet.plan.pickup is not None)
