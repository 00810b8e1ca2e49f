"""A tagged PDF read as an assistive program reads it: its structure tree, and what each stretch of content shows.

It knows nothing of the program: pikepdf takes the file apart, and the characters come from the fonts' own tables.
Marked content and the structure tree: ISO 32000-1:2008, 14.6 and 14.7; codes to characters: 9.10.3.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import pikepdf

SHOWING = frozenset(("Tj", "TJ", "'", '"'))
PAINTING = SHOWING | {"f", "F", "f*", "B", "B*", "b", "b*", "S", "s", "sh", "Do", "INLINE IMAGE"}
ARTEFACT = "/Artifact"


@dataclass
class Stretch:
    """A run of marked content on a page, not within another: its tag, its number, its words, and where it stands.

    ``nested`` are the tags of marked content inside it; ``painted`` counts the operators that put something on paper.
    """

    tag: str
    number: int | None
    properties: dict[str, Any]
    words: list[str] = field(default_factory=list)
    nested: list[str] = field(default_factory=list)
    painted: int = 0

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


@dataclass
class Content:
    """All of a page's content: its stretches in order, and the operators that paint outside of any."""

    stretches: list[Stretch]
    loose: list[str]
    unread: list[str]  # codes that no table turns into a character

    def numbered(self) -> dict[int, Stretch]:
        return {each.number: each for each in self.stretches if each.number is not None}


@dataclass
class Element:
    """An element of the structure tree. A kid is an element, the number of marked content, or an annotation."""

    tag: str
    entry: Any
    page: int | None
    kids: list[Element | int | Annotation]
    parent: Element | None

    def text_of(self, name: str) -> str:
        return str(self.entry.get(name, ""))

    @property
    def elements(self) -> list[Element]:
        return [kid for kid in self.kids if isinstance(kid, Element)]

    def attribute(self, owner: str, name: str) -> Any:
        """An attribute of ``owner``, such as the scope of a head; None where it has none."""
        found = self.entry.get("/A")
        lists = list(found) if isinstance(found, pikepdf.Array) else [found] if found is not None else []
        return next((each.get(name) for each in lists if each.get("/O") == owner and name in each), None)


@dataclass
class Annotation:
    """A kid of an element that is a place on the page, such as a link's."""

    entry: Any


# The content of a page


def meanings(font: Any) -> dict[int, str]:
    """Which character each code of a font stands for, from its ToUnicode table (single codes of one byte)."""
    table = font.ToUnicode.read_bytes().decode("ascii")
    blocks = re.findall(r"\d+ beginbfchar(.*?)endbfchar", table, re.DOTALL)
    pairs = (pair for block in blocks for pair in re.findall(r"<(\w+)>\s*<(\w+)>", block))
    return {int(code, 16): bytes.fromhex(meant).decode("utf-16-be") for code, meant in pairs}


class _Reader:
    def __init__(self, page: Any) -> None:
        self.fonts = {name: meanings(font) for name, font in page.Resources.get("/Font", {}).items()}
        self.font = ""
        self.open: list[str] = []
        self.content = Content([], [], [])

    def read(self, page: Any) -> Content:
        for instruction in pikepdf.parse_content_stream(page):
            self._take(str(instruction.operator), list(instruction.operands))
        if self.open:
            self.content.loose.append("marked content that is never closed")
        return self.content

    def _take(self, operator: str, operands: list[Any]) -> None:
        if operator in ("BMC", "BDC"):
            self._begin(operands)
        elif operator == "EMC":
            self.open.pop()
        elif operator == "Tf":
            self.font = str(operands[0])
        elif operator in ("BT", "Tm", "Td", "TD", "T*") and self.open:
            self.content.stretches[-1].words.append("")
        elif operator in PAINTING:
            self._paint(operator, operands)

    def _begin(self, operands: list[Any]) -> None:
        tag, properties = str(operands[0]), dict(operands[1].items()) if len(operands) > 1 else {}
        if self.open:
            self.content.stretches[-1].nested.append(tag)
        else:
            number = properties.get("/MCID")
            self.content.stretches.append(Stretch(tag, None if number is None else int(number), properties))
        self.open.append(tag)

    def _paint(self, operator: str, operands: list[Any]) -> None:
        if not self.open:
            self.content.loose.append(operator)
            return
        stretch = self.content.stretches[-1]
        stretch.painted += 1
        if operator in SHOWING:
            stretch.words[-1] += self._shown(operands[-1])

    def _shown(self, operand: Any) -> str:
        parts = operand if isinstance(operand, pikepdf.Array) else [operand]
        codes = b"".join(bytes(part) for part in parts if isinstance(part, pikepdf.String))
        known = self.fonts[self.font]
        self.content.unread += [f"code {code} of {self.font}" for code in codes if code not in known]
        return "".join(known.get(code, "\N{REPLACEMENT CHARACTER}") for code in codes)


def content_of(page: Any) -> Content:
    """The content of a page of an open file."""
    return _Reader(page).read(page)


# The structure tree


def structure_of(pdf: pikepdf.Pdf) -> list[Element]:
    """The elements right below the root."""
    numbers = {page.objgen: number for number, page in enumerate(pdf.pages)}
    return [_element(entry, None, None, numbers) for entry in _kids(pdf.Root.StructTreeRoot)]


def _kids(entry: Any) -> list[Any]:
    kids = entry.get("/K")
    return [] if kids is None else list(kids) if isinstance(kids, pikepdf.Array) else [kids]


def _element(entry: Any, parent: Element | None, page: int | None, pages: dict[Any, int]) -> Element:
    own = pages[entry.Pg.objgen] if "/Pg" in entry else page
    element = Element(str(entry.S), entry, own, [], parent)
    for kid in _kids(entry):
        if isinstance(kid, int):
            element.kids.append(kid)
        elif kid.get("/Type") == "/OBJR":
            element.kids.append(Annotation(kid.Obj))
        else:
            element.kids.append(_element(kid, element, own, pages))
    return element


def walk(elements: list[Element]) -> Iterator[Element]:
    """Every element, each before those within it: the order in which they are read."""
    for element in elements:
        yield element
        yield from walk(element.elements)


# Read aloud


def read_aloud(pdf: pikepdf.Pdf) -> list[str]:
    """What is heard of each page: a line for each heading, paragraph, drawing and row of a table, in the tree's order.

    A drawing says its alternative text. A row names its columns, as listeners have them named.
    """
    contents = [content_of(each).numbered() for each in pdf.pages]
    heard: list[list[str]] = [[] for _ in pdf.pages]
    for root in structure_of(pdf):
        for page, line in _lines(root, contents):
            heard[page].append(line)
    return ["\n".join(lines) for lines in heard]


_Contents = list[dict[int, Stretch]]


def _lines(element: Element, contents: _Contents) -> Iterator[tuple[int, str]]:
    """Each with the page that it is on."""
    if element.tag in ("/Document", "/Sect"):
        for kid in element.elements:
            yield from _lines(kid, contents)
        return
    assert element.page is not None
    if element.tag == "/Table":
        yield from ((element.page, line) for line in _rows(element, contents))
    elif told := _told(element, contents):
        yield element.page, told


def _rows(table: Element, contents: _Contents) -> Iterator[str]:
    heads: list[str] = []
    for row in table.elements:
        told = [_told(cell, contents) for cell in row.elements]
        if all(cell.tag == "/TH" for cell in row.elements):
            heads = told
        else:
            yield "; ".join(f"{head} {text}".strip() for head, text in zip(heads, told, strict=True) if text)


def _told(element: Element, contents: _Contents) -> str:
    if said := element.text_of("/Alt") or element.text_of("/ActualText"):
        return said
    assert element.page is not None
    parts = [
        contents[element.page][kid].text if isinstance(kid, int) else _told(kid, contents)
        for kid in element.kids
        if not isinstance(kid, Annotation)
    ]
    return " ".join(" ".join(parts).split())
