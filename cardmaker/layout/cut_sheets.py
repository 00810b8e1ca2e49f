"""A sheet that is cut apart into pieces of one size: where each lies, and the marks to cut by."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from cardmaker.layout.ink import BLACK, HAIRLINE
from cardmaker.model.card_layout import Paper
from cardmaker.model.marks import Box, Line

MARGIN: Final = 15.0  # mm around the block of pieces
MARK: Final = (5.0, 11.0)  # mm from the edge of the sheet: where cut marks begin and end


class CutGrid(NamedTuple):
    """So many columns and rows of pieces on a paper."""

    paper: Paper
    columns: int
    rows: int

    @property
    def block(self) -> Box:
        return Box(MARGIN, MARGIN, self.paper.width_mm - 2 * MARGIN, self.paper.height_mm - 2 * MARGIN)

    @property
    def boxes(self) -> list[Box]:
        """The pieces of one sheet, row by row."""
        block = self.block
        width, height = block.width / self.columns, block.height / self.rows
        places = ((row, column) for row in range(self.rows) for column in range(self.columns))
        return [Box(block.left + column * width, block.top + row * height, width, height) for row, column in places]

    def cut_marks(self, rows: int) -> Iterator[Line]:
        """A short stroke in the margins at both ends of every cut round the first ``rows``; nothing is printed between
        the pieces."""
        block, paper = self.block, self.paper
        start, stop = MARK
        for column in range(self.columns + 1):
            x = block.left + column * block.width / self.columns
            yield Line(x, start, x, stop, HAIRLINE, BLACK)
            yield Line(x, paper.height_mm - stop, x, paper.height_mm - start, HAIRLINE, BLACK)
        for row in range(rows + 1):
            y = block.top + row * block.height / self.rows
            yield Line(start, y, stop, y, HAIRLINE, BLACK)
            yield Line(paper.width_mm - stop, y, paper.width_mm - start, y, HAIRLINE, BLACK)
