"""What a printed document carries inside it: the files that it was made from, and what it says of itself."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Literal, NamedTuple

CarriedKind = Literal["pattern", "loom", "pegs", "card layout", "class", "binder"]

CODE: Final = "Code"
VERSION: Final = "Version"
DIGEST: Final = "ContentDigest"  # of the carried files, so that two prints of one pattern can be told alike
MADE_BY: Final = "cardmaker"


class Carried(NamedTuple):
    """One file, byte for byte as it was read, under a plain name without folders."""

    name: str
    data: bytes
    kind: CarriedKind = "pattern"


class About(NamedTuple):
    """What the document says of itself to whoever asks for its properties; ``facts`` are keys of our own."""

    title: str
    subject: str = ""
    keywords: str = ""
    author: str = ""
    facts: Mapping[str, str] = {}
