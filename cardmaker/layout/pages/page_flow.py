"""The flow: pieces set one below the other, page after page, each page with its head and foot."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import groupby
from typing import Final, NamedTuple

from cardmaker.layout.ink import HEAVY, POINT, SOFT
from cardmaker.layout.pages.blocks import Block
from cardmaker.layout.pages.leaf import BETWEEN_COLUMNS, Leaf
from cardmaker.layout.pages.slices import Slice, slices_of
from cardmaker.layout.table_setting import TooWide
from cardmaker.layout.type_setting import Headline, Span, cap_height, headline, leading, set_lines, tail_depth
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Page, Words
from cardmaker.wording import phrases

UNDER_NAME: Final = 1.4  # mm between a name and what stands below it, so that no tail touches a capital


class Running(NamedTuple):
    """What stands on every page of a run: its name under a heavy rule, and a line at the foot.

    ``number`` words the number of a page among all of the run (``2 of 3``), or says nothing; it is set beside the name,
    or at the foot when there is no name.
    """

    title: str = ""
    aside: str = ""  # below the name
    foot: str = ""
    number: Callable[[int, int], str] = phrases.page_of


class _Placed(NamedTuple):
    piece: Slice
    box: Box


_PLAIN = Running()


def flow(blocks: Sequence[Block], leaf: Leaf, running: Running = _PLAIN) -> tuple[Page, ...]:
    """The blocks on as many pages as they need, one at least, in the leaf's columns. Raises TooWide.

    A heading stays with what it heads, two lines of a paragraph and two rows of a table stay together, and a table's
    head stands again on every page that the table reaches.
    """
    body = _body(leaf, running)
    filled = _balanced(slices_of(blocks, leaf), _columns(body, leaf))
    return tuple(_laid(placed, leaf, running, body, number, len(filled)) for number, placed in enumerate(filled, 1))


def pages_needed(blocks: Sequence[Block], leaf: Leaf, running: Running = _PLAIN) -> int:
    """How many pages :func:`flow` makes of the blocks, found out without drawing them. Raises TooWide."""
    return len(_pages(blocks, leaf, running))


def _pages(blocks: Sequence[Block], leaf: Leaf, running: Running) -> list[list[_Placed]]:
    return _filled(slices_of(blocks, leaf), _columns(_body(leaf, running), leaf))


def _body(leaf: Leaf, running: Running) -> Box:
    return leaf.printable.inset(top=head_height(leaf, running), bottom=_foot_height(leaf, running))


def room_below(blocks: Sequence[Block], leaf: Leaf, running: Running = _PLAIN) -> float:
    """How much of the last column is free under the blocks, in mm. Raises TooWide."""
    *_, last = _pages(blocks, leaf, running)
    bottom = _body(leaf, running).bottom
    return bottom - (last[-1].box.bottom if last else _body(leaf, running).top)


SCANT: Final = 0.2  # of its columns: what a last page holds at the least before it is worth its paper
MOST_PAGES: Final = 3  # of a text that is tightened; one page less of many is not worth smaller type


def settled_leaf(
    blocks: Sequence[Block], leaf: Leaf, running: Running = _PLAIN, *, on_one_page: bool = False, most_columns: int = 1
) -> Leaf:
    """The leaf to set a text on: the one given, or a tighter one when that saves a page that would be nearly empty.

    With ``on_one_page`` a text that needs more pages is tightened as well, where it then fits one. Raises TooWide.
    """
    pages = _pages(blocks, leaf, running)
    if not 1 < len(pages) <= MOST_PAGES:
        return leaf
    enough = len(pages) - 1 if _share(pages[-1], leaf, running) < SCANT else 1 if on_one_page else 0
    tighter = (tried for tried in leaf.tightened(most_columns) if _fits(blocks, tried, running, enough))
    return next(tighter, leaf) if enough else leaf


def _fits(blocks: Sequence[Block], leaf: Leaf, running: Running, pages: int) -> bool:
    try:
        return pages_needed(blocks, leaf, running) <= pages
    except TooWide:
        return False


def _share(placed: Sequence[_Placed], leaf: Leaf, running: Running) -> float:
    """How much of the page's columns is filled."""
    room = leaf.printable.height - head_height(leaf, running) - _foot_height(leaf, running)
    return sum(each.box.height for each in placed) / (room * leaf.columns)


def _columns(body: Box, leaf: Leaf) -> list[Box]:
    width = leaf.column_width
    return [Box(body.left + n * (width + BETWEEN_COLUMNS), body.top, width, body.height) for n in range(leaf.columns)]


class _Short(NamedTuple):
    """A page whose columns end higher than those of the others."""

    page: int  # from 0
    bottom: float


def _filled(all_pieces: Sequence[Slice], columns: Sequence[Box], short: _Short | None = None) -> list[list[_Placed]]:
    """The pieces of each page with their places, down one column after the other."""
    filled: list[list[_Placed]] = [[]]  # each column of each page
    top = y = columns[0].top

    def fits(height: float) -> bool:
        is_short = short is not None and (len(filled) - 1) // len(columns) == short.page
        bottom = short.bottom if short and is_short else columns[0].bottom
        return y + height <= bottom + 1e-6

    for chunk in _chunks(all_pieces):
        if filled[-1] and (chunk[0].breaks or not fits(_height(chunk))):
            filled.append([])
            y = top
        for piece in chunk:  # a chunk longer than a page is parted after all
            if filled[-1] and not fits(piece.above_mm + piece.height_mm):
                filled.append([])
                y = top
            column = columns[(len(filled) - 1) % len(columns)]
            if not filled[-1] and piece.again is not None:
                y = _put(piece.again, filled[-1], y, column)
            y = _put(piece, filled[-1], y + (piece.above_mm if filled[-1] else 0.0), column)
    pages = (filled[at : at + len(columns)] for at in range(0, len(filled), len(columns)))
    return [[placed for column in page for placed in column] for page in pages]


def _balanced(all_pieces: Sequence[Slice], columns: Sequence[Box]) -> list[list[_Placed]]:
    """The same with the columns of the last page about as long as each other: sought by halving."""
    filled = _filled(all_pieces, columns)
    if len(columns) == 1:
        return filled
    low, high = columns[0].top, columns[0].bottom
    for _ in range(7):
        tried = _filled(all_pieces, columns, _Short(len(filled) - 1, (low + high) / 2))
        if len(tried) > len(filled):
            low = (low + high) / 2
        else:
            filled, high = tried, (low + high) / 2
    return filled


def _put(piece: Slice, placed: list[_Placed], y: float, column: Box) -> float:
    placed.append(_Placed(piece, Box(column.left, y, column.width, piece.height_mm)))
    return y + piece.height_mm


def _chunks(all_pieces: Iterable[Slice]) -> list[list[Slice]]:
    """Pieces that keep with the next, with it."""
    chunks: list[list[Slice]] = []
    keeps = False
    for piece in all_pieces:
        if keeps and not piece.breaks:
            chunks[-1].append(piece)
        else:
            chunks.append([piece])
        keeps = piece.keeps
    return chunks


def _height(chunk: Sequence[Slice]) -> float:
    return sum(piece.above_mm + piece.height_mm for piece in chunk)


def _laid(placed: Sequence[_Placed], leaf: Leaf, running: Running, body: Box, number: int, pages: int) -> Page:
    groups = [*_head(leaf, running, number, pages), *_groups(placed)]
    panel = Group("panel", running.title or "page", leaf.printable, tuple(groups))
    paper = leaf.paper
    return Page(paper.width_mm, paper.height_mm, (panel, *_foot(leaf, running, number, pages)), running.title)


def _groups(placed: Sequence[_Placed]) -> list[Group]:
    """One group for all pieces of a block in a column of this page."""
    groups = []
    for _, same in groupby(placed, key=lambda each: (each.piece.owner, each.box.left)):
        parts = list(same)
        piece, first, last = parts[0].piece, parts[0].box, parts[-1].box
        box = Box(first.left, first.top, first.width, last.bottom - first.top)
        marks = tuple(mark for part in parts for mark in part.piece.draw(part.box))
        groups.append(Group(piece.role, piece.name, box, marks, piece.alt))
    return groups


def head_height(leaf: Leaf, running: Running) -> float:
    """What the name of the run takes from the top of every page, with the rule below it and some air."""
    if not running.title:
        return 0.0
    asides = len(_aside_lines(leaf, running))
    below = 2.4 + asides * leading(leaf.sizes.small) + (UNDER_NAME if asides else 0.0) + 4.6
    return _last_baseline(_name(leaf, running), leaf) + below


def _name(leaf: Leaf, running: Running) -> Headline:
    """The run's name beside the number of a page, of which it leaves room for two figures."""
    told = running.number(99, 99)
    room = leaf.printable.width - (leaf.wide(told, Face.SANS_SEMIBOLD, leaf.sizes.body) + 5.0 if told else 0.0)
    return headline(running.title, leaf.sizes.title, leaf.sizes.heading, room, leaf.ruler)


def _last_baseline(name: Headline, leaf: Leaf) -> float:
    """Below the top of the page. A name on one line stands on the same baseline whatever its size."""
    return max(cap_height(leaf.sizes.title), name.height_mm)


def _aside_lines(leaf: Leaf, running: Running) -> list[tuple[Span, ...]]:
    return leaf.lines([Span(running.aside, colour=SOFT)], leaf.sizes.small, leaf.printable.width)


def _head(leaf: Leaf, running: Running, number: int, pages: int) -> list[Group]:
    """The name of the run, the page's number and the heavy rule; on the first page it is the title, then a reminder."""
    if not running.title:
        return []
    area, small = leaf.printable, leaf.sizes.small
    box = Box(area.left, area.top, area.width, head_height(leaf, running))
    name = _name(leaf, running)
    last = box.top + _last_baseline(name, leaf)
    first = last - name.height_mm + cap_height(name.size)
    title = set_lines(name.lines, box.left, first, name.size, leaf.ruler)
    below = set_lines(_aside_lines(leaf, running), box.left, last + leading(small) + UNDER_NAME, small, leaf.ruler)
    rule = box.bottom - 3.4
    head = Group("title" if number == 1 else "running head", running.title, box, (*title, *below))
    extra: list[Mark] = [Line(box.left, rule, box.right, rule, HEAVY)]
    if told := running.number(number, pages):
        extra.append(Words(box.right, first, told, Face.SANS_SEMIBOLD, leaf.sizes.body, align="right"))
    return [head, Group("running head", "page number", box, tuple(extra))]


def _foot_height(leaf: Leaf, running: Running) -> float:
    has_number = not running.title
    if not running.foot and not has_number:
        return 0.0
    lines = max(1, len(_foot_lines(leaf, running)))
    return 3.0 + (lines - 1) * leading(leaf.sizes.smallest) + leaf.sizes.smallest * POINT


def _foot_lines(leaf: Leaf, running: Running) -> list[tuple[Span, ...]]:
    room = leaf.printable.width * (1.0 if running.title else 0.8)
    return leaf.lines([Span(running.foot, colour=SOFT)], leaf.sizes.smallest, room)


def _foot(leaf: Leaf, running: Running, number: int, pages: int) -> list[Group]:
    area, size = leaf.printable, leaf.sizes.smallest
    height = _foot_height(leaf, running)
    if not height:
        return []
    box = Box(area.left, area.bottom - height, area.width, height)
    last = box.bottom - tail_depth(size)
    lines = _foot_lines(leaf, running)
    first = last - (len(lines) - 1) * leading(size)
    groups = [Group("running foot", "foot", box, tuple(set_lines(lines, box.left, first, size, leaf.ruler)))]
    if not running.title and (told := running.number(number, pages)):
        words = Words(box.right, last, told, Face.SANS, leaf.sizes.small, align="right")
        groups.append(Group("running foot", "page number", box, (words,)))
    return groups
