"""The leaf that text flows over: its paper, what is kept clear of it, and the sizes of type."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from cardmaker.layout.type_setting import SetLine, Span, wrapped
from cardmaker.model.card_layout import BindingSide, Paper, TypeSizes
from cardmaker.model.marks import Box, Face, Ruler

SHEET_SIZES: Final = TypeSizes(title=22, count=16, heading=13, body=10.5, small=9.5, smallest=9)
BETWEEN_COLUMNS: Final = 6.0  # mm
_AIRS: Final = (0.8, 0.6, 0.45)  # shares of the free space between rows, paragraphs and headings
_STEP: Final = 0.5  # points


@dataclass(frozen=True, slots=True)
class Leaf:
    """One kind of page. ``binding_mm`` is kept clear instead of the margin on the binding side.

    Text runs down one column after the other. ``air`` is the share of the usual free space that stands between rows,
    paragraphs and headings.
    """

    paper: Paper
    ruler: Ruler
    sizes: TypeSizes = SHEET_SIZES
    margin_mm: float = 15.0
    binding_mm: float = 25.0
    binding_side: BindingSide = "left"
    columns: int = 1
    air: float = 1.0

    @property
    def printable(self) -> Box:
        """What the margins leave of the paper."""
        return self.paper.inside_margins(self.margin_mm, self.binding_mm, self.binding_side)

    @property
    def column_width(self) -> float:
        """What each column has of the printable width."""
        return (self.printable.width - (self.columns - 1) * BETWEEN_COLUMNS) / self.columns

    def wide(self, text: str, face: Face, size: float) -> float:
        """The width of one line of text, in mm."""
        return self.ruler.width_mm(text, face, size)

    def lines(self, spans: Iterable[Span], size: float, width: float) -> list[SetLine]:
        """The spans wrapped to ``width`` mm."""
        return wrapped(spans, size, width, self.ruler)

    def tightened(self, most_columns: int = 1) -> Iterator[Leaf]:
        """Leaves that hold more and more: with less air, then in smaller type, down to the smallest, then the same in
        more columns."""
        for columns in range(self.columns, max(self.columns, most_columns) + 1):
            wide = replace(self, columns=columns)
            yield from (replace(wide, air=air) for air in ((1.0, *_AIRS) if columns > self.columns else _AIRS))
            tight = replace(wide, air=_AIRS[-1])
            while tight.sizes.body > self.sizes.smallest:
                tight = replace(tight, sizes=_smaller(tight.sizes))
                yield tight


def _smaller(sizes: TypeSizes) -> TypeSizes:
    """The sizes of sentences and small words a step smaller, but never under the smallest; titles stay."""
    body = max(sizes.smallest, sizes.body - _STEP)
    return TypeSizes(sizes.title, sizes.count, sizes.heading, body, min(sizes.small, body), sizes.smallest)
