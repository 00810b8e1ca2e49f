"""A PDF document in the making, on top of ReportLab's: what its object model lacks, and nothing else.

Packed objects (object streams and cross-reference streams, ISO 32000-1:2008, 7.5.7 and 7.5.8): the structure of a
thousand cards is hundreds of thousands of tiny objects, which ReportLab's tables would keep one by one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from struct import Struct
from typing import Any, Final

from cardmaker.model.carried_file import identity_of
from cardmaker.pdf.page_resources import compressed
from cardmaker.pdf.reportlab_parts import (
    PDFArray,
    PDFDictionary,
    PDFDocument,
    PDFFile,
    PDFIndirectObject,
    PDFObject,
    PDFStream,
)

_FREE, _PLAIN, _PACKED = 0, 1, 2  # kinds of entries in a cross-reference stream (ISO 32000-1, table 18)
_ENTRY: Final = Struct(">BIH").pack  # as /W [1 4 2] says
_VERSION: Final = (1, 7)


def text_string(text: str) -> str:
    """A text as a PDF string: plain when it is ASCII, else UTF-16 with its mark (ISO 32000-1, 7.9.2.2)."""
    if text.isascii() and text.isprintable():
        return "(" + text.replace("\\", r"\\").replace("(", r"\(").replace(")", r"\)") + ")"
    return "<FEFF" + text.encode("utf-16-be", "surrogatepass").hex().upper() + ">"


def compact_text(content: bytes, entries: dict[str, Any] | None = None) -> Any:
    """A stream that is compressed here and now, so that a long document keeps no long texts."""
    return deflated(compressed(content), entries)


def deflated(content: bytes, entries: dict[str, Any] | None = None) -> Any:
    """A stream that was compressed before."""
    dictionary = PDFDictionary({**(entries or {}), "Filter": PDFArray(["/FlateDecode"])})
    return PDFStream(dictionary, content + b"\n")


def stored(content: bytes, entries: Mapping[str, str]) -> Any:
    """A stream as it is, whose entries say how it is to be read."""
    return PDFStream(PDFDictionary(dict(entries)), content + b"\n")


class Raw(PDFObject):  # type: ignore[misc]
    """An object written by ourselves: a dictionary of what stands between ``<<`` and ``>>``, and its content if any.

    The content is not compressed, and there is no entry for filters: readers stumble over ReportLab's empty one.
    """

    def __init__(self, inside: str, content: bytes | None = None) -> None:
        self.written = f"<< {inside} >>".encode("latin-1")
        if content is not None:
            head = f"<< {inside} /Length {len(content)} >>".encode("latin-1")
            self.written = b"%b\nstream\n%b\nendstream\n" % (head, content)

    def format(self, document: Any) -> bytes:
        return self.written


def add_entries(thing: Any, **entries: Any) -> None:
    """Entries of the catalogue or of a page, of which ReportLab by itself writes only those that it knows."""
    thing.__NoDefault__ = [*thing.__NoDefault__, *entries]
    vars(thing).update(entries)


class Document(PDFDocument):  # type: ignore[misc]
    """ReportLab's document with packed objects. Its identity is a digest of every byte before that is told."""

    def __init__(self, language: str) -> None:
        super().__init__(compression=1, invariant=1, lang=language)
        self.language = language
        self.Catalog.Outlines = None
        self.packed: dict[int, tuple[int, int]] = {}  # object number to its stream's number and its place in there
        self.reserved: set[int] = set()

    def number(self, thing: Any) -> int:
        """The object number of ``thing``, which is one of the document's from now on."""
        number: int = self.idToObjectNumberAndVersion[self.Reference(thing).name][0]
        return number

    def reference(self, thing: Any) -> str:
        """How other objects name ``thing``."""
        return f"{self.number(thing)} 0 R"

    def reserve(self, count: int) -> range:
        """The next ``count`` object numbers, for objects that :meth:`pack` brings later."""
        numbers = range(self.next_number(), self.next_number() + count)
        self.objectcounter += count
        self.reserved.update(numbers)
        return numbers

    def next_number(self) -> int:
        """The first of the numbers that :meth:`reserve` gives next."""
        return int(self.objectcounter) + 1

    def pack(self, numbers: Sequence[int], objects: Sequence[bytes]) -> None:
        """Objects with reserved numbers, compressed together: dictionaries and arrays only, no streams."""
        if not objects:
            return
        places, at = [], 0
        for number, written in zip(numbers, objects, strict=True):
            places.append(f"{number} {at}")
            at += len(written) + 1
        head = " ".join(places).encode() + b"\n"
        entries = {"Type": "/ObjStm", "N": len(objects), "First": len(head)}
        stream = self.number(compact_text(head + b"\n".join(objects), entries))
        self.packed.update((number, (stream, place)) for place, number in enumerate(numbers))
        self.reserved.difference_update(numbers)

    def finished(self) -> bytes:
        """The whole file: every object once, in the order of their numbers, then where each lies.

        Writing an object may bring new ones.
        """
        self.Reference(self.Catalog)
        self.Reference(self.info)
        file = PDFFile(_VERSION)
        offsets: dict[int, int] = {}
        number = 0
        while number < self.objectcounter:
            number += 1
            if number in self.packed:
                continue
            if number in self.reserved:
                raise ValueError(f"object {number} was promised and never came")
            name = self.numberToId[number]
            offsets[number] = file.add(PDFIndirectObject(name, self.idToObject[name]).format(self))
        self._end(file, offsets)
        return bytes(file.format(self))

    def _end(self, file: Any, offsets: dict[int, int]) -> None:
        """The cross-reference stream, which is the trailer as well."""
        own, start = self.objectcounter + 1, file.offset
        offsets[own] = start
        rows = [_ENTRY(_FREE, 0, 65535)]
        for number in range(1, own + 1):
            packed = self.packed.get(number)
            rows.append(_ENTRY(_PACKED, *packed) if packed else _ENTRY(_PLAIN, offsets[number], 0))
        body, identity = compressed(b"".join(rows)), identity_of(file.format(self))
        entries = (
            f"/Type /XRef /Size {own + 1} /W [1 4 2] /Root {self.reference(self.Catalog)} "
            f"/Info {self.reference(self.info)} /ID [<{identity}> <{identity}>] "
            f"/Filter /FlateDecode /Length {len(body)}"
        )
        file.add(f"{own} 0 obj\n<< {entries} >>\nstream\n".encode() + body + b"\nendstream\nendobj\n")
        file.add(f"startxref\n{start}\n%%EOF\n".encode())


def pdf_array(parts: Iterable[str]) -> str:
    """An array of what is written already."""
    return f"[{' '.join(parts)}]"
