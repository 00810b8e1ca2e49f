"""Room to set type in where every sign is as wide as is easily reckoned."""

from __future__ import annotations

from collections.abc import Iterable

from cardmaker.layout.type_setting import SetLine, Span, wrapped
from cardmaker.model.card_layout import TypeSizes
from cardmaker.model.marks import Face


class EvenSpace:
    """Every sign is 1 mm wide at 10 points: the size of all type but the ``small`` and the ``smallest``."""

    def __init__(self, small: float, smallest: float) -> None:
        self.sizes = TypeSizes(10, 10, 10, 10, small, smallest)
        self.ruler = self

    def width_mm(self, text: str, face: Face, size_pt: float) -> float:
        return len(text) * size_pt / 10

    def wide(self, text: str, face: Face, size: float) -> float:
        return self.width_mm(text, face, size)

    def lines(self, spans: Iterable[Span], size: float, width: float) -> list[SetLine]:
        return wrapped(spans, size, width, self)
