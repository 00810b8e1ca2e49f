"""Tapes side by side: cells of one size, each with the tape at life size at its left and a small card beside it.

As many stand on a page as let each say all that belongs to it, in type of one size on all pages; what finds no room
even then is told.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, floor
from typing import Final

from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.sheet import NO_CHOOSERS, Choosers
from cardmaker.layout.ink import BLACK, HAIRLINE, HEAVY, SOFT
from cardmaker.layout.transforms import shifted
from cardmaker.layout.type_setting import (
    Headline,
    SetLine,
    Span,
    cap_height,
    figure,
    headline,
    leading,
    set_lines,
    tail_depth,
    wrapped,
)
from cardmaker.layout.woven_face import Cloth, in_whole_picks, stamped_face
from cardmaker.layout.yarn_inks import Hatches, card_inks
from cardmaker.model.card_layout import CardLayout, CellSize, Paper, TypeSizes
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Page, Rectangle, Ruler, Words
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import record, replace
from cardmaker.model.viewpoint import FROM_SEAT
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording import shed_words, tape_words, title_words
from cardmaker.wording.formatters import Units

PAD: Final = 3.0  # mm from the line round a cell to what is in it
BESIDE_TAPE: Final = 4.0  # mm
TALLEST: Final = 2.4  # times as high as a cell must be: a few tapes do not fill a page
BELOW_HEAD: Final = 3.0  # mm
NAMES_SIDES: Final = "tape-steps"  # the panel that does
SHARES: Final = (1.0, 0.93, 0.86)  # of the type, the largest in which all cells say everything


@record
class Tape:
    """What a cell is about: the plan as its weaver sees it, and what is said of it besides."""

    plan: Plan
    said: tuple[str, ...] = ()
    choosers: Choosers = NO_CHOOSERS


@record
class SheetPages:
    """The pages; and for the tapes that lack something what that is, by their titles."""

    pages: tuple[Page, ...]
    left_out: tuple[tuple[str, tuple[str, ...]], ...]


class CellRefusal(Refusal):
    """A tape finds no room in a cell: its own file is to blame, whose ``places`` these are, not that of the sheet."""

    def __init__(self, refusal: Refusal, pattern: Pattern) -> None:
        super().__init__(refusal.path, f"{pattern.title}: {refusal.message}", refusal.remedy)
        self.places = pattern.places


@record
class _Setting:
    """What all pages have in common."""

    layout: CardLayout
    paper: Paper
    ruler: Ruler
    units: Units
    hatches: Hatches
    title: str
    seen: str
    note: str = ""  # below the cells of every page

    @property
    def cell(self) -> CellSize:
        if self.layout.cells is None:
            raise ValueError("a sheet's layout has cells")
        return self.layout.cells

    @property
    def name(self) -> Headline:
        """The title, a long one in smaller type and on more lines, beside what stands at its right."""
        sizes, whole = self.layout.type_sizes, self.layout.printable(self.paper)
        room = whole.width - self.ruler.width_mm(self.seen, Face.SANS, sizes.small) - BESIDE_TAPE
        return headline(self.title, sizes.title, sizes.smallest, room, self.ruler)

    @property
    def head(self) -> Box:
        whole = self.layout.printable(self.paper)
        high = max(self.name.height_mm, cap_height(self.layout.type_sizes.title))
        return whole.inset(bottom=whole.height - high - BELOW_HEAD - HEAVY)

    @property
    def block(self) -> Box:
        """The room for cells."""
        below = self.foot.height + BELOW_HEAD if self.note else 0.0
        return self.layout.printable(self.paper).inset(top=self.head.height + BELOW_HEAD, bottom=below)

    @property
    def foot_lines(self) -> list[SetLine]:
        """What is said of all tapes."""
        sizes, width = self.layout.type_sizes, self.layout.printable(self.paper).width
        return wrapped([Span(self.note)], sizes.smallest, width, self.ruler) if self.note else []

    @property
    def foot(self) -> Box:
        whole, size = self.layout.printable(self.paper), self.layout.type_sizes.smallest
        height = cap_height(size) + (len(self.foot_lines) - 1) * leading(size) + tail_depth(size)
        return whole.inset(top=whole.height - height)

    @property
    def columns(self) -> int:
        return max(1, floor(self.block.width / self.cell.width_mm))

    @property
    def most_rows(self) -> int:
        return max(1, floor(self.block.height / self.cell.height_mm))

    def boxes(self, rows: int, most: float) -> list[Box]:
        """The cells of a page, row by row, each ``most`` millimetres high."""
        block = self.block
        width, height = block.width / self.columns, min(block.height / rows, most)
        places = ((row, column) for row in range(rows) for column in range(self.columns))
        return [Box(block.left + column * width, block.top + row * height, width, height) for row, column in places]


def compose_tape_sheet(
    tapes: Sequence[Tape],
    layout: CardLayout,
    paper: Paper,
    ruler: Ruler,
    units: Units,
    hatches: Hatches,
    title: str = "",
    note: str = "",
    aside: str = "",
) -> SheetPages:
    """The tapes in the order given, from the top left on, and a ``note`` below them. At the right of the head stands an
    ``aside``, and where the cells name sides from where these are seen.

    Raises CellRefusal where what is essential finds no room.
    """
    seen = tape_words.seen_by([tape.plan for tape in tapes]) if NAMES_SIDES in layout.panels else ""
    setting = _Setting(
        layout, paper, ruler, units, hatches,
        tape_words.head_of_sheet(layout.title, title), tape_words.beside_head(aside, seen), note,
    )  # fmt: skip
    boxes, cells = _fitted(setting, tapes)
    rows = len(boxes) // setting.columns
    if (even := _even_rows(setting, len(tapes), rows)) < rows:
        boxes, cells = _fitted(setting, tapes, even)
    parts = _parts(len(tapes), ceil(len(tapes) / len(boxes)))
    pages = [_page(setting, tapes[part], cells[part], boxes) for part in parts]
    lacking = [(tape.plan.pattern.title, cell.left_out) for tape, cell in zip(tapes, cells, strict=True)]
    return SheetPages(tuple(pages), tuple(each for each in lacking if each[1]))


def _parts(count: int, pages: int) -> list[slice]:
    """Which tapes stand on each page, the first ones fuller by one where it cannot be even."""
    least, more = divmod(count, pages)
    starts = [page * least + min(page, more) for page in range(pages + 1)]
    return [slice(*each) for each in pairwise(starts)]


def _even_rows(setting: _Setting, count: int, rows: int) -> int:
    """So many rows that as few pages as that are about equally full."""
    pages = ceil(count / (rows * setting.columns))
    return ceil(ceil(count / pages) / setting.columns)


def _fitted(setting: _Setting, tapes: Sequence[Tape], most: int | None = None) -> tuple[list[Box], list[Composed]]:
    """The cells of a page, as many as let each say all that belongs to it, and what stands in each; of tapes with more
    to say than a cell holds, such as many names, taller ones."""
    needed = min(most or setting.most_rows, ceil(len(tapes) / setting.columns))
    usual, whole = TALLEST * setting.cell.height_mm, setting.block.height
    tries = [(rows, usual) for rows in range(needed, 0, -1)]
    taller = [(rows, whole) for rows in range(needed, 0, -1) if whole / rows > usual]
    refusal: CellRefusal | None = None
    best: tuple[list[Box], list[Composed]] | None = None
    for rows, height in (*tries, *taller):
        boxes = setting.boxes(rows, height)
        for share in SHARES:
            try:
                cells = _cells(setting, tapes, boxes[0], share)
            except CellRefusal as error:
                refusal = error
                continue
            if not any(_lacks(setting.layout, cell) for cell in cells):
                return boxes, cells
            best = best or (boxes, cells)
    if best is None:
        assert refusal is not None
        raise refusal
    return best


def _lacks(layout: CardLayout, cell: Composed) -> bool:
    return not set(layout.facts.front).isdisjoint(cell.left_out)


def _cells(setting: _Setting, tapes: Sequence[Tape], box: Box, share: float) -> list[Composed]:
    """Every tape's small card beside its tape, in so large a share of the type; where one is set in less, all are.

    Raises CellRefusal.
    """
    sizes = _shared(setting.layout.type_sizes, share)
    cells = [_composed(setting, tape, box, sizes) for tape in tapes]
    least = min((cell.sizes for cell in cells), key=lambda each: each.body)
    if all(cell.sizes == least for cell in cells):
        return cells
    return [
        cell if cell.sizes == least else _composed(setting, tape, box, least)
        for tape, cell in zip(tapes, cells, strict=True)
    ]


def _composed(setting: _Setting, tape: Tape, box: Box, sizes: TypeSizes) -> Composed:
    room = _words_box(tape, box)
    paper = Paper("a cell", room.width, room.height)
    layout = _of_cell(setting.layout, paper, sizes)
    try:
        return compose_card(
            tape.plan, layout, paper, setting.ruler, setting.units, hatches=setting.hatches, said=tape.said,
            choosers=tape.choosers,
        )  # fmt: skip
    except Refusal as refusal:
        raise CellRefusal(refusal, tape.plan.pattern) from None


def _shared(sizes: TypeSizes, share: float) -> TypeSizes:
    """The sizes a share as large, and the smallest as it is."""
    names = ("title", "count", "heading", "body", "small")
    return replace(sizes, **{name: max(sizes.smallest, getattr(sizes, name) * share) for name in names})


def _of_cell(layout: CardLayout, paper: Paper, sizes: TypeSizes) -> CardLayout:
    """The layout of the small card: no margins, and nothing in them."""
    return replace(
        layout, papers=(paper,), margin_mm=0.0, binding_mm=0.0, binding_side="none", type_sizes=sizes, ribbon=False,
        notch=False, punch="none",
    )  # fmt: skip


def _tape_width(tape: Tape) -> float:
    return float(tape.plan.width.likely_mm)


def _words_box(tape: Tape, box: Box) -> Box:
    return box.inset(PAD, PAD, PAD, PAD).inset(left=_tape_width(tape) + BESIDE_TAPE)


def _page(setting: _Setting, tapes: Sequence[Tape], cells: Sequence[Composed], boxes: Sequence[Box]) -> Page:
    groups = [_cell(setting, *each) for each in zip(tapes, cells, boxes, strict=False)]
    whole = Box(0.0, 0.0, setting.paper.width_mm, setting.paper.height_mm)
    lines = Group("artefact", "lines", whole, tuple(_lines(setting, boxes[: len(tapes)])))
    return Page(whole.width, whole.height, (*_head(setting), *groups, *_foot(setting), lines), setting.title)


def _head(setting: _Setting) -> Iterator[Mark]:
    """The title over a heavy rule, and at its right for whom all is told."""
    head, sizes, name = setting.head, setting.layout.type_sizes, setting.name
    last = head.bottom - BELOW_HEAD - HEAVY
    first = last - (name.height_mm - cap_height(name.size))
    aside = Words(head.right, last, setting.seen, Face.SANS, sizes.small, SOFT, "right")
    room = head.width - setting.ruler.width_mm(setting.seen, Face.SANS, sizes.small) - BESIDE_TAPE
    lines = set_lines(name.lines, head.left, first, name.size, setting.ruler)
    yield Group("title", "", head.inset(right=head.width - room), tuple(lines))
    if setting.seen:
        yield Group("paragraph", "seen", head.inset(left=room), (aside,))
    rule = Line(head.left, head.bottom, head.right, head.bottom, HEAVY)
    yield Group("artefact", "rule", head, (rule,))


def _foot(setting: _Setting) -> Iterator[Group]:
    """What is said of all tapes, below them."""
    if setting.note:
        foot, size = setting.foot, setting.layout.type_sizes.smallest
        words = set_lines(setting.foot_lines, foot.left, foot.top + cap_height(size), size, setting.ruler)
        yield Group("paragraph", "note", foot, tuple(words))


def _cell(setting: _Setting, tape: Tape, composed: Composed, box: Box) -> Group:
    words = _words_box(tape, box)
    marks = [_below_title(mark) for mark in shifted(composed.page.marks, words.left, words.top)]
    return Group(
        "panel", title_words.card_title(tape.plan.pattern), box, (*marks[:1], _face(setting, tape, box), *marks[1:])
    )


def _below_title(mark: Mark) -> Mark:
    """The page has one title: the names of the tapes are headings."""
    if not isinstance(mark, Group):
        return mark
    role = "heading" if mark.role == "title" else mark.role
    return replace(mark, role=role, marks=tuple(map(_below_title, mark.marks)))


def _face(setting: _Setting, tape: Tape, box: Box) -> Group:
    """The tape at life size, as long as the cell allows, as it grows before the weaver."""
    plan = plan_as_seen(tape.plan, FROM_SEAT)
    inside = box.inset(PAD, PAD, PAD, PAD)
    place = inside.inset(right=inside.width - _tape_width(tape))
    place = in_whole_picks(plan, place, 1.0)
    cloth = Cloth(plan, card_inks(plan.pattern, setting.hatches))
    edge = Rectangle(place, stroke=BLACK, width=HAIRLINE)
    return figure("tape", place, [*stamped_face(cloth, place, 1.0), edge], shed_words.sheds_alt_text(plan))


def _lines(setting: _Setting, boxes: Sequence[Box]) -> Iterator[Line]:
    """Between cells, and below the last ones."""
    for box in boxes:
        yield Line(box.left, box.bottom, box.right, box.bottom, HAIRLINE, BLACK)
        if box.right < setting.block.right - 1:
            yield Line(box.right, box.top + PAD, box.right, box.bottom - PAD, HAIRLINE, BLACK)
