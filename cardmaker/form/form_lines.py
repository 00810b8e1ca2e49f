"""What the form is made of: a heading, a line to write on with its label, a box to tick, and a table of fields."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Final, Literal, NamedTuple

from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, OUTLINE, SOFT
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.tick_squares import tick_box
from cardmaker.layout.type_setting import Span, cap_height, set_lines, tail_depth, text_height, words_group, wrapped
from cardmaker.model.marks import Box, Face, FormField, Group, Line, Mark, Ruler, Words
from cardmaker.model.tape_form import longest

LABEL: Final = 9.5  # points
SMALL: Final = 9.0
HEADING: Final = 12.0
AFTER_LABEL: Final = 2.0  # mm
TICK: Final = 4.0  # mm: large enough for a pencil
AFTER_TICK: Final = 1.8
TICK_ROW: Final = 5.6
_LETTERS: Final = 1.2  # mm, from a rule up to the baseline of the label before it
_TYPED: Final = 5.3  # mm: the height of a field, in which what is typed stands whole
_ABOVE_RULE: Final = 0.4  # mm, from a rule up to the field on it
_INSIDE: Final = 0.7  # mm of a cell that its field leaves free at both sides


class FormPen(NamedTuple):
    """What everything on the form is set with: the ruler of its type, and what is told of each field."""

    ruler: Ruler
    told: Callable[[str], str]

    def widest(self, texts: Iterable[str], size: float = LABEL) -> float:
        """The width of the longest of some labels."""
        return max(self.ruler.width_mm(text, Face.SANS, size) for text in texts)

    @property
    def head_height(self) -> float:
        """How high the head of a table is."""
        return cap_height(SMALL) + tail_depth(SMALL) + 1.2


class Asked(NamedTuple):
    """A field on a line, with its label; without a ``width`` it shares the line evenly with the others."""

    field: str
    text: str
    width: float
    label_width: float


class FormTable(NamedTuple):
    """Rows of fields under a head; a cell without a field has the number of its row."""

    name: str
    heads: Sequence[str]
    widths: Sequence[float]
    rows: Sequence[tuple[str, ...]]
    numbers: Sequence[str] = ()


def section_heading(pen: FormPen, text: str, aside: str = "") -> Part:
    """A heading, with a few words after it."""
    wide = pen.ruler.width_mm(text, Face.SERIF_SEMIBOLD, HEADING)

    def draw(box: Box) -> list[Mark]:
        baseline = box.top + cap_height(HEADING)
        marks: list[Mark] = [words_group("heading", box, Words(box.left, baseline, text, Face.SERIF_SEMIBOLD, HEADING))]
        if aside:
            words = Words(box.left + wide + 3.0, baseline, aside, Face.SANS, LABEL, SOFT)
            marks.append(words_group("paragraph", box, words))
        return marks

    return Part(exactly(cap_height(HEADING) + tail_depth(HEADING) + 0.3), draw)


def row_part(height: float) -> Part:
    """So much free height."""
    return Part(exactly(height), lambda _: [])


def asked_row(pen: FormPen, asked: Sequence[Asked], gap: float, height: float) -> Part:
    """Fields side by side on one line, each on a rule after its label."""

    def draw(box: Box) -> list[Mark]:
        shared = (box.width - (len(asked) - 1) * gap) / len(asked)
        left, marks = box.left, list[Mark]()
        for each in asked:
            width = each.width or shared
            marks += _line(pen, each, Box(left, box.top, width, box.height))
            left += width + gap
        return marks

    return Part(exactly(height), draw)


def _line(pen: FormPen, asked: Asked, box: Box) -> list[Mark]:
    rule = box.bottom
    start = box.left + asked.label_width + AFTER_LABEL
    field = Box(start, rule - _ABOVE_RULE - _TYPED, box.right - start, _TYPED)
    marks: list[Mark] = []
    if asked.text:
        words = Words(box.left, rule - _LETTERS, asked.text, Face.SANS, LABEL, SOFT)
        marks.append(words_group("paragraph", Box(box.left, box.top, asked.label_width, box.height), words))
    told = FormField(field, asked.field, pen.told(asked.field), most=longest(asked.field))
    return [*marks, told, Line(start, rule, box.right, rule, HAIRLINE, FAINT)]


def tick_part(pen: FormPen, labels: Mapping[str, str], columns: int) -> Part:
    """Boxes to tick, row by row in columns as wide as their words."""
    fields = list(labels)
    rows = [fields[at : at + columns] for at in range(0, len(fields), columns)]
    wide = [pen.widest([labels[field] for field in column]) for column in zip(*rows, strict=True)]

    def draw(box: Box) -> list[Mark]:
        spare = (box.width - sum(wide) - columns * (TICK + AFTER_TICK)) / (columns - 1)
        marks: list[Mark] = []
        for number, row in enumerate(rows):
            left = box.left
            for field, width in zip(row, wide, strict=True):
                room = Box(left, box.top + number * TICK_ROW, TICK + AFTER_TICK + width, TICK_ROW)
                marks += _ticked_words(pen, field, [(Span(labels[field]),)], room)
                left = room.right + spare
        return marks

    return Part(exactly(len(rows) * TICK_ROW), draw)


def words_beside_tick(pen: FormPen, field: str, text: str, width: float) -> Part:
    """A box to tick with a sentence beside it, in as many lines as it takes."""
    lines = wrapped([Span(text)], LABEL, width - TICK - AFTER_TICK, pen.ruler)
    high = max(TICK_ROW, text_height(len(lines), LABEL) + 1.0)
    return Part(exactly(high), lambda box: _ticked_words(pen, field, lines, Box(box.left, box.top, width, high)))


def _ticked_words(pen: FormPen, field: str, lines: Sequence[tuple[Span, ...]], box: Box) -> list[Mark]:
    """The box stands beside the first line, its middle where that of the capitals is."""
    baseline = box.top + (TICK_ROW + cap_height(LABEL)) / 2 - 0.2
    square = Box(box.left, baseline - (cap_height(LABEL) + TICK) / 2, TICK, TICK)
    room = box.inset(left=TICK + AFTER_TICK)
    words = set_lines(lines, room.left, baseline, LABEL, pen.ruler)
    told = FormField(square.inset(0.3, 0.3, 0.3, 0.3), field, pen.told(field), "tick")
    return [tick_box(square), told, words_group("paragraph", room, *words)]


def form_table(pen: FormPen, table: FormTable, box: Box) -> Group:
    """A table with a field in every cell, ruled so that what is written by hand keeps to its line."""
    high = (box.height - pen.head_height) / len(table.rows)
    lefts = [box.left + sum(table.widths[:column]) for column in range(len(table.widths))]
    tops = [box.top + pen.head_height + row * high for row in range(len(table.rows))]
    body = [_row(pen, table, row, tops[row], high, lefts) for row in range(len(table.rows))]
    rules = [Line(box.left, top, box.right, top, HAIRLINE, FAINT) for top in tops[1:]]
    rules += [Line(left, tops[0], left, box.bottom, HAIRLINE, FAINT) for left in lefts[1:]]
    frame = [Line(box.left, y, box.right, y, OUTLINE, BLACK) for y in (tops[0], box.bottom)]
    return Group("table", table.name, box, (*rules, *frame, _head(pen, table, box, lefts), *body))


def _head(pen: FormPen, table: FormTable, box: Box, lefts: Sequence[float]) -> Group:
    baseline = box.top + cap_height(SMALL)
    row = Box(box.left, box.top, box.width, pen.head_height)
    cells = [
        words_group(
            "header cell",
            Box(left, box.top, width, pen.head_height),
            _head_words(field, head, Box(left, baseline, width, 0)),
        )
        for left, width, head, field in zip(lefts, table.widths, table.heads, table.rows[0], strict=True)
    ]
    return Group("row", "head", row, tuple(cells))


def _head_words(field: str, head: str, line: Box) -> Words:
    """A head stands as what is below it does."""
    if not field:
        return Words(line.right - AFTER_LABEL, line.top, head, Face.SANS, SMALL, SOFT, "right")
    if field.endswith("_ends"):
        return Words(line.middle, line.top, head, Face.SANS, SMALL, SOFT, "middle")
    return Words(line.left + 2 * _INSIDE, line.top, head, Face.SANS, SMALL, SOFT)


def _row(pen: FormPen, table: FormTable, row: int, top: float, high: float, lefts: Sequence[float]) -> Group:
    cells: list[Mark] = []
    for left, width, field in zip(lefts, table.widths, table.rows[row], strict=True):
        cell = Box(left, top, width, high)
        if field:
            align: Literal["left", "middle"] = "middle" if field.endswith("_ends") else "left"
            inside = cell.inset(_INSIDE, (high - _TYPED) / 2, _INSIDE, (high - _TYPED) / 2)
            mark: Mark = FormField(inside, field, pen.told(field), "line", longest(field), align)
        else:
            baseline = top + (high + cap_height(LABEL)) / 2
            mark = Words(cell.right - AFTER_LABEL, baseline, table.numbers[row], Face.SANS, LABEL, SOFT, "right")
        cells.append(Group("cell", "", cell, (mark,)))
    return Group("row", "", Box(lefts[0], top, sum(table.widths), high), tuple(cells))
