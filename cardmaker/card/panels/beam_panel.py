"""The turns: the roll on the beam as one spiral, the turns that take sticks, and the tape still to come."""

from __future__ import annotations

from math import cos, pi, sin

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.sheet import Drawing, Sheet, headed, heading_height, planned, whole_panel
from cardmaker.card.table import GAP, CardColumn, column_widths, set_card_table, table_height
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, HEAVY, OUTLINE, RULE, WHITE
from cardmaker.layout.stacking import NO_ROOM, HeightRange
from cardmaker.layout.type_setting import Span, cap_height, figure
from cardmaker.model.bench import WarpOnBeam
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Path, Step, Words
from cardmaker.wording import beam_words

LEAST_PICTURE, MOST_PICTURE = 26.0, 46.0
NARROW = 100.0
NARROWEST_ROLL = 12.0  # smaller than this its layers run together
STEPS_A_TURN = 60
FINEST = 0.45  # from layer to layer: closer ones are not drawn as a spiral
ABOVE_WORDS = 2.0


def _words(sheet: Sheet) -> Paragraph:
    beam = planned(sheet.plan.beam)
    loom = sheet.plan.loom
    spans = [
        Span(beam_words.beam_turns(beam, sheet.units), Face.SANS_SEMIBOLD),
        Span(beam_words.sticks(beam, loom, sheet.units, brief=True)),
        Span(beam_words.let_off(beam, loom, sheet.units)),
    ]
    slipped = beam_words.slipped_edge(beam, sheet.units, brief=True)
    return [*spans, Span(slipped)] if slipped else spans


def _words_height(sheet: Sheet, width: float) -> float:
    return ABOVE_WORDS + paragraph_height(sheet, _words(sheet), sheet.sizes.body, width)


def _columns(sheet: Sheet) -> list[CardColumn]:
    rows = beam_words.turns_left(planned(sheet.plan.beam))
    return [
        CardColumn(beam_words.TURNS_LEFT, tuple(str(int(row.turns)) for row in rows), "right", True),
        CardColumn(
            beam_words.still_to_come(sheet.plan.lengths),
            tuple(beam_words.tape_to_come(row, sheet.plan.lengths, sheet.units) for row in rows),
        ),
    ]


def _table_height(sheet: Sheet) -> float:
    return table_height(len(beam_words.turns_left(planned(sheet.plan.beam))), sheet)


def _table_width(sheet: Sheet) -> float:
    return sum(column_widths(sheet, _columns(sheet))) + GAP


def _turn_name(sheet: Sheet) -> float:
    """The width beside the roll where its last turn with sticks is named."""
    return sheet.wide(beam_words.turn_mark(88), Face.SANS, sheet.sizes.smallest) + 5


def _roll_width(sheet: Sheet, width: float) -> float:
    """What is left for the roll, beside its turn's name and, where the panel is wide enough, the table."""
    return width - _turn_name(sheet) - (0.0 if width < NARROW else _table_width(sheet) + 5)


def _heights(sheet: Sheet, width: float) -> HeightRange:
    """The table beside the roll, or below it where the panel is narrow."""
    table = _table_height(sheet)
    if _roll_width(sheet, width) < NARROWEST_ROLL or _table_width(sheet) > width:
        return NO_ROOM
    fixed = heading_height(sheet) + _words_height(sheet, width)
    if width < NARROW:
        fixed += table + 3
        return HeightRange(fixed + LEAST_PICTURE * sheet.picture_share, fixed + MOST_PICTURE)
    return HeightRange(fixed + max(LEAST_PICTURE * sheet.picture_share, table), fixed + max(MOST_PICTURE, table))


def _draw(sheet: Sheet, box: Box) -> Drawing:
    beam = planned(sheet.plan.beam)
    marks, body = headed(sheet, box, beam_words.TURNS, sheet.plan.loom.title)
    words, table = _words_height(sheet, box.width), _table_height(sheet)
    wide = _table_width(sheet)
    if box.width < NARROW:
        roll = Box(body.left, body.top, body.width, body.height - words - table - 3)
        left, top = body.left, roll.bottom + 3
    else:
        roll = Box(body.left, body.top, body.width - wide - 5, body.height - words)
        left, top = body.right - wide, body.top
    table_marks = set_card_table(sheet, _columns(sheet), left, top, wide)
    alt_text = beam_words.roll_alt_text(beam, sheet.plan.loom, sheet.units)
    marks += [figure("roll", roll, _roll(sheet, beam, roll), alt_text), *table_marks]
    below = Box(body.left, body.bottom - words + ABOVE_WORDS, body.width, 0.0)
    marks += paragraph(sheet, _words(sheet), sheet.sizes.body, below)
    return Drawing(tuple(marks))


def _roll(sheet: Sheet, beam: WarpOnBeam, box: Box) -> list[Mark]:
    """The beam's end as one sees it: bare wood in the middle, the warp round it, sticks where they go in."""
    name = _turn_name(sheet)
    scale = min(box.width - name, box.height) / beam.final_diameter_mm
    across = beam.final_diameter_mm * scale
    x, y = box.left + max(0.0, (box.width - name - across) / 2) + across / 2, box.top + box.height / 2
    bare = beam.beam_diameter_mm / 2 * scale
    build = beam.build_up_mm * scale
    marks: list[Mark] = []
    if build >= FINEST:
        marks.append(Path(_spiral(x, y, bare, build, beam.turns), stroke=BLACK, width=HAIRLINE))
    else:
        marks += [Dot(x, y, bare + turn * build, None, BLACK, HAIRLINE) for turn in beam.stick_turns if turn]
        marks.append(Dot(x, y, bare + beam.turns * build, None, BLACK, HAIRLINE))
    marks += [Dot(x, y, bare, WHITE, BLACK, HEAVY), Dot(x, y, 0.5, BLACK)]
    for number, turn in enumerate(beam.stick_turns):
        marks += _sticks(sheet, x, y, bare + turn * build, turn, number, len(beam.stick_turns))
    return marks


def _spiral(x: float, y: float, bare: float, build: float, turns: float) -> tuple[Step, ...]:
    steps: list[Step] = [("move", x + bare, y)]
    count = int(turns * STEPS_A_TURN)
    for step in range(1, count + 1):
        angle, radius = 2 * pi * step / STEPS_A_TURN, bare + build * step / STEPS_A_TURN
        steps.append(("line", x + radius * cos(angle), y - radius * sin(angle)))
    return tuple(steps)


def _sticks(sheet: Sheet, x: float, y: float, radius: float, turn: int, number: int, count: int) -> list[Mark]:
    """Two sticks, one on each side of the roll; the last turn that takes some is named."""
    half, colour = 1.5, BLACK if turn else ACCENT
    marks: list[Mark] = []
    for stick in (x - (radius + 0.25), x + (radius + 0.25)):
        marks.append(Line(stick, y - half, stick, y + half, OUTLINE * 1.6, colour))
    if number == count - 1 and turn:
        marks.append(Line(x + radius + 0.8, y, x + radius + 2.6, y, RULE))
        size = sheet.sizes.smallest
        marks.append(Words(x + radius + 3.2, y + cap_height(size) / 2, beam_words.turn_mark(turn), Face.SANS, size))
    return marks


TURNS = whole_panel("turns", _heights, _draw, lambda sheet: sheet.plan.beam is not None)
