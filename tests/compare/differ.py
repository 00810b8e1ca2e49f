"""What differs between two folders of kept results: marks, drawn words, words read aloud, lines of the terminal."""

from __future__ import annotations

import difflib
import re
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any, Final, NamedTuple

import pikepdf

_SHOWS: Final = {"Tj", "TJ", "'", '"'}  # the operators that show text (ISO 32000-1, table 109)
_TEXT_STATE: Final = {"Td", "TD", "Tm", "T*", "Tf", "Tc", "Tw", "Tz", "TL", "Tr", "Ts", "BT", "ET"}


class Change(NamedTuple):
    """A sentence before and after; one of them is empty when it only came or went."""

    where: str  # drawn, aloud or printed
    before: str
    after: str


class Difference(NamedTuple):
    """What became of one file: its changed sentences, and whether marks that are no words changed as well."""

    name: str
    changes: tuple[Change, ...] = ()
    marks: bool = False
    missing: bool = False


def differences(before: Path, after: Path) -> list[Difference]:
    """Every file that is not the same in both folders, in the order of their names."""
    names = sorted({path.relative_to(root) for root in (before, after) for path in root.rglob("*.*")})
    with ProcessPoolExecutor() as pool:
        found = pool.map(_difference, [(before / name, after / name, str(name)) for name in names], chunksize=32)
    return [difference for difference in found if difference is not None]


def _difference(files: tuple[Path, Path, str]) -> Difference | None:
    before, after, name = files
    if not (before.exists() and after.exists()):
        return Difference(name, missing=True)
    old, new = before.read_bytes(), after.read_bytes()
    if old == new:
        return None
    if before.suffix == ".pdf":
        return _of_pdfs(before, after, name)
    changes = tuple(_pairs("printed", old.decode().splitlines(), new.decode().splitlines()))
    return Difference(name, changes, marks=before.suffix != ".txt")


def _of_pdfs(before: Path, after: Path, name: str) -> Difference:
    """Words read aloud are told from the structure; a page's marks are its contents without the texts that it shows."""
    with pikepdf.open(before) as old, pikepdf.open(after) as new:
        aloud = _pairs("aloud", list(_alternatives(old)), list(_alternatives(new)))
        drawn: list[Change] = []
        marks = len(old.pages) != len(new.pages)
        for one, other in zip(old.pages, new.pages, strict=False):
            first, second = _contents(one), _contents(other)
            if first == second:
                continue
            marks |= Counter(_marks(first)) != Counter(_marks(second))
            drawn += _pairs("drawn", _texts(before, one.index), _texts(after, other.index))
        return Difference(name, (*drawn, *aloud), marks)


def _contents(page: pikepdf.Page) -> list[tuple[str, str]]:
    """The operators of a page and of its forms, each with its operands."""
    forms = page.resources.get("/XObject", pikepdf.Dictionary())
    streams: list[Any] = [page, *(forms[name] for name in sorted(forms.keys()))]
    return [
        (str(step.operator), " ".join(map(str, step.operands)))
        for stream in streams
        for step in pikepdf.parse_content_stream(stream)
    ]


def _marks(contents: list[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    for operator, operands in contents:
        if operator not in _SHOWS | _TEXT_STATE | {"BDC", "EMC", "BMC"}:
            yield operator, operands


def _texts(path: Path, index: int) -> list[str]:
    import pdfplumber

    with pdfplumber.open(path) as document:
        return str(document.pages[index].extract_text()).splitlines()


def _alternatives(document: pikepdf.Pdf) -> Iterator[str]:
    """What is said in place of pictures, and for words that are not read as they stand, in the order of the tree."""
    root = document.Root.get("/StructTreeRoot")
    waiting = [] if root is None else [root]
    while waiting:
        element = waiting.pop()
        if isinstance(element, pikepdf.Array):
            waiting += reversed(list(element))
            continue
        if not isinstance(element, pikepdf.Dictionary):
            continue
        for key in ("/Alt", "/ActualText", "/E"):
            if key in element:
                yield str(element[key])
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
