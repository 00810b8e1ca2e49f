"""What to wind on the shuttle. Apart from what the bench asks: most cards tell it, and nothing else of the bench."""

from __future__ import annotations

from cardmaker.model.record_class import record


@record
class ShuttleFill:
    """What to wind on the shuttle: all wraps, in how many fills, and how many wraps each (the last may be fewer)."""

    per_wrap_mm: float
    wraps: int
    fills: int
    wraps_per_fill: int
