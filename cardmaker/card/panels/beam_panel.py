"""The turns: the roll on the beam as one spiral, the turns that take sticks, and the tape still to come."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, sin
from typing import Final

from cardmaker.card.bench_columns import BETWEEN_COLUMNS, MIDDLE, RIGHT, left_width, middle_edge, right_edge
from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.parts import COLUMN_GAP, columns_part, heading_part, stack_part, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.card.table_parts import card_table, table_part
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, HEAVY, OUTLINE, RULE, WHITE
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part, exactly, stack_heights
from cardmaker.layout.table_setting import Column, Row, Table, unwrapped_width
from cardmaker.layout.type_setting import Span, cap_height, figure, unparted, words_group
from cardmaker.model.bench import WarpOnBeam
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Path, Step, Words
from cardmaker.wording import beam_words, length_words

LEAST_PICTURE: Final = 24.0
MOST_PICTURE: Final = 36.0
UNDER_ROLL: Final = 1.2  # of it free under the roll, where words may follow
STICK: Final = OUTLINE * 1.6  # how thick a stick is drawn
OFF_ROLL: Final = 0.25  # mm: from a turn to the middle of a stick
STICK_OUT: Final = OFF_ROLL + STICK / 2  # how far a stick after the last turn stands out of the roll
NARROWEST_ROLL: Final = 12.0  # smaller than this its layers run together
STEPS_A_TURN: Final = 60
FINEST: Final = 0.45  # from layer to layer: closer ones are not drawn as a spiral
ABOVE_LABEL: Final = 1.4
ABOVE_WORDS: Final = 2.4
FIGURE_GAP: Final = 2.4  # from one figure to the next
UNDER_TABLE: Final = 1.2  # mm from a roll or a rule to words that run under them
LEAST_FIGURES: Final = 36.0  # mm


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    beam, loom = planned(sheet.plan.beam), sheet.plan.loom
    let_off = [Span(beam_words.let_off(beam, loom, sheet.units))]
    return (
        *_figures_roll_and_table(sheet, width),
        words_part(sheet, width, [let_off], sheet.sizes.small, facts=("let-off",), priority=1),
    )


def _figures_roll_and_table(sheet: Sheet, width: float) -> Sequence[Part]:
    """Side by side; the roll below the figures where pieces make the table wide; all below each other where narrow."""
    roll = _roll_part(sheet)
    table_width = unwrapped_width(_table(sheet), sheet, COLUMN_GAP)
    rest, left = width - table_width - BETWEEN_COLUMNS, left_width(width)
    if table_width <= RIGHT and left >= LEAST_FIGURES:
        in_column = (right_edge(width), RIGHT, _table_part(sheet, RIGHT))
        beside = [(middle_edge(width), MIDDLE + BETWEEN_COLUMNS - 1, roll), in_column]
        return _beside_figures(sheet, width, left, beside)
    table = _table_part(sheet, min(table_width, width))
    table_at = (width - table_width, table_width, table)
    if (left := rest - MIDDLE - BETWEEN_COLUMNS) >= LEAST_FIGURES:
        roll_at = (left + BETWEEN_COLUMNS, MIDDLE + BETWEEN_COLUMNS - 1, roll)
        return _beside_figures(sheet, width, left, [roll_at, table_at])
    if rest >= LEAST_FIGURES:
        left_parts = stack_part([*_headed_figures(sheet, rest), roll])
        return (columns_part([(0.0, rest, left_parts), table_at]),)
    if width - _turn_name(sheet) < NARROWEST_ROLL:
        roll = Part(NO_ROOM, _nothing)
    return (*_headed_figures(sheet, width), roll, table)


def _beside_figures(
    sheet: Sheet, width: float, left: float, beside: Sequence[tuple[float, float, Part]]
) -> Sequence[Part]:
    """The figures with when the sticks go in below them; on a crowded card that stands below all, if it is lower."""
    figures = (0.0, left, stack_part(_headed_figures(sheet, left)))
    usual = (columns_part([figures, *beside]),)
    if not sheet.is_crowded:
        return usual
    alone = (0.0, left, stack_part(_headed_figures(sheet, left, with_sticks=False)))
    sticks = words_part(
        sheet, width, [_words_of_sticks(sheet)], sheet.sizes.small, above=UNDER_TABLE * (0.5 if sheet.is_terse else 1.0)
    )
    return min((usual, (columns_part([alone, *beside]), sticks)), key=lambda parts: stack_heights(parts).least)


def _table_part(sheet: Sheet, width: float) -> Part:
    """The table of turns left; nothing where the beam takes no whole turn."""
    table = _table(sheet)
    if not table.rows:
        return Part(exactly(0.0), _nothing)
    return table_part(card_table(sheet, table, width), above=2.0, facts=("beam",))


def _headed_figures(sheet: Sheet, width: float, *, with_sticks: bool = True) -> Sequence[Part]:
    aside = length_words.for_warp_wound(sheet.plan.lengths, sheet.units) or sheet.plan.loom.title
    heading = heading_part(sheet, width, beam_words.TURNS, aside)
    return (heading, _figures(sheet, width, _words_of_sticks(sheet) if with_sticks else []))


def _nothing(box: Box) -> Sequence[Mark]:
    return ()


def _figures(sheet: Sheet, width: float, words: Paragraph) -> Part:
    """Turns, the roll and sticks in the size of counts, what they count below them; then ``words``."""
    beam, size = planned(sheet.plan.beam), sheet.sizes.small
    columns = beam_words.roll_figures(beam, sheet.plan.loom, sheet.units)
    labels: list[Paragraph] = [[Span(label)] for _, label in columns]
    wide = _figure_widths(sheet, columns, width)
    label_height = max(
        paragraph_height(sheet, label, size, each - FIGURE_GAP) for label, each in zip(labels, wide, strict=True)
    )
    figures = cap_height(sheet.sizes.count) + ABOVE_LABEL + label_height
    below = ABOVE_WORDS + paragraph_height(sheet, words, size, width) if words else 0.0

    def draw(box: Box) -> list[Mark]:
        marks: list[Mark] = []
        left = box.left
        for (value, _), label, each in zip(columns, labels, wide, strict=True):
            marks.append(_figure_with_label(sheet, value, label, Box(left, box.top, each - FIGURE_GAP, figures)))
            left += each
        return [*marks, *paragraph(sheet, words, size, box.inset(top=figures + ABOVE_WORDS))]

    return Part(exactly(figures + below), draw, 0.4, ("beam",))


def _figure_widths(sheet: Sheet, columns: Sequence[tuple[str, str]], width: float) -> list[float]:
    """What each figure and the longest word below it need, and the rest of the width shared out evenly."""
    small = sheet.sizes.small
    needed = [
        max(sheet.wide(value, Face.SANS_BOLD, sheet.sizes.count),
            *(sheet.wide(word, Face.SANS, small) for word in unparted(label))) + FIGURE_GAP
        for value, label in columns
    ]  # fmt: skip
    return [each + (width - sum(needed)) / len(needed) for each in needed]


def _figure_with_label(sheet: Sheet, value: str, label: Paragraph, box: Box) -> Mark:
    baseline = box.top + cap_height(sheet.sizes.count)
    first = baseline + ABOVE_LABEL + cap_height(sheet.sizes.small)
    lines = sheet.set(sheet.lines(label, sheet.sizes.small, box.width), box.left, first, sheet.sizes.small)
    big = Words(box.left, baseline, value, Face.SANS_BOLD, sheet.sizes.count)
    return words_group("paragraph", box, big, *lines)


def _words_of_sticks(sheet: Sheet) -> Paragraph:
    beam = planned(sheet.plan.beam)
    if not beam.sticks or sheet.plan.loom.packing is None:
        return []
    slipped = beam_words.slipped_edge(beam, sheet.units, brief=True)
    return [
        Span(beam_words.when_sticks_go_in(beam, sheet.plan.loom), Face.SANS_SEMIBOLD),
        *([Span(slipped)] if slipped else []),
    ]


def _table(sheet: Sheet) -> Table:
    lengths = sheet.plan.lengths
    columns = (Column(beam_words.ON_BEAM, "right", strong=True), Column(beam_words.still_to_come(lengths)))
    rows = (
        Row((beam_words.turns_still_on(turns), comes))
        for turns, comes in beam_words.turns_table(planned(sheet.plan.beam), lengths, sheet.units)
    )
    return Table("turns", columns, tuple(rows))


def _turn_name(sheet: Sheet) -> float:
    """The width beside the roll where its last turn with sticks is named."""
    return sheet.wide(beam_words.turn_mark(88), Face.SANS, sheet.sizes.smallest) + 5


def _roll_part(sheet: Sheet) -> Part:
    beam = planned(sheet.plan.beam)
    alt = beam_words.roll_alt_text(beam, sheet.plan.loom, sheet.units)
    return Part(
        HeightRange(LEAST_PICTURE * sheet.picture_share, MOST_PICTURE),
        lambda box: [figure("roll", box, _roll(sheet, beam, box), alt)],
    )


def _roll(sheet: Sheet, beam: WarpOnBeam, box: Box) -> list[Mark]:
    """The beam's end as one sees it: bare wood in the middle, the warp round it, sticks where they go in."""
    name = _turn_name(sheet)
    scale = min(box.width - name - STICK_OUT, box.height - UNDER_ROLL) / beam.final_diameter_mm
    across = beam.final_diameter_mm * scale
    x, y = box.left + STICK_OUT + across / 2, box.top + (box.height - UNDER_ROLL) / 2
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
    for stick in (x - (radius + OFF_ROLL), x + (radius + OFF_ROLL)):
        marks.append(Line(stick, y - half, stick, y + half, STICK, colour))
    if number == count - 1 and turn:
        marks.append(Line(x + radius + 0.8, y, x + radius + 2.6, y, RULE))
        size = sheet.sizes.smallest
        marks.append(Words(x + radius + 3.2, y + cap_height(size) / 2, beam_words.turn_mark(turn), Face.SANS, size))
    return marks


TURNS: Final = Panel("turns", _parts, lambda sheet: sheet.plan.beam is not None)
