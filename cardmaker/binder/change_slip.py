"""The slip that comes with new leaves: line by line what to take out of the binder and what to put in, to be ticked."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.binder import slip_words
from cardmaker.binder.leaf_comparing import LeafChange
from cardmaker.layout.pages.blocks import Block, Gap, Paragraph
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running, flow
from cardmaker.layout.table_setting import Column, Row, Table
from cardmaker.layout.type_setting import Span
from cardmaker.model.binder_leaves import BoundLeaf
from cardmaker.model.marks import Page

BELOW_WORDS = 2.0  # mm


def slip_pages(
    title: str, changes: Sequence[LeafChange], leaves: Sequence[BoundLeaf], leaf: Leaf, *, duplex: bool
) -> tuple[Page, ...]:
    """The slip of the binder called ``title``, which has ``leaves`` when all is done. With both sides printed it is
    whole leaves. Raises TooWide."""
    blocks: list[Block] = [
        Paragraph((Span(slip_words.go_through(duplex=duplex)),)),
        Paragraph((Span(slip_words.COPY_NOTES),)),
        Gap(BELOW_WORDS),
        _table(changes),
        Gap(BELOW_WORDS),
        Paragraph((Span(slip_words.leaf_count(leaves)),)),
        Paragraph((Span(slip_words.KEEP_FILE),)),
    ]
    running = Running(slip_words.SLIP, f"{title}: {slip_words.out_and_in(changes)}.")
    pages = flow(blocks, leaf, running)
    if not duplex or len(pages) % 2 == 0:
        return pages
    return (*pages, Page(leaf.paper.width_mm, leaf.paper.height_mm, ()))


def _table(changes: Sequence[LeafChange]) -> Table:
    out, put, where, name = slip_words.SLIP_HEADS
    columns = (
        Column(out, "right", strong=True),
        Column(put, "right", strong=True),
        Column(where),
        Column(name, grows=True),
    )
    rows = tuple(Row(slip_words.change_cells(change)) for change in changes)
    return Table(slip_words.SLIP_TABLE, columns, rows, ruled=True, ticks=True)
