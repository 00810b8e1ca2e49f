"""How boxes lie to one another."""

from __future__ import annotations

from cardmaker.model.marks import Box


def overlap(one: Box, other: Box, slack: float = 1e-6) -> bool:
    """Whether two boxes share more than an edge."""
    return (
        one.left < other.right - slack
        and other.left < one.right - slack
        and one.top < other.bottom - slack
        and other.top < one.bottom - slack
    )
