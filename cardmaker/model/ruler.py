"""How composing measures words without knowing a font file: the ruler that writing implements."""

from __future__ import annotations

from typing import Protocol

from cardmaker.model.marks import Face


class Ruler(Protocol):
    """How wide set type is. Hashable, so that what was measured can be kept."""

    def __hash__(self) -> int: ...

    def width_mm(self, text: str, face: Face, size_pt: float) -> float:
        """How far ``text`` runs on its baseline."""
        ...
