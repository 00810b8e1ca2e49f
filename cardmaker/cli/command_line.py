"""The command line: arguments in, exit status out, whatever happens between."""

from __future__ import annotations

import argparse
import codecs
import os
import signal
import sys
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Final, NoReturn

from cardmaker.cli.arguments import command_parser
from cardmaker.cli.streams import discard_output, finish_streams, open_streams, print_error
from cardmaker.cli.told_errors import DONE, INTERRUPTED, PROBLEMS, USAGE, status_once_told

_PLAIN: Final = str.maketrans({"⁄": "/", "’": "'", "·": "-", "×": "x", "–": "-", "…": "..."})


def _spelled(error: UnicodeError) -> tuple[str, int]:
    """What a terminal that lacks a sign gets instead: fractions and quotes in plain letters, else a question mark."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    plain = unicodedata.normalize("NFKD", error.object[error.start : error.end]).translate(_PLAIN)
    return "".join(sign if sign.isascii() else "?" for sign in plain), error.end


codecs.register_error("spelled", _spelled)


def run_command_line(arguments: Sequence[str] | None = None) -> int:
    """Runs one command.

    Returns the exit status: 0 done, 1 problems in files, 2 wrong usage, 130 interrupted, 143 told to end.
    """
    open_streams("spelled")
    if arguments is None and "_ARGCOMPLETE" in os.environ:
        from cardmaker.cli.completion import answer_shell

        answer_shell(command_parser(""))
    words = sys.argv[1:] if arguments is None else [*arguments]
    try:
        with _stopped_by_signals() as stops:
            return _status_once_written(_run(words, stops))
    except SystemExit as end:  # the parser has told its help, or what is wrong with the arguments
        raise SystemExit(_status_once_written(end.code if isinstance(end.code, int) else USAGE)) from None
    except (KeyboardInterrupt, _Stopped) as stop:
        print_error("cardmaker: interrupted; no file is left half written")
        return stop.status if isinstance(stop, _Stopped) else INTERRUPTED


def _status_once_written(status: int) -> int:
    """The exit status, once what was printed is on its way."""
    if (error := finish_streams()) is None:
        return status
    print_error(f"cardmaker: what it said could not be written: {error.strerror}")
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

    def stop(self, number: int, _: object) -> NoReturn:
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
    before = {number: signal.getsignal(number) for number in (signal.SIGINT, signal.SIGTERM)}
    for number, handler in before.items():
        if handler is not signal.SIG_IGN:  # `nohup` and `&` mean it
            signal.signal(number, stops.stop)
    try:
        yield stops
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _run(words: Sequence[str], stops: _Stops) -> int:
    options = command_parser(words[0] if words else "").parse_args(words)
    run: Callable[[argparse.Namespace], int] = options.run

    def unless_stopped() -> int:
        try:
            return run(options)
        except BaseException:
            if stops.first is not None:
                raise stops.first from None
            raise

    try:
        return status_once_told(unless_stopped)
    except BrokenPipeError:  # the reader of our output has left, as `head` does
        discard_output(sys.stdout)
        return DONE
