"""Kit tags: two columns of them on a sheet, to be cut apart along marks in the sheet's margins."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil
from typing import Final, NamedTuple

from cardmaker.layout.cut_sheets import CutGrid
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, OUTLINE, SOFT, WHITE, Ink
from cardmaker.layout.lettering import cell_holds, hatched_cell, lettered_cell
from cardmaker.layout.stacking import Part, draw_stack, exactly, stack_heights
from cardmaker.layout.type_setting import (
    SetLine,
    Span,
    cap_height,
    figure,
    headline,
    leading,
    set_lines,
    side_by_side,
    tail_depth,
    text_height,
    wrapped,
)
from cardmaker.layout.yarn_inks import Hatches, card_inks
from cardmaker.model.card_layout import Paper
from cardmaker.model.marks import Box, Dot, Face, Group, Mark, Page, Rectangle, Ruler, Words
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.model.school_class import Kit, SchoolClass
from cardmaker.school import class_words, kit_words
from cardmaker.school.handout_sheets import WHOLE, Size, student_plan
from cardmaker.wording import stripe_words
from cardmaker.wording.formatters import Units

COLUMNS: Final = 2
ROWS: Final = (6, 5, 4, 3, 2, 1)  # as many as let the longest tag stand in type of some size
PAD: Final = 3.0
HOLE: Final = 2.2  # the radius of the circle for the tie
TITLE: Final = 16.0
SIZES: Final = (12.0, 11.5, 11.0, 10.5, 10.0)
SMALLEST: Final = 9.0  # for a long name, and letters on stripes
STRIPES: Final = 5.0  # mm: how high they are drawn
LEAST_OUTLINED, LEAST_HATCHED = 0.8, 1.2  # mm: narrower stripes are left to their colour
SWATCH, AFTER_SWATCH, BETWEEN_YARNS = 5.0, 1.2, 4.0


class _Tagging(NamedTuple):
    """What all tags of a class have in common."""

    school_class: SchoolClass
    paper: Paper
    ruler: Ruler
    units: Units
    hatches: Hatches
    rows: int = ROWS[-1]
    size: float = SIZES[-1]

    @property
    def grid(self) -> CutGrid:
        return CutGrid(self.paper, COLUMNS, self.rows)


def compose_tags(
    school_class: SchoolClass, kits: Sequence[Kit], size: Size, ruler: Ruler, units: Units, hatches: Hatches
) -> tuple[Page, ...]:
    """A tag for every kit, all set alike, as many to a sheet as what they say lets stand on it."""
    tagging = _fitted(_Tagging(school_class, WHOLE[size], ruler, units, hatches), kits)
    boxes, title = tagging.grid.boxes, class_words.sheet_title(school_class, class_words.TAGS)
    pages = []
    for start in range(0, len(kits), len(boxes)):
        some = kits[start : start + len(boxes)]
        tags = [_tag(tagging, kit, box) for kit, box in zip(some, boxes, strict=False)]
        whole = Box(0, 0, tagging.paper.width_mm, tagging.paper.height_mm)
        cuts = Group("artefact", "cut marks", whole, tuple(tagging.grid.cut_marks(ceil(len(some) / COLUMNS))))
        pages.append(Page(whole.width, whole.height, (*tags, cuts), title))
    return tuple(pages)


def _fitted(tagging: _Tagging, kits: Sequence[Kit]) -> _Tagging:
    """The most tags to a sheet, in the largest type, at which every one of them says everything."""
    for rows in ROWS:
        for size in SIZES:
            tried = tagging._replace(rows=rows, size=size)
            room = tried.grid.boxes[0].inset(PAD, PAD, PAD, PAD)
            if all(stack_heights(_parts(tried, kit, room.width)).least <= room.height for kit in kits):
                return tried
    return tagging


def _tag(tagging: _Tagging, kit: Kit, box: Box) -> Group:
    """Whose kit, its stripes, which pattern, and what tells this warp from the others; a hole to tie it on by."""
    room = box.inset(PAD, PAD, PAD, PAD)
    hole = Dot(room.left + HOLE, room.top + HOLE, HOLE, WHITE, FAINT, HAIRLINE)
    return Group("panel", _name(kit), box, (hole, *draw_stack(_parts(tagging, kit, room.width), room)))


def _parts(tagging: _Tagging, kit: Kit, width: float) -> list[Part]:
    plan = student_plan(kit)
    inks = card_inks(plan.pattern, tagging.hatches)
    first, last = _first_words(tagging, kit, plan), _last_words(tagging)
    holds = [[Span(kit_words.kit_holds(plan, tagging.school_class.done, brief=True))]]
    between = leading(tagging.size) - text_height(1, tagging.size)
    return [
        _heading(tagging, kit, width),
        Part(exactly(STRIPES), lambda box: [_stripes(plan, inks, tagging, box)], above=1.8),
        _words_part(tagging, first, width, above=1.7),
        _yarns_part(tagging, plan, inks, width),
        _words_part(tagging, holds, width, above=between),
        _words_part(tagging, last, width, above=between),
    ]


def _name(kit: Kit) -> str:
    return f"{class_words.numbered(kit.number)}: {kit.student.name if kit.student else class_words.SPARE_TAG}"


def _heading(tagging: _Tagging, kit: Kit, width: float) -> Part:
    """Name and number; the name as large as it fits beside the number, a long one on more lines."""
    ruler, number = tagging.ruler, class_words.numbered(kit.number)
    left = 2 * HOLE + 3.0
    room = width - left - ruler.width_mm(number, Face.SANS_BOLD, TITLE) - 4.0
    name = headline(kit.student.name if kit.student else class_words.SPARE_TAG, TITLE, SMALLEST, room, ruler)
    high = max(name.height_mm, cap_height(TITLE)) + tail_depth(name.size)

    def draw(box: Box) -> list[Mark]:
        baseline = box.top + cap_height(TITLE if len(name.lines) == 1 else name.size)
        words = set_lines(name.lines, box.left + left, baseline, name.size, ruler)
        right = Words(box.right, box.top + cap_height(TITLE), number, Face.SANS_BOLD, TITLE, align="right")
        return [Group("heading", _name(kit), box.inset(left=left), (*words, right))]

    return Part(exactly(max(high, 2 * HOLE)), draw)


def _stripes(plan: Plan, inks: Mapping[str, Ink], tagging: _Tagging, box: Box) -> Group:
    """The warp as it lies, every stripe in its yarn's colour and hatching, with letters and count where they fit."""
    end = box.width / plan.ends
    marks: list[Mark] = []
    for run in plan.runs:
        cell = Box(box.left + (run.first_end - 1) * end, box.top, run.ends * end, box.height)
        marks += _stripe(
            cell, inks[run.yarn], (f"{plan.letters(run.yarn)} {run.ends}", plan.letters(run.yarn)), tagging
        )
    marks.append(Rectangle(box, stroke=BLACK, width=OUTLINE))
    return figure("stripes", box, marks, stripe_words.stripes_seen_alt_text(plan))


def _stripe(cell: Box, ink: Ink, labels: Sequence[str], tagging: _Tagging) -> list[Mark]:
    for label in labels:
        if cell_holds(cell, label, tagging.ruler, Face.SANS_SEMIBOLD, SMALLEST):
            return lettered_cell(cell, label, ink, tagging.ruler, Face.SANS_SEMIBOLD, SMALLEST)
    return _filled(cell, ink) if cell.width > LEAST_OUTLINED else [Rectangle(cell, fill=ink.fill)]


def _filled(cell: Box, ink: Ink) -> list[Mark]:
    return hatched_cell(cell, ink if cell.width > LEAST_HATCHED else replace(ink, slopes=()))


def _words_part(tagging: _Tagging, rows: Sequence[list[Span]], width: float, above: float) -> Part:
    """Rows of words, each beginning a line."""
    size, ruler = tagging.size, tagging.ruler
    lines = [line for row in rows for line in wrapped(row, size, width, ruler)]

    def draw(box: Box) -> list[Mark]:
        words = set_lines(lines, box.left, box.top + cap_height(size), size, ruler)
        return [Group("paragraph", "kit", box, tuple(words))]

    return Part(exactly(text_height(len(lines), size)), draw, above=above)


def _first_words(tagging: _Tagging, kit: Kit, plan: Plan) -> list[list[Span]]:
    pattern, own = plan.pattern, kit.student.units if kit.student else None
    return [
        [Span(pattern.title, Face.SANS_SEMIBOLD), Span(class_words.versioned(pattern))],
        *([Span(fact)] for fact in class_words.tag_facts(plan, own or tagging.units, left_hand=kit.left_hand)),
    ]


def _last_words(tagging: _Tagging) -> list[list[Span]]:
    school_class = tagging.school_class
    return [[Span("  ·  ".join(part for part in (school_class.title, school_class.date) if part), colour=SOFT)]]


class _YarnLine(NamedTuple):
    """A yarn beside its swatch; its words wrap when they are longer than a line."""

    yarn: str
    lines: list[SetLine]
    width: float


def _yarns_part(tagging: _Tagging, plan: Plan, inks: Mapping[str, Ink], width: float) -> Part:
    """Every yarn with its swatch, its letters and its ends, side by side."""
    size = tagging.size
    items = [_yarn_line(yarn, text, tagging, width) for yarn, text in class_words.tag_yarns(plan)]
    rows = side_by_side(items, lambda item: item.width, BETWEEN_YARNS, width)
    counts = [max(len(item.lines) for item in row) for row in rows]

    def draw(box: Box) -> list[Mark]:
        words: list[Words] = []
        swatches: list[Mark] = []
        for number, row in enumerate(rows):
            left, baseline = box.left, box.top + cap_height(size) + sum(counts[:number]) * leading(size)
            for item in row:
                cell = Box(left, baseline - cap_height(size) - 0.2, SWATCH, cap_height(size) + 0.4)
                swatches += _filled(cell, inks[item.yarn])
                words += set_lines(item.lines, cell.right + AFTER_SWATCH, baseline, size, tagging.ruler)
                left += item.width + BETWEEN_YARNS
        return [*swatches, Group("paragraph", "yarns", box, tuple(words))]

    return Part(exactly(text_height(sum(counts), size)), draw, above=leading(size) - text_height(1, size))


def _yarn_line(yarn: str, text: str, tagging: _Tagging, width: float) -> _YarnLine:
    before = SWATCH + AFTER_SWATCH
    lines = wrapped([Span(text)], tagging.size, width - before, tagging.ruler)
    wide = max(tagging.ruler.width_mm(span.text, span.face, tagging.size) for line in lines for span in line)
    return _YarnLine(yarn, lines, before + wide)
