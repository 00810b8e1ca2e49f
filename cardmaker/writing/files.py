"""Files written whole or not at all: beside their place first, then put there in one move."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from errno import EACCES, EDQUOT, EEXIST, EISDIR, ENOENT, ENOSPC, ENOTDIR, EPERM, EROFS
from pathlib import Path
from typing import Final

_REASONS: Final = {
    EACCES: "the folder is read-only",
    EPERM: "the folder is read-only",
    EROFS: "the disk is read-only",
    EISDIR: "it is a folder",
    ENOENT: "there is no such folder",
    ENOTDIR: "its folder is a file",
    EEXIST: "its folder is a file",
    ENOSPC: "the disk is full",
    EDQUOT: "the disk is full",
}


class CannotWrite(OSError):
    """A file could not be written; what stood there before stands there still. The message is one line."""

    def __init__(self, path: Path, problem: OSError) -> None:
        self.path = path
        reason = _REASONS.get(problem.errno or 0) or problem.strerror or str(problem)
        super().__init__(f"{path}: cannot be written: {reason}")
        self.errno = problem.errno


def write_whole(path: Path, data: bytes) -> None:
    """Put ``data`` at ``path``, replacing what is there; on any failure or interruption nothing has changed.

    A link keeps pointing where it did, and a device or pipe is written to as it is. Raises :class:`CannotWrite`.
    """
    write_many({path: data})


def write_many(files: Mapping[Path, bytes]) -> None:
    """Put every file at its place once all of them are safely on disk.

    Interrupted among the last moves, some may be new and some old, but each is whole. Raises :class:`CannotWrite`.
    """
    staged: dict[Path, Path] = {}
    for path in files:
        with _told(path):
            path.parent.mkdir(parents=True, exist_ok=True)
    try:
        for path, data in files.items():
            _stage(path, data, staged)
        for path, beside in list(staged.items()):
            with _told(path):
                os.replace(beside, _real(path))
            del staged[path]
    finally:
        for beside in staged.values():
            with suppress(OSError):
                os.unlink(beside)


def _stage(path: Path, data: bytes, staged: dict[Path, Path]) -> None:
    """Write ``data`` beside its place; noted in ``staged`` before the file exists, so that none is ever forgotten."""
    target = _real(path)
    with _told(path):
        if target.is_dir():
            raise IsADirectoryError(EISDIR, os.strerror(EISDIR))
        if target.exists() and not target.is_file():
            target.write_bytes(data)
            return
        staged[path] = beside = target.with_name(f".{target.name[:50]}.{os.urandom(4).hex()}.part")
        with open(beside, "xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())


def _real(path: Path) -> Path:
    return Path(os.path.realpath(path))


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """Turns the system's error into one line about ``path``."""
    try:
        yield
    except OSError as problem:
        raise CannotWrite(path, problem) from problem
