"""Kit tags: two columns of them on a sheet, to be cut apart along marks in the sheet's margins."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import Final, NamedTuple

from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, SOFT, WHITE
from cardmaker.layout.type_setting import Span, cap_height, fitting_size, leading, set_lines, wrapped
from cardmaker.model.card_layout import Paper
from cardmaker.model.marks import Box, Dot, Face, Group, Line, Page, Ruler, Words
from cardmaker.model.school_class import Kit, SchoolClass
from cardmaker.school import class_words
from cardmaker.school.handout_sheets import WHOLE, Size, student_plan
from cardmaker.wording.formatters import Units

COLUMNS: Final = 2
ROWS: Final = (6, 5, 4, 3, 2, 1)  # as many as let the longest tag stand in type of some size
MARGIN: Final = 15.0  # around the block of tags
MARK: Final = (5.0, 11.0)  # mm from the edge of the sheet: where cut marks begin and end
PAD: Final = 4.0
HOLE: Final = 2.2  # the radius of the circle for the tie
TITLE: Final = 16.0
SIZES: Final = (12.0, 11.5, 11.0, 10.5, 10.0)
SMALLEST: Final = 9.0  # for a name that is too long otherwise


class _Tagging(NamedTuple):
    """What all tags of a class have in common."""

    school_class: SchoolClass
    paper: Paper
    ruler: Ruler
    units: Units
    rows: int = ROWS[-1]
    size: float = SIZES[-1]

    @property
    def block(self) -> Box:
        return Box(MARGIN, MARGIN, self.paper.width_mm - 2 * MARGIN, self.paper.height_mm - 2 * MARGIN)

    @property
    def boxes(self) -> list[Box]:
        """The tags of one sheet, row by row."""
        block = self.block
        width, height = block.width / COLUMNS, block.height / self.rows
        places = ((row, column) for row in range(self.rows) for column in range(COLUMNS))
        return [Box(block.left + column * width, block.top + row * height, width, height) for row, column in places]


def compose_tags(
    school_class: SchoolClass, kits: Sequence[Kit], size: Size, ruler: Ruler, units: Units
) -> tuple[Page, ...]:
    """A tag for every kit, all set alike, twelve to a sheet unless they say too much for that."""
    tagging = _fitted(_Tagging(school_class, WHOLE[size], ruler, units), kits)
    boxes, title = tagging.boxes, class_words.sheet_title(school_class, class_words.TAGS)
    pages = []
    for start in range(0, len(kits), len(boxes)):
        some = kits[start : start + len(boxes)]
        tags = [_tag(tagging, kit, box) for kit, box in zip(some, boxes, strict=False)]
        whole = Box(0, 0, tagging.paper.width_mm, tagging.paper.height_mm)
        cuts = Group("artefact", "cut marks", whole, tuple(_cuts(tagging, ceil(len(some) / COLUMNS))))
        pages.append(Page(whole.width, whole.height, (*tags, cuts), title))
    return tuple(pages)


def _fitted(tagging: _Tagging, kits: Sequence[Kit]) -> _Tagging:
    """The most tags to a sheet, in the largest type, at which every one of them says everything."""
    for rows in ROWS:
        for size in SIZES:
            tried = tagging._replace(rows=rows, size=size)
            room = _words_box(tried.boxes[0])
            if all(len(_lines(tried, kit, room.width)) * leading(size) + 1.0 <= room.height for kit in kits):
                return tried
    return tagging


def _words_box(box: Box) -> Box:
    """The part of a tag below its name."""
    return box.inset(PAD, PAD + cap_height(TITLE) + 2.6, PAD, PAD)


def _cuts(tagging: _Tagging, rows: int) -> Iterator[Line]:
    """A short stroke in the margins at both ends of every cut; nothing is printed between the tags."""
    block, paper = tagging.block, tagging.paper
    start, stop = MARK
    for column in range(COLUMNS + 1):
        x = block.left + column * block.width / COLUMNS
        yield Line(x, start, x, stop, HAIRLINE, BLACK)
        yield Line(x, paper.height_mm - stop, x, paper.height_mm - start, HAIRLINE, BLACK)
    for row in range(rows + 1):
        y = block.top + row * block.height / tagging.rows
        yield Line(start, y, stop, y, HAIRLINE, BLACK)
        yield Line(paper.width_mm - stop, y, paper.width_mm - start, y, HAIRLINE, BLACK)


def _tag(tagging: _Tagging, kit: Kit, box: Box) -> Group:
    """Whose kit, which pattern, and what tells this warp from the others; a hole to tie it on by."""
    heading, room = _heading(tagging, kit, box.inset(PAD, PAD, PAD, PAD)), _words_box(box)
    lines, size = _lines(tagging, kit, room.width), tagging.size
    words = set_lines(lines, room.left, room.top + leading(size), size, tagging.ruler)
    hole = Dot(box.left + PAD + HOLE, box.top + PAD + HOLE, HOLE, WHITE, FAINT, HAIRLINE)
    return Group("panel", heading.name, box, (hole, heading, Group("paragraph", "kit", room, tuple(words))))


def _heading(tagging: _Tagging, kit: Kit, inner: Box) -> Group:
    """Name and number; the name as large as it fits beside the number."""
    ruler, number = tagging.ruler, class_words.kit(kit.number)
    name = kit.student.name if kit.student else class_words.SPARE_TAG
    left, baseline = inner.left + 2 * HOLE + 3.0, inner.top + cap_height(TITLE) + 0.2
    room = inner.right - left - ruler.width_mm(number, Face.SANS_BOLD, TITLE) - 4.0
    size = fitting_size(name, Face.SERIF_SEMIBOLD, TITLE, room, ruler, SMALLEST)
    words = (
        Words(left, baseline, name, Face.SERIF_SEMIBOLD, size),
        Words(inner.right, baseline, number, Face.SANS_BOLD, TITLE, align="right"),
    )
    box = Box(left, inner.top, inner.right - left, cap_height(TITLE) + 2.4)
    return Group("heading", f"{number}: {name}", box, words)


def _lines(tagging: _Tagging, kit: Kit, width: float) -> list[tuple[Span, ...]]:
    plan, school_class = student_plan(kit), tagging.school_class
    pattern, own = plan.pattern, kit.student.units if kit.student else None
    day = "  ·  ".join(part for part in (school_class.title, school_class.date) if part)
    rows = [
        [Span(pattern.title, Face.SANS_SEMIBOLD), Span(class_words.versioned(pattern))],
        *([Span(fact)] for fact in class_words.tag_facts(plan, own or tagging.units, left_hand=kit.left_hand)),
        [Span(class_words.tag_yarns(plan))],
        [Span(day, colour=SOFT)],
    ]
    return [line for row in rows for line in wrapped(row, tagging.size, width, tagging.ruler)]
