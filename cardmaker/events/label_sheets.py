"""Labels for the table: beside each tape its name, what it is for, and the honest sentence of its grade; to be cut
apart along marks in the sheet's margins."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import Final, NamedTuple

from cardmaker.events import event_words
from cardmaker.layout.ink import BLACK, HAIRLINE
from cardmaker.layout.stacking import Part, draw_stack, exactly, stack_heights
from cardmaker.layout.type_setting import (
    Span,
    cap_height,
    figure,
    headline,
    leading,
    set_lines,
    tail_depth,
    text_height,
    wrapped,
)
from cardmaker.layout.woven_face import Cloth, stamped_face
from cardmaker.layout.yarn_inks import Hatches, card_inks
from cardmaker.model.card_layout import Paper
from cardmaker.model.event import Event
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Page, Rectangle, Ruler, Words
from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import FROM_SEAT
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.school.handout_sheets import WHOLE, Size
from cardmaker.wording import source_words, title_words
from cardmaker.wording.formatters import Units

GRIDS: Final = ((2, 4), (2, 3), (2, 2), (1, 3), (1, 2), (1, 1))  # columns and rows, the most labels first
MARGIN: Final = 15.0
MARK: Final = (5.0, 11.0)  # mm from the edge of the sheet: where cut marks begin and end
PAD: Final = 5.0
BESIDE_TAPE: Final = 6.0
LEAST_WORDS: Final = 45.0  # mm: what words have beside a tape; a wider one is not drawn, it lies there
TITLE, SMALLEST_TITLE = 24.0, 16.0  # read by somebody who stands before a table
SIZES: Final = (15.0, 14.0, 13.0, 12.0)
FOOT: Final = 9.0


class _Labelling(NamedTuple):
    """What all labels of an event have in common."""

    event: Event
    paper: Paper
    ruler: Ruler
    units: Units
    hatches: Hatches
    grid: tuple[int, int] = GRIDS[-1]
    size: float = SIZES[-1]

    @property
    def block(self) -> Box:
        return Box(MARGIN, MARGIN, self.paper.width_mm - 2 * MARGIN, self.paper.height_mm - 2 * MARGIN)

    @property
    def boxes(self) -> list[Box]:
        """The labels of one sheet, row by row."""
        block, (columns, rows) = self.block, self.grid
        width, height = block.width / columns, block.height / rows
        places = ((row, column) for row in range(rows) for column in range(columns))
        return [Box(block.left + column * width, block.top + row * height, width, height) for row, column in places]


def compose_labels(
    event: Event, plans: Sequence[Plan], size: Size, ruler: Ruler, units: Units, hatches: Hatches
) -> tuple[Page, ...]:
    """A label for every tape, all set alike, as many to a sheet as what they say lets stand on it."""
    setting = _fitted_labels(_Labelling(event, WHOLE[size], ruler, units, hatches), plans)
    boxes, title = setting.boxes, event_words.document_title(event, event_words.LABELS)
    pages = []
    for start in range(0, len(plans), len(boxes)):
        some = plans[start : start + len(boxes)]
        labels = [_label(setting, plan, box) for plan, box in zip(some, boxes, strict=False)]
        whole = Box(0, 0, setting.paper.width_mm, setting.paper.height_mm)
        cuts = Group("artefact", "cut marks", whole, tuple(_cut_marks(setting, ceil(len(some) / setting.grid[0]))))
        pages.append(Page(whole.width, whole.height, (*labels, cuts), title))
    return tuple(pages)


def _fitted_labels(setting: _Labelling, plans: Sequence[Plan]) -> _Labelling:
    """The most labels to a sheet, in the largest type, at which every one of them says everything."""
    for grid in GRIDS:
        for size in SIZES:
            tried = setting._replace(grid=grid, size=size)
            if all(_holds(tried, plan) for plan in plans):
                return tried
    return setting


def _holds(setting: _Labelling, plan: Plan) -> bool:
    room = _room(setting.boxes[0])
    is_narrow = _tape_mm(plan) + BESIDE_TAPE + LEAST_WORDS > room.width
    if is_narrow and setting.grid[0] > 1:
        return False
    words = _words_room(plan, room)
    return stack_heights(_parts(setting, plan, words.width)).least <= words.height


def _room(box: Box) -> Box:
    return box.inset(PAD, PAD, PAD, PAD)


def _tape_mm(plan: Plan) -> float:
    return float(plan.width.likely_mm)


def _tape_box(plan: Plan, room: Box) -> Box | None:
    """Where the tape is drawn at the left; None for one that leaves too little beside it."""
    if _tape_mm(plan) + BESIDE_TAPE + LEAST_WORDS > room.width:
        return None
    return room.inset(right=room.width - _tape_mm(plan))


def _words_room(plan: Plan, room: Box) -> Box:
    tape = _tape_box(plan, room)
    return room.inset(left=tape.width + BESIDE_TAPE) if tape else room


def _cut_marks(setting: _Labelling, rows: int) -> Iterator[Line]:
    """A short stroke in the margins at both ends of every cut."""
    block, paper, (columns, all_rows) = setting.block, setting.paper, setting.grid
    start, stop = MARK
    for column in range(columns + 1):
        x = block.left + column * block.width / columns
        yield Line(x, start, x, stop, HAIRLINE, BLACK)
        yield Line(x, paper.height_mm - stop, x, paper.height_mm - start, HAIRLINE, BLACK)
    for row in range(rows + 1):
        y = block.top + row * block.height / all_rows
        yield Line(start, y, stop, y, HAIRLINE, BLACK)
        yield Line(paper.width_mm - stop, y, paper.width_mm - start, y, HAIRLINE, BLACK)


def _label(setting: _Labelling, plan: Plan, box: Box) -> Group:
    room = _room(box)
    tape = _tape_box(plan, room)
    drawn = [] if tape is None else [_tape(setting, plan, tape)]
    words = _words_room(plan, room)
    marks = draw_stack(_parts(setting, plan, words.width), words)
    return Group("panel", title_words.card_title(plan.pattern), box, (*marks[:1], *drawn, *marks[1:]))


def _tape(setting: _Labelling, plan: Plan, place: Box) -> Group:
    """The tape at life size, as long as the label is high."""
    seen = plan_as_seen(plan, FROM_SEAT)
    cloth = Cloth(seen, card_inks(seen.pattern, setting.hatches))
    edge = Rectangle(place, stroke=BLACK, width=HAIRLINE)
    return figure("tape", place, [*stamped_face(cloth, place, 1.0), edge], event_words.label_tape_alt_text(seen))


def _parts(setting: _Labelling, plan: Plan, width: float) -> list[Part]:
    """Name, use and width, how the tape may be spoken of, and whose sample it is."""
    between = leading(setting.size) * 0.75
    said = [Span(source_words.source_sentence(plan.pattern.source), Face.SANS_SEMIBOLD)]
    use = [Span(event_words.label_sentence(plan, setting.units))]
    marked = event_words.foot_of_event(setting.event)
    return [
        _name_part(setting, plan, width),
        _label_words(setting, said, setting.size, width, between),
        _label_words(setting, use, setting.size, width, between),
        *([_label_words(setting, [Span(marked)], FOOT, width, between)] if marked else []),
    ]


def _name_part(setting: _Labelling, plan: Plan, width: float) -> Part:
    name = headline(plan.pattern.title, TITLE, SMALLEST_TITLE, width, setting.ruler)

    def draw(box: Box) -> list[Mark]:
        words = set_lines(name.lines, box.left, box.top + cap_height(name.size), name.size, setting.ruler)
        return [Group("heading", plan.pattern.title, box, tuple(words))]

    return Part(exactly(name.height_mm + tail_depth(name.size)), draw)


def _label_words(setting: _Labelling, spans: Sequence[Span], size: float, width: float, above: float) -> Part:
    lines = wrapped(spans, size, width, setting.ruler)

    def draw(box: Box) -> list[Mark]:
        words: tuple[Words, ...] = tuple(set_lines(lines, box.left, box.top + cap_height(size), size, setting.ruler))
        return [Group("paragraph", "label", box, words)]

    return Part(exactly(text_height(len(lines), size)), draw, above=above)
