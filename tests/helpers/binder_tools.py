"""Binders read back by libraries that did not write them: pypdf, pikepdf (qpdf), pdfplumber and pdfium."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from functools import cache
from io import BytesIO
from typing import Any, NamedTuple

import pdfplumber
import pikepdf
import pypdf
import pypdfium2
from pdfplumber.utils.text import extract_text

from cardmaker.jobs.binder_making import BinderRequest, FinishedBinder, make_binder


class Link(NamedTuple):
    """A link as a reader follows it: from and to pages counted from 1, its place in points from the top left."""

    page: int
    target: int
    left: float
    top: float
    right: float
    bottom: float
    told: str


@cache
def bound(*names: str, **more: Any) -> FinishedBinder:
    """The binder of these names. Made once for all tests that ask the same."""
    return make_binder(BinderRequest(names, quiet=True, **more))


@cache
def links_by_pypdf(pdf: bytes) -> list[Link]:
    reader = pypdf.PdfReader(BytesIO(pdf), strict=True)
    numbers = {page.indirect_reference.idnum: number for number, page in enumerate(reader.pages, 1)}  # type: ignore[union-attr]
    found = []
    for number, page in enumerate(reader.pages, start=1):
        height = float(page.mediabox.height)
        for each in page.get("/Annots", []):
            link: Any = each.get_object()
            left, bottom, right, top = map(float, link["/Rect"])
            target = numbers[list.__getitem__(link["/Dest"], 0).idnum]
            found.append(Link(number, target, left, height - top, right, height - bottom, str(link["/Contents"])))
    return found


@cache
def links_by_pikepdf(pdf: bytes) -> list[Link]:
    with pikepdf.open(BytesIO(pdf)) as document:
        numbers = {page.obj.objgen: number for number, page in enumerate(document.pages, 1)}
        found = []
        for number, page in enumerate(document.pages, start=1):
            height = float(page.mediabox[3])
            for link in page.obj.get("/Annots", []):
                left, bottom, right, top = (float(place) for place in link.Rect)
                target = numbers[link.Dest[0].objgen]
                found.append(Link(number, target, left, height - top, right, height - bottom, str(link.Contents)))
        return found


class Outlined(NamedTuple):
    title: str
    level: int
    page: int


@cache
def outline_by_pypdf(pdf: bytes) -> list[Outlined]:
    reader = pypdf.PdfReader(BytesIO(pdf), strict=True)

    def lines(entries: Any, level: int) -> Iterator[Outlined]:
        for entry in entries:
            if isinstance(entry, list):
                yield from lines(entry, level + 1)
            else:
                page = reader.get_destination_page_number(entry)
                assert page is not None
                yield Outlined(entry.title, level, page + 1)

    return list(lines(reader.outline, 0))


def outline_by_pdfium(pdf: bytes) -> list[Outlined]:
    document = pypdfium2.PdfDocument(pdf)
    found = []
    for entry in document.get_toc():
        place = entry.get_dest()
        assert place is not None
        found.append(Outlined(entry.get_title(), entry.level, place.get_index() + 1))
    return found


class Letters(NamedTuple):
    """What is set on one page: each character with its face, size and place."""

    page: Any

    def title(self) -> str:
        """The largest words of the page: what it is."""
        return largest(self.page)

    def inside(self, link: Link) -> str:
        """The words within a link."""
        box = (link.left - 0.5, link.top, link.right + 0.5, link.bottom)
        chars = [c for c in self.page.chars if box[0] <= (c["x0"] + c["x1"]) / 2 <= box[2]]
        chars = [c for c in chars if box[1] <= (c["top"] + c["bottom"]) / 2 <= box[3]]
        return in_words(chars)


def in_words(chars: list[Any]) -> str:
    return " ".join(extract_text(chars, x_tolerance=1.5).split()) if chars else ""


def largest(page: Any) -> str:
    chars = [c for c in page.chars if "Serif" in c["fontname"]]
    size = max((c["size"] for c in chars), default=0)
    return in_words([c for c in chars if c["size"] > size - 0.01])


@cache
def plumbed(pdf: bytes) -> tuple[Letters, ...]:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        return tuple(Letters(page) for page in pdfplumber.open(BytesIO(without_tapes(pdf))).pages)


def without_tapes(pdf: bytes) -> bytes:
    """The file without its woven faces, whose thousands of outlines take long to read and hold no words."""
    with pikepdf.open(BytesIO(pdf)) as document:
        for each in document.objects:
            if isinstance(each, pikepdf.Stream) and each.get("/Subtype") == "/Form":
                assert b"BT" not in each.read_bytes().split()
                each.write(b"")
        kept = BytesIO()
        document.save(kept)
    return kept.getvalue()
