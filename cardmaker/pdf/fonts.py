"""The faces as files, and the ruler that measures words set in them.

Reads the few TrueType tables it needs itself, in bulk: a face takes under a millisecond and no PDF library, so a card
can be measured and refused before anything heavy is loaded. The faces are Source Sans and Source Serif (SIL Open Font
Licence), static TrueType with tabular figures.
"""

from __future__ import annotations

from array import array
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path
from struct import unpack_from
from sys import byteorder
from typing import Final

from cardmaker.model.marks import Face
from cardmaker.model.record_class import record

MM_PER_POINT: Final = 25.4 / 72
_FILES: Final = {
    Face.SANS: ("font_source_sans_pro", "SourceSansPro-Regular"),
    Face.SANS_SEMIBOLD: ("font_source_sans_pro", "SourceSansPro-Semibold"),
    Face.SANS_BOLD: ("font_source_sans_pro", "SourceSansPro-Bold"),
    Face.SERIF: ("font_source_serif_pro", "SourceSerifPro-Regular"),
    Face.SERIF_SEMIBOLD: ("font_source_serif_pro", "SourceSerifPro-Semibold"),
}


class Advances(dict[str, int]):
    """How far each character moves the pen, in thousandths of the size; a missing one moves it as its box does."""

    def __init__(self, glyphs: Mapping[int, int], pens: Sequence[int]) -> None:
        self.glyphs, self.pens, self.box = glyphs, pens, pens[0]

    def __missing__(self, character: str) -> int:
        """Looked up when it is first wanted: a card uses a tenth of a face's characters."""
        advance = self[character] = self.pens[self.glyphs.get(ord(character), 0)]
        return advance


@record
class FaceFile:
    """What a font file says, in thousandths of the size.

    ``advances`` is by character, ``glyphs`` by code point; ``pens`` and ``bearings`` (advance, left side bearing) and
    ``starts`` (where each outline begins in its table) are by glyph.
    """

    path: Path
    advances: Advances
    glyphs: dict[int, int]
    pens: tuple[int, ...]
    bearings: tuple[int, ...]
    starts: tuple[int, ...]


def face_path(face: Face) -> Path:
    """Where the file of ``face`` lies."""
    package, name = _FILES[face]
    return _folder(package) / f"{name}.ttf"


@cache
def _folder(package: str) -> Path:
    """The folder of a font package, which is found but not run: it would list all of its files first."""
    spec = find_spec(package)
    if spec is None or not spec.submodule_search_locations:
        raise FileNotFoundError(f"the fonts are missing: install {package.replace('_', '-')}")
    return Path(spec.submodule_search_locations[0], "files")


@cache
def face_file(face: Face) -> FaceFile:
    """The tables of ``face``, read once and only when it is used.

    Layout of the tables: OpenType specification, chapters cmap (format 12), head, hhea, hmtx, loca and maxp.
    """
    path = face_path(face)
    data = path.read_bytes()
    tables = {tag: start for tag, _, start, _ in (unpack_from(">4sLLL", data, 12 + 16 * row) for row in range(data[5]))}
    if unpack_from(">H", data, tables[b"head"] + 18)[0] != 1000:
        raise ValueError(f"{path.name}: not a thousand units to the size")
    count = unpack_from(">H", data, tables[b"maxp"] + 4)[0]
    pens, bearings = _metrics(data, tables, count)
    glyphs = _glyphs(data, tables[b"cmap"])
    glyphs[0xA0] = glyphs[0x20]
    return FaceFile(path, Advances(glyphs, pens), glyphs, pens, bearings, _outline_starts(data, tables, count))


def _metrics(data: bytes, tables: dict[bytes, int], count: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Advance and left side bearing of every glyph; the last advance holds for all glyphs after it."""
    pairs = unpack_from(">H", data, tables[b"hhea"] + 34)[0]
    numbers = unpack_from(f">{pairs + count}H", data, tables[b"hmtx"])
    pens = numbers[0 : 2 * pairs : 2]
    return pens + (count - pairs) * pens[-1:], numbers[1 : 2 * pairs : 2] + numbers[2 * pairs :]


def _outline_starts(data: bytes, tables: dict[bytes, int], count: int) -> tuple[int, ...]:
    if unpack_from(">H", data, tables[b"head"] + 50)[0]:
        return unpack_from(f">{count + 1}L", data, tables[b"loca"])
    halves = array("H", data[tables[b"loca"] : tables[b"loca"] + 2 * (count + 1)])
    if byteorder == "little":
        halves.byteswap()
    return tuple([2 * half for half in halves])


def _glyphs(data: bytes, cmap: int) -> dict[int, int]:
    """Code point to glyph, from the full Unicode table (platform 3, encoding 10, format 12)."""
    for row in range(unpack_from(">H", data, cmap + 2)[0]):
        platform, encoding, start = unpack_from(">HHL", data, cmap + 4 + 8 * row)
        if (platform, encoding) == (3, 10) and unpack_from(">H", data, cmap + start)[0] == 12:
            break
    else:
        raise ValueError("the font has no full Unicode table")
    groups = unpack_from(">L", data, cmap + start + 12)[0]
    numbers = unpack_from(f">{3 * groups}L", data, cmap + start + 16)
    firsts, lasts, ids = numbers[::3], numbers[1::3], numbers[2::3]
    glyphs = dict(zip(firsts, ids, strict=True))  # most groups are of one character
    for first, last, glyph in zip(firsts, lasts, ids, strict=True):
        if first < last:
            glyphs.update(zip(range(first, last + 1), range(glyph, glyph + last + 1 - first), strict=True))
    return glyphs


def composed(text: str) -> str:
    """``text`` with letter and accent as one character where there is one (Unicode NFC), as it is measured and set."""
    if text.isascii():
        return text
    from unicodedata import normalize

    return normalize("NFC", text)


def lacks(text: str, face: Face) -> tuple[str, ...]:
    """The characters of ``text`` that ``face`` cannot show, each once: without a glyph, or control characters.

    A PDF would show a box in their place, and no one would be told.
    """
    glyphs = face_file(face).glyphs
    wanted = dict.fromkeys(composed(text))
    return tuple(ch for ch in wanted if ord(ch) not in glyphs or ch < " " or "\x7f" <= ch < "\xa0")


def character_name(character: str) -> str:
    """The Unicode name, or the code point of a character that has none (``U+0007``)."""
    from unicodedata import name

    return name(character, f"U+{ord(character):04X}")


@lru_cache(maxsize=4096)  # a page is tried in several sizes, and most words of a card come again on the next
def text_width(text: str, face: Face) -> int:
    """How far ``text`` runs, in thousandths of its size. Pairs are not kerned: PDF text is not either."""
    return sum(map(face_file(face).advances.__getitem__, composed(text)))


class TypeRuler:
    """Measures set type from the font files themselves (a :class:`cardmaker.model.marks.Ruler`)."""

    def width_mm(self, text: str, face: Face, size_pt: float) -> float:
        """How far ``text`` runs on its baseline."""
        return text_width(text, face) * size_pt / 1000 * MM_PER_POINT


RULER: Final = TypeRuler()  # one for all cards: what is set for one need not be set again for the next
