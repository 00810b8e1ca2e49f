"""How composing measures words without knowing a font file: the ruler that writing implements."""

from __future__ import annotations

from typing import Protocol

from cardmaker.model.marks import Face


class Ruler(Protocol):
    """Sizes of set type in millimetres, for a size in points. Hashable, so that what was measured can be kept."""

    def __hash__(self) -> int: ...

    def width_mm(self, text: str, face: Face, size_pt: float) -> float:
        """How far ``text`` runs on its baseline."""
        ...

    def cap_height_mm(self, face: Face, size_pt: float) -> float:
        """How high capitals and figures stand above the baseline."""
        ...

    def x_height_mm(self, face: Face, size_pt: float) -> float:
        """How high a small x stands above the baseline."""
        ...

    def descent_mm(self, face: Face, size_pt: float) -> float:
        """How far tails hang below the baseline, as a positive length."""
        ...
