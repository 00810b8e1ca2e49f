"""The structure of a whole document: one tree over the trees of its pages, and the way back from content to tree.

ISO 32000-1:2008, 14.7 (structure tree, parent tree, object references) and 14.8.5.7 (scope of a header cell).
"""

from __future__ import annotations

from collections.abc import Iterator

from cardmaker.pdf.document import Document, Raw, add_entries, pdf_array, text_string
from cardmaker.pdf.tagged_pen import Element

_SECTION = "Sect"


class Structure:
    """Gathers the pages' trees. ``links`` of a page are the references of its annotations, by their numbers there."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.numbers = document.reserve(2)  # the tree's root, and the one element that holds all pages
        self.sections: list[str] = []
        self.parents: list[str] = []  # pairs of key and reference: the parent tree
        self.keys = 0

    def new_key(self, parent: str) -> int:
        """The next key of the parent tree, which answers ``parent``."""
        key, self.keys = self.keys, self.keys + 1
        self.parents.append(f"{key} {parent}")
        return key

    def page_key(self) -> int:
        """The key under which a page's content finds its elements; :meth:`add_page` brings them."""
        self.pending_key, self.keys = self.keys, self.keys + 1
        return self.pending_key

    def add_page(self, page: str, title: str, tree: tuple[int | Element, ...], links: list[str]) -> dict[int, int]:
        """A page's elements. Returns, for each link of the page, its key in the parent tree."""
        writer = _PageWriter(page, links, self.document.next_number())
        section = writer.element(Element(_SECTION, "", None, list(tree)), self.numbers[1], title)
        objects = [*writer.objects, pdf_array(writer.by_content).encode()]
        numbers = self.document.reserve(len(objects))
        assert section == numbers[0]
        self.document.pack(numbers, objects)
        self.parents.append(f"{self.pending_key} {numbers[-1]} 0 R")
        self.sections.append(f"{section} 0 R")
        return {link: self.new_key(f"{element} 0 R") for link, element in writer.by_link.items()}

    def finish(self) -> None:
        """The root, the document's element and the parent tree, into the catalogue."""
        root, whole = (f"{number} 0 R" for number in self.numbers)
        parents = self.document.reference(Raw(f"/Nums {pdf_array(self.parents)}"))
        self.document.pack(self.numbers, [
            f"<</Type/StructTreeRoot/K {whole}/ParentTree {parents}/ParentTreeNextKey {self.keys}>>".encode(),
            f"<</S/Document/P {root}/K {pdf_array(self.sections)}>>".encode(),
        ])  # fmt: skip
        add_entries(self.document.Catalog, StructTreeRoot=root, MarkInfo=Raw("/Marked true"))


class _PageWriter:
    """Numbers and writes the elements of one page, a parent before its kids."""

    def __init__(self, page: str, links: list[str], first: int) -> None:
        self.page, self.links, self.first = page, links, first
        self.objects: list[bytes] = []
        self.by_content: list[str] = []  # for each stretch of marked content, its element
        self.by_link: dict[int, int] = {}

    def element(self, element: Element, parent: int, title: str = "", scope: str = "") -> int:
        """Writes an element and all within it. Returns its number."""
        own = self.first + len(self.objects)
        self.objects.append(b"")
        kids = list(self._kids(element, own))
        parts = [f"/S/{element.tag}/P {parent} 0 R/Pg {self.page}"]
        if title:
            parts.append(f"/T {text_string(title)}")
        if element.alt:
            parts.append(f"/Alt {text_string(element.alt)}")
        if element.corners:
            parts.append(f"/A<</O/Layout/Placement/Block/BBox{pdf_array(f'{place:g}' for place in element.corners)}>>")
        if scope:
            parts.append(f"/A<</O/Table/Scope/{scope}>>")
        if kids:
            parts.append(f"/K {kids[0] if len(kids) == 1 else pdf_array(kids)}")
        self.objects[own - self.first] = f"<<{''.join(parts)}>>".encode()
        return own

    def _kids(self, element: Element, own: int) -> Iterator[str]:
        inner = [kid for kid in element.kids if isinstance(kid, Element)]
        headed = "Column" if element.tag == "TR" and all(kid.tag == "TH" for kid in inner) else "Row"
        for kid in element.kids:
            if isinstance(kid, int):
                if kid != len(self.by_content):
                    raise ValueError("stretches of content are numbered in reading order")
                self.by_content.append(f"{own} 0 R")
                yield str(kid)
            else:
                yield f"{self.element(kid, own, scope=headed if kid.tag == 'TH' else '')} 0 R"
        if element.link >= 0:
            self.by_link[element.link] = own
            yield f"<</Type/OBJR/Obj {self.links[element.link]}/Pg {self.page}>>"
