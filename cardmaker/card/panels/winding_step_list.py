"""The list of winding steps: a box to tick, ends, yarn, from which post to which, the total, and what then."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Final

from cardmaker.card.panels.winding_step_lines import WindingStep, thens_of_stripes
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, RULE, SOFT
from cardmaker.layout.lettering import hatched_cell
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.table_setting import row_group
from cardmaker.layout.tick_squares import tick_side, tick_square
from cardmaker.layout.type_setting import cap_height, leading, words_group
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Words
from cardmaker.model.plan import Post
from cardmaker.model.record_class import record
from cardmaker.wording import stripe_words, winding_words

GAP: Final = 2.0  # between the columns of one list
BETWEEN: Final = 4.0  # between lists side by side
BEFORE_OF: Final = 0.8  # from the ends of a part to those of its stripe
BOLDER: Final = 0.25  # mm that the name of a post takes more in bold
SWATCH: Final = 4.0  # mm wide; of several yarns in turn, all together
SWATCH_HEIGHT: Final = 3.0
NOTE_LINE: Final = 0.8  # a note's share of a line
CLOSER: Final = 0.0  # mm more than the lines of sentences, on a crowded card
MOST_LINE: Final = 1.4  # of the usual height of a line
FEWEST_ROWS: Final = 4  # of a column, on a crowded card
ROWS_WANTED: Final = 10  # a longer list is set in columns, where there is width


@record
class StepList:
    """How the list is set: in how many columns, and what each line tells besides ends, letters, post and total."""

    columns: int
    width: float  # of one column, as wide as it needs
    height: float
    has_names: bool
    has_starts: bool  # and what then; without them every line but the last ends with the same
    has_ways_below: bool = (
        False  # whether balls in turn have their way on a line of its own, so that columns are narrow
    )


def step_list(
    sheet: Sheet, steps: Sequence[WindingStep], width: float, *, short: bool = False, tersely: bool = False
) -> StepList:
    """In as many columns as the width holds and the length asks for; the names go first, letters stay. To be ``short``
    what every step has alike goes too, and there are as many columns as find room; ``tersely`` the way of balls in
    turn, by far the widest, stands below them."""
    wanted = ceil(len(steps) / (FEWEST_ROWS if short else ROWS_WANTED))
    alike = all(step.start for step in steps) and len(set(thens_of_stripes(steps)[:-1])) <= 1
    kinds = [(True, True, False), (False, True, False), *([(False, False, False)] if alike else [])]
    if tersely and any(step.way for step in steps):
        kinds.append((False, True, True))
    settings = [_setting(sheet, steps, width, wanted, *kind) for kind in kinds]
    fitting = [each for each in settings if each.width <= width + 1e-6]
    most = max((each.columns for each in fitting), default=1)
    return next((each for each in fitting if each.columns == most), settings[-1])


def _setting(
    sheet: Sheet,
    steps: Sequence[WindingStep],
    width: float,
    wanted: int,
    has_names: bool,
    has_starts: bool,
    has_ways_below: bool,
) -> StepList:
    needed = _Columns(sheet, steps, has_names, has_starts, has_ways_below).right
    columns = max(1, min(wanted, int((width + BETWEEN) / (needed + BETWEEN))))
    lines = max(_lines(part, has_ways_below) for part in _split(steps, columns))
    return StepList(columns, needed, (lines + 1) * _line(sheet), has_names, has_starts, has_ways_below)


def list_heights(sheet: Sheet, shape: StepList) -> HeightRange:
    """At the usual distance of the lines, and as far apart as they may stand."""
    return HeightRange(shape.height, shape.height * MOST_LINE)


def set_list(sheet: Sheet, steps: Sequence[WindingStep], shape: StepList, box: Box) -> list[Mark]:
    """The lists side by side, each with its heads; together they are one table, read column by column."""
    head = _line(sheet)
    line = head * min((box.height - head) / (shape.height - head), MOST_LINE)
    pitch = (box.width + BETWEEN) / shape.columns
    columns = _Columns(sheet, steps, shape.has_names, shape.has_starts, shape.has_ways_below)
    rows: list[Mark] = []
    for number, part in enumerate(_split(steps, shape.columns)):
        place = Box(box.left + number * pitch, box.top, pitch - BETWEEN, box.height)
        rows += _head(sheet, columns, place, is_first=not number)
        if number:
            middle = place.left - BETWEEN / 2
            rows.append(Line(middle, box.top, middle, box.bottom, HAIRLINE, SOFT))
        at = 0.0
        for step in part:
            rows += _row(sheet, columns, place, box.top + head + (at + 0.66) * line, step, line)
            at += _lines([step], shape.has_ways_below)
    return [Group("table", "steps", box, tuple(rows))]


def _split(steps: Sequence[WindingStep], columns: int) -> list[Sequence[WindingStep]]:
    each = ceil(len(steps) / columns)
    return [steps[at : at + each] for at in range(0, len(steps), each)]


def _lines(steps: Sequence[WindingStep], has_ways_below: bool) -> float:
    """How many lines the steps take."""
    return sum(1 + NOTE_LINE * len(_below(step, has_ways_below)) for step in steps)


def _below(step: WindingStep, has_ways_below: bool) -> list[str]:
    """What stands on lines of its own below a step."""
    return [each for each in (step.way_below if has_ways_below else "", step.note) if each]


def _line(sheet: Sheet) -> float:
    return leading(sheet.sizes.body) + (CLOSER if sheet.is_crowded else 0.5)


class _Columns:
    """How far from the left edge of a list its columns stand; ends and totals are ranged right."""

    def __init__(
        self, sheet: Sheet, steps: Sequence[WindingStep], has_names: bool, has_starts: bool, has_ways_below: bool
    ) -> None:
        size, small = sheet.sizes.body, sheet.sizes.small
        heads = [sheet.wide(head, Face.SANS, small) for head in winding_words.STEP_HEADS]
        ends, totals = (
            max(head, *(sheet.wide(str(number), Face.SANS_BOLD, size) for number in numbers))
            for head, numbers in (
                (heads[0], [step.ends for step in steps]), (heads[3], [step.total for step in steps])
            )
        )  # fmt: skip
        self.has_names, self.has_starts, self.has_ways_below = has_names, has_starts, has_ways_below
        self.way_head = winding_words.STEP_HEADS[2] if has_starts else winding_words.TO
        self.ends = tick_side(size) + 1.2 + ends
        self.of = self.ends + BEFORE_OF
        of = max(sheet.wide(step.of, Face.SANS, size) for step in steps)
        self.swatch = (self.of + of if of else self.ends) + 1.6
        self.yarn = self.swatch + SWATCH + 1.0
        in_columns = [step for step in steps if not (has_ways_below and step.way)]  # the others reach over the way
        yarns = max([0.0, *(self.after_letters(sheet, step) + self.name_width(sheet, step) for step in in_columns)])
        over = max(self.after_letters(sheet, step) for step in steps)
        self.way = self.yarn + max(yarns, sheet.wide("yarn", Face.SANS, small)) + GAP
        ways = [self.way_of(step) for step in in_columns] + [self.way_head]
        widest = max(sheet.wide(text, Face.SANS, size) for text in ways) + BOLDER
        widest = max(widest, self.yarn + over - self.way)
        self.total = self.way + widest + 1.2 + totals
        self.then = self.total + GAP
        thens = [sheet.wide(self.then_of(step), Face.SANS, size) for step in steps]
        self.right = max([self.total, *(self.then + wide for wide in thens if wide)])
        notes = (
            self.yarn + sheet.wide(note, Face.SANS, small) for step in steps for note in _below(step, has_ways_below)
        )
        self.right = max([self.right, *notes])

    def letters(self, sheet: Sheet, step: WindingStep) -> str:
        letters = [sheet.letters(yarn) for yarn in step.yarns]
        return stripe_words.turn_named(step.ends, letters, stripe_words.letters_of(letters))

    def after_letters(self, sheet: Sheet, step: WindingStep) -> float:
        """From the left edge of the letters to the name, which follows its own letters."""
        return sheet.wide(f"{self.letters(sheet, step)} ", Face.SANS_SEMIBOLD, sheet.sizes.body)

    def name_width(self, sheet: Sheet, step: WindingStep) -> float:
        is_named = self.has_names and len(step.yarns) == 1
        return sheet.wide(step.name, Face.SANS, sheet.sizes.body) if is_named else 0.0

    def then_of(self, step: WindingStep) -> str:
        """Told of all stripes above the list, it is told here only where a stripe goes on."""
        return step.then if self.has_starts or step.then == winding_words.GO_ON else ""

    def way_of(self, step: WindingStep) -> str:
        if step.start is None or step.stop is None:
            return step.way
        return f"{step.start} to {step.stop}" if self.has_starts else f"to {step.stop}"


def _head(sheet: Sheet, columns: _Columns, box: Box, *, is_first: bool) -> list[Mark]:
    size = sheet.sizes.small
    y = box.top + cap_height(size)
    at = (columns.ends, columns.swatch, columns.way, columns.total, columns.then)
    heads = (*winding_words.STEP_HEADS[:2], columns.way_head, *winding_words.STEP_HEADS[3:])
    told = [
        (x, text, right)
        for x, text, right in zip(at, heads, (1, 0, 0, 1, 0), strict=True)
        if text != winding_words.STEP_HEADS[-1] or columns.has_starts
    ]
    cells = [
        words_group(
            "header cell" if is_first else "cell", _cell(box, y, size),
            Words(box.left + x, y, text, Face.SANS, size, SOFT, "right" if right else "left"),
        )
        for x, text, right in told
    ]  # fmt: skip
    rule = box.top + cap_height(size) + 1.4
    return [row_group(cells), Line(box.left, rule, box.right, rule, RULE)]


def _cell(box: Box, y: float, size: float) -> Box:
    return Box(box.left, y - cap_height(size), box.width, leading(size))


def _row(sheet: Sheet, columns: _Columns, box: Box, y: float, step: WindingStep, line: float) -> list[Mark]:
    """A box to tick and the cells; below them where balls in turn wait."""
    size, left = sheet.sizes.body, box.left
    below = _below(step, columns.has_ways_below)
    room = Box(left, y - cap_height(size), box.width, _lines([step], columns.has_ways_below) * line)
    then = columns.then_of(step)
    last = [Words(left + columns.then, y, then, Face.SANS, size)] if then else []
    if step.note:
        foot = y + line * NOTE_LINE * len(below)
        last.append(Words(left + columns.yarn, foot, step.note, Face.SANS, sheet.sizes.small))
    ends = [Words(left + columns.ends, y, str(step.ends), Face.SANS_BOLD, size, align="right")]
    if step.of:
        ends.append(Words(left + columns.of, y, step.of, Face.SANS, size))
    totals = [Words(left + columns.total, y, str(step.total), Face.SANS_BOLD, size, align="right")]
    if not columns.has_starts:  # and no head for what then
        totals, last = [*totals, *last], []
    cells = [
        words_group("cell", room, *ends),
        words_group("cell", room, *_yarn(sheet, columns, left, y, step), alt=step.name),
        _way(sheet, columns, box, room, y, step, line),
        words_group("cell", room, *totals),
        *([words_group("cell", room, *last, alt=step.then_alt)] if last else []),
    ]
    return [
        *tick_square(left, y - cap_height(size) - 0.3, tick_side(size)),
        *_swatches(sheet, columns, left, y, step),
        row_group(cells),
    ]


def _swatches(sheet: Sheet, columns: _Columns, left: float, y: float, step: WindingStep) -> list[Mark]:
    top = y - cap_height(sheet.sizes.body) / 2 - SWATCH_HEIGHT / 2
    wide = SWATCH / len(step.yarns)
    boxes = [Box(left + columns.swatch + at * wide, top, wide, SWATCH_HEIGHT) for at in range(len(step.yarns))]
    return [mark for yarn, box in zip(step.yarns, boxes, strict=True) for mark in hatched_cell(box, sheet.inks[yarn])]


def _yarn(sheet: Sheet, columns: _Columns, left: float, y: float, step: WindingStep) -> list[Words]:
    size = sheet.sizes.body
    words = [Words(left + columns.yarn, y, columns.letters(sheet, step), Face.SANS_SEMIBOLD, size)]
    if columns.has_names and len(step.yarns) == 1:
        words.append(Words(words[0].x + columns.after_letters(sheet, step), y, step.name, Face.SANS, size))
    return words


def _way(sheet: Sheet, columns: _Columns, box: Box, room: Box, y: float, step: WindingStep, line: float) -> Group:
    """From which post to which; the far one in the accent."""
    way, size = box.left + columns.way, sheet.sizes.body
    if columns.has_ways_below and step.way:
        below = Words(box.left + columns.yarn, y + line * NOTE_LINE, step.way_below, Face.SANS, sheet.sizes.small)
        return words_group("cell", room, below, alt=step.way_alt)
    if step.start is None or step.stop is None:
        return words_group("cell", room, Words(way, y, step.way, Face.SANS, size), alt=step.way_alt)
    far = step.stop is Post.FAR
    start = columns.way_of(step).removesuffix(f" {step.stop}")
    stop_at = way + sheet.wide(f"{start} ", Face.SANS, size)
    stop = Words(stop_at, y, step.stop, Face.SANS_SEMIBOLD if far else Face.SANS, size, ACCENT if far else BLACK)
    return words_group("cell", room, Words(way, y, start, Face.SANS, size), stop)
