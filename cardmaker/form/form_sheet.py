"""The page of the recording form: sections one below the other, and as many lines for stripes as find room.

Every line is high enough to write on by hand, and holds a field of the same size for whoever fills it in on a screen.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final

from cardmaker.form.form_lines import (
    LABEL,
    Asked,
    FormPen,
    FormTable,
    asked_row,
    form_table,
    row_part,
    section_heading,
    tick_part,
    words_beside_tick,
)
from cardmaker.layout.ink import BLACK, HEAVY, SOFT, WHITE
from cardmaker.layout.stacking import HeightRange, Part, draw_stack, exactly, stack_heights
from cardmaker.layout.type_setting import Span, cap_height, leading, set_lines, text_height, words_group, wrapped
from cardmaker.model import tape_form
from cardmaker.model.card_layout import Paper
from cardmaker.model.marks import Box, Face, FormField, Group, Mark, Page, Rectangle, Ruler, Words
from cardmaker.wording import form_words
from cardmaker.wording.formatters import Units

LEAST_ROW: Final = 7.0  # mm: a line to write on by hand (common practice, no source)
MARGIN, BINDING = 12.0, 20.0  # mm: the sheet goes into a binder, too
TITLE_SIZE: Final = 20.0
HOW_SIZE: Final = 9.5
AFTER_TITLE: Final = 3.2  # mm
BEFORE_TABLE: Final = 1.0
GAP: Final = 3.2  # between sections
COLUMNS: Final = 3
BETWEEN: Final = 5.0  # mm, between columns of stripes and between the two halves of the foot
_SHARE: Final = 0.6  # of the width: the left half of the rows about the object, and the yarns
_TOTAL: Final = (24.0, 9.0)  # mm: the box for the ends in all
_STRIPE_COLUMNS: Final = (9.0, 13.0)  # mm: the number of the row, and its ends; the colour has the rest
_MOST_ROWS: Final = tape_form.MOST_STRIPES // COLUMNS


def compose_form(paper: Paper, ruler: Ruler, units: Units) -> Page:
    """The form on a sheet of this paper, examples of lengths in these units. Raises ValueError on one too small."""
    pen = FormPen(ruler, partial(form_words.tooltip, units=units))
    box = paper.inside_margins(MARGIN, BINDING, "left")
    parts = [
        _title_part(pen, box.width),
        _panel(form_words.OBJECT, _object_parts(pen, box.width)),
        _panel(form_words.GRADE, _grade_parts(pen)),
        _panel(form_words.STRIPES, _stripes_parts(pen, box.width)),
        _foot_part(pen, box.width),
        _panel(form_words.line_label("notes"), _last_parts(pen, units)),
    ]
    if stack_heights(parts).least > box.height:
        raise ValueError(f"a form needs {stack_heights(parts).least:.0f} mm of height, {box.height:.0f} are there")
    return Page(paper.width_mm, paper.height_mm, tuple(draw_stack(parts, box)), form_words.FORM_TITLE)


def _panel(name: str, parts: Sequence[Part]) -> Part:
    """Parts that are one section."""
    return Part(stack_heights(parts), lambda box: [Group("panel", name, box, tuple(draw_stack(parts, box)))], above=GAP)


def _title_part(pen: FormPen, width: float) -> Part:
    """What the sheet is, and below how it is used."""
    lines = [line for text in form_words.FORM_HOW for line in wrapped([Span(text)], HOW_SIZE, width, pen.ruler)]
    high = cap_height(TITLE_SIZE) + AFTER_TITLE + text_height(len(lines), HOW_SIZE)

    def draw(box: Box) -> list[Mark]:
        baseline = box.top + cap_height(TITLE_SIZE)
        title = Words(box.left, baseline, form_words.FORM_TITLE, Face.SERIF_SEMIBOLD, TITLE_SIZE)
        how = set_lines(lines, box.left, baseline + AFTER_TITLE + cap_height(HOW_SIZE), HOW_SIZE, pen.ruler)
        return [words_group("title", box, title), words_group("paragraph", box, *how)]

    return Part(exactly(high), draw)


def _object_parts(pen: FormPen, width: float) -> list[Part]:
    """What the tape is and where it is kept, two facts to a line."""
    pairs = (("title", "code"), ("what", "attached_to"), ("holder", "object_number"), ("place", "period"))
    names = [pen.widest([form_words.line_label(field) for field in column]) for column in zip(*pairs, strict=True)]
    left, right = _SHARE * width, (1 - _SHARE) * width - BETWEEN
    rows = [
        [
            Asked(one, form_words.line_label(one), left, names[0]),
            Asked(other, form_words.line_label(other), right, names[1]),
        ]
        for one, other in pairs
    ]
    return [section_heading(pen, form_words.OBJECT), *(asked_row(pen, row, BETWEEN, LEAST_ROW) for row in rows)]


def _grade_parts(pen: FormPen) -> list[Part]:
    """The six grades, each with a box to tick, three to a line."""
    labels = {tape_form.grade_field(letter): form_words.grade_label(letter) for letter in tape_form.GRADES}
    return [section_heading(pen, form_words.GRADE, form_words.TICK_ONE), tick_part(pen, labels, COLUMNS)]


def _stripes_parts(pen: FormPen, width: float) -> list[Part]:
    """Rows for stripes in columns, then how they go on, and the total."""
    least = _table_height(pen, tape_form.LEAST_STRIPES // COLUMNS)
    most = _table_height(pen, _MOST_ROWS) + LEAST_ROW
    table = Part(HeightRange(least, most), partial(_stripe_tables, pen))
    heading = section_heading(pen, form_words.STRIPES, form_words.STRIPES_HOW)
    return [heading, row_part(BEFORE_TABLE), table, _closing_part(pen, width)]


def _table_height(pen: FormPen, rows: int) -> float:
    """How high so many of the least rows are, under their head."""
    return pen.head_height + rows * LEAST_ROW


def _stripe_tables(pen: FormPen, box: Box) -> list[Mark]:
    """The rows of stripes, down one column after the other; what is left of the height goes to all of them."""
    rows = min(_MOST_ROWS, int((box.height - pen.head_height + 1e-6) / LEAST_ROW))
    wide = (box.width - (COLUMNS - 1) * BETWEEN) / COLUMNS
    widths = (*_STRIPE_COLUMNS, wide - sum(_STRIPE_COLUMNS))
    marks: list[Mark] = []
    for column in range(COLUMNS):
        numbers = range(column * rows + 1, (column + 1) * rows + 1)
        fields = [("", *(tape_form.stripe_field(number, cell) for cell in ("ends", "colour"))) for number in numbers]
        named = [str(number) for number in numbers]
        name = f"{form_words.STRIPES}, {named[0]} to {named[-1]}"
        part = Box(box.left + column * (wide + BETWEEN), box.top, wide, box.height)
        marks.append(form_table(pen, FormTable(name, form_words.STRIPE_HEADS, widths, fields, named), part))
    return marks


def _closing_part(pen: FormPen, width: float) -> Part:
    """How the tape goes on after the last row, and beside it the box for the ends in all."""
    wide, high = _TOTAL
    words = pen.widest([form_words.TOTAL_LABEL, form_words.TOTAL_HOW])
    room = width - wide - words - 2.0 - BETWEEN
    ticks = [words_beside_tick(pen, field, text, room) for field, text in form_words.MIRROR_LABELS.items()]
    heights = stack_heights(ticks)

    def draw(box: Box) -> list[Mark]:
        total = Box(box.right - wide, box.top + (box.height - high) / 2, wide, high)
        middle, right = total.top + high / 2, total.left - 2.0
        lines = (
            Words(right, middle - 0.4, form_words.TOTAL_LABEL, Face.SANS_SEMIBOLD, LABEL, BLACK, "right"),
            Words(right, middle - 0.4 + leading(LABEL), form_words.TOTAL_HOW, Face.SANS, LABEL, SOFT, "right"),
        )
        named = Box(right - words, total.top, words, high)
        field = FormField(
            total.inset(1, 1.6, 1, 1.6), tape_form.TOTAL, pen.told(tape_form.TOTAL), most=tape_form.LONGEST_COUNT,
            align="middle",
        )  # fmt: skip
        return [
            *draw_stack(ticks, Box(box.left, box.top, room, heights.least)),
            words_group("paragraph", named, *lines),
            Rectangle(total, WHITE, BLACK, HEAVY * 0.7),
            field,
        ]

    return Part(exactly(max(heights.least, high)), draw, above=2.0)


def _foot_part(pen: FormPen, width: float) -> Part:
    """Left the yarns to weave it in, right who counted, and how sure it is."""
    left = _SHARE * width
    yarns, count = _yarn_parts(pen, left), _count_parts(pen, width - left - BETWEEN)
    high = max(stack_heights(yarns).least, stack_heights(count).least)

    def draw(box: Box) -> list[Mark]:
        one = Box(box.left, box.top, left, box.height)
        other = Box(one.right + BETWEEN, box.top, box.right - one.right - BETWEEN, box.height)
        return [
            Group("panel", form_words.AGAIN, one, tuple(draw_stack(yarns, one))),
            Group("panel", form_words.COUNT, other, tuple(draw_stack(count, other))),
        ]

    return Part(exactly(high), draw, above=GAP)


def _yarn_parts(pen: FormPen, width: float) -> list[Part]:
    rows = range(1, tape_form.YARNS + 1)
    fields = [tuple(tape_form.yarn_field(row, cell) for cell in ("colour", "yarn", "shade")) for row in rows]
    widths = (0.28 * width, 0.4 * width, 0.32 * width)
    table = FormTable(form_words.AGAIN, form_words.YARN_HEADS, widths, fields)
    high = _table_height(pen, len(fields))
    return [
        section_heading(pen, form_words.AGAIN, form_words.AGAIN_HOW),
        row_part(BEFORE_TABLE),
        Part(exactly(high), lambda box: [form_table(pen, table, box)]),
    ]


def _count_parts(pen: FormPen, width: float) -> list[Part]:
    """As high as the yarns beside it: the first line stands where their head does."""
    fields = ("counted_by", "counted_when", "counted_how", "certainty", "fibre")
    labels = [form_words.line_label(field) for field in fields]
    rows = [
        asked_row(pen, [Asked(field, text, width, pen.widest(labels))], BETWEEN, LEAST_ROW)
        for field, text in zip(fields, labels, strict=True)
    ]
    return [section_heading(pen, form_words.COUNT), row_part(BEFORE_TABLE + pen.head_height), *rows]


def _last_parts(pen: FormPen, units: Units) -> list[Part]:
    """What else the loom asks, and lines for notes."""
    labels = {
        "loom": form_words.line_label("loom"),
        "length": form_words.length_label(units),
        "weft": form_words.line_label("weft"),
    }
    fields = [Asked(field, text, 0, pen.widest([text])) for field, text in labels.items()]
    word = form_words.line_label("notes")
    notes = [
        Asked(tape_form.note_field(number), word if number == 1 else "", 0, pen.widest([word]))
        for number in range(1, tape_form.NOTES + 1)
    ]
    return [asked_row(pen, fields, BETWEEN, LEAST_ROW), *(asked_row(pen, [note], BETWEEN, LEAST_ROW) for note in notes)]
