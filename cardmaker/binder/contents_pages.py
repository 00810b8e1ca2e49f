"""A binder's contents: every card under its section, and what stands at the back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from cardmaker.binder import binder_words
from cardmaker.binder.arranging import SectionHeading
from cardmaker.binder.page_numbers import Text, unnumbered
from cardmaker.layout.pages.blocks import Block, Gap, Heading
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running
from cardmaker.layout.table_setting import Column, Row, Table
from cardmaker.model.binder_contents import Entry
from cardmaker.model.marks import Face
from cardmaker.wording import phrases
from cardmaker.wording.formatters import Units, small_length

CONTENTS_SPARE: Final = {binder_words.ENDS: 1, binder_words.WIDTH: 2}  # what narrow paper does without


def contents(
    headings: Sequence[SectionHeading],
    numbers: Mapping[str, str],
    backs: Sequence[tuple[str, str]],
    leaf: Leaf,
    units: Units,
) -> Text:
    """Every card under its section with its page, then what stands at the back (anchor and title)."""
    rows = [tuple(_row(each, numbers, units) for each in heading.entries) for heading in headings]
    columns = _in_line([row for each in rows for row in each], leaf)
    blocks: list[Block] = []
    for heading, own in zip(headings, rows, strict=True):
        if heading.title:
            blocks.append(Heading(heading.title, phrases.page_in_words(numbers[section_anchor(heading)])))
        if heading.entries:
            blocks.append(Table(heading.title, columns, own, ruled=True))
        blocks.append(Gap(2.0))
    at_the_back = tuple(
        Row((title, numbers[anchor]), anchor, binder_words.on_page(title, numbers[anchor])) for anchor, title in backs
    )
    blocks.append(
        Table(
            binder_words.INDEXES, (Column("", grows=True), Column(binder_words.PAGE, "right")), at_the_back, ruled=True
        )
    )
    running = Running(binder_words.CONTENTS, number=unnumbered)
    return Text(blocks, running, on_one_page=True, most_columns=2)


def _in_line(rows: Sequence[Row], leaf: Leaf) -> tuple[Column, ...]:
    """The columns of every section's table, each with room for the widest figure of them all."""
    columns = []
    for index, head in enumerate(binder_words.CONTENTS_HEADS):
        if head == binder_words.NAME:
            columns.append(Column(head, grows=True))
            continue
        widest = max((row.cells[index] for row in rows), key=lambda text: leaf.wide(text, Face.SANS, 10), default="")
        spare = CONTENTS_SPARE.get(head, 0)
        columns.append(Column(head, "left" if head == binder_words.CODE else "right", holds=widest, spare=spare))
    return tuple(columns)


def _row(entry: Entry, numbers: Mapping[str, str], units: Units) -> Row:
    page = numbers[entry.anchor]
    cells = (entry.code, entry.title, str(entry.ends), small_length(entry.width_mm, units), page)
    return Row(cells, entry.anchor, binder_words.link_target(entry, page))


def section_anchor(heading: SectionHeading) -> str:
    return f"section {heading.title}"
