"""Dressing, drawn: a picture of every step that this loom asks for, one line of what to do under it, its numbers, and
where there is room why it is done so and what else."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final, NamedTuple

from cardmaker.card.dressing.act_figures import ACT_BOX
from cardmaker.card.dressing.act_making import act_marks
from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.parts import heading_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.stuck_help import further_parts, stuck_lines, stuck_parts
from cardmaker.layout.ink import BLACK, HAIRLINE, RULE, SOFT
from cardmaker.layout.stacking import HeightRange, Part
from cardmaker.layout.type_setting import SetLine, Span, cap_height, figure, leading, text_height, words_group
from cardmaker.model.dressing_acts import Act, Slip
from cardmaker.model.marks import Box, Dot, Face, Group, Mark, Rectangle, Words
from cardmaker.model.record_class import replace
from cardmaker.reckoning.on_loom.dressing_steps import acts_in_order, acts_of_slip
from cardmaker.wording import dressing_alt_texts, dressing_words, stage_words, trouble_words

USUAL_CELL: Final = 48.0  # mm: as many columns as come nearest to it
SLIP_CELL, CELL_IN_BODY = 40.0, 3.6  # the same of a slip: mm, and mm for each point of its type
IN_CELL: Final[dict[Slip, int]] = {"dress": 2, "weave": 3}  # lines of what to do when stuck, in a place that is free
BETWEEN_CELLS: Final = 4.0  # mm
BETWEEN_ROWS: Final = 3.0  # mm
SMALLEST_PICTURE: Final = 0.85  # of the width of its words
BELOW_PICTURE: Final = 1.8  # mm
BELOW_WORDS: Final = 0.9  # mm
RING: Final = 1.05  # the radius of the ring round a number, in capitals of what it heads
BESIDE_RING: Final = 1.4  # mm
EVEN: Final = 1.0  # mm: lines of a heading are evened out to this
TOLD: Final[dict[Act, tuple[str, ...]]] = {
    Act.THREAD: ("first space", "view", "checks"),
    Act.SHUTTLE: ("wraps",),
    Act.FIRST_PICK: ("begin", "closeness"),
}
TOLD_IN_BRIEF: Final[dict[Act, tuple[str, ...]]] = {
    Act.THREAD: ("first space", "view"),
    Act.TWO_HEDDLES: ("first space", "view"),
    Act.FIRST_PICK: ("begin", "closeness"),
}


_TROUBLE_HEADING: Final[Paragraph] = [Span(trouble_words.TROUBLE, Face.SANS_SEMIBOLD)]
TOGETHER: Final = 2  # lines of trouble that stand with their heading


class _Cell(NamedTuple):
    """A step in its place; without an ``act`` the lines of trouble, in a place that is free. One step alone, and those
    lines, have the number 0, which is not printed."""

    number: int
    act: Act | None
    must: Sequence[Paragraph]  # below the picture
    may: Sequence[Paragraph]  # as they find room


def _cells(sheet: Sheet, width: float) -> list[_Cell]:
    acts = acts_in_order(sheet.plan.loom, is_threaded=sheet.is_threaded, is_brief=sheet.brief)
    steps = [_cell(sheet, number, act) for number, act in enumerate(acts, start=1)]
    return steps if len(steps) % _columns(width) == 0 else [*steps, _trouble(sheet)]


def _cell(sheet: Sheet, number: int, act: Act) -> _Cell:
    words = dressing_words.words_of_act(act, sheet.plan, sheet.units, is_wound=sheet.is_wound, brief=sheet.brief)
    numbers = [words.numbers] if sheet.brief else [" ".join(filter(None, (words.numbers, words.how)))]
    further = [(words.how, BLACK)] if sheet.brief else []
    must = [[Span(words.do, Face.SANS_SEMIBOLD)], *([Span(text)] for text in numbers if text)]
    may = [[Span(text, colour=ink)] for text, ink in (*further, (words.why, SOFT), (words.otherwise, BLACK)) if text]
    return _Cell(number, act, must, may)


def _trouble(sheet: Sheet) -> _Cell:
    """What goes wrong most often: as many lines as the pictures beside them leave room for."""
    return _Cell(0, None, [_TROUBLE_HEADING], _trouble_lines(sheet))


def _trouble_lines(sheet: Sheet) -> list[Paragraph]:
    lines = trouble_words.trouble(trouble_words.is_fuzzy(sheet.plan), is_wound=sheet.is_wound)
    return [[Span(question, Face.SANS_SEMIBOLD), Span(answer)] for question, answer in lines]


def _trouble_below(sheet: Sheet, width: float) -> list[Part]:
    """The same below pictures that leave no place free: the first lines together, the others after them as they find
    room."""
    lines = _trouble_lines(sheet)
    groups = [[_TROUBLE_HEADING, *lines[:TOGETHER]], *([line] for line in lines[TOGETHER:])]
    first, *others = (
        words_part(sheet, width, spans, sheet.sizes.small, above=2.0 if at == 1 else BELOW_WORDS, priority=at)
        for at, spans in enumerate(groups, start=1)
    )
    return [first, *(replace(part, follows=True) for part in others)]


def _words_in(lines: Iterable[SetLine]) -> int:
    """How many words they have: one that is broken within counts twice."""
    return sum(len(span.text.split()) for line in lines for span in line)


def _columns(width: float) -> int:
    return max(1, round(width / USUAL_CELL))


class _Grid(NamedTuple):
    """The cells of one row, side by side."""

    sheet: Sheet
    cell_width: float
    cells: Sequence[_Cell]

    @property
    def picture_width(self) -> float:
        """As wide as the words below it; on a crowded page a little less."""
        return self.cell_width * max(SMALLEST_PICTURE, self.sheet.picture_share)

    @property
    def picture_height(self) -> float:
        return ACT_BOX.height * self.picture_width / ACT_BOX.width

    @property
    def least(self) -> float:
        return max(self._height(cell, cell.must) for cell in self.cells)

    @property
    def most(self) -> float:
        """With all that may stand under the pictures; lines of trouble only take what is there."""
        return max(self._height(cell, [*cell.must, *cell.may]) for cell in self.cells if cell.act)

    def _height(self, cell: _Cell, words: Sequence[Paragraph]) -> float:
        high = self._above_words(cell)
        for at, spans in enumerate(words):
            high += self._words_height(spans, is_heading=not at) + (BELOW_WORDS if at else 0.0)
        return high

    def _above_words(self, cell: _Cell) -> float:
        return self.picture_height + BELOW_PICTURE if cell.act else 0.0

    def _words_height(self, spans: Paragraph, *, is_heading: bool) -> float:
        if is_heading:
            return text_height(len(self._heading_lines(spans, self._indent)), self.sheet.sizes.body)
        return paragraph_height(self.sheet, spans, self.sheet.sizes.small, self.cell_width)

    def _heading_lines(self, spans: Paragraph, indent: float) -> list[SetLine]:
        return self.sheet.lines(spans, self.sheet.sizes.body, self.cell_width, indent)

    def _even_lines(self, spans: Paragraph, indent: float) -> list[SetLine]:
        """The heading on no more lines than it needs, and those as even as they go: the narrowest that are as many."""
        lines, narrow, wide = self._heading_lines(spans, indent), self.cell_width / 2, self.cell_width
        while len(lines) > 1 and wide - narrow > EVEN:
            middle = (narrow + wide) / 2
            tried = self.sheet.lines(spans, self.sheet.sizes.body, middle, indent)
            if len(tried) > len(lines) or _words_in(tried) > _words_in(lines):  # or one broken within
                narrow = middle
            else:
                lines, wide = tried, middle
        return lines

    @property
    def _radius(self) -> float:
        return RING * cap_height(self.sheet.sizes.body)

    @property
    def _indent(self) -> float:
        return 2 * self._radius + BESIDE_RING

    def draw(self, box: Box) -> list[Mark]:
        lefts = (box.left + at * (self.cell_width + BETWEEN_CELLS) for at in range(len(self.cells)))
        return [
            mark
            for left, cell in zip(lefts, self.cells, strict=True)
            for mark in self._drawn(cell, Box(left, box.top, self.cell_width, box.height))
        ]

    def _drawn(self, cell: _Cell, box: Box) -> Iterator[Mark]:
        """Heading, picture, words: as they are read."""
        top = box.top + self._above_words(cell)
        heading, *numbers = cell.must
        yield from self._heading(cell, heading, Box(box.left, top, box.width, 0.0))
        if cell.act:
            yield from self._picture(cell.act, box._replace(width=self.picture_width, height=self.picture_height))
        top += self._words_height(heading, is_heading=True)
        for at, spans in enumerate([*numbers, *cell.may]):
            high = BELOW_WORDS + self._words_height(spans, is_heading=False)
            if at < len(numbers) or top + high <= box.bottom + 1e-6:
                yield from self._paragraph(spans, Box(box.left, top + BELOW_WORDS, box.width, 0.0))
                top += high

    def _paragraph(self, spans: Paragraph, box: Box) -> Iterator[Mark]:
        """Read aloud without words in capitals, where it has any."""
        text = " ".join(span.text for span in spans)
        quiet = dressing_alt_texts.quietly(text)
        for mark in paragraph(self.sheet, spans, self.sheet.sizes.small, box):
            yield replace(mark, alt=quiet) if quiet != text and isinstance(mark, Group) else mark

    def _picture(self, act: Act, box: Box) -> Iterator[Mark]:
        alt = dressing_alt_texts.act_alt_text(act, self.sheet.plan, is_wound=self.sheet.is_wound)
        yield figure(act.value, box, act_marks(act, self.sheet, box), alt)
        yield Rectangle(box, None, BLACK, HAIRLINE)

    def _heading(self, cell: _Cell, spans: Paragraph, box: Box) -> Iterator[Mark]:
        """The number in its ring, and what to do; of trouble no number."""
        size, radius, indent = self.sheet.sizes.body, self._radius, self._indent if cell.number else 0.0
        lines = self._even_lines(spans, indent)
        baseline = box.top + cap_height(size)
        said = [
            *self.sheet.set(lines[:1], box.left + indent, baseline, size),
            *self.sheet.set(lines[1:], box.left, baseline + leading(size), size),
        ]
        place = box._replace(height=text_height(len(lines), size))
        if not cell.number:
            yield words_group("heading", place, *said)
            return
        number = Words(box.left + radius, baseline, str(cell.number), Face.SANS_BOLD, size, align="middle")
        yield Dot(box.left + radius, baseline - cap_height(size) / 2, radius, None, BLACK, RULE)
        alt = dressing_alt_texts.heading_in_words(cell.number, spans[0].text)
        yield words_group("heading", place, number, *said, alt=alt)


def _rows_of(sheet: Sheet, width: float, cells: Sequence[_Cell], columns: int) -> list[Part]:
    cell_width = (width - (columns - 1) * BETWEEN_CELLS) / columns
    rows = [cells[start : start + columns] for start in range(0, len(cells), columns)]
    between = BETWEEN_ROWS / 2 if sheet.is_crowded else BETWEEN_ROWS
    return [_row_part(_Grid(sheet, cell_width, row), above=between if at else 0.0) for at, row in enumerate(rows)]


def _of_slip(slip: Slip, *, is_stuck_told: bool = False) -> Callable[[Sheet, float], Sequence[Part]]:
    """The rows of a slip's own steps; what to do when she is stuck in the place that is free, or below, and the rest of
    it as it finds room. Another panel may have those lines."""

    def parts(sheet: Sheet, width: float) -> list[Part]:
        acts = acts_of_slip(slip, sheet.plan.loom, is_threaded=sheet.is_threaded)
        cells = [_cell(sheet, number if len(acts) > 1 else 0, act) for number, act in enumerate(acts, start=1)]
        columns = _columns_of_slip(sheet, width, len(cells))
        lines = [] if is_stuck_told else stuck_lines(slip, sheet)
        if not lines:
            return _rows_of(sheet, width, cells, columns)
        if len(cells) % columns == 0:
            return [*_rows_of(sheet, width, cells, columns), *stuck_parts(sheet, width, lines)]
        rows = _rows_of(sheet, width, [*cells, _stuck(lines[: IN_CELL[slip]])], columns)
        rows[-1] = replace(rows[-1], facts=(*rows[-1].facts, "stuck"))
        return [*rows, *further_parts(sheet, width, lines[IN_CELL[slip] :])]

    return parts


def _stuck(lines: Sequence[stage_words.Line]) -> _Cell:
    heading: Paragraph = [Span(stage_words.STUCK, Face.SANS_SEMIBOLD)]
    told = [[Span(question, Face.SANS_SEMIBOLD), Span(answer)] for question, answer in lines]
    return _Cell(0, None, [heading, *told], [])


def _columns_of_slip(sheet: Sheet, width: float, cells: int) -> int:
    """As many as come nearest to the usual cell, which is wider in large print; a short row fills the width."""
    usual = max(SLIP_CELL, CELL_IN_BODY * sheet.sizes.body)
    columns = max(1, round(width / usual))
    return min(columns, cells)


def _parts(sheet: Sheet, width: float) -> list[Part]:
    """The rows of steps, under a heading where words are not to be brief."""
    cells = _cells(sheet, width)
    steps = _rows_of(sheet, width, cells, _columns(width))
    if cells[-1].act:
        steps += _trouble_below(sheet, width)
    if sheet.brief:
        return steps
    aside = dressing_words.way_round(sheet.plan.loom)
    return [heading_part(sheet, width, dressing_words.DRESSING, aside), *steps]


def _row_part(grid: _Grid, *, above: float) -> Part:
    least, most = grid.least, max(grid.least, grid.most)
    told = TOLD_IN_BRIEF if grid.sheet.brief else TOLD
    facts = [fact for cell in grid.cells if cell.act for fact in told.get(cell.act, ())]
    return Part(HeightRange(least, most), grid.draw, above, ("dressing", *facts))


SLIP_WIND: Final = Panel("slip-wind", _of_slip("wind", is_stuck_told=True))
SLIP_DRESS: Final = Panel("slip-dress", _of_slip("dress"))
DRESS_STEPS: Final = Panel("dress-steps", _of_slip("dress", is_stuck_told=True))
SLIP_WEAVE: Final = Panel("slip-weave", _of_slip("weave"))
DRESSING: Final = Panel("dressing", _parts)
DRESSING_WOUND: Final = Panel("dressing-wound", _parts)
DRESSING_THREADED: Final = Panel("dressing-threaded", _parts)
