"""The three columns of the bench card: in all its panels words and pictures begin at the same three edges."""

from __future__ import annotations

from typing import Final

MIDDLE: Final = 36.0  # mm wide: the cross, the roll, the weight on the warp
RIGHT: Final = 56.0  # the route, the checks, the table of the beam, the gauge
BETWEEN_COLUMNS: Final = 5.0
LEAST_LEFT: Final = 32.0  # where the left column has less, the panel stands its parts below each other


def right_edge(width: float) -> float:
    """Where the right column begins in a panel of that width."""
    return width - RIGHT


def middle_edge(width: float) -> float:
    """Where the middle column begins."""
    return width - RIGHT - BETWEEN_COLUMNS - MIDDLE


def left_width(width: float) -> float:
    """What is left for the first column."""
    return middle_edge(width) - BETWEEN_COLUMNS
