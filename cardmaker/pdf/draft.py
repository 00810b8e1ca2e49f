"""One page drawn, before it is part of any document: forms go by what is in them, links lead to names.

Why: pages can be drawn in any process and in any order, and put together afterwards, in order, by one. A draft is
plain data, and small: its contents are compressed already, but for those that hold unusual characters.
"""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Iterable, Mapping, Sequence
from typing import Final, NamedTuple

from cardmaker.model.marks import Bookmark, Face, Mark, Page
from cardmaker.pdf.fonts import character_name, composed, lacks
from cardmaker.pdf.pen import POINTS_PER_MM, Numbers, Pen
from cardmaker.pdf.placeholders import filled, has_placeholders
from cardmaker.pdf.tree import Element

_X: Final = Numbers()
_Y: Final[dict[float, Numbers]] = {}
_KNOWN: Final[dict[Face, set[str]]] = {face: set() for face in Face}  # characters that a face is known to have


class Content(NamedTuple):
    """A stretch of operators: compressed, or as text while it has tokens in it. ``digest`` is of the text."""

    digest: bytes
    pressed: bytes
    waiting: str = ""

    def finished(self, answers: Mapping[str, str]) -> bytes:
        """It, compressed, with all tokens answered."""
        return zlib.compress(filled(self.waiting, answers).encode("latin-1")) if self.waiting else self.pressed


def content_of(code: str) -> Content:
    """Operators as content."""
    if has_placeholders(code):
        return Content(hashlib.md5(code.encode(), usedforsecurity=False).digest(), b"", code)
    written = code.encode("latin-1")
    return Content(hashlib.md5(written, usedforsecurity=False).digest(), zlib.compress(written))


class Form(NamedTuple):
    """Marks that are drawn once and placed often: their content, and the names of the forms that it asks for."""

    content: Content
    inner: tuple[str, ...]


class LinkPlace(NamedTuple):
    """A place on the page that leads to the page whose anchor is ``target``; corners in points, as PDF has them."""

    corners: tuple[float, float, float, float]
    target: str
    told: str


class Draft(NamedTuple):
    """A page's contents, and everything about it that the document must know. Sizes in points."""

    width: float
    height: float
    contents: tuple[Content, ...]
    letters: dict[Face, str]  # the characters set in each face, each once
    forms: dict[str, Form]  # by name, those inside others first
    used: tuple[str, ...]  # names of the forms that the page itself asks for
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
    desk = _DraftResources(_Y.setdefault(height, Numbers(height, -POINTS_PER_MM)))
    pen = Pen(_X, desk.y, desk, tagged=True)
    pen.draw(page.marks)
    content = content_of(pen.finished())
    return Draft(
        width, height, (content,), desk.letters(), desk.forms, tuple(desk.in_use[0]), tuple(desk.links),
        tuple(pen.tree), pen.marked, tuple(desk.missing), page.title, page.language, page.anchor, page.label,
        page.bookmarks,
    )  # fmt: skip


def with_marks(draft: Draft, marks: Sequence[Mark]) -> Draft:
    """The draft with marks drawn on top, in the page's own millimetres; they come last in its structure too."""
    if not marks:
        return draft
    desk = _DraftResources(_Y.setdefault(draft.height, Numbers(draft.height, -POINTS_PER_MM)), len(draft.links))
    pen = Pen(_X, desk.y, desk, tagged=True, marked=draft.marked)
    pen.draw(marks)
    return draft._replace(
        contents=(*draft.contents, content_of(pen.finished())),
        letters=_together(draft.letters, desk.letters()),
        forms=draft.forms | desk.forms,
        used=tuple(dict.fromkeys((*draft.used, *desk.in_use[0]))),
        links=(*draft.links, *desk.links),
        tree=(*draft.tree, *pen.tree),
        marked=pen.marked,
        missing=(*draft.missing, *desk.missing),
    )


def _together(one: Mapping[Face, str], other: Mapping[Face, str]) -> dict[Face, str]:
    return {
        face: "".join(sorted({*one.get(face, ""), *other.get(face, "")}))
        for face in Face
        if face in one or face in other
    }


class _DraftResources:
    """What one page asks for while it is drawn (a :class:`.pen.Shop`)."""

    def __init__(self, y: Numbers, links_before: int = 0) -> None:
        self.y, self.links_before = y, links_before
        self.forms: dict[str, Form] = {}
        self.links: list[LinkPlace] = []
        self.missing: dict[tuple[str, Face], None] = {}
        self.set_in: dict[Face, set[str]] = {face: set() for face in Face}
        self.in_use: list[list[str]] = [[]]  # the forms that the page, and each form on the way down, has asked for

    def checked(self, text: str, face: Face) -> str:
        """``text`` as it is set; what its face lacks is noted."""
        set_as, known = composed(text), _KNOWN[face]
        if not known.issuperset(set_as):
            lacking = lacks(set_as, face)
            self.missing.update(dict.fromkeys((character, face) for character in lacking))
            known.update(set(set_as).difference(lacking))
            if lacking:
                set_as = "".join(character for character in set_as if character not in lacking)
        self.set_in[face].update(set_as)
        return set_as

    def letters(self) -> dict[Face, str]:
        """The characters set in each face."""
        return {face: "".join(sorted(characters)) for face, characters in self.set_in.items() if characters}

    def repeat(self, marks: tuple[Mark, ...], left: float, top: float) -> str:
        """The name of the form that draws ``marks``; those that come out alike are one, wherever they stand."""
        self.in_use.append([])
        pen = Pen(Numbers(-left * POINTS_PER_MM), Numbers(top * POINTS_PER_MM, -POINTS_PER_MM), self)
        pen.draw(marks)
        form = Form(content_of(pen.finished()), tuple(self.in_use.pop()))
        key = f"R{form.content.digest.hex()[:20]}"
        self.forms[key] = form
        return self.again(key)

    def again(self, name: str) -> str:
        """A form that is drawn: from now on it is one of those in use here."""
        if name not in self.in_use[-1]:
            self.in_use[-1].append(name)
        return f"/{name}"

    def link(self, corners: tuple[float, float, float, float], target: str, told: str) -> int:
        """The number of a link on this page, from 0."""
        self.links.append(LinkPlace(corners, target, told))
        return self.links_before + len(self.links) - 1


def form_of(marks: tuple[Mark, ...]) -> tuple[str, Form]:
    """Marks that stand at the top left, drawn as a form by themselves, and its name. No forms may be inside."""
    desk = _DraftResources(Numbers(0, -POINTS_PER_MM))
    name = desk.repeat(marks, 0.0, 0.0)[1:]
    return name, desk.forms[name]


def named(missing: Iterable[tuple[str, Face]]) -> tuple[tuple[str, str, Face], ...]:
    """Missing characters with their Unicode names."""
    return tuple((character, character_name(character), face) for character, face in missing)
