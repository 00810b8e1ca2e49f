"""``python -m cardmaker``, and the installed command: one command in a process of its own."""

from __future__ import annotations

import gc
from collections.abc import Sequence

SELDOM = 100_000  # new objects between two looks for garbage: more than a card makes


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command and returns its exit status.

    Why not :mod:`cardmaker.cli` at once: the process ends in a blink and then gives all of its memory back. So the
    collector of circular garbage looks seldom, for the sake of binders, and not at everything once more at the end.
    """
    gc.set_threshold(SELDOM)
    try:
        from cardmaker.cli import main as run

        return run(arguments)
    except KeyboardInterrupt:  # before there was anything to interrupt
        return 130
    finally:
        gc.freeze()


if __name__ == "__main__":
    raise SystemExit(main())
