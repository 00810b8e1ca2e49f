"""The faces as ReportLab's fonts, and the type of one document: which codes stand for which characters in it."""

from __future__ import annotations

from functools import cache
from typing import Any
from weakref import WeakKeyDictionary

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont, TTFontFace

from cardmaker.nouns.marks import Face
from cardmaker.writing.fonts import face_file
from cardmaker.writing.tokens import FACES, FORM


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
def font_of(face: Face) -> Any:
    """The font of ``face``, loaded when it is first used.

    Put in ReportLab's list under our own name by hand: registered, it would be whatever other font of the same
    PostScript name the process had registered before.
    """
    font = _Font(face)
    pdfmetrics._fonts[font.fontName] = font
    return font


class TypeCase(dict[str, str]):
    """The answers to the tokens of a document's pages, each worked out once: operators that set a font or show a text.

    A font of a PDF holds 255 characters; where a text needs more than the first, it returns to that afterwards, so that
    every page may count on it.
    """

    def __init__(self, document: Any) -> None:
        self.document = document
        self.forms: dict[str, str] = {}

    def __missing__(self, asked: str) -> str:
        if asked[0] == FORM:
            return self.forms[asked[1:]]  # few, and kept apart: the texts are forgotten when they are many
        size, is_text, text = asked[1:].partition(" ")
        font = font_of(FACES[asked[0]])
        said = self._shown(font, size, text) if is_text else f"{self._name(font, 0)} {size} Tf"
        if len(self) > _MOST_ANSWERS:
            self.clear()
        self[asked] = said
        return said

    def _name(self, font: Any, subset: int) -> str:
        name: str = font.getSubsetInternalName(subset, self.document)
        return name

    def _shown(self, font: Any, size: str, text: str) -> str:
        operators, now = [], 0
        for subset, codes in font.splitString(text, self.document):
            if subset != now:
                operators.append(f"{self._name(font, subset)} {size} Tf")
                now = subset
            operators.append(f"<{codes.hex()}> Tj")
        if now:
            operators.append(f"{self._name(font, 0)} {size} Tf")
        return " ".join(operators)


_MOST_ANSWERS = 20_000  # then a long binder's begin anew; the same question always has the same answer
