"""One page drawn, before it is part of any document: fonts have no codes yet, forms no names, links no pages.

Why: pages can be drawn in any process and in any order, and put together afterwards, in order, by one. A draft is
plain data. Where its content asks for something that only the document knows, it has a token between two marks.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from typing import Final, NamedTuple

from cardmaker.nouns.marks import Bookmark, Face, Mark, Page
from cardmaker.writing.fonts import composed, lacks
from cardmaker.writing.pen import POINTS_PER_MM, Numbers, Pen
from cardmaker.writing.tokens import FORM, token
from cardmaker.writing.tree import Element

_X: Final = Numbers()
_Y: Final[dict[float, Numbers]] = {}
_KNOWN: Final[dict[Face, set[str]]] = {face: set() for face in Face}  # characters that a face is known to have


class Form(NamedTuple):
    """Marks that are drawn once and placed often: their content, and the keys of the forms that it asks for."""

    content: str
    inner: tuple[str, ...]


class LinkPlace(NamedTuple):
    """A place on the page that leads to the page whose anchor is ``target``; corners in points, as PDF has them."""

    corners: tuple[float, float, float, float]
    target: str
    told: str


class Draft(NamedTuple):
    """A page's content with tokens, and everything about the page that the document must know. Sizes in points."""

    width: float
    height: float
    content: str
    forms: dict[str, Form]  # those inside others first
    used: tuple[str, ...]  # keys of the forms that the page itself asks for
    links: tuple[LinkPlace, ...]
    tree: tuple[int | Element, ...]
    marked: int  # how many stretches of content are marked
    missing: tuple[tuple[str, Face], ...]  # characters that their face lacks
    title: str
    language: str
    anchor: str
    label: str
    bookmarks: tuple[Bookmark, ...]


def draft_of(page: Page) -> Draft:
    """The page drawn. Raises ValueError for marks that cannot be drawn; what its faces lack is listed in it."""
    width, height = (round(side * POINTS_PER_MM, 3) for side in (page.width_mm, page.height_mm))
    desk = _Desk(_Y.setdefault(height, Numbers(height, -POINTS_PER_MM)))
    pen = Pen(_X, desk.y, desk, tagged=True)
    pen.draw(page.marks)
    content = pen.finished()
    return Draft(
        width, height, content, desk.forms, tuple(desk.in_use[0]), tuple(desk.links), tuple(pen.tree),
        pen.marked, tuple(desk.missing), page.title, page.language, page.anchor, page.label, page.bookmarks,
    )  # fmt: skip


def with_marks(draft: Draft, marks: Sequence[Mark]) -> Draft:
    """The draft with marks drawn on top, in the page's own millimetres; they come last in its structure too."""
    if not marks:
        return draft
    desk = _Desk(_Y.setdefault(draft.height, Numbers(draft.height, -POINTS_PER_MM)), len(draft.links))
    pen = Pen(_X, desk.y, desk, tagged=True, marked=draft.marked)
    pen.draw(marks)
    return draft._replace(
        content=f"{draft.content}\n{pen.finished()}",
        forms=draft.forms | desk.forms,
        used=tuple(dict.fromkeys((*draft.used, *desk.in_use[0]))),
        links=(*draft.links, *desk.links),
        tree=(*draft.tree, *pen.tree),
        marked=pen.marked,
        missing=(*draft.missing, *desk.missing),
    )


class _Desk:
    """What one page asks for while it is drawn (a :class:`.pen.Shop`)."""

    def __init__(self, y: Numbers, links_before: int = 0) -> None:
        self.y, self.links_before = y, links_before
        self.forms: dict[str, Form] = {}
        self.links: list[LinkPlace] = []
        self.missing: dict[tuple[str, Face], None] = {}
        self.in_use: list[list[str]] = [[]]  # the forms that the page, and each form on the way down, has asked for

    def checked(self, text: str, face: Face) -> str:
        """``text`` as it is set; what its face lacks is noted."""
        set_as, known = composed(text), _KNOWN[face]
        if not known.issuperset(set_as):
            lacking = lacks(set_as, face)
            self.missing.update(dict.fromkeys((character, face) for character in lacking))
            known.update(set(set_as).difference(lacking))
            if lacking:
                return "".join(character for character in set_as if character not in lacking)
        return set_as

    def repeat(self, marks: tuple[Mark, ...], left: float, top: float) -> str:
        """The token of the form that draws ``marks``; those that come out alike are one, wherever they stand."""
        self.in_use.append([])
        pen = Pen(Numbers(-left * POINTS_PER_MM), Numbers(top * POINTS_PER_MM, -POINTS_PER_MM), self)
        pen.draw(marks)
        form = Form(pen.finished(), tuple(self.in_use.pop()))
        key = hashlib.md5(form.content.encode(), usedforsecurity=False).hexdigest()
        self.forms[key] = form
        if key not in self.in_use[-1]:
            self.in_use[-1].append(key)
        return token(FORM, key)

    def link(self, corners: tuple[float, float, float, float], target: str, told: str) -> int:
        """The number of a link on this page, from 0."""
        self.links.append(LinkPlace(corners, target, told))
        return self.links_before + len(self.links) - 1


def missing_in(drafts: Iterable[Draft]) -> tuple[tuple[str, Face], ...]:
    """Every character that its face lacks, each once, in the order of the pages."""
    return tuple(dict.fromkeys(lacking for draft in drafts for lacking in draft.missing))
