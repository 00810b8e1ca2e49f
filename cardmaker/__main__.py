"""``python -m cardmaker``, and the installed command: one command in a process of its own."""

from __future__ import annotations

import gc
import os
import signal

TYPE_CHECKING = False
if TYPE_CHECKING:  # little is loaded before signals are heard
    from collections.abc import Sequence
    from typing import NoReturn

_STOPS = (signal.SIGINT, signal.SIGTERM)
SELDOM = 100_000  # new objects between two looks for garbage: more than a card makes


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command and returns its exit status.

    Why not :mod:`cardmaker.cli.command_line` at once: the process ends in a blink and then gives all of its memory
    back. So the collector of circular garbage looks seldom, for the sake of binders, and not at everything once more
    at the end. And who stops it while it loads its modules is told so in one line, as later.
    """
    gc.set_threshold(SELDOM)
    stops = [number for number in _STOPS if signal.getsignal(number) is not signal.SIG_IGN]
    for number in stops:
        signal.signal(number, _leave)
    from cardmaker.cli.command_line import run_command_line as run

    try:
        return run(arguments)
    finally:
        for number in stops:  # all is done, and it is too late to stop it
            signal.signal(number, signal.SIG_IGN)
        gc.freeze()


def _leave(number: int, _: object) -> NoReturn:
    """At once: nothing has been begun, so there is nothing to take back."""
    try:
        os.write(2, b"cardmaker: interrupted; no file is left half written\n")
    finally:
        os._exit(128 + number)


if __name__ == "__main__":
    raise SystemExit(main())
