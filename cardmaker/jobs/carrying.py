"""The files that a PDF carries: what it was made from, each once, under plain names, with a digest of them all."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from cardmaker.model.carried import Carried, CarriedKind, plain_name
from cardmaker.model.plan import Plan

if TYPE_CHECKING:
    pass


def carried_files(plans: Iterable[Plan]) -> tuple[Carried, ...]:
    """The files of the patterns and looms of some plans, each once, as read, under names fit for any folder."""
    files: dict[tuple[str, bytes], Carried] = {}
    taken: set[str] = set()
    for plan in plans:
        carry(files, taken, "pattern", plan.pattern.places.file, plan.pattern.places.raw)
        carry(files, taken, "loom", plan.loom.places.file, plan.loom.places.raw)
    return tuple(files.values())


def carry(files: dict[tuple[str, bytes], Carried], taken: set[str], kind: CarriedKind, path: str, raw: bytes) -> None:
    """One file more, unless it is among them; ``taken`` are the names that others have."""
    if raw and (path, raw) not in files:
        name = plain_name(Path(path).name, taken)
        taken.add(name.casefold())
        files[path, raw] = Carried(name, raw, kind, path)


def content_digest(files: Iterable[Carried]) -> str:
    """SHA-256 over the SHA-256 of every file, in the order of their names: alike when all of the files are alike."""
    each = b"".join(sha256(file.data).digest() for file in sorted(files))
    return f"sha256:{sha256(each).hexdigest()}"
