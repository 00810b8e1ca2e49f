"""The leaf that text flows over: its paper, what is kept clear of it, and the sizes of type."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from cardmaker.layout.type_setting import SetLine, Span, cut, wrapped
from cardmaker.model.card_layout import BindingSide, Paper, TypeSizes
from cardmaker.model.marks import Box, Face, Ruler

SHEET_SIZES: Final = TypeSizes(title=22, count=16, heading=13, body=10.5, small=9.5, smallest=9)
BETWEEN_COLUMNS: Final = 6.0  # mm


@dataclass(frozen=True, slots=True)
class Leaf:
    """One kind of page. ``binding_mm`` is kept clear instead of the margin on the binding side.

    Text runs down one column after the other.
    """

    paper: Paper
    ruler: Ruler
    sizes: TypeSizes = SHEET_SIZES
    margin_mm: float = 15.0
    binding_mm: float = 25.0
    binding_side: BindingSide = "left"
    columns: int = 1

    @property
    def printable(self) -> Box:
        """What the margins leave of the paper."""
        return self.paper.inside_margins(self.margin_mm, self.binding_mm, self.binding_side)

    @property
    def column_width(self) -> float:
        """What each column has of the printable width."""
        return (self.printable.width - (self.columns - 1) * BETWEEN_COLUMNS) / self.columns

    def cut(self, text: str, face: Face, size: float, width: float) -> str:
        """A name too long for ``width`` mm ends in an ellipsis; figures are never given to this."""
        return cut(text, face, size, width, self.ruler)

    def wide(self, text: str, face: Face, size: float) -> float:
        """The width of one line of text, in mm."""
        return self.ruler.width_mm(text, face, size)

    def lines(self, spans: Iterable[Span], size: float, width: float) -> list[SetLine]:
        """The spans wrapped to ``width`` mm."""
        return wrapped(spans, size, width, self.ruler)
