"""The same work for many things: over all cores where that pays, and the answers in order, as if one had done it.

Why processes: reading, reckoning and drawing are all Python, which runs on one core in one process.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from typing import Any, Final, TypeVar

FEWEST: Final = 24  # below it, starting processes takes longer than they save
CHUNK: Final = 8  # handed over at once

T = TypeVar("T")
A = TypeVar("A")


def cores() -> int:
    """How many processes may run at once for us."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@contextmanager
def answers(task: Callable[[T], A], things: Sequence[T], jobs: int = 0) -> Iterator[Iterator[A]]:
    """What ``task`` answers to each of ``things``, in their order, while the context lasts.

    ``jobs`` processes take turns; 0 means as many as there are cores, and one for little work. The task must be plain
    data itself (a function at the top of its module, or a partial of one), and so must its answers be.
    """
    wanted = jobs or (cores() if len(things) >= FEWEST else 1)
    if wanted <= 1:
        yield map(task, things)
        return
    method = "fork" if sys.platform == "linux" else "spawn"
    with ProcessPoolExecutor(wanted, multiprocessing.get_context(method), _begin) as pool:
        try:
            yield pool.map(task, things, chunksize=CHUNK)
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


def _begin() -> None:
    """A process that is told to stop by its parent alone, and does not outlive it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    threading.Thread(target=_leave_with, args=(multiprocessing.parent_process(),), daemon=True).start()


def _leave_with(parent: Any) -> None:
    parent.join()
    os._exit(1)
