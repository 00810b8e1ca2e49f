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

LEAST_HANGING, MOST_HANGING = 25.0, 0.55  # mm, and of the page's height: how far the tapes of a section hang
LEAST_CELL, MOST_CELL = 31.0, 56.0  # mm: the room of one, which its words need, and beyond which they part from it
ABOVE_PICTURE: Final = 2.0


def divider(heading: SectionHeading, numbers: Mapping[str, int], leaf: Leaf, units: Units) -> Text:
    """The page before a section: its name, its text, and its tapes at life size, each named and leading to its card."""
    running = Running(heading.title, binder_words.section_aside(heading.entries, units), number=unnumbered)
    blocks: list[Block] = [Paragraph((Span(text),)) for text in phrases.text_paragraphs(heading.text)]
    if heading.entries:
        blocks.append(Gap(2.0))
        blocks += _hanging(heading.entries, numbers, leaf, units, room_below(blocks, leaf, running))
    return Text(blocks, running)


def opening(heading: SectionHeading, numbers: Mapping[str, int], back: Text, leaf: Leaf) -> Text:
    """A text at the front, with what else a reader begins with: how a card is found, looms, words and cautions."""
    own: list[Block] = [Paragraph((Span(text),)) for text in phrases.text_paragraphs(heading.text)]
    if "indexes" in numbers:
        where = binder_words.where_to_find(numbers["contents"], numbers["indexes"], numbers["faces"])
        own += [Heading(binder_words.FIND), Paragraph((Span(where),))]
    return Text([*own, *back.blocks], Running(heading.title, number=unnumbered), on_one_page=True)


def _hanging(
    entries: Sequence[Entry], numbers: Mapping[str, int], leaf: Leaf, units: Units, room: float
) -> list[Block]:
    """The tapes of a section in ``room`` mm, all of them where they fit, else taken evenly from it."""
    cells = [_tape_cell(entry, numbers[entry.anchor], leaf, units) for entry in entries]
    grid = _grid(cells, leaf)
    high = words_height(cells, grid) + ABOVE_PICTURE
    whole = leaf.printable.height
    if room < LEAST_HANGING + high:
        room = whole * 0.8  # on a page of its own
    most = max(1, int((room - ABOVE_PICTURE) / (LEAST_HANGING + high)))
    rows = ceil(len(cells) / grid.columns)
    shown = cells
    if rows > most:
        rows, fits = most, most * grid.columns
        shown = [cells[index * len(cells) // fits] for index in range(fits)]
        room -= 2 * leading(leaf.sizes.body)
    columns = ceil(len(shown) / rows)
    hanging = min(MOST_HANGING * whole, (room - ABOVE_PICTURE) / rows - high)
    drawn: list[Block] = list(tape_rows(shown, grid._replace(columns=columns, hanging=hanging), "tapes"))
    if len(shown) < len(cells):
        drawn.append(Paragraph((Span(binder_words.some_of(len(shown), entries)),)))
    return drawn


def _grid(cells: Sequence[TapeCell], leaf: Leaf) -> Grid:
    """As many columns as let each tape hang at life size over words that are wide enough to read, of even rows."""
    width = leaf.printable.width
    least = min(width, max(LEAST_CELL, *(cell.entry.face.width_mm for cell in cells)))
    most = max(1, int((width + BETWEEN) / (least + BETWEEN)))
    columns = ceil(len(cells) / ceil(len(cells) / most))
    return Grid(
        leaf, columns, min(max(MOST_CELL, least), (width - (columns - 1) * BETWEEN) / columns), 0.0, page_beside=False
    )


def _tape_cell(entry: Entry, page: int, leaf: Leaf, units: Units) -> TapeCell:
    smaller = (binder_words.DRAWN_SMALLER,) if entry.face.width_mm > leaf.printable.width else ()
    facts = (*binder_words.tape_facts(entry, units), *smaller)
    return TapeCell(entry, facts, page, binder_words.link_target(entry, page))
