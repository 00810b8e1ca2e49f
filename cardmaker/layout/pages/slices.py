"""Blocks as pieces: what the end of a page may part, each with its height and a way to draw it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Final, Literal

from cardmaker.layout.headings import aside_words, heading_words, set_heading
from cardmaker.layout.ink import BLACK
from cardmaker.layout.pages.blocks import (
    Block,
    Break,
    Gap,
    Heading,
    KeepTogether,
    Listing,
    Paragraph,
    Picture,
)
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.listing import listing_parts
from cardmaker.layout.table_setting import (
    Row,
    SetTable,
    Table,
    TableAir,
    draw_head,
    draw_row,
    row_height,
    set_table,
    table_head_height,
)
from cardmaker.layout.tick_squares import tick_square_beside
from cardmaker.layout.type_setting import SetLine, cap_height, leading, set_lines, tail_depth
from cardmaker.model.marks import Box, Dot, Mark

ABOVE_HEADING: Final = 5.0
BELOW_HEADING: Final = 1.6
ABOVE_TABLE: Final = 1.6
ABOVE_KEY: Final = 2.2
BETWEEN_KEYS: Final = 1.1  # with their one item beside each
BETWEEN_PARAGRAPHS: Final = 2.0
HANG: Final = 4.6  # how far sentences stand in from their tick box or dot
LEAST_LINES: Final = 2  # of a paragraph, on either side of the end of a page
LEAST_ROWS: Final = 2  # of a table under its head

Role = Literal["heading", "paragraph", "table", "figure", "panel"]


@dataclass(frozen=True, slots=True)
class Slice:
    """What is never parted. Pieces of one ``owner`` that stand on one page become one group.

    ``above_mm`` is kept free above it but not at the top of a page; ``keeps`` it with the next piece; ``again`` is what
    is drawn above it when it begins a page.
    """

    owner: int
    role: Role
    name: str
    height_mm: float
    draw: Callable[[Box], tuple[Mark, ...]]
    above_mm: float = 0.0
    keeps: bool = False
    again: Slice | None = None
    breaks: bool = False  # begins a new page
    alt: str = ""


def slices_of(blocks: Sequence[Block], leaf: Leaf) -> list[Slice]:
    """All blocks as pieces, gaps and breaks turned into what the next piece asks for."""
    made: list[Slice] = []
    above, breaks = 0.0, False
    unpacked = _series_kept(list(_unpacked(blocks)), leaf)
    for owner, (block, keeps) in enumerate(unpacked):
        if isinstance(block, Gap):
            above += block.height_mm
        elif isinstance(block, Break):
            breaks = True
        elif parts := _pieces(block, owner, leaf):
            own = BETWEEN_KEYS if _joined(unpacked, owner) else parts[0].above_mm
            first = replace(parts[0], above_mm=(own + above) * leaf.air, breaks=breaks)
            parts = [first, *parts[1:]]
            made += _kept_whole(parts) if keeps == "whole" else _kept_on(parts) if keeps == "on" else parts
            above, breaks = 0.0, False
    return made


def _joined(blocks: Sequence[tuple[Block, Keeping]], index: int) -> bool:
    """Whether a key with its item beside it comes right after another one."""
    return index > 0 and all(isinstance(block, Listing) and block.beside for block, _ in blocks[index - 1 : index + 1])


Keeping = Literal["", "on", "whole"]  # a block that may go its own way; whose end stays with the next; or all of it


def _kept_whole(parts: list[Slice]) -> list[Slice]:
    return [replace(part, keeps=True) for part in parts]


def _kept_on(parts: list[Slice]) -> list[Slice]:
    return [*parts[:-1], replace(parts[-1], keeps=True)]


def _series_kept(blocks: list[tuple[Block, Keeping]], leaf: Leaf) -> list[tuple[Block, Keeping]]:
    """No series of paragraphs or listings is parted after its first item, when a heading stands over it; nor is a list
    before its last."""
    kept = list(blocks)
    for index in range(len(blocks) - 1):
        block, keeps = blocks[index]
        if not keeps and _alike(block, blocks[index + 1][0]) and _is_alone(blocks, index, leaf):
            kept[index] = block, "on"
    return kept


def _alike(block: Block, other: Block) -> bool:
    """Whether two blocks are items of one series."""
    if isinstance(block, Paragraph) and isinstance(other, Paragraph):
        return block.mark == other.mark
    return isinstance(block, Listing) and isinstance(other, Listing)


def _is_alone(blocks: Sequence[tuple[Block, Keeping]], index: int, leaf: Leaf) -> bool:
    """Whether an item would stand alone before the end of a page, or leave the next one alone after it."""
    block = blocks[index][0]
    before, keeps = blocks[index - 1] if index else (None, "")
    is_first = isinstance(before, Heading) or bool(keeps and before and not _alike(before, block))
    if isinstance(block, Listing):
        return is_first and len(listing_parts(block, leaf)) <= LEAST_ROWS
    is_last_but_one = index + 2 == len(blocks) or not _alike(block, blocks[index + 2][0])
    return is_first or (is_last_but_one and isinstance(block, Paragraph) and block.mark != "none")


def _unpacked(blocks: Sequence[Block]) -> Iterator[tuple[Block, Keeping]]:
    """Every block, and whether it must stay with the next one."""
    for block in blocks:
        if isinstance(block, KeepTogether):
            inner = list(_unpacked(block.blocks))
            for number, (each, keeps) in enumerate(inner, start=1):
                yield each, "whole" if keeps or number < len(inner) else ""
        else:
            yield block, ""


def _pieces(block: Block, owner: int, leaf: Leaf) -> list[Slice]:
    if isinstance(block, Heading):
        return [_heading(block, owner, leaf)]
    if isinstance(block, Paragraph):
        return _paragraph(block, owner, leaf)
    if isinstance(block, Table):
        return _table(block, owner, leaf)
    if isinstance(block, Listing):
        return _listing(block, owner, leaf)
    if isinstance(block, Picture):
        role: Role = "figure" if block.alt else "panel"
        return [Slice(owner, role, block.name, block.height_mm, block.draw, BETWEEN_PARAGRAPHS, alt=block.alt)]
    return []


def _heading(block: Heading, owner: int, leaf: Leaf) -> Slice:
    heading = set_heading(leaf, block.text, leaf.column_width, block.aside, below=True)

    def draw(box: Box) -> tuple[Mark, ...]:
        first = box.top + cap_height(leaf.sizes.heading)
        return (*heading_words(heading, box.left, first), *aside_words(heading, box, first, "left"))

    return Slice(owner, "heading", block.text, heading.height_mm + BELOW_HEADING, draw, ABOVE_HEADING, keeps=True)


def _paragraph(block: Paragraph, owner: int, leaf: Leaf) -> list[Slice]:
    """The lines, of which the first two and the last two stay together."""
    size = {"body": leaf.sizes.body, "small": leaf.sizes.small, "smallest": leaf.sizes.smallest}[block.size]
    hang = 0.0 if block.mark == "none" else HANG
    lines = leaf.lines(block.spans, size, leaf.column_width - hang)
    name = " ".join(span.text for span in block.spans)[:40]
    return [
        Slice(
            owner,
            "paragraph",
            name,
            leading(size) if number > 1 else cap_height(size) + tail_depth(size),
            partial(_draw_line, line, size, leaf, hang, block.mark if number == 1 else "none"),
            BETWEEN_PARAGRAPHS if number == 1 else 0.0,
            keeps=number < len(lines) and (number < LEAST_LINES or number > len(lines) - LEAST_LINES),
        )
        for number, line in enumerate(lines, start=1)
    ]


def _draw_line(line: SetLine, size: float, leaf: Leaf, hang: float, mark: str, box: Box) -> tuple[Mark, ...]:
    baseline = box.bottom - tail_depth(size)
    marks: list[Mark] = list(set_lines([line], box.left + hang, baseline, size, leaf.ruler))
    if mark == "tick":
        marks = [*tick_square_beside(box.left, baseline, size), *marks]
    elif mark == "dot":
        marks.insert(0, Dot(box.left + 1.2, baseline - cap_height(size) / 2, 0.55, BLACK))
    return tuple(marks)


def _table_air(leaf: Leaf) -> TableAir:
    usual = TableAir()
    return replace(usual, above=usual.above * leaf.air, below=usual.below * leaf.air)


def _table(block: Table, owner: int, leaf: Leaf) -> list[Slice]:
    """The head, and each row by itself; the head stays with two rows and stands again on every further page."""
    table = set_table(block, leaf, leaf.column_width, _table_air(leaf))
    head = Slice(
        owner,
        "table",
        block.name,
        table_head_height(table),
        partial(draw_head, table),
        ABOVE_TABLE,
        keeps=True,
    )
    rows = [
        _row(table, row, replace(head, keeps=False, above_mm=0.0), is_last=number == len(block.rows))
        for number, row in enumerate(table.table.rows, start=1)
    ]
    return [head, *_kept(rows)]


def _listing(block: Listing, owner: int, leaf: Leaf) -> list[Slice]:
    """The key, and each line by itself; the key stays with two lines and is said again in every further column."""
    (height, draw), *lines = listing_parts(block, leaf)
    head = Slice(owner, "table", block.key, height, draw, ABOVE_KEY, keeps=not block.beside)
    again = replace(head, keeps=False, above_mm=0.0)
    return [head, *_kept([Slice(owner, "table", block.key, high, row, again=again) for high, row in lines])]


def _kept(rows: list[Slice]) -> list[Slice]:
    """The first rows stay together, and the last ones do."""
    last = len(rows) - LEAST_ROWS
    return [
        *(replace(row, keeps=index < LEAST_ROWS - 1 or index == last) for index, row in enumerate(rows[:-1])),
        *rows[-1:],
    ]


def _row(table: SetTable, row: Row, head: Slice, *, is_last: bool) -> Slice:
    return Slice(
        head.owner,
        "table",
        head.name,
        row_height(table, row),
        partial(draw_row, table, row, is_last=is_last),
        again=head,
    )
