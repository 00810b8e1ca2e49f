"""Which part of a long list a test takes: every so many, another part for every question, and all when asked.

``EVERY_CASE=1 pytest`` takes them all. What must hold for each (the counts, what always stands on a front, rescue) is
never sampled.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import Final, TypeVar
from zlib import crc32

_Item = TypeVar("_Item")

EVERY_CASE: Final = bool(os.environ.get("EVERY_CASE"))


def part_of(items: Sequence[_Item], every: int, asked: str) -> Sequence[_Item]:
    """Every so many of ``items``, from a place that the question decides: all of them over enough questions."""
    return items if EVERY_CASE else items[crc32(asked.encode()) % every :: every]
