"""The same work for many things: over all cores where that pays, and the answers in order, as if one had done it.

Why processes: reading, reckoning and drawing are all Python, which runs on one core in one process.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Final, TypeVar

if TYPE_CHECKING:
    from concurrent.futures import Future

FEWEST: Final = 24  # below it, starting processes takes longer than they save
CHUNK: Final = 8  # handed over at once
_STOPS: Final = (signal.SIGINT, signal.SIGTERM)

T = TypeVar("T")
A = TypeVar("A")


class HelperLost(OSError):
    """A helping process was ended from outside: by a person, or by a system that has no memory left."""


def cores() -> int:
    """How many processes may run at once for us."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@contextmanager
def answers(task: Callable[[T], A], things: Sequence[T], jobs: int = 0) -> Iterator[Iterator[A]]:
    """What ``task`` answers to each of ``things``, in their order, while the context lasts. Raises HelperLost.

    ``jobs`` processes take turns; 0 means as many as there are cores, and one for little work. The task must be plain
    data itself (a function at the top of its module, or a partial of one), and so must its answers be.
    """
    wanted = min(jobs or (cores() if len(things) >= FEWEST else 1), len(things))
    if wanted <= 1:
        yield map(task, things)
        return
    import multiprocessing  # not loaded for a single card
    from concurrent.futures import ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool

    method = "fork" if sys.platform == "linux" else "spawn"
    pool = ProcessPoolExecutor(wanted, multiprocessing.get_context(method), _begin)
    try:
        with _held_back():
            coming = deque(pool.submit(_each, task, things[at : at + CHUNK]) for at in range(0, len(things), CHUNK))
        yield _as_they_come(coming)
    except BrokenProcessPool:
        raise HelperLost("a helping process was ended from outside; with --jobs 1 there are none") from None
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
        for helper in multiprocessing.active_children():
            helper.kill()  # nobody waits for one that was lost sight of


def _each(task: Callable[[T], A], things: Sequence[T]) -> list[A]:
    return [task(thing) for thing in things]


def _as_they_come(coming: deque[Future[list[A]]]) -> Iterator[A]:
    """Every answer, and no hold on those that were given.

    Why not the pool's own ``map``: when a helper is lost it calls off what is to come while the pool is telling that it
    is broken, and the pool then stops half way, and waits for its helpers for ever (Python 3.11).
    """
    while coming:
        yield from coming.popleft().result()


@contextmanager
def _held_back() -> Iterator[None]:
    """Signals wait while processes start, so that none comes to one that does not yet know what to do with it."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, _STOPS)
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _begin() -> None:
    """A process that is told to stop by its parent alone, and does not outlive it."""
    import multiprocessing

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, _STOPS)
    threading.Thread(target=_leave_with, args=(multiprocessing.parent_process(),), daemon=True).start()


def _leave_with(parent: Any) -> None:
    parent.join()
    os._exit(1)
