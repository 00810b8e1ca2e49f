"""Labels for the table: beside each tape its name, what it is for, and the honest sentence of its grade; to be cut
apart along marks in the sheet's margins."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Final, NamedTuple

from cardmaker.events import event_words
from cardmaker.layout.cut_sheets import CutGrid
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
from cardmaker.layout.woven_face import Cloth, in_whole_picks, stamped_face
from cardmaker.layout.yarn_inks import Hatches, card_inks
from cardmaker.model.event import Event
from cardmaker.model.marks import Box, Face, Group, Mark, Page, Rectangle, Ruler, Words
from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import FROM_SEAT
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.school.handout_sheets import WHOLE, Size
from cardmaker.wording import source_words, title_words
from cardmaker.wording.formatters import Units

GRIDS: Final = ((2, 4), (2, 3), (2, 2), (1, 3), (1, 2), (1, 1))  # columns and rows, the most labels first
PAD: Final = 5.0
BESIDE_TAPE: Final = 6.0
LEAST_WORDS: Final = 45.0  # mm: what words have beside a tape; a wider one is not drawn, it lies there
TITLE, SMALLEST_TITLE = 24.0, 16.0  # read by somebody who stands before a table
SIZES: Final = (15.0, 14.0, 13.0, 12.0)
FOOT: Final = 9.0


class _Labelling(NamedTuple):
    """What all labels of an event have in common."""

    event: Event
    ruler: Ruler
    units: Units
    hatches: Hatches
    grid: CutGrid
    size: float = SIZES[-1]


def compose_labels(
    event: Event, plans: Sequence[Plan], size: Size, ruler: Ruler, units: Units, hatches: Hatches
) -> tuple[Page, ...]:
    """A label for every tape, all set alike, as many to a sheet as what they say lets stand on it."""
    setting = _fitted_labels(_Labelling(event, ruler, units, hatches, CutGrid(WHOLE[size], *GRIDS[-1])), plans)
    grid, title = setting.grid, event_words.document_title(event, event_words.LABELS)
    boxes, pages = grid.boxes, []
    for start in range(0, len(plans), len(boxes)):
        some = plans[start : start + len(boxes)]
        labels = [_label(setting, plan, box) for plan, box in zip(some, boxes, strict=False)]
        whole = Box(0, 0, grid.paper.width_mm, grid.paper.height_mm)
        cuts = Group("artefact", "cut marks", whole, tuple(grid.cut_marks(ceil(len(some) / grid.columns))))
        pages.append(Page(whole.width, whole.height, (*labels, cuts), title))
    return tuple(pages)


def _fitted_labels(setting: _Labelling, plans: Sequence[Plan]) -> _Labelling:
    """The most labels to a sheet, in the largest type, at which every one of them says everything."""
    for columns, rows in GRIDS:
        for size in SIZES:
            tried = setting._replace(grid=CutGrid(setting.grid.paper, columns, rows), size=size)
            if all(_holds(tried, plan) for plan in plans):
                return tried
    return setting


def _holds(setting: _Labelling, plan: Plan) -> bool:
    room = _room(setting.grid.boxes[0])
    is_narrow = _tape_mm(plan) + BESIDE_TAPE + LEAST_WORDS > room.width
    if is_narrow and setting.grid.columns > 1:
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
    place = in_whole_picks(seen, place, 1.0)
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
