"""The command line: arguments in, exit status out, whatever happens between."""

from __future__ import annotations

import argparse
import codecs
import signal
import sys
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import NoReturn

from cardmaker.cli.arguments import parser_of
from cardmaker.cli.commands import DONE, INTERRUPTED, PROBLEMS, USAGE
from cardmaker.cli.streams import complain, finish_streams, hush, open_streams
from cardmaker.jobs.lookup import WrongUsage
from cardmaker.model.problems import ProblemsFound, on_one_line

_PLAIN = str.maketrans({"⁄": "/", "’": "'", "·": "-", "×": "x", "–": "-", "…": "..."})


def _spelled(no: UnicodeError) -> tuple[str, int]:
    """What a terminal that lacks a sign gets instead: fractions and quotes in plain letters, else a question mark."""
    if not isinstance(no, UnicodeEncodeError):
        raise no
    found = unicodedata.normalize("NFKD", no.object[no.start : no.end]).translate(_PLAIN)
    return "".join(sign if sign.isascii() else "?" for sign in found), no.end


codecs.register_error("spelled", _spelled)


def run_command_line(arguments: Sequence[str] | None = None) -> int:
    """Runs one command.

    Returns the exit status: 0 done, 1 problems in files, 2 wrong usage, 130 interrupted, 143 told to end.
    """
    open_streams("spelled")
    said = sys.argv[1:] if arguments is None else [*arguments]
    try:
        with _stopped_by_signals() as stops:
            return _status_once_written(_run(said, stops))
    except SystemExit as end:  # the parser has told its help, or what is wrong with the arguments
        raise SystemExit(_status_once_written(end.code if isinstance(end.code, int) else USAGE)) from None
    except (KeyboardInterrupt, _Stopped) as stop:
        complain("cardmaker: interrupted; no file is left half written")
        return stop.status if isinstance(stop, _Stopped) else INTERRUPTED


def _status_once_written(status: int) -> int:
    """The exit status, once what was printed is on its way."""
    if (no := finish_streams()) is None:
        return status
    complain(f"cardmaker: what it said could not be written: {no.strerror}")
    return status or PROBLEMS


class _Stopped(BaseException):
    """SIGINT or SIGTERM came: what was begun is taken back.

    Why not KeyboardInterrupt: Python remembers one that passed through code made at run time, as classes are, and ends
    the process by the signal after all, whatever the exit status.
    """

    def __init__(self, number: int) -> None:
        super().__init__()
        self.status = 128 + number


class _Stops:
    """The signals that came. Some libraries make another error of ours on its way, so the first is kept."""

    def __init__(self) -> None:
        self.first: _Stopped | None = None

    def hear(self, number: int, _: object) -> NoReturn:
        self.first = self.first or _Stopped(number)
        raise self.first


def _in_main_thread() -> bool:
    """Where nothing has loaded the library of threads, there is but one."""
    threads = sys.modules.get("threading")
    return threads is None or threads.current_thread() is threads.main_thread()


@contextmanager
def _stopped_by_signals() -> Iterator[_Stops]:
    """SIGINT and SIGTERM unwind what was begun while the context lasts. Signals come to the main thread only."""
    stops = _Stops()
    if not _in_main_thread():
        yield stops
        return
    heard = {number: signal.getsignal(number) for number in (signal.SIGINT, signal.SIGTERM)}
    before = {number: how for number, how in heard.items() if how is not signal.SIG_IGN}  # `nohup` and `&` mean it
    for number in before:
        signal.signal(number, stops.hear)
    try:
        yield stops
    finally:
        for number, how in before.items():
            signal.signal(number, how)


def _run(said: Sequence[str], stops: _Stops) -> int:
    try:
        options = parser_of(said[0] if said else "").parse_args(said)
        run: Callable[[argparse.Namespace], int] = options.run
        try:
            return run(options)
        except BaseException:
            if stops.first is not None:
                raise stops.first from None
            raise
    except ProblemsFound as found:
        for problem in found.problems:
            complain(str(problem))
        return PROBLEMS
    except WrongUsage as wrong:
        complain(on_one_line(f"cardmaker: {wrong}"))
        return USAGE
    except BrokenPipeError:  # the reader of our output has left, as `head` does
        hush(sys.stdout)
        return DONE
    except OSError as no:
        complain(on_one_line(f"cardmaker: {no if no.filename is None else f'{no.filename}: {no.strerror}'}"))
        return PROBLEMS
