"""The back of a card: a table to write in what came of each warp, frames for samples, lines for everything else."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from cardmaker.binder import binder_words
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, RULE, SOFT
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.type_setting import Span, cap_height, figure, set_lines, tail_depth, text_height, words_group
from cardmaker.model.binder_contents import Entry
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Rectangle, Role, Words
from cardmaker.wording import length_words

MOST_WARPS: Final = 8  # lines of the table
MOST_TABLE: Final = 0.45  # of the page
LINE: Final = 8.0  # mm: to write on
BELOW_NAME: Final = 1.6  # mm from the name to what it is for
BELOW_HEADING: Final = 5.0  # mm
BETWEEN: Final = 6.0  # mm between table, frames and lines
SAMPLE: Final = 45.0  # mm: the height of a frame for a snip
LEAST_SAMPLE: Final = 25.0  # mm
FRAMES: Final = 3
BETWEEN_FRAMES: Final = 4.0  # mm
FIGURES: Final = (21.0, 18.0, 15.0, 12.0)  # mm: the width of a column, the widest that the paper has room for
LEAST_NOTE: Final = 22.0  # mm: of the remark
INSIDE: Final = 1.0  # mm from a rule to a word
DASH: Final = (1.5, 1.2)  # mm


def notes_marks(entry: Entry, leaf: Leaf, area: Box) -> tuple[Mark, ...]:
    """What is printed on the back of a card; its name is at the head, so a copy is not lost."""
    heading = _words("heading", binder_words.back_title(entry), leaf.sizes.heading, leaf, area)
    marks: list[Mark] = [heading]
    top = heading.box.bottom
    if what := binder_words.what_it_is(entry):
        told = _words("paragraph", what, leaf.sizes.small, leaf, area.inset(top=heading.box.height + BELOW_NAME))
        marks.append(told)
        top = told.box.bottom
    room = Box(area.left, top + BELOW_HEADING, area.width, area.bottom - top - BELOW_HEADING)
    if widths := _column_widths(leaf, room.width):
        table = Box(room.left, room.top, room.width, _warps(room) * LINE + _head_height(leaf))
        marks.append(figure("results", table, list(_table(leaf, table, widths)), length_words.RESULTS_ALT_TEXT))
        room = room.inset(top=table.height + BETWEEN)
    if room.height >= LEAST_SAMPLE:
        frames = Box(room.left, room.top, room.width, min(SAMPLE, room.height))
        marks.append(figure("samples", frames, list(_frames(leaf, frames)), binder_words.SAMPLES_ALT_TEXT))
        room = room.inset(top=frames.height + BETWEEN)
    lines = Group("artefact", "lines", room, tuple(_lines(room)))
    return (*marks, *([lines] if lines.marks else []))


def _words(role: Role, text: str, size: float, leaf: Leaf, area: Box) -> Group:
    """A heading or a paragraph at the top of ``area``, on as many lines as it takes."""
    face = Face.SERIF_SEMIBOLD if role == "heading" else Face.SANS
    lines = leaf.lines([Span(text, face)], size, area.width)
    box = Box(area.left, area.top, area.width, text_height(len(lines), size))
    return words_group(role, box, *set_lines(lines, area.left, area.top + cap_height(size), size, leaf.ruler))


def _column_widths(leaf: Leaf, width: float) -> list[float]:
    """Columns as wide as each other where their heads let them, and the rest for the remark. None on narrow paper."""
    *figures, _ = length_words.RESULT_BLANKS
    heads = [leaf.wide(label, Face.SANS, leaf.sizes.smallest) + 2 * INSIDE for label in figures]
    for least in FIGURES:
        widths = [max(least, head) for head in heads]
        if (rest := width - sum(widths)) >= LEAST_NOTE:
            return [*widths, rest]
    return []


def _warps(room: Box) -> int:
    return min(MOST_WARPS, int(MOST_TABLE * room.height / LINE))


def _head_height(leaf: Leaf) -> float:
    return cap_height(leaf.sizes.smallest) + INSIDE + tail_depth(leaf.sizes.smallest)


def _table(leaf: Leaf, box: Box, widths: Sequence[float]) -> Iterator[Mark]:
    """One warp a line, under the names that `measured` has in a pattern file."""
    size, left = leaf.sizes.smallest, box.left
    for number, (label, width) in enumerate(zip(length_words.RESULT_BLANKS, widths, strict=True)):
        yield Words(left + (INSIDE if number else 0.0), box.top + cap_height(size), label, Face.SANS, size, SOFT)
        if number:
            yield Line(left, box.top, left, box.bottom, HAIRLINE, FAINT)
        left += width
    first = box.top + _head_height(leaf)
    for number in range(round((box.bottom - first) / LINE) + 1):
        y = first + number * LINE
        yield Line(box.left, y, box.right, y, HAIRLINE if number else RULE, FAINT if number else BLACK)


def _frames(leaf: Leaf, box: Box) -> Iterator[Mark]:
    """Frames for snips of what was woven."""
    width = (box.width - (FRAMES - 1) * BETWEEN_FRAMES) / FRAMES
    size = leaf.sizes.smallest
    for number in range(FRAMES):
        left = box.left + number * (width + BETWEEN_FRAMES)
        yield Rectangle(Box(left, box.top, width, box.height), stroke=FAINT, width=HAIRLINE, dash=DASH)
        y = box.bottom - INSIDE - tail_depth(size)
        yield Words(left + 2 * INSIDE, y, binder_words.SAMPLE, Face.SANS, size, SOFT)


def _lines(room: Box) -> Iterator[Line]:
    """Lines for whatever else there is to say, down to the margin."""
    for number in range(1, int(room.height / LINE) + 1):
        y = room.top + number * LINE
        yield Line(room.left, y, room.right, y, HAIRLINE, FAINT)
