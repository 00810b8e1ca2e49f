"""What PDF/UA-1 asks of a file's tags, as far as a program can check it, each rule as the faults that it finds.

Rules: ISO 14289-1:2014, by its clauses (from memory; the numbers agree with the rule list of the pdfua checker), and
for the tree itself ISO 32000-1:2008, 14.6 to 14.9. What needs a person, such as whether a description describes, is
not here.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from io import BytesIO
from typing import Any

import pikepdf

from tests.helpers.tagged import ARTEFACT, Annotation, Content, Element, content_of, structure_of, walk

LEAVES = frozenset(("/H1", "/H2", "/P", "/Figure", "/TD", "/TH", "/Link", "/Span", "/Form"))
INSIDE = {
    "/Document": ("/Sect",),
    "/Sect": ("/Sect", "/H1", "/H2", "/P", "/Table", "/Figure", "/Form"),
    "/Table": ("/TR",),
    "/TR": ("/TH", "/TD"),
    "/TD": ("/Link", "/Figure", "/Span", "/Form"),
    "/P": ("/Link", "/Figure", "/Span"),
    "/Link": ("/Figure", "/Span"),
}  # ISO 32000-1, 14.8.4: what may stand in what, as far as we use it


class File:
    """A file that is read once for all rules."""

    def __init__(self, pdf: pikepdf.Pdf) -> None:
        self.pdf = pdf
        self.pages = list(pdf.pages)
        self.contents = [content_of(page) for page in self.pages]
        self.numbered = [content.numbered() for content in self.contents]
        self.elements = list(walk(structure_of(pdf)))
        numbers = list(pdf.Root.StructTreeRoot.ParentTree.Nums)
        self.parents = {int(key): answer for key, answer in zip(numbers[::2], numbers[1::2], strict=True)}

    def all_contents(self) -> Iterator[tuple[int, Content]]:
        """With the numbers of the pages."""
        return enumerate(self.contents, start=1)

    def said(self, element: Element) -> str:
        """The words of an element, or what is said instead of them."""
        if element.text_of("/Alt"):
            return element.text_of("/Alt")
        assert element.page is not None
        numbered = self.numbered[element.page]
        return " ".join(numbered[kid].text for kid in element.kids if isinstance(kid, int))


# The rules. Each yields its faults as sentences


def loose_content(file: File) -> Iterator[str]:
    """7.1: content is tagged or an artefact, and neither within the other."""
    for number, content in file.all_contents():
        yield from (f"page {number}: '{operator}' is neither tagged nor artefact" for operator in content.loose)
        for stretch in content.stretches:
            if (stretch.tag == ARTEFACT) != (stretch.number is None):
                yield f"page {number}: {stretch.tag} with the number {stretch.number}"
            if stretch.nested:
                yield f"page {number}: {stretch.nested} within {stretch.tag}"


def forms(file: File) -> Iterator[str]:
    """7.20: what is placed more than once holds no marked content of its own."""
    for thing in file.pdf.objects:
        if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Form":
            operators = {str(each.operator) for each in pikepdf.parse_content_stream(thing)}
            if operators & {"BMC", "BDC"} or "/StructParents" in thing or "/StructParent" in thing:
                yield "a form with marked content"


def numbers_and_parents(file: File) -> Iterator[str]:
    """ISO 32000-1, 14.7.4: each stretch has one element, and pages and links lead back to theirs."""
    back = file.parents
    keys = [int(page.StructParents) for page in file.pages if "/StructParents" in page]
    keys += [
        int(link.StructParent) for page in file.pages for link in page.get("/Annots", []) if "/StructParent" in link
    ]
    if sorted(keys) != sorted(back) or len(keys) != len(set(keys)):
        yield f"the parent tree answers {len(back)} keys, {len(set(keys))} are asked for"
    owners: dict[tuple[int, int], list[Element]] = {}
    for element in file.elements:
        for kid in element.kids:
            if isinstance(kid, int):
                assert element.page is not None
                owners.setdefault((element.page, kid), []).append(element)
    for place in range(len(file.pages)):
        yield from numbers_of(file, place, owners)


def numbers_of(file: File, place: int, owners: dict[tuple[int, int], list[Element]]) -> Iterator[str]:
    content, page = file.contents[place], file.pages[place]
    numbers = [stretch.number for stretch in content.stretches if stretch.number is not None]
    if numbers != list(range(len(numbers))):
        yield f"page {place + 1}: content is not numbered in reading order"
    if sorted(numbers) != sorted(number for on, number in owners if on == place):
        yield f"page {place + 1}: the tree has other content than the page"
    parents = list(file.parents.get(int(page.get("/StructParents", -1)), []))
    if len(parents) != len(numbers):
        yield f"page {place + 1}: leads back from {len(parents)} of {len(numbers)} stretches"
    for number, parent in enumerate(parents):
        mine = owners.get((place, number), [])
        if len(mine) != 1 or mine[0].entry.objgen != parent.objgen:
            yield f"page {place + 1}: content {number} belongs to {len(mine)} elements, or leads back to another"
        elif mine[0].tag != file.numbered[place][number].tag:
            yield f"page {place + 1}: content {number} is marked otherwise than its element"


def elements(file: File) -> Iterator[str]:
    """7.1 and ISO 32000-1, 14.8.4: standard elements, each in one that may hold it, none empty but a cell."""
    for element in file.elements:
        above = element.parent
        if above is None:
            if element.tag != "/Document" or element.entry.P.objgen != file.pdf.Root.StructTreeRoot.objgen:
                yield f"{element.tag} stands at the root"
        else:
            if element.tag not in INSIDE.get(above.tag, ()):
                yield f"{element.tag} in {above.tag}"
            if element.entry.P.objgen != above.entry.objgen:
                yield f"{element.tag} names another parent than {above.tag}"
        if not element.kids and element.tag not in ("/TD", "/TH"):
            yield f"{element.tag} is empty"
        if element.tag not in LEAVES and any(isinstance(kid, int) for kid in element.kids):
            yield f"{element.tag} holds content itself"


def headings(file: File) -> Iterator[str]:
    """7.4.2: the first heading is of the first level, and none is skipped on the way down."""
    before = 0
    for element in file.elements:
        if found := re.fullmatch(r"/H(\d)", element.tag):
            level = int(found[1])
            if level > before + 1:
                yield f"a heading of level {level} after one of {before}"
            before = level
            if not file.said(element):
                yield "a heading without words"


def tables(file: File) -> Iterator[str]:
    """7.5: rows of equally many cells, and heads that say what they head."""
    for table in file.elements:
        if table.tag != "/Table":
            continue
        widths = {len(row.elements) for row in table.elements}
        if len(widths) != 1:
            yield f"a table with rows of {sorted(widths)} cells"
        heads = [cell for row in table.elements for cell in row.elements if cell.tag == "/TH"]
        if not heads:
            yield "a table without heads"
        for head in heads:
            if head.attribute("/Table", "/Scope") not in ("/Column", "/Row"):
                yield "a head without scope"
        if any(cell.tag != "/TH" for cell in table.elements[0].elements):
            yield "a table that does not begin with its heads"


def figures(file: File) -> Iterator[str]:
    """7.3: a drawing says what it shows; ISO 32000-1, 14.8.5.4.5: and where it stands on its page."""
    for figure in file.elements:
        if figure.tag == "/Figure":
            if not figure.text_of("/Alt").strip():
                yield "a figure without words"
            box = figure.attribute("/Layout", "/BBox")
            assert figure.page is not None
            left, bottom, right, top = map(float, box or (0, 0, 0, 0))
            _, _, width, height = map(float, file.pages[figure.page].MediaBox)
            if not (-1 <= left < right <= width + 1 and -1 <= bottom < top <= height + 1):
                yield f"a figure at {left} {bottom} {right} {top}"


def links(file: File) -> Iterator[str]:
    """7.18.1 and 7.18.3 to 7.18.5: links say where they lead, and fields what belongs in them; each has an element of
    its kind, and they are walked in their order."""
    back = file.parents
    in_tree: list[Any] = []
    for element in file.elements:
        mine = [kid for kid in element.kids if isinstance(kid, Annotation)]
        in_tree += [kid.entry.objgen for kid in mine]
        if mine and (element.tag not in ("/Link", "/Form") or len(mine) != 1):
            yield f"{len(mine)} annotations in {element.tag}"
        if element.tag in ("/Link", "/Form"):
            if len(mine) != 1:
                yield f"an element {element.tag} without its annotation"
            elif back[int(mine[0].entry.get("/StructParent", -1))].objgen != element.entry.objgen:
                yield f"{element.tag}: an annotation that leads back to another element"
            elif mine[0].entry.Subtype != {"/Link": "/Link", "/Form": "/Widget"}[element.tag]:
                yield f"{element.tag}: an annotation of another kind"
            if element.tag == "/Link" and not (file.said(element) or element.elements):
                yield "a link without words"
    on_pages = [link.objgen for page in file.pages for link in page.get("/Annots", [])]
    if Counter(in_tree) != Counter(on_pages):
        yield f"{len(on_pages)} annotations on the pages, {len(in_tree)} in the tree"
    for number, page in enumerate(file.pages, start=1):
        if page.get("/Tabs") != "/S":
            yield f"page {number}: the keyboard walks in another order"
        for link in page.get("/Annots", []):
            words = {"/Link": "/Contents", "/Widget": "/TU"}.get(str(link.Subtype), "")
            if not str(link.get(words, "")).strip():
                yield f"page {number}: an annotation that does not say where it leads, or what belongs in it"


def fonts(file: File) -> Iterator[str]:
    """7.21.4 and 7.21.7: fonts are embedded, and every code that is shown stands for a character.

    A block of a CMap has 100 lines at most (from memory, of the CMap specification that ISO 32000-1, 9.10.3 names).
    """
    for number, page in enumerate(file.pages, start=1):
        for name, font in page.Resources.Font.items():
            if "/FontFile2" not in font.FontDescriptor:
                yield f"{name} is not embedded"
            table = font.ToUnicode.read_bytes().decode("ascii")
            if re.search(r"<(0000|FEFF|FFFE)>\s*$", table, re.MULTILINE):
                yield f"{name} has a code that stands for no character"
            if any(int(size) > 100 for size in re.findall(r"(\d+) beginbfchar", table)):
                yield f"{name} has a table with a block that is too long"
        yield from (f"page {number}: {code} stands for nothing" for code in file.contents[number - 1].unread)


def whole_file(file: File) -> Iterator[str]:
    """Clauses 5, 7.1, 7.2 and 7.11: the mark, title, language, no suspects, embedded files by their names."""
    root = file.pdf.Root
    if not ("/MarkInfo" in root and root.MarkInfo.get("/Marked")) or root.MarkInfo.get("/Suspects"):
        yield "not marked as tagged, or suspect"
    if not ("/ViewerPreferences" in root and root.ViewerPreferences.get("/DisplayDocTitle")):
        yield "viewers are not asked to show the title"
    if not re.fullmatch(r"[a-z]{2,3}(-\w+)*", str(root.get("/Lang", ""))):
        yield "no language"
    if "/Filter" in root.Metadata:
        yield "the metadata are packed"
    with file.pdf.open_metadata() as told:
        if told.get("pdfuaid:part") != "1":
            yield "no mark of an accessible file"
        if not told.get("dc:title") or told["dc:title"] != str(file.pdf.docinfo.get("/Title", "")):
            yield "no title, or two"
    for name, carried in file.pdf.attachments.items():
        if (
            str(carried.obj.get("/F", "")) != name
            or str(carried.obj.get("/UF", "")) != name
            or "/AFRelationship" not in carried.obj
        ):
            yield f"the embedded file {name} lacks its name or what it is for"


def running_lines(file: File) -> Iterator[str]:
    """7.8: heads and feet that run from page to page are artefacts, and marked as heads and feet."""
    for number, content in file.all_contents():
        for stretch in content.stretches:
            if stretch.tag == ARTEFACT and stretch.text and stretch.properties.get("/Type") != "/Pagination":
                yield f"page {number}: '{stretch.text}' is an artefact, but not said to run"


RULES: tuple[Callable[[File], Iterator[str]], ...] = (
    loose_content, forms, numbers_and_parents, elements, headings, tables, figures, links, fonts, whole_file,
    running_lines,
)  # fmt: skip


def faults(pdf: bytes) -> list[str]:
    """All that is wrong with a finished file."""
    with pikepdf.open(BytesIO(pdf)) as opened:
        file = File(opened)
        return [fault for rule in RULES for fault in rule(file)]
