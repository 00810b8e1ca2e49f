"""A sheet of small pictures: every tape's face with its name, to find a pattern by looking."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from cardmaker.binder import binder_words
from cardmaker.binder.page_numbers import Text, unnumbered
from cardmaker.binder.tape_cells import BETWEEN, Grid, TapeCell, tape_rows
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running
from cardmaker.model.binder_contents import Entry
from cardmaker.wording import phrases
from cardmaker.wording.formatters import Units

CELL: Final = 31.0  # mm: about as wide as a cell is
HIGH: Final = 24.0


def face_sheets(entries: Sequence[Entry], numbers: Mapping[str, str], leaf: Leaf, units: Units) -> Text:
    """All faces in rows, each leading to its card."""
    columns = max(1, int((leaf.printable.width + BETWEEN) / (CELL + BETWEEN)))
    width = (leaf.printable.width - (columns - 1) * BETWEEN) / columns
    cells = [_cell(entry, numbers[entry.anchor]) for entry in entries]
    smaller = any(entry.face.width_mm > width for entry in entries)
    aside = binder_words.faces_aside(some_are_smaller=smaller, widest_mm=width, units=units)
    running = Running(binder_words.FACES, aside, number=unnumbered)
    return Text(tape_rows(cells, Grid(leaf, columns, width, HIGH), "faces"), running)


def _cell(entry: Entry, page: str) -> TapeCell:
    code_and_ends = " · ".join(part for part in (entry.code, phrases.end_count(entry.ends)) if part)
    return TapeCell(entry, (code_and_ends,), page, binder_words.link_target(entry, page))
