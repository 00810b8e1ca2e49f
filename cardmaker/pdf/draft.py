"""One page drawn, before it is part of any document: forms go by what is in them, links lead to names.

Why: pages can be drawn in any process and in any order, and put together afterwards, in order, by one. A draft is
plain data, and small.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Final

from cardmaker.model.marks import Bookmark, Face, Mark, Page
from cardmaker.model.record_class import record, replace
from cardmaker.pdf.fonts import character_name
from cardmaker.pdf.operands import POINTS_PER_MM, Numbers
from cardmaker.pdf.page_resources import Content, FieldPlace, Form, LinkPlace, PageResources, content_of, with_tags
from cardmaker.pdf.pen import Pen
from cardmaker.pdf.tagged_pen import LINK, Element, TaggedPen

_X: Final = Numbers()
_Y: Final[dict[float, Numbers]] = {}


@record
class Draft:
    """A page's contents, and everything about it that the document must know. Sizes in points."""

    width: float
    height: float
    title: str
    language: str
    anchor: str
    label: str
    bookmarks: tuple[Bookmark, ...]
    letters: dict[Face, str]  # the characters set in each face, each once
    forms: dict[str, Form]  # by name, those inside others first
    contents: tuple[Content, ...] = ()
    used: tuple[str, ...] = ()  # names of the forms that the page itself asks for
    links: tuple[LinkPlace | FieldPlace, ...] = ()  # and fields of a form, in one row of numbers
    tree: tuple[int | Element, ...] = ()
    marked: int = 0  # how many stretches of content are marked
    missing: tuple[tuple[str, Face], ...] = ()  # characters that their face lacks


def draft_of(page: Page) -> Draft:
    """The page drawn. Raises ValueError for marks that cannot be drawn; what its faces lack is listed in it."""
    width, height = (round(side * POINTS_PER_MM, 3) for side in (page.width_mm, page.height_mm))
    blank = Draft(width, height, page.title, page.language, page.anchor, page.label, page.bookmarks, {}, {})
    return _drawn_on(blank, page.marks)


def with_marks(draft: Draft, marks: Sequence[Mark]) -> Draft:
    """The draft with marks drawn on top, in the page's own millimetres; they come last in its structure too."""
    return _drawn_on(draft, marks) if marks else draft


def _drawn_on(draft: Draft, marks: Iterable[Mark]) -> Draft:
    resources = PageResources(len(draft.links))
    y = _Y.setdefault(draft.height, Numbers(draft.height, -POINTS_PER_MM))
    pen = TaggedPen(_X, y, resources, draft.marked)
    pen.draw_tagged(marks)
    letters = resources.letters()
    return replace(
        draft,
        contents=(*draft.contents, content_of(pen.finished())),
        letters=_together(draft.letters, letters) if draft.letters else letters,
        forms=draft.forms | resources.forms,
        used=tuple(dict.fromkeys((*draft.used, *resources.used))),
        links=(*draft.links, *resources.links),
        tree=(*draft.tree, *pen.tree),
        marked=pen.marked,
        missing=(*draft.missing, *resources.missing),
    )


def with_links_to(draft: Draft, anchors: Collection[str]) -> Draft:
    """The draft with its fields, and with those links that lead to one of ``anchors``; of the others the words stay, as
    words."""
    kept = [number for number, link in enumerate(draft.links) if isinstance(link, FieldPlace) or link.target in anchors]
    if len(kept) == len(draft.links):
        return draft
    new_numbers = {number: new for new, number in enumerate(kept)}
    links = tuple(draft.links[number] for number in kept)
    tags: dict[int, str] = {}
    tree = tuple(_relinked(Element("", "", None, list(draft.tree)), new_numbers, tags))
    contents = tuple(with_tags(content, LINK, tags) for content in draft.contents)
    return replace(draft, contents=contents, links=links, tree=tree)


def _relinked(around: Element, new_numbers: Mapping[int, int], tags: dict[int, str]) -> Iterator[int | Element]:
    """The kids of an element with other numbers for its links; what was in a link that is none now is the element's
    own, and how its stretches of content are marked then is noted in ``tags``."""
    for kid in around.kids:
        if isinstance(kid, int):
            yield kid
        elif kid.tag != LINK or kid.link in new_numbers:
            kids = list(_relinked(kid, new_numbers, tags))
            yield kid._replace(kids=kids, link=new_numbers.get(kid.link, -1))
        else:
            tags.update((own, around.tag) for own in kid.kids if isinstance(own, int))
            yield from _relinked(kid, new_numbers, tags)


def _together(before: Mapping[Face, str], more: Mapping[Face, str]) -> dict[Face, str]:
    faces = [face for face in Face if face in before or face in more]
    return {face: "".join(sorted({*before.get(face, ""), *more.get(face, "")})) for face in faces}


def form_of(marks: tuple[Mark, ...]) -> tuple[str, Form]:
    """Marks that stand at the top left, drawn as a form by themselves, and its name. No forms may be inside."""
    resources = PageResources()
    Pen(_X, _X, resources).repeat(marks, 0.0, 0.0)
    return next(iter(resources.forms.items()))


def with_names(missing: Iterable[tuple[str, Face]]) -> tuple[tuple[str, str, Face], ...]:
    """Missing characters with their Unicode names."""
    return tuple((character, character_name(character), face) for character, face in missing)
