"""What a page needs beside its operators: forms by what is in them, the characters of its faces, and links by name.

Plain data, so that pages can be drawn in any process and in any order. Contents are compressed at once, but for those
that hold unusual characters.
"""

from __future__ import annotations

import hashlib
import re
import zlib
from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from cardmaker.model.marks import Face, FormField
from cardmaker.model.record_class import record
from cardmaker.pdf.character_codes import filled, has_placeholders
from cardmaker.pdf.fonts import composed, lacks

if TYPE_CHECKING:  # few pages have one
    from cardmaker.model.photograph import Photograph

_KNOWN: Final[dict[Face, set[str]]] = {face: set() for face in Face}  # characters that a face is known to have


def compressed(text: bytes) -> bytes:
    """A stream, compressed: a fiftieth longer than zlib's usual level makes it, in little more than half the time."""
    return zlib.compress(text, 4)


@record
class Content:
    """A stretch of operators: compressed, or as text while it has placeholders. ``digest`` is of the text."""

    digest: bytes
    deflated: bytes
    unfilled: str = ""

    def finished(self, answers: Mapping[str, str]) -> bytes:
        """It, compressed, with all placeholders filled."""
        return compressed(filled(self.unfilled, answers).encode("latin-1")) if self.unfilled else self.deflated


def content_of(code: str) -> Content:
    """Operators as content."""
    if has_placeholders(code):
        return Content(hashlib.md5(code.encode(), usedforsecurity=False).digest(), b"", code)
    text = code.encode("latin-1")
    return Content(hashlib.md5(text, usedforsecurity=False).digest(), compressed(text))


def with_tags(content: Content, old: str, new: Mapping[int, str]) -> Content:
    """Content in which some stretches, by their numbers, are marked otherwise than as ``old``: it draws the same."""
    code = content.unfilled or zlib.decompress(content.deflated).decode("latin-1")
    begin = re.compile(rf"^/{old} <</MCID (\d+)>> BDC$", re.MULTILINE)
    return content_of(begin.sub(lambda found: f"/{new.get(int(found[1]), old)} <</MCID {found[1]}>> BDC", code))


@record
class Form:
    """Marks that are drawn once and placed often: their content, and the names of the forms that it asks for.

    A photograph is one too: its content is the picture, and ``image`` the entries that say how it is to be read.
    """

    content: Content
    inner: tuple[str, ...]
    image: tuple[tuple[str, str], ...] = ()


def image_entries(photograph: Photograph) -> tuple[tuple[str, str], ...]:
    """How a photograph's data are to be read (ISO 32000-1:2008, 8.9.5 and 7.4.4.4)."""
    space = "/DeviceGray" if photograph.channels == 1 else "/DeviceRGB"
    if photograph.palette:
        space = f"[/Indexed /DeviceRGB {len(photograph.palette) // 3 - 1} <{photograph.palette.hex()}>]"
    size = f"/Colors {photograph.channels} /BitsPerComponent {photograph.bits} /Columns {photograph.wide}"
    rows = (("DecodeParms", f"<< /Predictor 15 {size} >>"),) if photograph.kind == "png" else ()
    return (
        ("Type", "/XObject"),
        ("Subtype", "/Image"),
        ("Width", str(photograph.wide)),
        ("Height", str(photograph.high)),
        ("ColorSpace", space),
        ("BitsPerComponent", str(photograph.bits)),
        *rows,
        ("Filter", "/DCTDecode" if photograph.kind == "jpeg" else "/FlateDecode"),
    )


@record
class LinkPlace:
    """A place on the page that leads to the page whose anchor is ``target``; corners in points, as PDF has them."""

    corners: tuple[float, float, float, float]
    target: str
    alt_text: str


@record
class FieldPlace:
    """A place on the page where a form is filled in; corners in points, as PDF has them."""

    corners: tuple[float, float, float, float]
    field: FormField


class PageResources:
    """What one page asks for while it is drawn."""

    def __init__(self, links_before: int = 0) -> None:
        self.links_before = links_before
        self.forms: dict[str, Form] = {}
        self.links: list[LinkPlace | FieldPlace] = []
        self.missing: dict[tuple[str, Face], None] = {}
        self._characters: dict[Face, set[str]] = {face: set() for face in Face}
        self._in_use: list[list[str]] = [[]]  # the forms that the page, and each form on the way down, has asked for

    @property
    def used(self) -> tuple[str, ...]:
        """The names of the forms that the page itself asks for."""
        return tuple(self._in_use[0])

    def checked(self, text: str, face: Face) -> str:
        """``text`` as it is set; what its face lacks is noted."""
        set_as, known = composed(text), _KNOWN[face]
        if not known.issuperset(set_as):
            lacking = lacks(set_as, face)
            self.missing.update(dict.fromkeys((character, face) for character in lacking))
            known.update(set(set_as).difference(lacking))
            if lacking:
                set_as = "".join(character for character in set_as if character not in lacking)
        self._characters[face].update(set_as)
        return set_as

    def letters(self) -> dict[Face, str]:
        """The characters set in each face, each once."""
        return {face: "".join(sorted(characters)) for face, characters in self._characters.items() if characters}

    def begin_form(self) -> None:
        """What is asked for from now on is asked for by a form, until :meth:`end_form`."""
        self._in_use.append([])

    def end_form(self, code: str) -> str:
        """The name of the form that these operators draw; those that come out alike are one, wherever they stand."""
        form = Form(content_of(code), tuple(self._in_use.pop()))
        name = f"R{form.content.digest.hex()[:20]}"
        self.forms[name] = form
        return self.again(name)

    def photograph(self, photograph: Photograph) -> str:
        """The name of a photograph, which is in the document once however often it is shown."""
        name = f"P{photograph.digest[:20]}"
        content = Content(bytes.fromhex(photograph.digest), photograph.data)
        self.forms[name] = Form(content, (), image_entries(photograph))
        return self.again(name)

    def again(self, name: str) -> str:
        """A form that is drawn, here or on another page: from now on it is one of those in use here."""
        if name not in self._in_use[-1]:
            self._in_use[-1].append(name)
        return f"/{name}"

    def link(self, corners: tuple[float, float, float, float], target: str, alt_text: str) -> int:
        """The number of a link on this page, from 0."""
        self.links.append(LinkPlace(corners, target, alt_text))
        return self.links_before + len(self.links) - 1

    def field(self, corners: tuple[float, float, float, float], field: FormField) -> int:
        """The number of a field of a form, in one row with the links."""
        self.links.append(FieldPlace(corners, field))
        return self.links_before + len(self.links) - 1
