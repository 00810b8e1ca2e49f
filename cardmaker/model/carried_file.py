"""What a printed document carries inside it: the files that it was made from, and what it says of itself."""

from __future__ import annotations

import hashlib
import unicodedata
from collections.abc import Collection, Mapping
from typing import Final, Literal, NamedTuple

from cardmaker.model.file_names import name_anywhere
from cardmaker.model.record_class import record

CarriedKind = Literal[
    "pattern", "yarn", "loom", "pegs", "card layout", "sheet", "class", "event", "binder", "leaf list", "command"
]

CODE: Final = "Code"
VERSION: Final = "Version"
DIGEST: Final = "ContentDigest"  # of the carried files, so that two prints of one pattern can be told alike
MADE_BY: Final = "cardmaker"
HOW_MADE: Final = "how-it-was-made.json"  # no file of the weaver's is carried under a name that ends so

LARGEST_FILE: Final = 1024 * 1024  # bytes of a file that is read, and so of one that a document carries
ENDINGS: Final = (".yaml", ".yml")
_DEEPEST: Final = 8  # folders in a place
_LONGEST_NAME: Final = 255  # bytes: what the usual file systems hold
# Names that Windows keeps for devices, with any ending (Microsoft, "Naming Files, Paths, and Namespaces").
RESERVED_NAMES: Final = frozenset(
    {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in "0123456789¹²³"}
)
_FORBIDDEN: Final = frozenset('/\\:*?"<>|')
_UNSEEN: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})  # categories of signs that a name cannot show


class Carried(NamedTuple):
    """One file, byte for byte as it was read, under a plain name without folders; ``path`` is where it was read."""

    name: str
    data: bytes
    kind: CarriedKind = "pattern"
    path: str = ""


@record
class About:
    """What the document says of itself to whoever asks for its properties; ``facts`` are keys of our own."""

    title: str
    subject: str = ""
    keywords: str = ""
    author: str = ""
    facts: Mapping[str, str] = {}


def identity_of(written: bytes) -> str:
    """The identity of a file of which this is written so far: whoever changes a byte of it gives it another."""
    return hashlib.md5(written, usedforsecurity=False).hexdigest()


def is_plain_name(name: str) -> bool:
    """Whether a file may have this name in any folder on any system: no path, nothing unseen, nothing reserved."""
    return (
        name == name.strip()
        and not name.startswith((".", "-"))
        and name.lower().endswith(ENDINGS)
        and len(name.encode(errors="replace")) <= _LONGEST_NAME
        and name.split(".")[0].rstrip().lower() not in RESERVED_NAMES
        and all(_is_plain_sign(sign) for sign in name)
    )


def _is_plain_sign(sign: str) -> bool:
    return sign not in _FORBIDDEN and (sign.isalnum() or unicodedata.category(sign) not in _UNSEEN)


def is_plain_place(place: str) -> bool:
    """Whether a file may go to this place in a folder, on any system: plain names all the way down, and none of them
    hidden."""
    *folders, name = place.split("/")
    return len(folders) <= _DEEPEST and is_plain_name(name) and all(map(_is_plain_folder, folders))


def _is_plain_folder(name: str) -> bool:
    return is_plain_name(f"{name}.yaml") and not name.endswith((".", " "))


def plain_name(name: str, taken: Collection[str]) -> str:
    """A plain name for a file called ``name``, its own if that is one, and other than all that are ``taken``.

    Names that some system takes for one are one name: ``taken`` are as :func:`name_anywhere` has them.
    """
    if is_plain_name(name) and name_anywhere(name) not in taken:
        return name
    stem = name.rpartition(".")[0] or name
    stem = "".join(sign if _is_plain_sign(sign) else "-" for sign in stem).strip(" .-") or "file"
    stem = stem.encode()[: _LONGEST_NAME - 16].decode(errors="ignore")
    own = name if is_plain_name(name) else f"{stem}.yaml"
    if not is_plain_name(own):
        stem, own = f"file {stem}", f"file {stem}.yaml"
    number = 1
    while name_anywhere(own) in taken:
        number += 1
        own = f"{stem}-{number}.yaml"
    return own
