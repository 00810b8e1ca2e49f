"""Long work: the same for many things, over all cores where that pays, its answers in order, with a progress bar.

Why processes: reading, reckoning and drawing are all Python, which runs on one core in one process. Why our own and not
``concurrent.futures.ProcessPoolExecutor``: when a process of it is ended from outside it can wait for ever (CPython
gh-94777 and gh-107219, from memory; seen with Python 3.11, as with ``multiprocessing.Pool``), it cannot end its
processes before Python 3.14 (``kill_workers``), and those without work outlive a parent that is killed (no number is
known to us). With 3.14 as the oldest Python, if ``tests/jobs/test_parallel.py`` holds for the standard one, this goes.
"""

from __future__ import annotations

import os
import signal
import sys
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from time import sleep
from typing import TYPE_CHECKING, Any, Final, TypeVar

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.process import BaseProcess

FEWEST: Final = 24  # below it, starting processes takes longer than they save
CHUNK: Final = 8  # handed over at once
AHEAD: Final = 2  # chunks that a helper has, so that it need not wait for the next one
FEWEST_WITH_BAR: Final = 4  # shorter work is over before a bar is read
_BAR: Final = "{desc}  {n_fmt} of {total_fmt}  {bar}"
_STOPS: Final = (signal.SIGINT, signal.SIGTERM)
_MOMENT: Final = 0.05  # seconds in which a signal that was sent to all of us reaches us too

T = TypeVar("T")
A = TypeVar("A")


class HelperLost(OSError):
    """A helping process was ended from outside: by a person, or by a system that has no memory left."""


def with_progress_bar(work: Iterable[T], total: int, label: str, *, quiet: bool = False) -> Iterable[T]:
    """``work`` itself, with a bar on standard error while it is done, if there is a terminal and enough to do."""
    if quiet or total < FEWEST_WITH_BAR or not sys.stderr.isatty():
        return work
    from tqdm import tqdm

    bar: Iterable[T] = tqdm(work, total=total, desc=label, unit="", leave=False, dynamic_ncols=True, bar_format=_BAR)
    return bar


def core_count() -> int:
    """How many processes may run at once for us."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@contextmanager
def parallel_answers(task: Callable[[T], A], things: Sequence[T], jobs: int = 0) -> Iterator[Iterator[A]]:
    """What ``task`` answers to each of ``things``, in their order, while the context lasts. Raises HelperLost.

    ``jobs`` processes take turns; 0 means as many as there are cores, and one for little work. The task must be plain
    data itself (a function at the top of its module, or a partial of one), and so must its answers be.
    """
    count = min(jobs or (core_count() if len(things) >= FEWEST else 1), len(things))
    if count <= 1:
        yield map(task, things)
        return
    helpers: dict[Connection, BaseProcess] = {}
    try:
        with _signals_waiting():
            for _ in range(count):
                pipe, process = _new_helper(task, [*helpers])
                helpers[pipe] = process
        yield _answers([*helpers], things)
    finally:
        for pipe, process in helpers.items():
            process.kill()
            process.join()
            pipe.close()


@contextmanager
def _signals_waiting() -> Iterator[None]:
    """Signals wait while processes start, so that none comes to one that does not yet know what to do with it."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, _STOPS)
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _new_helper(task: Callable[[T], A], pipes_of_others: Sequence[Connection]) -> tuple[Connection, BaseProcess]:
    """A helper at the other end of a pipe. Only we hold our ends and only it holds its own: so the end of either of us
    is seen by the other."""
    import multiprocessing  # not loaded for a single card

    method = "fork" if sys.platform == "linux" else "spawn"
    context: Any = multiprocessing.get_context(method)
    ours, theirs = context.Pipe()
    inherited = (*pipes_of_others, ours) if method == "fork" else ()
    process = context.Process(target=_help, args=(task, theirs, inherited), daemon=True)
    process.start()
    theirs.close()
    return ours, process


def _answers(pipes: Sequence[Connection], things: Sequence[T]) -> Iterator[Any]:
    """The answers to all things, chunk by chunk; helpers take turns. What a task raises is raised here."""
    chunks = deque(things[start : start + CHUNK] for start in range(0, len(things), CHUNK))
    at_work: deque[Connection] = deque()
    for pipe in [*pipes] * AHEAD:
        _hand_over(chunks, pipe, at_work)
    while at_work:
        pipe = at_work.popleft()
        answers = _received(pipe)
        _hand_over(chunks, pipe, at_work)
        if isinstance(answers, Exception):
            raise answers
        yield from answers


def _hand_over(chunks: deque[Sequence[T]], pipe: Connection, at_work: deque[Connection]) -> None:
    """The next chunk to a helper; one that is gone is told of when its answers are missed."""
    if chunks:
        at_work.append(pipe)
        with suppress(OSError):
            pipe.send(chunks.popleft())


def _received(pipe: Connection) -> Any:
    try:
        return pipe.recv()
    except (EOFError, OSError):
        sleep(_MOMENT)
        raise HelperLost("a helping process was ended from outside; with --jobs 1 there are none") from None


def _help(task: Callable[[Any], Any], pipe: Connection, inherited: Sequence[Connection]) -> None:
    """A helper's life: a chunk in, its answers out, until there is nobody at the other end of the pipe."""
    for parents_pipe in inherited:
        parents_pipe.close()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # its parent tells it to stop, and nobody else
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, _STOPS)
    with suppress(EOFError, OSError):
        while True:
            things = pipe.recv()
            try:
                answers: list[Any] | Exception = [task(thing) for thing in things]
            except Exception as error:
                answers = error
            pipe.send(answers)
