"""Standard input, output and errors of a command: closed, broken or full, a command ends in one line and no more.

Why not left to Python: it prints nothing or "Exception ignored", and ends with 120, when what was printed cannot leave
at the very end; and what is meant for a closed stream of errors it prints among the output.
"""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from io import TextIOWrapper
from typing import Final, TextIO

_STREAMS: Final = (("stdin", os.O_RDONLY), ("stdout", os.O_WRONLY), ("stderr", os.O_WRONLY))


def open_streams(errors: str) -> None:
    """Let every stream that is closed lead nowhere, so that no file of ours takes its place; ``errors`` as for codecs.

    Lowest first, for a file that is opened gets the lowest number that is free.
    """
    for name, mode in _STREAMS:
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(os.open(os.devnull, mode), "w" if mode else "r", encoding="utf-8"))
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors=errors)


def print_error(line: str) -> None:
    """One line to the stream of errors; when nobody can be told, nobody is."""
    with suppress(OSError):
        print(line, file=sys.stderr)


def print_above_bar(line: str) -> None:
    """A line on standard error, above the bar where there is one."""
    if "tqdm" in sys.modules:
        from tqdm import tqdm

        tqdm.write(line, file=sys.stderr)
    else:
        print_error(line)


def discard_output(stream: TextIO) -> None:
    """What is still to be printed goes nowhere."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def finish_streams() -> OSError | None:
    """Send off what was printed. Returns why the output could not be written, unless its reader has left."""
    error = _flush(sys.stdout)
    _flush(sys.stderr)
    return None if isinstance(error, BrokenPipeError) else error


def _flush(stream: TextIO) -> OSError | None:
    try:
        stream.flush()
    except OSError as error:
        discard_output(stream)
        return error
    return None
