"""What was made, opened in the system's own viewer, for ``--open``."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

MOST_OPENED: Final = 20  # windows at once: all cards of one tape
_MOMENT: Final = 1.0  # seconds in which a starter that finds no viewer has said so


def open_in_viewer(paths: Sequence[Path]) -> str:
    """Opens the files. Returns a sentence about what kept one from being opened; nothing where nothing did."""
    from cardmaker.wording.viewer_words import no_viewer, too_many_to_open

    if len(paths) > MOST_OPENED:
        return too_many_to_open(len(paths), str(paths[0].parent))
    failed = next((path for path in paths if not _is_opened(path)), None)
    return no_viewer(str(failed)) if failed else ""


def _is_opened(path: Path) -> bool:
    """Whether the system took the file. By its whole path, for a name may begin with a dash."""
    whole = os.path.abspath(path)
    if sys.platform == "win32":
        return _is_started_on_windows(whole)
    return _is_started(["open" if sys.platform == "darwin" else "xdg-open", whole])


def _is_started_on_windows(path: str) -> bool:
    start: Any = getattr(os, "startfile", None)  # there only
    try:
        start(path)
    except OSError:  # no program is set for PDFs
        return False
    return True


def _is_started(command: list[str]) -> bool:
    """Whether a program that starts another went well so far. It may be the viewer itself, and stay."""
    from subprocess import DEVNULL, Popen, TimeoutExpired

    try:
        process = Popen(command, stdin=DEVNULL, stdout=DEVNULL, stderr=DEVNULL, start_new_session=True)
        return process.wait(_MOMENT) == 0
    except TimeoutExpired:
        return True
    except OSError:  # there is no such program
        return False
