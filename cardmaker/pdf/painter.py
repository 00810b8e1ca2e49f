"""Pages to a PDF: obeys the marks and decides nothing. The only module that puts a ReportLab document together.

Same pages, same bytes: nothing is taken from the clock, the environment or a settings file, and the file's identity is
a digest of what is in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any, Final, NamedTuple

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFObjectReference, PDFPage

from cardmaker.model.carried import About, Carried
from cardmaker.model.marks import Bookmark, Face
from cardmaker.pdf.document import Document, deflated, text_string
from cardmaker.pdf.draft import Draft, Form, LinkPlace, named
from cardmaker.pdf.font_subsets import FontSubsets
from cardmaker.pdf.outline import bookmark_tree, page_labels
from cardmaker.pdf.properties import attach, describe
from cardmaker.pdf.structure import Structure

# Taken by ReportLab from a settings file or RL_… variables if we did not say.
_SETTINGS: Final[dict[str, object]] = {
    "useA85": 0, "ttfAsciiReadable": 0, "pdfComments": 0, "pdfMultiLine": 0, "invariant": 1, "canvas_baseColor": None,
    "allowTTFSubsetting": [],
}  # fmt: skip
_REACH: Final = 14_400  # points: a form's content is never cut off by its own box (ISO 32000-1, annex C: largest page)


def paint_drafts(
    drafts: Iterable[Draft], about: About, carried: Iterable[Carried] = (), digest_inputs: Iterable[bytes] = ()
) -> bytes:
    """The PDF of pages that are drawn already, here or in other processes, in the language of the first.

    ``digest_inputs`` are further contents that tell two files apart, for the file's identity.
    Raises ValueError when there is no page, and when a face lacks a character.
    """
    with _own_settings():
        press: _DocumentBuilder | None = None
        missing: dict[tuple[str, Face], None] = {}
        for draft in drafts:
            missing.update(dict.fromkeys(draft.missing))
            press = press or _DocumentBuilder(draft.language)
            press.sheet(draft)
        if missing:
            raise ValueError(_missing_told(missing))
        if press is None:
            raise ValueError("there are no pages to paint")
        for content in digest_inputs:
            press.document.digest.update(content)
        return press.finished(about, carried)


def _missing_told(missing: Iterable[tuple[str, Face]]) -> str:
    told = [f"{name} ({ch if ch.isprintable() else ascii(ch)}, {face})" for ch, name, face in named(missing)]
    return f"the type has no {', no '.join(told)}"


@contextmanager
def _own_settings() -> Iterator[None]:
    """ReportLab's settings as print needs them, and after it as they were."""
    before = {name: getattr(rl_config, name) for name in _SETTINGS}
    vars(rl_config).update(_SETTINGS)
    try:
        yield
    finally:
        vars(rl_config).update(before)


class _Sheet(PDFPage):  # type: ignore[misc]
    """ReportLab's page, with the entries that lead to the structure: of itself it writes only those that it knows."""

    __NoDefault__: Final = [*PDFPage.__NoDefault__, "StructParents", "Tabs"]


class _DocumentBuilder:
    """One document while its pages come in, in order."""

    def __init__(self, language: str) -> None:
        self.document = Document(language)
        self.case = FontSubsets(self.document)
        self.structure = Structure(self.document)
        self.forms: dict[str, Any] = {}  # name to the form's reference
        self.anchors: dict[str, str] = {}  # name to the page's reference
        self.waiting: list[_Waiting] = []  # links whose pages may still come
        self.bookmarks: list[tuple[Bookmark, str]] = []
        self.labels: list[str] = []

    def sheet(self, draft: Draft) -> None:
        """One page more."""
        document = self.document
        self.case.take(draft.letters)
        for name, form in draft.forms.items():
            if name not in self.forms:
                self._form(name, form)
        page = _Sheet()
        page.MediaBox = PDFArray([0, 0, draft.width, draft.height])
        page.Resources = self._resources(draft.used)
        streams = [deflated(content.finished(self.case)) for content in draft.contents]
        page.Contents = streams[0] if len(streams) == 1 else PDFArray([document.Reference(each) for each in streams])
        document.digest.update(b"%r %r" % (draft.width, draft.height))
        for content in draft.contents:
            document.digest.update(content.digest)
        page.Tabs = "/S"  # a keyboard walks through the links in the order of the structure
        document.addPage(page)
        reference = document.reference(page)
        self._links_and_structure(page, draft, reference)
        if draft.anchor:
            self.anchors.setdefault(draft.anchor, reference)
        self.bookmarks += [(bookmark, reference) for bookmark in draft.bookmarks]
        self.labels.append(draft.label)

    def finished(self, about: About, carried: Iterable[Carried]) -> bytes:
        """The file, once every page is in. Raises ValueError for a link that leads nowhere."""
        document = self.document
        for at in range(0, len(self.waiting), _LINKS_TOGETHER):
            some = self.waiting[at : at + _LINKS_TOGETHER]
            document.pack_as([link.number for link in some], [self._link(link) for link in some])
        self.case.close()
        self.structure.finish()
        bookmark_tree(document, self.bookmarks)
        page_labels(document, self.labels)
        attach(document, carried)
        describe(document, about)
        return document.finished()

    def _form(self, name: str, form: Form) -> None:
        entries = {
            "Type": "/XObject", "Subtype": "/Form", "FormType": 1, "Resources": self._resources(form.inner),
            "BBox": PDFArray([-_REACH, -_REACH, _REACH, _REACH]),
        }  # fmt: skip
        self.forms[name] = self.document.Reference(deflated(form.content.finished(self.case), entries), name)
        self.document.digest.update(form.content.digest)

    def _resources(self, forms: Iterable[str]) -> Any:
        named = {name: self.forms[name] for name in forms}
        entries = {"Font": PDFObjectReference("BasicFonts"), "ProcSet": PDFArray(["/PDF", "/Text"])}
        return PDFDictionary({**entries, "XObject": PDFDictionary(named)} if named else entries)

    def _links_and_structure(self, page: Any, draft: Draft, reference: str) -> None:
        if not draft.tree:
            return  # an empty page, or one with nothing but its number
        first = self.document.reserve(len(draft.links))
        page.StructParents = self.structure.page_key()
        references = [f"{first + number} 0 R" for number in range(len(draft.links))]
        title = draft.title or draft.label
        keys = self.structure.add_page(reference, title, draft.tree, references)
        self.waiting += [_Waiting(first + number, keys[number], link) for number, link in enumerate(draft.links)]
        if references:
            page.Annots = PDFArray(references)

    def _link(self, link: _Waiting) -> bytes:
        corners, target, told = link.place
        if target not in self.anchors:
            raise ValueError(f"a link leads to '{target}', which is no page")
        left, bottom, right, top = corners
        return (
            f"<</Type/Annot/Subtype/Link/Rect[{left:g} {bottom:g} {right:g} {top:g}]/Border[0 0 0]/F 4"
            f"/Contents {text_string(told)}/StructParent {link.key}/Dest[{self.anchors[target]}/XYZ null null null]>>"
        ).encode()


class _Waiting(NamedTuple):
    """A link, with its object's number and its key in the parent tree."""

    number: int
    key: int
    place: LinkPlace


_LINKS_TOGETHER: Final = 500
