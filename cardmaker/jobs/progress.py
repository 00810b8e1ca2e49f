"""Progress of long work: a bar on a terminal, silence in a pipe."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from typing import Final, TypeVar

FEWEST: Final = 4  # shorter work is over before a bar is read

T = TypeVar("T")


def watched(work: Iterable[T], total: int, told: str, *, quiet: bool = False) -> Iterable[T]:
    """``work`` itself, with a bar on standard error while it is done, if there is a terminal and enough to do."""
    if quiet or total < FEWEST or not sys.stderr.isatty():
        return work
    from tqdm import tqdm

    bar: Iterable[T] = tqdm(work, total=total, desc=told, unit="", leave=False, dynamic_ncols=True, bar_format=_BAR)
    return bar


_BAR: Final = "{desc}  {n_fmt} of {total_fmt}  {bar}"
