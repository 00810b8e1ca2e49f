"""The page before a section: its name, its text, and its tapes hanging at life size, each with its name and facts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil
from typing import Final

from cardmaker.binder import binder_words
from cardmaker.binder.arranging import SectionHeading
from cardmaker.binder.page_numbers import Text, unnumbered
from cardmaker.binder.tape_cells import BETWEEN, Grid, TapeCell, tape_rows, words_height
from cardmaker.layout.pages.blocks import Block, Gap, Heading, Paragraph
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running, room_below
from cardmaker.layout.type_setting import Span, leading
from cardmaker.model.binder_contents import Entry
from cardmaker.wording import phrases
from cardmaker.wording.formatters import Units

LEAST_HANGING, MOST_HANGING = (
    25.0,
    0.62,
)  # mm, and of what the page's head leaves of it: how far the tapes of a section hang
LEAST_CELL, MOST_CELL = 31.0, 56.0  # mm: the room of one, which its words need, and beyond which they part from it
ABOVE_PICTURE: Final = 2.0


def divider(heading: SectionHeading, numbers: Mapping[str, str], leaf: Leaf, units: Units) -> Text:
    """The page before a section: its name, its text, and its tapes at life size, each named and leading to its card."""
    running = Running(heading.title, binder_words.section_aside(heading.entries, units), number=unnumbered)
    blocks: list[Block] = [Paragraph((Span(text),)) for text in phrases.text_paragraphs(heading.text)]
    if heading.entries:
        cells = [_tape_cell(entry, numbers[entry.anchor], leaf, units) for entry in heading.entries]
        free, whole = (room_below(above, leaf, running) - 2 * ABOVE_PICTURE for above in (blocks, []))
        blocks += [Gap(ABOVE_PICTURE), *_hanging(cells, leaf, free, whole)]
    return Text(blocks, running)


def opening(heading: SectionHeading, numbers: Mapping[str, str], back: Text, leaf: Leaf) -> Text:
    """A text at the front, with what else a reader begins with: how a card is found, looms, words and cautions."""
    own: list[Block] = [Paragraph((Span(text),)) for text in phrases.text_paragraphs(heading.text)]
    if "indexes" in numbers:
        where = binder_words.where_to_find(numbers["contents"], numbers["indexes"], numbers["faces"])
        own += [Heading(binder_words.FIND), Paragraph((Span(where),))]
    return Text([*own, *back.blocks], Running(heading.title, number=unnumbered))


def _hanging(cells: Sequence[TapeCell], leaf: Leaf, free: float, whole: float) -> list[Block]:
    """The tapes of a section in the ``free`` mm below its text, or on a page of their own of ``whole`` mm: all of them
    where they fit, else taken evenly from the section."""
    cells, grid = _grid(cells, leaf, whole)
    high = words_height(cells, grid) + ABOVE_PICTURE
    room = free if free >= LEAST_HANGING + high else whole
    rows, most = ceil(len(cells) / grid.columns), max(1, int(room / (LEAST_HANGING + high)))
    shown = cells
    if rows > most:
        room -= 2 * leading(leaf.sizes.body)  # for the line that says so
        rows = max(1, int(room / (LEAST_HANGING + high)))
        shown = [cells[index * len(cells) // (rows * grid.columns)] for index in range(rows * grid.columns)]
    grid = grid._replace(columns=ceil(len(shown) / rows), hanging=min(MOST_HANGING * whole, room / rows - high))
    drawn: list[Block] = list(tape_rows(shown, grid, "tapes"))
    return drawn if shown is cells else [*drawn, Paragraph((Span(binder_words.some_of(len(shown), len(cells))),))]


def _grid(cells: Sequence[TapeCell], leaf: Leaf, whole: float) -> tuple[Sequence[TapeCell], Grid]:
    """As many columns as let each tape hang at life size over words that are wide enough to read, of even rows; fewer
    where the words would be too long. What even then is too long goes without what the tape is for."""
    width = leaf.printable.width
    least = min(width, max(LEAST_CELL, *(cell.entry.face.width_mm for cell in cells)))
    most = max(1, int((width + BETWEEN) / (least + BETWEEN)))
    for columns in range(ceil(len(cells) / ceil(len(cells) / most)), 0, -1):
        cell = min(max(MOST_CELL, least), (width - (columns - 1) * BETWEEN) / columns)
        grid = Grid(leaf, columns, width if columns == 1 else cell, 0.0, page_beside=False)
        if words_height(cells, grid) <= whole - LEAST_HANGING - ABOVE_PICTURE:
            return cells, grid
    return [_without_use(each, grid, whole) for each in cells], grid


def _without_use(cell: TapeCell, grid: Grid, whole: float) -> TapeCell:
    """Without what the tape is for, where that is too long: the index of uses and the card tell it."""
    fits = words_height([cell], grid) <= whole - LEAST_HANGING - ABOVE_PICTURE
    return cell if fits else cell._replace(facts=cell.facts[:2])


def _tape_cell(entry: Entry, page: str, leaf: Leaf, units: Units) -> TapeCell:
    counted, width, for_what = binder_words.tape_facts(entry, units)
    if entry.face.width_mm > leaf.printable.width:
        width = f"{width}, {binder_words.DRAWN_SMALLER}"
    return TapeCell(entry, (counted, width, for_what), page, binder_words.link_target(entry, page))
