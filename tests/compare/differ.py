"""What differs between two folders of kept results: marks, drawn words, words read aloud, lines of the terminal."""

from __future__ import annotations

import difflib
import hashlib
import re
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from ctypes import c_double, c_int, c_uint, create_string_buffer
from pathlib import Path
from typing import Any, Final, NamedTuple

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium

# The operators that show text, and those that say how and where (ISO 32000-1, tables 105, 107, 108 and 109), and those
# that mark what is shown for the structure (table 320): none of them marks the paper itself.
_TEXT: Final = {
    "Tj", "TJ", "'", '"', "Td", "TD", "Tm", "T*", "Tf", "Tc", "Tw", "Tz", "TL", "Tr", "Ts", "BT", "ET",
    "BDC", "BMC", "EMC", "MP", "DP",
}  # fmt: skip
_CHUNK: Final = 32  # files that a process compares at a time


class Change(NamedTuple):
    """A sentence before and after; one of them is empty when it only came or went."""

    where: str  # drawn, aloud or printed
    before: str
    after: str


class Difference(NamedTuple):
    """What became of one file: its changed sentences, and what else changed: marks, links, roles, carried files…"""

    name: str
    changes: tuple[Change, ...] = ()
    parts: tuple[str, ...] = ()


def differences(before: Path, after: Path) -> list[Difference]:
    """Every file that is not the same in both folders, in the order of their names."""
    names = sorted({path.relative_to(root) for root in (before, after) for path in root.rglob("*.*")})
    files = [(before / name, after / name, str(name)) for name in names]
    if len(files) < _CHUNK:
        return [difference for difference in map(_difference, files) if difference is not None]
    with ProcessPoolExecutor() as pool:
        return [difference for difference in pool.map(_difference, files, chunksize=_CHUNK) if difference is not None]


def _difference(files: tuple[Path, Path, str]) -> Difference | None:
    before, after, name = files
    if not (before.exists() and after.exists()):
        return Difference(name, parts=("missing",))
    old, new = before.read_bytes(), after.read_bytes()
    if old == new:
        return None
    if before.suffix == ".pdf":
        return _of_pdfs(before, after, name)
    if before.suffix != ".txt":
        return Difference(name, parts=("contents",))
    return Difference(name, tuple(_pairs("printed", old.decode().splitlines(), new.decode().splitlines())))


def _of_pdfs(before: Path, after: Path, name: str) -> Difference:
    """Words read aloud are told from the structure; a page's marks are its contents without the texts that it shows."""
    old_pages, new_pages = pypdfium2.PdfDocument(before), pypdfium2.PdfDocument(after)
    with pikepdf.open(before) as old, pikepdf.open(after) as new:
        changes = list(_pairs("aloud", list(_read_aloud(old)), list(_read_aloud(new))))
        first, second = _parts(old), _parts(new)
        parts = [part for part in first if first[part] != second[part]]
        for one, other in zip(old.pages, new.pages, strict=False):
            if _drawing(one.obj) == _drawing(other.obj):
                continue
            if _marks(one.obj) != _marks(other.obj):
                parts.append("marks")
            words, other_words = _words(old_pages, one.index), _words(new_pages, other.index)
            changed = list(_pairs("drawn", words.lines, other_words.lines))
            if words.looks != other_words.looks or (not changed and words.places != other_words.places):
                parts.append("type")
            changes += changed
        return Difference(name, tuple(changes), tuple(dict.fromkeys(parts)))


def _parts(document: pikepdf.Pdf) -> dict[str, Any]:
    """What a file holds beside marks and words, ready to be compared."""
    return {
        "pages": [list(map(float, page.mediabox)) for page in document.pages],
        "links": [
            [float(place) for place in link.Rect] for page in document.pages for link in page.obj.get("/Annots", [])
        ],
        "structure": [str(element.get("/S")) for element in _elements(document)],
        "carried files": {name: file.get_file().read_bytes() for name, file in document.attachments.items()},
    }


def _drawing(drawn: Any) -> list[bytes]:
    """All that decides what a page or form shows: contents, what each code of a font means, and the forms inside."""
    resources, contents = drawn.get("/Resources", {}), drawn.get("/Contents", drawn)
    fonts = [font.get("/ToUnicode") for _, font in sorted(resources.get("/Font", {}).items())]
    streams = [*fonts, *(contents if isinstance(contents, pikepdf.Array) else [contents])]
    forms = [form for _, form in sorted(resources.get("/XObject", {}).items())]
    own = [stream.read_bytes() for stream in streams if isinstance(stream, pikepdf.Stream)]
    return own + [part for form in forms for part in _drawing(form)]


def _marks(drawn: Any) -> tuple[tuple[str, str], ...]:
    """The operators of a page or form that mark the paper, in order. A form stands for the marks that are in it.

    Why: a form goes by the digest of all that is in it, so its name changes with a word that is drawn inside.
    """
    forms = _marks_of_forms(drawn)
    steps = ((str(step.operator), " ".join(map(str, step.operands))) for step in pikepdf.parse_content_stream(drawn))
    return tuple((operator, forms.get(operands, operands)) for operator, operands in steps if operator not in _TEXT)


def _marks_of_forms(drawn: Any) -> dict[str, str]:
    """For every form of a page or form, by its name, a digest of its marks."""
    forms = drawn.get("/Resources", {}).get("/XObject", {})
    return {
        name: hashlib.sha256(repr(_marks(form)).encode()).hexdigest()
        for name, form in forms.items()
        if form.get("/Subtype") == "/Form"
    }


class _Words(NamedTuple):
    """The words of a page, and how its letters look and where they stand, to a hundredth of a point."""

    lines: list[str]
    looks: set[tuple[str, float, tuple[int, ...]]]
    places: list[tuple[str, float, tuple[int, ...], float, float]]


def _words(document: pypdfium2.PdfDocument, index: int) -> _Words:
    page = document[index].get_textpage()
    letters = [(*_look(page, letter), *_place(page, letter)) for letter in range(page.count_chars())]
    return _Words(page.get_text_range().splitlines(), {letter[:3] for letter in letters}, letters)


def _look(page: pypdfium2.PdfTextPage, letter: int) -> tuple[str, float, tuple[int, ...]]:
    """The face of a letter, its size and its colour."""
    name = create_string_buffer(100)
    length = pdfium.FPDFText_GetFontInfo(page, letter, name, len(name), c_int())
    colour = tuple(c_uint() for _ in range(4))
    pdfium.FPDFText_GetFillColor(page, letter, *colour)
    size = round(pdfium.FPDFText_GetFontSize(page, letter), 2)
    return name.raw[: max(length - 1, 0)].decode(), size, tuple(part.value for part in colour)


def _place(page: pypdfium2.PdfTextPage, letter: int) -> tuple[float, float]:
    x, y = c_double(), c_double()
    pdfium.FPDFText_GetCharOrigin(page, letter, x, y)
    return round(x.value, 2), round(y.value, 2)


def _read_aloud(document: pikepdf.Pdf) -> Iterator[str]:
    """What is said in place of pictures, and for words that are not read as they stand, in the order of the tree.

    Then what else a reader says: the title, the outline, and where links lead.
    """
    for element in _elements(document):
        for key in ("/Alt", "/ActualText", "/E"):
            if key in element:
                yield str(element[key])
    yield str(document.docinfo.get("/Title", ""))
    with document.open_outline() as outline:
        waiting = list(outline.root)
        while waiting:
            entry = waiting.pop(0)
            yield entry.title
            waiting[:0] = entry.children
    for page in document.pages:
        yield from (str(link.get("/Contents", "")) for link in page.obj.get("/Annots", []))


def _elements(document: pikepdf.Pdf) -> Iterator[pikepdf.Dictionary]:
    """The elements of the structure, in the order in which they are read."""
    root = document.Root.get("/StructTreeRoot")
    waiting = [] if root is None else [root]
    while waiting:
        element = waiting.pop()
        if isinstance(element, pikepdf.Array):
            waiting += reversed(list(element))
        elif isinstance(element, pikepdf.Dictionary):
            yield element
            if "/K" in element:
                waiting.append(element["/K"])


def _pairs(where: str, before: list[str], after: list[str]) -> Iterator[Change]:
    """Changed sentences, each once, beside each other where as many came as went."""
    old, new = _sentences(before), _sentences(after)
    for step, a, b, c, d in difflib.SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if step == "equal":
            continue
        gone, come = old[a:b], new[c:d]
        if len(gone) == len(come):
            yield from (Change(where, *pair) for pair in zip(gone, come, strict=True))
        else:
            yield Change(where, " ".join(gone), " ".join(come))


def _sentences(texts: list[str]) -> list[str]:
    return [sentence for text in texts for sentence in re.split(r"(?<=[.!?]) ", text)]
