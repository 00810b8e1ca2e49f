"""Pick-up: the rows worked by hand, each with its shed and what the hand does, beside a picture of the floats.

Table and picture grow as the tape does, row 1 at the foot.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from cardmaker.card.panels.pickup_line_panel import doubled_shed
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import COLUMN_GAP, heading_part, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.card.table_parts import card_table, table_part
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, OUTLINE
from cardmaker.layout.stacking import Part
from cardmaker.layout.table_setting import TICKS, Column, Row, SetTable, Table, draw_table, row_boxes, unwrapped_width
from cardmaker.layout.type_setting import Span, cap_height, figure
from cardmaker.layout.woven_face import edges_across, picks_drawn
from cardmaker.model.marks import Box, Face, Mark, Path, Rectangle, Step, Words
from cardmaker.model.record_class import replace
from cardmaker.wording import pickup_words

NARROWEST_FACE = 8.0  # the picture of the floats beside the table
BESIDE_TABLE = 7.0  # with the numbers of the rows
BESIDE_FACE = 1.2  # from such a number to the picture
OVER_FACE = 0.9  # from the picture to the names of the pattern ends over it
LEAST_APART = 0.8  # between two such names
LARGEST_SCALE = 4.0
ABOVE_START = 1.6
ARROW, BESIDE_ARROW = 1.2, 1.4  # the width of the sign in capitals, and mm beside it
ABOVE_WORDS = 1.8


def _table(sheet: Sheet) -> Table:
    number, shed, hand = pickup_words.PICKUP_HEADS
    rows = (
        Row((str(number), pickup_words.row_shed(row, sheet.plan.loom), pickup_words.by_hand(row)))
        for number, row in enumerate(planned(sheet.plan.pattern.pickup).rows, start=1)
    )
    columns = (Column(number, "right", strong=True), Column(shed), Column(hand))
    return Table("pick-up", columns, tuple(rows), ticks=True)


def _words(sheet: Sheet) -> Paragraph:
    """The pattern ends from the weaver's left, by the end numbers of this card, the longest float, a doubled shed."""
    pickup, plan = planned(sheet.plan.pattern.pickup), planned(sheet.plan.pickup)
    return [
        Span(pickup_words.pickup_ends(pickup.pattern_yarn, plan.pattern_ends)),
        Span(pickup_words.longest_float(plan)),
        *doubled_shed(sheet),
    ]


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    again = pickup_words.then_again(len(planned(sheet.plan.pattern.pickup).rows))
    heading = heading_part(sheet, width, pickup_words.PICKUP, again, strong=True)
    wide = unwrapped_width(_table(sheet), sheet, COLUMN_GAP) + TICKS
    table = card_table(sheet, _table(sheet), min(wide, width - BESIDE_TABLE - NARROWEST_FACE))
    rows = table_part(table, lambda table, box: _rows(sheet, table, box), above=0.8, facts=("pickup",))
    words = words_part(sheet, width, [_words(sheet)], sheet.sizes.body, above=ABOVE_WORDS, facts=("pickup",))
    return heading, rows, _start_here(sheet, width), words


def _start_here(sheet: Sheet, width: float) -> Part:
    """Below row 1, with a sign that points up to it."""
    size = sheet.sizes.body
    side = cap_height(size) * ARROW
    spans = [Span(pickup_words.START_HERE, Face.SANS_BOLD, ACCENT), Span(pickup_words.SHED_FIRST)]
    words = words_part(sheet, width - side - BESIDE_ARROW, [spans], size, above=ABOVE_START, facts=("pickup",))

    def draw(box: Box) -> list[Mark]:
        foot = box.top + cap_height(size)
        tip, right = box.left + side / 2, box.left + side
        steps: tuple[Step, ...] = (("move", box.left, foot), ("line", tip, box.top), ("line", right, foot), ("close",))
        arrow = Path(steps, fill=ACCENT)
        return [arrow, *words.draw(box.inset(left=side + BESIDE_ARROW))]

    return replace(words, draw=draw)


def _rows(sheet: Sheet, table: SetTable, box: Box) -> list[Mark]:
    """The table, and beside each of its rows that pick of the tape."""
    rows, plan = planned(sheet.plan.pattern.pickup).rows, planned(sheet.face_plan.pickup)
    left = box.left + table.width + BESIDE_TABLE
    across = min(box.right - left, float(sheet.plan.width.likely_mm) * LARGEST_SCALE)
    picks = [place._replace(left=left, width=across) for place in row_boxes(table, box, upward=True)]
    face = Box(left, picks[-1].top, across, picks[0].bottom - picks[-1].top)
    marks = [
        mark for row, place in zip(plan.rows, picks, strict=True) for mark in picks_drawn(sheet, [row.raised], place)
    ]
    marks.append(Rectangle(face, stroke=BLACK, width=max(HAIRLINE, OUTLINE / 2)))
    marks += [*_end_names(sheet, face), *_row_numbers(sheet, table, picks)]
    alt_text = pickup_words.pickup_alt_text(sheet.face_plan, rows, plan.rows)
    return [*draw_table(table, box, upward=True), figure("floats", face, marks, alt_text)]


def _end_names(sheet: Sheet, face: Box) -> Iterator[Mark]:
    """The name of each pattern end over it; on two heights where they would touch."""
    size, ends = sheet.sizes.smallest, planned(sheet.face_plan.pickup).pattern_ends
    edges = edges_across(sheet.face_plan, face)
    names = [
        ((edges[end - 1] + edges[end]) / 2, pickup_words.pattern_end(number)) for number, end in enumerate(ends, 1)
    ]
    apart = min((right - left for (left, _), (right, _) in pairwise(names)), default=face.width)
    widest = max(sheet.wide(name, Face.SANS_SEMIBOLD, size) for _, name in names)
    rows = next((rows for rows in (1, 2) if widest + LEAST_APART <= rows * apart), 0)
    for number, (x, name) in enumerate(names):
        if rows:
            y = face.top - OVER_FACE - number % rows * (cap_height(size) + OVER_FACE)
            yield Words(x, y, name, Face.SANS_SEMIBOLD, size, align="middle")


def _row_numbers(sheet: Sheet, table: SetTable, picks: Sequence[Box]) -> Iterator[Mark]:
    """The number of each row beside its pick, level with the table's."""
    size = sheet.sizes.smallest
    for number, place in enumerate(picks, start=1):
        y = place.top + table.air.above + cap_height(sheet.sizes.body)
        yield Words(place.left - BESIDE_FACE, y, str(number), Face.SANS, size, align="right")


PICKUP = Panel("pickup", _parts, lambda sheet: sheet.plan.pickup is not None)
