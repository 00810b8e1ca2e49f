"""The tree of a page's structure: what each stretch of its content is, in reading order.

Structure types, marked content and alternative texts: ISO 32000-1:2008, 14.6 to 14.9; what an accessible file needs of
them: ISO 14289-1:2014 (PDF/UA-1), clause 7.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from cardmaker.model.marks import Role

TAGS: Final[dict[Role, str]] = {
    "title": "H1", "heading": "H2", "paragraph": "P", "panel": "Sect", "table": "Table", "row": "TR", "cell": "TD",
    "header cell": "TH", "figure": "Figure", "span": "Span",
}  # fmt: skip
HOLDERS: Final = frozenset({"panel", "table", "row"})  # what is drawn in them beside their groups is decoration
CELLS: Final = frozenset({"TD", "TH"})  # they are there even when nothing is in them: rows have equally many
ARTEFACTS: Final[dict[Role, str]] = {
    "artefact": "/Artifact BMC",
    "running head": "/Artifact <</Type/Pagination/Subtype/Header/Attached[/Top]>> BDC",
    "running foot": "/Artifact <</Type/Pagination/Subtype/Footer/Attached[/Bottom]>> BDC",
}  # ISO 32000-1, 14.8.2.2.2; asked for by ISO 14289-1, 7.8
LINK: Final = "Link"


class Element(NamedTuple):
    """One element. ``kids`` are numbers of marked content (int) and further elements, in reading order.

    ``corners`` is the place of a figure in points; ``link`` the number of a link on its page, or -1.
    """

    tag: str
    alt: str
    corners: tuple[float, float, float, float] | None
    kids: list[int | Element]
    link: int = -1
