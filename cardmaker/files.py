"""Files written whole or not at all: beside their place first, then put there in one move."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from errno import EACCES, EDQUOT, EEXIST, EINVAL, EISDIR, ENOENT, ENOSPC, ENOTDIR, EOPNOTSUPP, EPERM, EROFS
from pathlib import Path
from stat import S_IMODE, S_IWGRP, S_IWOTH, S_IWUSR
from time import time
from typing import Final

from cardmaker.model.file_names import name_anywhere

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
_OPEN_FILES: Final = "/proc/self/fd"  # of this process, as links to follow (proc(5))
_LONG_AGO: Final = 3600  # seconds
_PART: Final = ".part"
_CHANCE: Final = 8  # letters by chance in the name of a file beside its place
_IS_THERE: Final = "it is there already"
_TWIN_IS_THERE: Final = "{} is there already, and many systems take them for one name"
_ANY_WRITES: Final = S_IWUSR | S_IWGRP | S_IWOTH
_HEADS: Final = {"PDF": b"%PDF-", "PNG": b"\x89PNG"}  # how documents begin
_MOST_OPEN: Final = 100  # of the files a process may have open: 256 on some systems
_MANY: Final = 8  # files that settle on the disk at the same time, and by how many threads
_AT_ONCE: Final = 16


class CannotWrite(OSError):
    """A file could not be written; what stood there before stands there still. The message is one line."""

    def __init__(self, path: Path, problem: OSError) -> None:
        self.path = path
        reason = _REASONS.get(problem.errno or 0) or problem.strerror or str(problem)
        super().__init__(f"{path}: cannot be written: {reason}")
        self.errno = problem.errno


def twins_among(paths: Iterable[Path]) -> tuple[Path, Path] | None:
    """The first two of these that are one file: here, by a link, or on a system to which their names are one."""
    first: dict[str, Path] = {}
    for path in paths:
        if (twin := first.setdefault(name_anywhere(str(_real(path))), path)) is not path:
            return twin, path
    return None


class NamesThere:
    """What lies in folders, each of which is listed once."""

    def __init__(self) -> None:
        self._folders: dict[Path, dict[str, str]] = {}

    def at(self, path: Path) -> Path | None:
        """What is at a place, be it a folder or a link that leads nowhere; or what lies beside it under a name that
        another system takes for the same."""
        if os.path.lexists(path):
            return path
        if path.parent not in self._folders:
            self._folders[path.parent] = {name_anywhere(name): name for name in _names_in(path.parent)}
        twin = self._folders[path.parent].get(name_anywhere(path.name))
        return path.parent / twin if twin else None


def write_whole(path: Path, data: bytes) -> None:
    """Put ``data`` at ``path``, replacing what is there; on any failure or interruption nothing has changed.

    A link keeps pointing where it did, and a device or pipe is written to as it is. Raises :class:`CannotWrite`.
    """
    write_many({path: data})


def write_many(files: Mapping[Path, bytes], *, new: Collection[Path] = ()) -> None:
    """Put every file at its place once all of them are safely on disk.

    What is replaced keeps its permissions; a file that is read-only, or no document where one is to be, is not
    replaced, nor is any file in the place of those that are ``new``, though it came a moment ago. Interrupted among the
    last moves, some may be new and some old, but each is whole. Two files whose names are one on some system are
    refused before any is written. Raises :class:`CannotWrite`.
    """
    staged: list[_Staged] = []
    _require_names_apart(files, new)
    for path in files:
        with _in_one_line(path):
            path.parent.mkdir(parents=True, exist_ok=True)
    _sweep(files)
    try:
        for path, data in files.items():
            with _in_one_line(path):
                _stage(path, data, staged, is_new=path in new)
        _settle(staged)
        for file in staged:
            with _in_one_line(file.path):
                file.put_in_place()
    finally:
        for file in staged:
            file.forget()


def _require_names_apart(files: Collection[Path], new: Collection[Path]) -> None:
    """Raises CannotWrite where two files would be one on some system, or one that is new and one that is there."""
    if twins := twins_among(files):
        one, other = twins
        raise CannotWrite(other, OSError(f"{one} is to be written too, and many systems take them for one name"))
    there = NamesThere()
    for path in new:
        if twin := there.at(path):
            raise CannotWrite(path, OSError(_IS_THERE if twin == path else _TWIN_IS_THERE.format(twin)))


def _names_in(folder: Path) -> list[str]:
    try:
        return os.listdir(folder)
    except OSError:
        return []


class _Staged:
    """A file beside its place. Where the system can, it has no name yet, so that not even a kill leaves it behind.

    Of very many only the first have none, for each of those stays open.
    """

    def __init__(self, path: Path, target: Path, mode: int | None, *, is_new: bool) -> None:
        self.path, self.target, self.mode, self.is_new = path, target, mode, is_new
        self.beside = target.with_name(f"{_scrap_name(target)}{os.urandom(_CHANCE // 2).hex()}{_PART}")
        self.unnamed = -1

    def write(self, data: bytes, *, may_stay_open: bool) -> None:
        """The file's content, not yet settled on the disk. One without a name stays open until it has one."""
        self.unnamed = _without_name(self.target.parent) if may_stay_open else -1
        has_name = self.unnamed < 0
        with open(self.beside if has_name else self.unnamed, "xb" if has_name else "wb", closefd=has_name) as file:
            file.write(data)
            if self.mode is not None and hasattr(os, "fchmod"):
                os.fchmod(file.fileno(), self.mode)

    def settle(self) -> None:
        """The content is safely on disk."""
        with _in_one_line(self.path):
            file = self.unnamed if self.unnamed >= 0 else os.open(self.beside, os.O_RDWR)
            try:
                os.fsync(file)
            finally:
                if file != self.unnamed:
                    os.close(file)

    def put_in_place(self) -> None:
        """One move: whoever looks sees the old file or the new one."""
        if self.unnamed >= 0:
            try:
                _name_it(self.unnamed, self.target)
                return
            except FileExistsError:
                if self.is_new:
                    raise OSError(_IS_THERE) from None
            _name_it(self.unnamed, self.beside)
        elif self.is_new and self.target.exists():
            raise OSError(_IS_THERE)
        os.replace(self.beside, self.target)

    def forget(self) -> None:
        """Nothing of it stays beside its place."""
        with suppress(OSError):
            os.unlink(self.beside)
        if self.unnamed >= 0:
            os.close(self.unnamed)


def _settle(staged: Sequence[_Staged]) -> None:
    """All of them are safely on disk. Many settle at the same time, which takes a disk hardly longer than one."""
    if len(staged) < _MANY:
        for file in staged:
            file.settle()
        return
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(_AT_ONCE) as pool:
        list(pool.map(_Staged.settle, staged))


def _without_name(folder: Path) -> int:
    """A new file in ``folder`` that has no name (Linux, open(2): O_TMPFILE), or -1 where there is no such thing."""
    if not hasattr(os, "O_TMPFILE") or not os.path.isdir(_OPEN_FILES):
        return -1
    try:
        return os.open(folder, os.O_TMPFILE | os.O_WRONLY, 0o666)
    except OSError as error:
        if error.errno in (EOPNOTSUPP, EISDIR, ENOENT, EINVAL):  # what file systems and kernels without it say
            return -1
        raise


def _name_it(unnamed: int, path: Path) -> None:
    """Give a file without a name its first one. The folder is named to ask for the call that follows the link."""
    folder = os.open(_OPEN_FILES, os.O_RDONLY)
    try:
        os.link(str(unnamed), path, src_dir_fd=folder, follow_symlinks=True)
    finally:
        os.close(folder)


def _stage(path: Path, data: bytes, staged: list[_Staged], *, is_new: bool) -> None:
    """Write ``data`` beside its place; noted in ``staged`` before the file exists, so that none is ever forgotten."""
    target = _real(path)
    if target.is_dir():
        raise IsADirectoryError(EISDIR, os.strerror(EISDIR))
    if target.exists() and not target.is_file():
        target.write_bytes(data)
        return
    staged.append(_Staged(path, target, _mode_to_keep(target, data), is_new=is_new))
    staged[-1].write(data, may_stay_open=len(staged) <= _MOST_OPEN)


def _mode_to_keep(target: Path, data: bytes) -> int | None:
    """The permissions of the file that is replaced, if there is one. Raises OSError where it must stay: it is
    read-only; or a document is to be written and it is none, but perhaps the very file that the document is made from.
    """
    if not target.exists():
        return None
    mode = S_IMODE(target.stat().st_mode)
    if not mode & _ANY_WRITES:
        raise OSError("it is read-only")
    for sort, head in _HEADS.items():
        if data.startswith(head) and _head_of(target, len(head)) not in (head, b""):
            raise OSError(f"what is there is no {sort}, and would be lost")
    return mode


def _head_of(path: Path, count: int) -> bytes:
    with path.open("rb") as file:
        return file.read(count)


def _scrap_name(target: Path) -> str:
    return f".{target.name[:50]}."


def _sweep(paths: Iterable[Path]) -> None:
    """Remove what a killed run left beside these; what is younger than an hour may be a run's that still goes.

    Every folder is looked through once, however many of its files are written.
    """
    scraps: dict[Path, set[str]] = {}
    for target in map(_real, paths):
        scraps.setdefault(target.parent, set()).add(_scrap_name(target))
    long_ago = time() - _LONG_AGO
    for folder, names in scraps.items():
        with suppress(OSError):
            for entry in os.scandir(folder):
                if entry.name.endswith(_PART) and entry.name[: -_CHANCE - len(_PART)] in names:
                    with suppress(OSError):
                        if entry.stat(follow_symlinks=False).st_mtime < long_ago:
                            os.unlink(entry.path)


def _real(path: Path) -> Path:
    return Path(os.path.realpath(path))


@contextmanager
def _in_one_line(path: Path) -> Iterator[None]:
    """Turns the system's error into one line about ``path``."""
    try:
        yield
    except OSError as problem:
        raise CannotWrite(path, problem) from problem
