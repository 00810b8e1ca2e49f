"""A sheet of small pictures: every tape's face with its name, to find a pattern by looking."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from math import ceil
from typing import Final

from cardmaker.binder import binder_words
from cardmaker.binder.page_numbers import Text, unnumbered
from cardmaker.layout.ink import SOFT
from cardmaker.layout.pages.blocks import Picture
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running
from cardmaker.layout.type_setting import leading
from cardmaker.model.binder_contents import Entry, TapeFace
from cardmaker.model.marks import Again, Box, Face, Group, Link, Mark, Words
from cardmaker.wording import phrases
from cardmaker.wording.formatters import Units

CELL: Final = 31.0  # mm: about as wide as a cell is
BETWEEN: Final = 4.0
HIGH: Final = 24.0
WIDEST: Final = 24.0  # mm: wider tapes are drawn smaller


def stamped(face: TapeFace, box: Box, widest: float = WIDEST) -> Again:
    """The face from the top of ``box`` to its foot; at life size, or as much smaller as it takes to be ``widest``."""
    scale = min(1.0, widest / face.width_mm)
    step = face.repeat_mm * scale
    clip = Box(box.left, box.top, face.width_mm * scale, box.height)
    return Again(face.name, ceil(box.height / step), step, clip, scale)


def face_sheets(entries: Sequence[Entry], numbers: Mapping[str, int], leaf: Leaf, units: Units) -> Text:
    """All faces in rows, each leading to its card."""
    columns = max(1, int((leaf.printable.width + BETWEEN) / (CELL + BETWEEN)))
    rows = [entries[at : at + columns] for at in range(0, len(entries), columns)]
    height = HIGH + 2 * leading(leaf.sizes.smallest) + 3.6
    blocks = [
        Picture(f"faces {number}", height, partial(_row, row, numbers, leaf, columns))
        for number, row in enumerate(rows, start=1)
    ]
    return Text(blocks, Running(binder_words.FACES, binder_words.faces_aside(WIDEST, units), number=unnumbered))


def _row(row: Sequence[Entry], numbers: Mapping[str, int], leaf: Leaf, columns: int, box: Box) -> tuple[Mark, ...]:
    cell = (box.width - (columns - 1) * BETWEEN) / columns
    return tuple(
        _cell(entry, numbers, leaf, Box(box.left + place * (cell + BETWEEN), box.top, cell, box.height))
        for place, entry in enumerate(row)
    )


def _cell(entry: Entry, numbers: Mapping[str, int], leaf: Leaf, box: Box) -> Group:
    """The tape above its name and numbers, all of it one link; told are the words, then what the picture shows."""
    size = leaf.sizes.smallest
    line = leading(size)
    below = box.top + HIGH + line + 0.2
    page = numbers[entry.anchor]
    code_and_ends = "  ".join(part for part in (entry.code, f"{entry.ends} ends") if part)
    number = Words(box.right, below + line, str(page), Face.SANS, size, SOFT, align="right")
    picture = Box(box.left, box.top, box.width, HIGH)
    marks = (
        Words(box.left, below, leaf.cut(entry.title, Face.SANS_SEMIBOLD, size, box.width), Face.SANS_SEMIBOLD, size),
        Words(box.left, below + line, code_and_ends, Face.SANS, size, SOFT),
        Group("span", "page", box, (number,), phrases.page_in_words(str(page))),
        Group("figure", "face", picture, (stamped(entry.face, picture),), entry.face.alt),
    )
    link = Link(box, entry.anchor, marks, binder_words.link_target(entry, page))
    return Group("paragraph", entry.title, box, (link,))
