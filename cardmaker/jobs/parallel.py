"""The same work for many things: over all cores where that pays, and the answers in order, as if one had done it.

Why processes: reading, reckoning and drawing are all Python, which runs on one core in one process. Why our own and not
the standard library's pool: that one has threads and queues of its own, and when its processes are ended from outside
while it is being closed, it can wait for them for ever (seen with Python 3.11). Here each helper has one pipe, nobody
waits for a helper that is gone, and helpers are simply ended when they are not needed any more.
"""

from __future__ import annotations

import os
import signal
import sys
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from time import sleep
from typing import TYPE_CHECKING, Any, Final, NamedTuple, TypeVar

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.process import BaseProcess

FEWEST: Final = 24  # below it, starting processes takes longer than they save
CHUNK: Final = 8  # handed over at once
AHEAD: Final = 2  # chunks that a helper has, so that it need not wait for the next one
_STOPS: Final = (signal.SIGINT, signal.SIGTERM)
_MOMENT: Final = 0.05  # seconds in which a signal that was sent to all of us reaches us too

T = TypeVar("T")
A = TypeVar("A")


class HelperLost(OSError):
    """A helping process was ended from outside: by a person, or by a system that has no memory left."""


class _Helper(NamedTuple):
    process: BaseProcess
    pipe: Connection


def core_count() -> int:
    """How many processes may run at once for us."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@contextmanager
def parallel_answers(task: Callable[[T], A], things: Sequence[T], jobs: int = 0) -> Iterator[Iterator[A]]:
    """What ``task`` answers to each of ``things``, in their order, while the context lasts. Raises HelperLost.

    ``jobs`` processes take turns; 0 means as many as there are cores, and one for little work. The task must be plain
    data itself (a function at the top of its module, or a partial of one), and so must its answers be.
    """
    wanted = min(jobs or (core_count() if len(things) >= FEWEST else 1), len(things))
    if wanted <= 1:
        yield map(task, things)
        return
    helpers: list[_Helper] = []
    try:
        with _held_back():
            for _ in range(wanted):
                helpers.append(_new_helper(task, [helper.pipe for helper in helpers]))
        yield _in_order(helpers, [things[at : at + CHUNK] for at in range(0, len(things), CHUNK)])
    finally:
        for helper in helpers:
            helper.process.kill()
            helper.process.join()
            helper.pipe.close()


def _new_helper(task: Callable[[T], A], others: Sequence[Connection]) -> _Helper:
    """A helper at the other end of a pipe. Only we hold our ends and only it holds its own: so the end of either of us
    is seen by the other."""
    import multiprocessing  # not loaded for a single card

    method = "fork" if sys.platform == "linux" else "spawn"
    context: Any = multiprocessing.get_context(method)
    ours, theirs = context.Pipe()
    not_its = (*others, ours) if method == "fork" else ()
    process = context.Process(target=_help, args=(task, theirs, not_its), daemon=True)
    process.start()
    theirs.close()
    return _Helper(process, ours)


def _in_order(helpers: Sequence[_Helper], chunks: Sequence[Sequence[T]]) -> Iterator[Any]:
    """The answers of all chunks, each chunk's when those before it are there. What a task raises is raised here."""
    from multiprocessing.connection import wait

    waiting, ready = deque(enumerate(chunks)), dict[int, tuple[bool, Any]]()
    for helper in [*helpers] * AHEAD:
        _hand_over(helper.pipe, waiting)
    for number in range(len(chunks)):
        while number not in ready:
            for pipe in wait([helper.pipe for helper in helpers]):
                done, good, answer = _received(pipe)
                ready[done] = good, answer
                _hand_over(pipe, waiting)
        good, answer = ready.pop(number)
        if not good:
            raise answer
        yield from answer


def _hand_over(pipe: Any, waiting: deque[tuple[int, Sequence[Any]]]) -> None:
    """The next chunk to a helper; one that is gone is told of when its answers are missed."""
    if waiting:
        with suppress(OSError):
            pipe.send(waiting.popleft())


def _received(pipe: Any) -> tuple[int, bool, Any]:
    try:
        found: tuple[int, bool, Any] = pipe.recv()
    except (EOFError, OSError):
        sleep(_MOMENT)
        raise HelperLost("a helping process was ended from outside; with --jobs 1 there are none") from None
    return found


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


def _help(task: Callable[[Any], Any], pipe: Connection, not_ours: Sequence[Connection]) -> None:
    """A helper's life: a chunk in, its answers out, until there is nobody at the other end of the pipe."""
    for end in not_ours:
        end.close()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # its parent tells it to stop, and nobody else
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, _STOPS)
    with suppress(EOFError, OSError):
        while True:
            number, things = pipe.recv()
            pipe.send((number, *_tried(task, things)))


def _tried(task: Callable[[Any], Any], things: Sequence[Any]) -> tuple[bool, Any]:
    try:
        return True, [task(thing) for thing in things]
    except Exception as raised:
        return False, raised
