"""Boxes and points on paper: millimetres from the top left, y growing downwards."""

from __future__ import annotations

from typing import NamedTuple


class Box(NamedTuple):
    """A rectangle on the page."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.left + self.width

    @property
    def bottom(self) -> float:
        return self.top + self.height

    @property
    def middle(self) -> float:
        return self.left + self.width / 2

    def inset(self, left: float = 0, top: float = 0, right: float = 0, bottom: float = 0) -> Box:
        """The box with its sides moved inwards."""
        return Box(self.left + left, self.top + top, self.width - left - right, self.height - top - bottom)

    def holds(self, other: Box, slack: float = 1e-6) -> bool:
        """Whether ``other`` lies wholly inside."""
        return (
            self.left <= other.left + slack
            and self.top <= other.top + slack
            and other.right <= self.right + slack
            and other.bottom <= self.bottom + slack
        )
