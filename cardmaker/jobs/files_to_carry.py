"""The files that a PDF carries: what it was made from, each once, under plain names, with a digest of them all."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path

from cardmaker.model.carried_file import Carried, plain_name
from cardmaker.model.plan import Plan


def sources_of(plan: Plan) -> tuple[Carried, Carried]:
    """The files that a plan was made from, not yet named."""
    pattern, loom = plan.pattern.places, plan.loom.places
    return Carried("", pattern.raw, "pattern", pattern.file), Carried("", loom.raw, "loom", loom.file)


def carried_files(sources: Iterable[Carried]) -> tuple[Carried, ...]:
    """The files, each once, as read, under names fit for any folder; none for a record that no file describes."""
    files: dict[str, Carried] = {}  # by their names, which may not differ in capitals only
    for source in dict.fromkeys(sources):
        if source.data:
            name = plain_name(Path(source.path).name, files)
            files[name.casefold()] = source._replace(name=name)
    return tuple(files.values())


def content_digest(files: Iterable[Carried]) -> str:
    """SHA-256 over the SHA-256 of every file, in the order of their names: alike when all of the files are alike."""
    each = b"".join(sha256(file.data).digest() for file in sorted(files))
    return f"sha256:{sha256(each).hexdigest()}"
