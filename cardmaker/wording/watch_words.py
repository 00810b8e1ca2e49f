"""What is said while files are watched, and what is made of them again at every save."""

from __future__ import annotations

WATCHING = "Watching: save any file that it is made from, and it is made again. Ctrl-C ends it."
STAYS = "What was made before stays as it was, until this is mended."
MENDED = "Mended: no problem any more."


def saved(file: str, *, is_gone: bool) -> str:
    """Which file was saved."""
    return f"{file} is gone:" if is_gone else f"{file} was saved:"
