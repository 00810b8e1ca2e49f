"""Marks drawn so that they can be read aloud: each is part of an element of the page's tree, or marked as decoration.

Structure types, marked content and alternative texts: ISO 32000-1:2008, 14.6 to 14.9; what an accessible file needs of
them: ISO 14289-1:2014 (PDF/UA-1), clause 7.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, NamedTuple

from cardmaker.model.marks import Box, FormField, Group, Link, Mark, Role
from cardmaker.pdf.operands import Numbers
from cardmaker.pdf.page_resources import PageResources
from cardmaker.pdf.pen import Pen

_TAGS: Final[dict[Role, str]] = {
    "title": "H1", "heading": "H2", "paragraph": "P", "panel": "Sect", "table": "Table", "row": "TR", "cell": "TD",
    "header cell": "TH", "figure": "Figure", "span": "Span",
}  # fmt: skip
_HOLDERS: Final = frozenset({"panel", "table", "row"})  # what is drawn in them beside their groups is decoration
_CELLS: Final = frozenset({"TD", "TH"})  # they are there even when nothing is in them: rows have equally many
_ARTEFACTS: Final[dict[Role, str]] = {
    "artefact": "/Artifact BMC",
    "running head": "/Artifact <</Type/Pagination/Subtype/Header/Attached[/Top]>> BDC",
    "running foot": "/Artifact <</Type/Pagination/Subtype/Footer/Attached[/Bottom]>> BDC",
}  # ISO 32000-1, 14.8.2.2.2; asked for by ISO 14289-1, 7.8
LINK: Final = "Link"
_FIELD: Final = "Form"  # ISO 32000-1, 14.8.4.5; asked for by ISO 14289-1, 7.18.4


class Element(NamedTuple):
    """One element. ``kids`` are numbers of marked content (int) and further elements, in reading order.

    ``corners`` is the place of a figure in points; ``link`` the number of a link or a field on its page, or -1.
    """

    tag: str
    alt: str
    corners: tuple[float, float, float, float] | None
    kids: list[int | Element]
    link: int = -1


class TaggedPen(Pen):
    """Draws a page from ``marked`` stretches of marked content on; ``tree`` is the page's when all is drawn."""

    def __init__(self, x: Numbers, y: Numbers, resources: PageResources, marked: int = 0) -> None:
        super().__init__(x, y, resources)
        self.tree: list[int | Element] = []  # of the element that is drawn just now, its kids
        self.marked = marked  # stretches of marked content so far
        self.is_titled = False  # the page, by what was drawn so far

    def draw_tagged(self, marks: Iterable[Mark], tag: str = "") -> None:
        """Marks between groups and links, as stretches of content marked with ``tag``; without one, as decoration.

        A group within marked content belongs to it: a drawing's parts are not elements of their own. But what is never
        read aloud stays unread, and a link may hold a drawing, or a part that has other words.
        """
        draw, marking = self.draw_one, False
        for mark in marks:
            kind = type(mark)
            if kind is Link or kind is FormField or (type(mark) is Group and (not tag or _stands_apart(mark, tag))):
                if marking:
                    self._end_stretch()
                    marking = False
                self._apart(mark)
                continue
            if not marking:
                self._begin_stretch(tag)
                marking = True
            draw[type(mark)](mark)
        if marking:
            self._end_stretch()

    def _apart(self, mark: Mark) -> None:
        """A group, a link or a field, which is an element of its own."""
        if isinstance(mark, Group):
            self._group(mark)
        elif isinstance(mark, Link):
            self._link(mark)
        elif isinstance(mark, FormField):
            number = self.resources.field(self._corners(mark.box), mark)
            self._element(Element(_FIELD, "", None, [], number), (), _FIELD)

    def _group(self, group: Group) -> None:
        if group.role in _ARTEFACTS:
            self.flush()
            self.code.append(_ARTEFACTS[group.role])
            self.group(group)
            self._end_stretch()
            return
        self.is_titled = self.is_titled or group.role == "title"
        # A first heading is of the first level, on a page without a title too (ISO 14289-1, 7.4.2).
        tag = _TAGS["title"] if group.role == "heading" and not self.is_titled else _TAGS[group.role]
        corners = self._corners(group.box) if group.role == "figure" else None
        self._element(Element(tag, group.alt, corners, []), group.marks, "" if group.role in _HOLDERS else tag)

    def _link(self, link: Link) -> None:
        number = self.resources.link(self._corners(link.box), link.target, link.alt)
        self._element(Element(LINK, link.alt, None, [], number), link.marks, LINK)

    def _element(self, element: Element, marks: Iterable[Mark], tag: str) -> None:
        """Draws the marks as the element's; one that comes out empty is none, unless it is a cell or a link.

        The words of a link stand for it only when nothing in it can be read.
        """
        self.flush()
        around, self.tree = self.tree, element.kids
        self.draw_tagged(marks, tag)
        self.tree = around
        if element.link >= 0 and element.kids:
            element = element._replace(alt="")
        if element.kids or element.link >= 0 or tag in _CELLS:
            around.append(element)

    def _begin_stretch(self, tag: str) -> None:
        self.flush()
        if not tag:
            self.code.append("/Artifact BMC")
            return
        self.code.append(f"/{tag} <</MCID {self.marked}>> BDC")
        self.tree.append(self.marked)
        self.marked += 1

    def _end_stretch(self) -> None:
        self.flush()
        self.code.append("EMC")

    def _corners(self, box: Box) -> tuple[float, float, float, float]:
        """Left, bottom, right and top in points, to the hundredth."""
        left, right = (round(self.x.points(mm), 2) for mm in (box.left, box.right))
        bottom, top = (round(self.y.points(mm), 2) for mm in (box.bottom, box.top))
        return left, bottom, right, top


def _stands_apart(group: Group, tag: str) -> bool:
    return group.role in _ARTEFACTS or (tag == LINK and group.role in ("figure", "span"))
