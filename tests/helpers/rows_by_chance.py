"""Rows of a layout as somebody may write them, by chance: any panels, side by side or alone."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from cardmaker.card.panels import PANELS


def rows_by_chance(chance: Random) -> Iterator[list[dict[str, object]]]:
    """Row by row its places, as they stand in a file."""
    names = chance.sample(sorted(PANELS), chance.randint(1, 9))
    while names:
        columns = chance.choice([[12], [12], [12], [6, 6], [7, 5], [4, 8], [4, 4, 4]])[: len(names)]
        yield [
            {
                "panel": names.pop(), "columns": wide, "priority": chance.randint(1, 20),
                "essential": "yes" if chance.random() < 0.3 else "no",
            }
            for wide in columns
        ]  # fmt: skip
