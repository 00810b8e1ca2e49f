"""The order: every end as it lies beside its neighbours, hole ends above slot ends."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.panels.order_drawing import (
    LETTER_ROOM,
    cells_lettered,
    draw_order_row,
    letters_upright,
    order_margin,
    row_levels,
    total_lines,
)
from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.rows_of_ends import end_pitch, segments_in_rows
from cardmaker.card.sheet import Drawing, Sheet, margin_heading, whole_panel
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import NO_ROOM, HeightRange
from cardmaker.layout.type_setting import Span, cap_height, figure
from cardmaker.model.marks import Box, Face, Mark
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import stripe_words

MOST_IN_A_ROW = 40  # more ends than this take a second row
NARROWEST_CELL = 2.75  # and so do ends that would be drawn narrower than this
WIDEST_CELL = 7.4
ROW_GAP = 3.5
TRIAL_CELL = 4.0  # the height of a cell at which a row is measured before it is made to fill its height


def _most_in_a_row(sheet: Sheet, width: float) -> int:
    """How many ends a row can show; none where the panel is hardly wider than its margin."""
    narrowest = NARROWEST_CELL
    if any(segment.ends == 1 for segment in sheet.segments):  # their letters may have to stand turned in the cell
        narrowest = max(narrowest, cap_height(sheet.sizes.smallest) + LETTER_ROOM)
    return min(MOST_IN_A_ROW, int((width - order_margin(sheet)) / narrowest))


def _rows(sheet: Sheet, width: float) -> tuple[list[list[Segment]], float, int]:
    """The rows, the width of an end, and on how many lines totals stand."""
    rows = segments_in_rows(sheet.segments, _most_in_a_row(sheet, width))
    pitch = end_pitch(rows, width - order_margin(sheet), WIDEST_CELL)
    return rows, pitch, 1 + max(line for row in rows for line in total_lines(sheet, row, pitch).values())


def _least_cell(sheet: Sheet, rows: Sequence[Sequence[Segment]], pitch: float) -> float:
    """The least height of a cell: enough for letters that must stand turned in it."""
    least = (5.4 if len(rows) == 1 else 4.0) * (1 + sheet.picture_share) / 2
    lettered = (each for row in rows for each in row if cells_lettered(sheet, each, pitch))
    turned = [each for each in lettered if not letters_upright(sheet, each, pitch)]
    size = sheet.sizes.smallest
    letters = [sheet.wide(sheet.letters(yarn), Face.SANS_SEMIBOLD, size) for each in turned for yarn in each.yarns]
    return max([least, *(wide + 1.2 for wide in letters)])


def _heights(sheet: Sheet, width: float) -> HeightRange:
    if _most_in_a_row(sheet, width) < 1:
        return NO_ROOM
    rows, pitch, lines = _rows(sheet, width)
    least = _least_cell(sheet, rows, pitch)
    gaps = (len(rows) - 1) * ROW_GAP + _words_height(sheet, width)
    most = max(least, 8.5 if len(rows) == 1 else 6.5)
    return HeightRange(*(gaps + len(rows) * row_levels(sheet, cell, lines).height for cell in (least, most)))


def _words(sheet: Sheet) -> Paragraph:
    """Below the stripes: where they begin if not at the left, what the letters mean where no table tells, and the
    other way in words for a tape whose edges differ."""
    plan = sheet.plan
    spans = [Span(begins, Face.SANS_SEMIBOLD)] if (begins := stripe_words.begins_at(plan)) else []
    if sheet.brief:
        spans.append(Span(stripe_words.legend(plan)))
    if not plan.same_both_ways:
        spans.append(Span(stripe_words.other_way(sheet.segments, plan), colour=SOFT))
    return spans


def _words_height(sheet: Sheet, width: float) -> float:
    height = paragraph_height(sheet, _words(sheet), sheet.sizes.small, width)
    return 1.8 + height if height else 0.0


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks: list[Mark] = []
    body = box.inset(bottom=_words_height(sheet, box.width))
    rows, pitch, lines = _rows(sheet, box.width)
    row_height = (body.height - (len(rows) - 1) * ROW_GAP) / len(rows)
    trial = row_levels(sheet, TRIAL_CELL, lines)
    levels = row_levels(sheet, TRIAL_CELL + (row_height - trial.height) / 1.5, lines)
    for number, row in enumerate(rows):
        top = body.top + number * (levels.height + ROW_GAP)
        marks += draw_order_row(sheet, row, Box(body.left, top, body.width, levels.height), levels, pitch)
    drawn = figure("stripes", body, marks, stripe_words.order_alt_text(sheet.plan, sheet.segments))
    mirrored = sheet.as_mirrored([margin_heading(sheet, box, stripe_words.ORDER), drawn], box)
    below = Box(box.left, body.bottom + 1.8, box.width, 0.0)
    return Drawing((*mirrored, *paragraph(sheet, _words(sheet), sheet.sizes.small, below)))


ORDER = whole_panel("order", _heights, _draw)
