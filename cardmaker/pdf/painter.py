"""Drafts to a PDF, in order: their numbers, fonts, links and structure become one document's.

Same pages, same bytes: nothing is taken from the clock, the environment or a settings file, and the file's identity is
a digest of what is in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any, Final

from cardmaker.model.carried_file import About, Carried
from cardmaker.model.marks import Bookmark, Face
from cardmaker.model.record_class import record
from cardmaker.pdf.document import Document, add_entries, deflated, stored, text_string
from cardmaker.pdf.draft import Draft, with_names
from cardmaker.pdf.font_subsets import FontSubsets
from cardmaker.pdf.page_resources import FieldPlace, Form, LinkPlace
from cardmaker.pdf.properties import attach, describe
from cardmaker.pdf.reportlab_parts import BASIC_FONTS, PDFArray, PDFDictionary, PDFObjectReference, PDFPage, settings
from cardmaker.pdf.structure import Structure

_SETTINGS: Final = {"pdfComments": 0, "pdfMultiLine": 0}
_REACH: Final = 14_400  # points: a form's content is never cut off by its own box (ISO 32000-1, annex C: largest page)
_LINKS_TOGETHER: Final = 500


def paint_drafts(drafts: Iterable[Draft], about: About, carried: Iterable[Carried] = ()) -> bytes:
    """The PDF of pages that are drawn, here or in other processes, in the language of the first.

    Raises ValueError when there is no page, when a face lacks a character, and for links that lead nowhere.
    """
    with _own_settings():
        builder: _DocumentBuilder | None = None
        missing: dict[tuple[str, Face], None] = {}
        for draft in drafts:
            missing.update(dict.fromkeys(draft.missing))
            builder = builder or _DocumentBuilder(draft.language)
            builder.add_page(draft)
        if missing:
            raise ValueError(_type_lacks(missing))
        if builder is None:
            raise ValueError("there are no pages to paint")
        return builder.finished(about, carried)


def _type_lacks(missing: Iterable[tuple[str, Face]]) -> str:
    names = [f"{name} ({ch if ch.isprintable() else ascii(ch)}, {face})" for ch, name, face in with_names(missing)]
    return f"the type has no {', no '.join(names)}"


@contextmanager
def _own_settings() -> Iterator[None]:
    """ReportLab's settings as we need them, whatever its settings file or the environment says; after it as before."""
    before = {name: getattr(settings, name) for name in _SETTINGS}
    vars(settings).update(_SETTINGS)
    try:
        yield
    finally:
        vars(settings).update(before)


@record
class _NumberedLink:
    """A link or a field, with its object's number and its key in the parent tree; and its page's reference."""

    number: int
    key: int
    place: LinkPlace | FieldPlace
    page: str


class _DocumentBuilder:
    """One document while its pages come in, in order."""

    def __init__(self, language: str) -> None:
        self.document = Document(language)
        self.fonts = FontSubsets(self.document)
        self.structure = Structure(self.document)
        self.forms: dict[str, Any] = {}  # name to the form's reference
        self.anchors: dict[str, str] = {}  # name to the page's reference
        self.links: list[_NumberedLink] = []  # their pages may still come
        self.bookmarks: list[tuple[Bookmark, str]] = []
        self.labels: list[str] = []

    def add_page(self, draft: Draft) -> None:
        """One page more."""
        document = self.document
        self.fonts.take(draft.letters)
        for name, form in draft.forms.items():
            if name not in self.forms:
                self._add_form(name, form)
        page = PDFPage()
        streams = [deflated(content.finished(self.fonts)) for content in draft.contents]
        add_entries(
            page,
            MediaBox=PDFArray([0, 0, draft.width, draft.height]),
            Resources=self._resources(draft.used),
            Contents=streams[0] if len(streams) == 1 else PDFArray([document.Reference(each) for each in streams]),
            Tabs="/S",  # a keyboard walks through the links in the order of the structure
        )
        document.addPage(page)
        reference = document.reference(page)
        if draft.tree:  # unless the page is empty
            self._add_structure(page, draft, reference)
        if draft.anchor:
            self.anchors.setdefault(draft.anchor, reference)
        self.bookmarks += [(bookmark, reference) for bookmark in draft.bookmarks]
        self.labels.append(draft.label)

    def finished(self, about: About, carried: Iterable[Carried]) -> bytes:
        """The file, once every page is in. Raises ValueError for a link that leads nowhere."""
        document = self.document
        for at in range(0, len(self.links), _LINKS_TOGETHER):
            links = self.links[at : at + _LINKS_TOGETHER]
            document.pack([link.number for link in links], [self._written(link) for link in links])
        if fields := [link.number for link in self.links if isinstance(link.place, FieldPlace)]:
            from cardmaker.pdf.form_widgets import add_form

            add_form(document, fields)
        self.structure.finish()
        if self.bookmarks or any(self.labels):  # which a single card has not
            from cardmaker.pdf.outline import bookmark_tree, page_labels

            bookmark_tree(document, self.bookmarks)
            page_labels(document, self.labels)
        attach(document, carried)
        describe(document, about)
        self.fonts.embed()
        return document.finished()

    def _add_form(self, name: str, form: Form) -> None:
        if form.image:
            self.forms[name] = self.document.Reference(stored(form.content.deflated, dict(form.image)), name)
            return
        entries = {
            "Type": "/XObject", "Subtype": "/Form", "FormType": 1, "Resources": self._resources(form.inner),
            "BBox": PDFArray([-_REACH, -_REACH, _REACH, _REACH]),
        }  # fmt: skip
        self.forms[name] = self.document.Reference(deflated(form.content.finished(self.fonts), entries), name)

    def _resources(self, forms: Iterable[str]) -> Any:
        references = {name: self.forms[name] for name in forms}
        entries = {"Font": PDFObjectReference(BASIC_FONTS), "ProcSet": PDFArray(["/PDF", "/Text"])}
        return PDFDictionary({**entries, "XObject": PDFDictionary(references)} if references else entries)

    def _add_structure(self, page: Any, draft: Draft, reference: str) -> None:
        numbers = self.document.reserve(len(draft.links))
        add_entries(page, StructParents=self.structure.page_key())
        annotations = [f"{number} 0 R" for number in numbers]
        keys = self.structure.add_page(reference, draft.title or draft.label, draft.tree, annotations)
        self.links += [_NumberedLink(numbers[at], keys[at], place, reference) for at, place in enumerate(draft.links)]
        if annotations:
            add_entries(page, Annots=PDFArray(annotations))

    def _written(self, link: _NumberedLink) -> bytes:
        left, bottom, right, top = link.place.corners
        if isinstance(link.place, FieldPlace):
            from cardmaker.pdf.form_widgets import widget

            return widget(self.document, link.place, link.page, link.key).encode()
        target = link.place.target
        if target not in self.anchors:
            raise ValueError(f"a link leads to '{target}', which is no page")
        page = self.anchors[target]
        return (
            f"<</Type/Annot/Subtype/Link/Rect[{left:g} {bottom:g} {right:g} {top:g}]/Border[0 0 0]/F 4"
            f"/Contents {text_string(link.place.alt_text)}/StructParent {link.key}/Dest[{page}/XYZ null null null]>>"
        ).encode()
