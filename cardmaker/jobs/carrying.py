"""The files that a PDF carries: what it was made from, each once, under plain names, with a digest of them all."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from cardmaker.model.carried import Carried, CarriedKind, plain_name
from cardmaker.model.plan import Plan


class SourceFile(NamedTuple):
    """A file as it was read, and where."""

    kind: CarriedKind
    path: str
    raw: bytes


def sources_of(plan: Plan) -> tuple[SourceFile, SourceFile]:
    """The files that a plan was made from."""
    pattern, loom = plan.pattern.places, plan.loom.places
    return SourceFile("pattern", pattern.file, pattern.raw), SourceFile("loom", loom.file, loom.raw)


def carried_files(sources: Iterable[SourceFile]) -> tuple[Carried, ...]:
    """The files, each once, as read, under names fit for any folder; without those that no file describes."""
    names: set[str] = set()
    files = []
    for kind, path, raw in dict.fromkeys(sources):
        if raw:
            name = plain_name(Path(path).name, names)
            names.add(name.casefold())
            files.append(Carried(name, raw, kind, path))
    return tuple(files)


def content_digest(files: Iterable[Carried]) -> str:
    """SHA-256 over the SHA-256 of every file, in the order of their names: alike when all of the files are alike."""
    each = b"".join(sha256(file.data).digest() for file in sorted(files))
    return f"sha256:{sha256(each).hexdigest()}"
