"""What a printed document carries, read back by a library that did not write it.

Any PDF may be handed in: torn, locked, without files, or made to harm. So nothing is unpacked but small files, each by
a measured amount; names are never paths; and whatever the library stumbles over is one refusal.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator
from functools import partial
from hashlib import md5
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import Any, Final, NamedTuple

from cardmaker.model.binder_leaves import LEAF_LIST
from cardmaker.model.carried_file import (
    CODE,
    DIGEST,
    HOW_MADE,
    LARGEST_FILE,
    VERSION,
    Carried,
    identity_of,
    is_plain_name,
)
from cardmaker.pdf.distrusted import CannotReadPdf, dictionary, read_distrusted, whole

LARGEST_DOCUMENT: Final = 128 * 1024 * 1024  # a binder of thousands of cards
MOST_FILES: Final = 20_000
MOST_BYTES: Final = 64 * 1024 * 1024  # of all its files together
LARGEST_LIST: Final = 16 * 1024 * 1024  # of the leaves of a binder, or of its files
_LISTS: Final = (LEAF_LIST, HOW_MADE)
_TAIL: Final = 64  # bytes at the end of a file: where its table begins
_END: Final = re.compile(rb"startxref\s+(\d{1,12})\s+%%EOF\s*\Z")
_IDENTITY: Final = re.compile(rb"/ID \[<([0-9a-f]{32})>")
_DEEPEST: Final = 20
_KNOTTED: Final = "its list of files is knotted into itself"
_PICTURES: Final = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")  # how a PNG and a JPEG begin


class CannotRestore(CannotReadPdf):
    """The document gives nothing back; the message is one line that says why, without the document's name."""


class Held(NamedTuple):
    """What a document carries: files, and what it says of itself (empty where it says nothing).

    ``leaf_list`` is a binder's, as it is written, and so is ``how_made``: by which command, and where the files belong.
    ``as_written`` says that no byte was changed since; ``changed`` names files that are no longer what they were.
    """

    files: tuple[Carried, ...]
    code: str = ""
    version: str = ""
    digest: str = ""
    leaf_list: bytes = b""
    as_written: bool = False
    how_made: bytes = b""
    is_picture: bool = False
    changed: tuple[str, ...] = ()


def held_in(path: Path) -> Held:
    """The files that the document at ``path`` carries, by their names; of a picture, the file in the code on it.

    Raises CannotRestore, OSError, and ModuleNotFoundError for a picture without the packages that read one.
    """
    about = path.stat()
    if not S_ISREG(about.st_mode) and not S_ISDIR(about.st_mode):  # reading a device or a pipe may never end
        raise CannotRestore("it is a device or a pipe, not a file")
    if about.st_size > LARGEST_DOCUMENT:
        raise CannotRestore("it is larger than any card or binder")
    data = path.read_bytes()
    if data.startswith(_PICTURES):
        from cardmaker.pdf.scanned_code import file_in_picture

        return Held((file_in_picture(data),), is_picture=True)
    if b"%PDF-" not in data[:1024]:
        raise CannotRestore("it is neither a PDF nor a picture (PNG or JPEG)")
    try:
        return read_distrusted(data, partial(_held, data))
    except CannotReadPdf as error:
        raise CannotRestore(str(error)) from None


def _held(data: bytes, reader: Any) -> Held:
    found = tuple(_files(reader))
    carried = tuple(file for file, _ in found)
    files = tuple(file for file in carried if file.name not in _LISTS)
    if not files:
        raise CannotRestore(
            "it carries no pattern: it was not made by cardmaker, or lost its attachments on the way; if it is a scan, "
            "save it as a picture (PNG or JPEG)"
        )
    facts = dictionary(reader.metadata)
    leaf_list, how_made = (next((file.data for file in carried if file.name == name), b"") for name in _LISTS)
    code, version, digest = (str(facts.get(f"/{key}", "")) for key in (CODE, VERSION, DIGEST))
    changed = tuple(file.name for file, is_sound in found if not is_sound)
    return Held(files, code, version, digest, leaf_list, _is_as_written(data), how_made, changed=changed)


def _is_as_written(data: bytes) -> bool:
    """Whether the file's identity is still that of the bytes before the place where it is told."""
    end = _END.search(data, max(0, len(data) - _TAIL))
    start = int(end[1]) if end else len(data)
    told = _IDENTITY.search(data, start)
    return told is not None and told[1].decode() == identity_of(data[:start])


def _files(reader: Any) -> Iterator[tuple[Carried, bool]]:
    """Every file, and whether it is what its checksum says (ISO 32000-1:2008, table 46); of one without, it is."""
    names = dictionary(dictionary(reader.trailer.get("/Root")).get("/Names"))
    names_before: set[str] = set()
    room = MOST_BYTES
    for count, (name, specification) in enumerate(_pairs(names.get("/EmbeddedFiles"), _DEEPEST, set())):
        if count >= MOST_FILES:
            raise CannotRestore(f"it carries more than {MOST_FILES} files")
        if name not in _LISTS and not is_plain_name(name):  # a name that leads elsewhere is never mended
            raise CannotRestore(f"it carries a file named {name[:60]!a}, which is no plain name of a .yaml file")
        if name.casefold() in names_before:
            raise CannotRestore(f"it carries two files named {name}")
        names_before.add(name.casefold())
        files = dictionary(dictionary(specification).get("/EF"))
        stream = whole(files.get("/UF") or files.get("/F"))
        data = _unpacked(name, stream)
        room -= len(data)
        if room < 0:
            raise CannotRestore("its files are larger together than those of any binder")
        yield Carried(name, data), _is_sound(stream, data)


def _is_sound(stream: Any, data: bytes) -> bool:
    told = whole(dictionary(stream.get("/Params")).get("/CheckSum"))
    return told is None or _bytes(told) == md5(data, usedforsecurity=False).digest()


def _bytes(told: Any) -> bytes:
    """The bytes of a string, which the library may have read as text."""
    return getattr(told, "original_bytes", b"") if isinstance(told, str) else bytes(told)


def _pairs(node: Any, deep: int, visited: set[int]) -> Iterator[tuple[str, Any]]:
    """The pairs of a name tree (ISO 32000-1:2008, 7.9.6), each of whose nodes hangs in one place: a few that hang in
    many would be visited without end."""
    if deep == 0:
        raise CannotRestore(_KNOTTED)
    tree = dictionary(node)
    pairs = whole(tree.get("/Names"))
    if isinstance(pairs, list):
        for name, specification in zip(pairs[::2], pairs[1::2], strict=False):
            entries = dictionary(specification)
            yield str(whole(entries.get("/UF") or entries.get("/F") or name)), specification
    kids = whole(tree.get("/Kids"))
    for kid in kids if isinstance(kids, list) else ():
        if (number := id(whole(kid))) in visited:  # the library gives the same object for the same reference
            raise CannotRestore(_KNOTTED)
        visited.add(number)
        yield from _pairs(kid, deep - 1, visited)


def _unpacked(name: str, stream: Any) -> bytes:
    """The bytes of an embedded file, packed at most once. Raises CannotRestore for one that is too large."""
    largest = LARGEST_LIST if name in _LISTS else LARGEST_FILE
    packed = getattr(stream, "_data", None)
    if not isinstance(packed, bytes):
        raise CannotRestore(f"its file {name} is empty or torn")
    filters = whole(stream.get("/Filter", []))
    filters = list(map(whole, filters)) if isinstance(filters, list) else [filters]
    if not filters:
        data = packed
    elif filters == ["/FlateDecode"] and not stream.get("/DecodeParms"):
        unpacking = zlib.decompressobj()
        data = unpacking.decompress(packed, largest + 1)
    else:
        raise CannotRestore(f"its file {name} is packed in a way that cardmaker never uses")
    if len(data) > largest:
        raise CannotRestore(f"its file {name} is larger than a pattern can be")
    if filters and not unpacking.eof:
        raise CannotRestore(f"its file {name} is torn")
    return data
