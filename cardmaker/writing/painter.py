"""Pages to a PDF: obeys the marks and decides nothing. The only module that knows ReportLab.

Same pages, same bytes: nothing is taken from the clock, the environment or a settings file, and the file's identity is
a digest of what is in it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from io import BytesIO
from typing import Any, Final
from weakref import WeakKeyDictionary

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFFormXObject, PDFInfo, PDFString
from reportlab.pdfbase.ttfonts import TTFont, TTFontFace
from reportlab.pdfgen.canvas import Canvas

from cardmaker.nouns.marks import Face, Group, Mark, Page, Stamp, Words
from cardmaker.writing.fonts import character_name, composed, face_file, lacks
from cardmaker.writing.pen import POINTS_PER_MM, Numbers, Pen

# Taken by ReportLab from a settings file or RL_… variables if we did not say.
_SETTINGS: Final[dict[str, object]] = {
    "useA85": 0, "ttfAsciiReadable": 0, "pdfComments": 0, "pdfMultiLine": 0, "invariant": 1, "canvas_baseColor": None,
    "allowTTFSubsetting": [],
}  # fmt: skip
_REACH: Final = 14_400  # points: a form's content is never cut off by its own box (ISO 32000-1, annex C: largest page)


def paint(
    pages: Sequence[Page],
    *,
    title: str,
    subject: str = "",
    keywords: str = "",
    author: str = "",
    digest_inputs: Iterable[bytes] = (),
) -> bytes:
    """The PDF of ``pages``, one sheet each, in the language of the first.

    ``digest_inputs`` are further contents that tell two files apart (the pattern as typed), for the file's identity.
    Raises ValueError when there is no page, when a face lacks a character, and for marks that cannot be drawn.
    """
    if not pages:
        raise ValueError("there are no pages to paint")
    with _own_settings():
        canvas = _canvas(pages[0].language, title)
        canvas._doc.info = _Info(title=title, subject=subject, keywords=keywords, author=author)
        shop = _Workbench(canvas)
        try:
            for page in pages:
                shop.sheet(page)
        except _Missing:
            raise ValueError(_missing_told(pages)) from None
        for content in digest_inputs:
            shop.digest.update(content)
        canvas._doc.signature = shop.digest
        return bytes(canvas.getpdfdata())


def missing_characters(pages: Iterable[Page]) -> tuple[tuple[str, str, Face], ...]:
    """Every character that its face lacks, with its Unicode name, each once, in the order of the pages."""
    found: dict[tuple[str, str, Face], None] = {}
    for page in pages:
        for words in _words_in(page.marks):
            for character in lacks(words.text, words.face):
                found[character, character_name(character), words.face] = None
    return tuple(found)


def _words_in(marks: Iterable[Mark]) -> Iterator[Words]:
    for mark in marks:
        if isinstance(mark, Words):
            yield mark
        elif isinstance(mark, Stamp | Group):
            yield from _words_in(mark.marks)


def _missing_told(pages: Sequence[Page]) -> str:
    told = [f"{name} ({ch if ch.isprintable() else ascii(ch)}, {face})" for ch, name, face in missing_characters(pages)]
    return f"the type has no {', no '.join(told)}"


class _Missing(Exception):
    """A face lacks a character; which ones is found out by looking at all of the pages."""


class _Face(TTFontFace):  # type: ignore[misc]
    """A face whose long tables are taken from :func:`face_file`; ReportLab reads them number by number."""

    def __init__(self, face: Face) -> None:
        self.wanted = face
        super().__init__(str(face_file(face).path))

    def extractInfo(self, charInfo: int = 1) -> None:
        super().extractInfo(charInfo=0)
        read = face_file(self.wanted)
        self.charToGlyph: dict[int, int] = read.glyphs
        self.glyphToChar: dict[int, list[int]] = {}
        self.charWidths = {code: read.pens[glyph] for code, glyph in read.glyphs.items()}
        self.defaultWidth = read.advances.box
        self.hmetrics = list(zip(read.pens, read.bearings, strict=True))
        self.glyphPos = list(read.starts)


class _Font(TTFont):  # type: ignore[misc]
    """ReportLab's font around :class:`_Face`; which codes stand for which characters it keeps for each document."""

    def __init__(self, face: Face) -> None:
        self.fontName, self.face = f"cardmaker {face}", _Face(face)
        self.state: WeakKeyDictionary[Any, Any] = WeakKeyDictionary()
        self.encoding = _Encoding
        self._asciiReadable, self._shapable = 0, False


class _Encoding:
    name = "UTF-8"


@cache
def _font(face: Face) -> Any:
    """The font of ``face``, loaded when it is first used.

    Put in ReportLab's list under our own name by hand: registered, it would be whatever other font of the same
    PostScript name the process had registered before.
    """
    font = _Font(face)
    pdfmetrics._fonts[font.fontName] = font
    return font


class _Info(PDFInfo):  # type: ignore[misc]
    """What the document says of itself: only what is known, and no date."""

    def __init__(self, *, title: str, subject: str, keywords: str, author: str) -> None:
        super().__init__()
        self.title, self.subject, self.keywords, self.author = title, subject, keywords, author
        self.creator = "cardmaker"

    def format(self, document: Any) -> Any:
        entries = {
            "Title": self.title, "Subject": self.subject, "Keywords": self.keywords, "Author": self.author,
            "Creator": self.creator, "Producer": self.producer,
        }  # fmt: skip
        return PDFDictionary({key: PDFString(text) for key, text in entries.items() if text}).format(document)


@contextmanager
def _own_settings() -> Iterator[None]:
    """ReportLab's settings as print needs them, and after it as they were."""
    before = {name: getattr(rl_config, name) for name in _SETTINGS}
    vars(rl_config).update(_SETTINGS)
    try:
        yield
    finally:
        vars(rl_config).update(before)


def _canvas(language: str, title: str) -> Any:
    """An empty document: PDF 1.7, compressed, printed at its own size where the printer listens."""
    canvas = Canvas(
        BytesIO(),
        pagesize=(1, 1),
        pageCompression=1,
        invariant=1,
        pdfVersion=(1, 7),
        initialFontName=_font(Face.SANS).fontName,
        lang=language,
    )
    canvas.setViewerPreference("PrintScaling", "None")
    if title:
        canvas.setViewerPreference("DisplayDocTitle", "true")
    return canvas


class _Workbench:
    """One document while it is painted: its fonts, its forms, the text already encoded (a :class:`.pen.Shop`)."""

    def __init__(self, canvas: Any) -> None:
        self.canvas = canvas
        self.digest = hashlib.md5(usedforsecurity=False)
        self.x = Numbers()
        self.y: dict[float, Numbers] = {}
        self.pieces: dict[tuple[str, Face], tuple[tuple[str, str], ...]] = {}
        self.forms: dict[str, str] = {}
        self.in_use: list[list[str]] = []  # the forms that the page, and each form on the way down, has asked for

    def sheet(self, page: Page) -> None:
        """One page more."""
        width, height = (round(side * POINTS_PER_MM, 3) for side in (page.width_mm, page.height_mm))
        y = self.y.setdefault(height, Numbers(height, -POINTS_PER_MM))
        content, forms = self._content(page.marks, self.x, y)
        canvas = self.canvas
        canvas.setPageSize((width, height))
        canvas._code.append(content)
        canvas._formsinuse.extend(forms)
        self.digest.update(f"{width} {height}\n{content}\n".encode())
        canvas.showPage()

    def _content(self, marks: Iterable[Mark], x: Numbers, y: Numbers) -> tuple[str, list[str]]:
        """The stream that draws ``marks``, and the forms it asks for."""
        self.in_use.append([])
        pen = Pen(x, y, self)
        pen.draw(marks)
        return pen.finished(), self.in_use.pop()

    def repeat(self, marks: tuple[Mark, ...], left: float, top: float) -> str:
        """The name of the form that draws ``marks``; those that come out alike are one form, wherever they stand."""
        x, y = Numbers(-left * POINTS_PER_MM), Numbers(top * POINTS_PER_MM, -POINTS_PER_MM)
        content, inner = self._content(marks, x, y)
        name = self.forms.get(content)
        if name is None:
            name = self.forms[content] = f"Repeat{len(self.forms) + 1}"
            self._add_form(name, content, inner)
            self.digest.update(f"{name}\n{content}\n".encode())
        if name not in self.in_use[-1]:
            self.in_use[-1].append(name)
        return f"/{self.canvas._doc.getXObjectName(name)}"

    def _add_form(self, name: str, content: str, inner: list[str]) -> None:
        form = PDFFormXObject(-_REACH, -_REACH, _REACH, _REACH)
        form.compression = 1
        form.setStreamList(content)
        if inner:
            form.XObjects = self.canvas._doc.xobjDict(inner)
        self.canvas._doc.addForm(name, form)

    def text_pieces(self, text: str, face: Face) -> tuple[tuple[str, str], ...]:
        """``text`` in the codes of the fonts of this document; a font holds 255 characters, more make another."""
        found = self.pieces.get((text, face))
        if found is None:
            if lacks(text, face):
                raise _Missing
            font, document = _font(face), self.canvas._doc
            found = self.pieces[text, face] = tuple(
                (font.getSubsetInternalName(subset, document), codes.hex())
                for subset, codes in font.splitString(composed(text), document)
            )
        return found
