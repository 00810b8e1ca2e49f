"""The faces as ReportLab's fonts, and the type of one document: which codes stand for which characters in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from typing import Any, Final
from weakref import WeakKeyDictionary

from cardmaker.model.marks import Face
from cardmaker.pdf.character_codes import FACES, FONT_NAMES, PLACES, SPACE
from cardmaker.pdf.fonts import face_file
from cardmaker.pdf.reportlab_parts import BASIC_FONTS, MEANINGS, TTFont, TTFontFace


class _Face(TTFontFace):  # type: ignore[misc]
    """A face whose long tables are taken from :func:`face_file`; ReportLab reads them number by number."""

    def __init__(self, face: Face) -> None:
        self.kind = face
        super().__init__(str(face_file(face).path))

    def extractInfo(self, charInfo: int = 1) -> None:
        super().extractInfo(charInfo=0)
        read = face_file(self.kind)
        self.charToGlyph: dict[int, int] = read.glyphs
        self.glyphToChar: dict[int, list[int]] = {}
        self.charWidths = dict(zip(read.glyphs, map(read.pens.__getitem__, read.glyphs.values()), strict=True))
        self.defaultWidth = read.advances.box
        self.hmetrics = list(zip(read.pens, read.bearings, strict=True))
        self.glyphPos = list(read.starts)


class _Font(TTFont):  # type: ignore[misc]
    """ReportLab's font around :class:`_Face`; which codes stand for which characters it keeps for each document."""

    def __init__(self, face: Face) -> None:
        self.fontName, self.face = f"cardmaker {face}", _Face(face)
        self.state: WeakKeyDictionary[Any, Any] = WeakKeyDictionary()
        self.encoding, self._asciiReadable, self._shapable = None, 0, False

    def addObjects(self, doc: Any) -> None:
        """The font into the document, what its codes mean told by :func:`meanings` instead of by ReportLab."""
        subsets = [list(subset) for subset in self.state[doc].subsets]
        super().addObjects(doc)
        for number, subset in enumerate(subsets):
            font = doc.idToObject[BASIC_FONTS].dict[f"{FONT_NAMES[self.face.kind]}+{number}"]
            widths = [str(self.face.charWidths.get(point, self.face.defaultWidth)) for point in subset]
            font.Widths = f"[{' '.join(widths)}]"  # written at once
            doc.idToObject[f"{MEANINGS}{font.BaseFont}"].content = meanings(subset)


_MOST_LINES: Final = 100  # of one block of a CMap
_MEANINGS: Final = """/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<00> <FF>
endcodespacerange
{}
endcmap
CMapName currentdict /CMap defineresource pop
end
end"""


def meanings(subset: Sequence[int]) -> str:
    """Which character each code of a font stands for, from the code points at its places.

    Places that are not taken hold nothing or a space, and are left out: a code must not stand for U+0000 (ISO 14289-1,
    7.21.7). The form is that of ISO 32000-1, 9.10.3, with blocks of at most 100 lines.
    """
    taken = [
        _meaning(place, point) for place, point in enumerate(subset) if point and (point != SPACE or place == SPACE)
    ]
    blocks = (taken[at : at + _MOST_LINES] for at in range(0, len(taken), _MOST_LINES))
    lines = (line for block in blocks for line in (f"{len(block)} beginbfchar", *block, "endbfchar"))
    return _MEANINGS.format("\n".join(lines))


@lru_cache(maxsize=1024)  # usual characters have the same places in every face and document
def _meaning(place: int, point: int) -> str:
    return f"<{place:02X}> <{chr(point).encode('utf-16-be').hex().upper()}>"


@cache
def font_of(face: Face) -> Any:
    """The font of ``face``, loaded when it is first used.

    Not registered with ReportLab: then it would be whatever other font of the same PostScript name the process had
    registered before.
    """
    return _Font(face)


class FontSubsets(dict[str, str]):
    """The faces of one document: which are used, with which characters, and where unusual characters have a place.

    As a mapping it answers placeholders, each worked out once. Where a text needs more than the first font of its
    face, it returns to that afterwards, so that every page may count on it.
    """

    def __init__(self, document: Any) -> None:
        self.document = document
        self.letters: dict[Face, set[str]] = {}
        self.states: dict[Face, Any] = {}

    def take(self, letters: Mapping[Face, str]) -> None:
        """Characters that a page has set."""
        for face, characters in letters.items():
            if face not in self.letters:
                self.letters[face] = set()
                self.states[face] = self._opened(face)
            self.letters[face].update(characters)

    def _opened(self, face: Face) -> Any:
        """The font is one of the document's, its usual characters in their places."""
        font = font_of(face)
        state = font._assignState(self.document)
        state.internalName = FONT_NAMES[face]
        state.assignments = {point: place for place, point in enumerate(PLACES) if point != SPACE} | {SPACE: SPACE}
        state.subsets, state.nextCode = [list(PLACES)], len(PLACES)
        return state

    def embed(self) -> None:
        """The fonts into the document, once nothing more is set in them.

        Only what was used: every other place of the first fonts is a space.
        """
        for face, state in self.states.items():
            used = set(map(ord, self.letters[face]))
            state.subsets[0] = [point if point in used or not point else SPACE for point in state.subsets[0]]
            font_of(face).addObjects(self.document)

    def __missing__(self, placeholder: str) -> str:
        size, _, text = placeholder[1:].partition(" ")
        font, operators, now = font_of(FACES[placeholder[0]]), [], 0
        for subset, codes in font.splitString(text, self.document):
            if subset != now:
                operators.append(f"{font.getSubsetInternalName(subset, self.document)} {size} Tf")
                now = subset
            operators.append(f"<{codes.hex()}> Tj")
        if now:
            operators.append(f"{font.getSubsetInternalName(0, self.document)} {size} Tf")
        answer = self[placeholder] = " ".join(operators)
        return answer
