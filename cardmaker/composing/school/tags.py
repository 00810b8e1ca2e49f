"""Kit tags: two columns of them on a sheet, to be cut apart along marks in the sheet's margins."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from cardmaker.composing import class_words as said
from cardmaker.composing.ink import BLACK, FAINT, HAIRLINE, SOFT, WHITE
from cardmaker.composing.measures import Units
from cardmaker.composing.pages.leaf import capitals
from cardmaker.composing.school.handouts import WHOLE, Size, seen_plan
from cardmaker.composing.setting import Span, leading, set_lines, shortened, wrapped
from cardmaker.geometry import Box
from cardmaker.nouns.card_layout import Paper
from cardmaker.nouns.marks import Dot, Face, Group, Line, Mark, Page, Words
from cardmaker.nouns.ruler import Ruler
from cardmaker.nouns.school_class import Kit, SchoolClass

COLUMNS, ROWS = 2, 5
MARGIN: Final = 15.0  # around the block of tags
MARK: Final = (5.0, 11.0)  # mm from the edge of the sheet: where cut marks begin and end
PAD: Final = 5.0
HOLE: Final = 2.2  # the radius of the circle for the tie
TITLE, NUMBER, BODY, SMALLEST = 13.0, 13.0, 10.0, 9.0


def compose_tags(
    school_class: SchoolClass, kits: Sequence[Kit], size: Size, ruler: Ruler, units: Units
) -> tuple[Page, ...]:
    """A tag for every kit, ten to a sheet."""
    paper, on_sheet = WHOLE[size], COLUMNS * ROWS
    title = said.page_title(school_class, said.TAGS)
    pages = []
    for start in range(0, len(kits), on_sheet):
        some = kits[start : start + on_sheet]
        boxes = _boxes(paper)
        tags = [_tag(kit, school_class, box, ruler, units) for kit, box in zip(some, boxes, strict=False)]
        whole = Box(0, 0, paper.width_mm, paper.height_mm)
        cuts = Group("artefact", "cut marks", whole, tuple(_cuts(paper)))
        pages.append(Page(paper.width_mm, paper.height_mm, (*tags, cuts), title))
    return tuple(pages)


def _block(paper: Paper) -> Box:
    return Box(MARGIN, MARGIN, paper.width_mm - 2 * MARGIN, paper.height_mm - 2 * MARGIN)


def _boxes(paper: Paper) -> list[Box]:
    block = _block(paper)
    width, height = block.width / COLUMNS, block.height / ROWS
    return [
        Box(block.left + column * width, block.top + row * height, width, height)
        for row in range(ROWS)
        for column in range(COLUMNS)
    ]


def _cuts(paper: Paper) -> Iterator[Line]:
    """A short stroke in the margins at both ends of every cut; nothing is printed between the tags."""
    block = _block(paper)
    start, stop = MARK
    for column in range(COLUMNS + 1):
        x = block.left + column * block.width / COLUMNS
        yield Line(x, start, x, stop, HAIRLINE, BLACK)
        yield Line(x, paper.height_mm - stop, x, paper.height_mm - start, HAIRLINE, BLACK)
    for row in range(ROWS + 1):
        y = block.top + row * block.height / ROWS
        yield Line(start, y, stop, y, HAIRLINE, BLACK)
        yield Line(paper.width_mm - stop, y, paper.width_mm - start, y, HAIRLINE, BLACK)


def _tag(kit: Kit, school_class: SchoolClass, box: Box, ruler: Ruler, units: Units) -> Group:
    """Whose kit, which pattern, and what tells this warp from the others; a hole to tie it on by."""
    inner = box.inset(PAD, PAD, PAD, PAD)
    own = kit.student.units if kit.student else None
    plan = seen_plan(kit)
    name = kit.student.name if kit.student else said.SPARE
    number = said.kit(kit.number)
    hole = Dot(inner.left + HOLE, inner.top + HOLE, HOLE, WHITE, FAINT, HAIRLINE)
    left = inner.left + 2 * HOLE + 3.0
    first = inner.top + capitals(TITLE) + 0.4
    room = inner.right - left - ruler.width_mm(number, Face.SANS_BOLD, NUMBER) - 4.0
    size = shortened(name, Face.SERIF_SEMIBOLD, TITLE, room, ruler, SMALLEST)
    heading = Group(
        "heading",
        name,
        Box(left, inner.top, inner.right - left, capitals(TITLE) + 2.0),
        (
            Words(left, first, name, Face.SERIF_SEMIBOLD, size),
            Words(inner.right, first, number, Face.SANS_BOLD, NUMBER, align="right"),
        ),
    )
    top = first + 2.4
    words = _paragraph(kit, school_class, Box(inner.left, top, inner.width, inner.bottom - top), ruler, own or units)
    title = f"{number}: {name}, {plan.pattern.title}"
    return Group("panel", title, box, (hole, heading, words))


def _paragraph(kit: Kit, school_class: SchoolClass, box: Box, ruler: Ruler, units: Units) -> Group:
    """The facts, in type as large as lets all of them stand on the tag; the yarns give way last."""
    size = BODY
    while size > SMALLEST and _height(_lines(kit, school_class, size, box.width, ruler, units), size) > box.height:
        size -= 0.5
    lines = _lines(kit, school_class, size, box.width, ruler, units)
    while _height(lines, size) > box.height and len(lines) > 1:
        lines.pop(-2)
    marks: list[Mark] = list(set_lines(lines, box.left, box.top + leading(size), size, ruler))
    return Group("paragraph", "kit", box, tuple(marks))


def _height(lines: Sequence[tuple[Span, ...]], size: float) -> float:
    return len(lines) * leading(size) + 1.0


def _lines(
    kit: Kit, school_class: SchoolClass, size: float, width: float, ruler: Ruler, units: Units
) -> list[tuple[Span, ...]]:
    plan = seen_plan(kit)
    pattern = plan.pattern
    day = "  ·  ".join(part for part in (school_class.title, school_class.date) if part)
    hand = f" · {said.hand(True)}" if kit.left_hand else ""
    spans = [
        [Span(pattern.title, Face.SANS_SEMIBOLD), Span(said.versioned(pattern))],
        *([Span(fact)] for fact in said.tag_facts(plan, units)),
        [Span(said.tag_yarns(plan))],
        [Span(f"{day}{hand}", colour=SOFT)],
    ]
    return [line for row in spans for line in wrapped(row, size, width, ruler)]
